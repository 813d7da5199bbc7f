package extraction

import (
	"fmt"
	"math"
)

// A Range is from low to high.
type Range struct{ Low, High float64 }

// How caffeine comes: its concentration falls by a factor of e for every so many
// grams of beverage in a gram of dose. 23.09434 g at 20.00 g (Schmieder 2023,
// Foods 12:2871, centre point), a fit of that study to ten fractions.
const caffeineDecay = 23.09434 / 20.00

// Caffeine that water can take, in mg for each g of dose of Arabica. The low end
// is under a double of 7.9 mg/g at 60 mL from 16 g (Gloess 2013), the high end
// over one of 9.2 mg/g at 1:2 (Schmieder 2023). Shop espressos run from 48 to
// 317 mg (Ludwig 2014), mostly by dose; Robusta holds about twice as much (from
// memory).
const (
	caffeineLow  = 7.8
	caffeineHigh = 11.5
)

// Caffeine returns the caffeine in mg that is caught between two masses of
// beverage, all in grams, of a dose of Arabica.
func Caffeine(dose, from, to float64) (Range, error) {
	if !(0.1 <= dose && dose <= maxMass) {
		return Range{}, fmt.Errorf("%w: dose %g g", ErrImplausible, dose)
	}
	if !(0 <= from && from <= to && to <= maxMass) {
		return Range{}, fmt.Errorf("%w: cup from %g to %g g", ErrImplausible, from, to)
	}
	share := caffeineShare(to/dose) - caffeineShare(from/dose)
	return Range{Low: dose * caffeineLow * share, High: dose * caffeineHigh * share}, nil
}

// caffeineShare returns the share of caffeine that is out at a ratio of beverage
// to dose.
func caffeineShare(ratio float64) float64 { return -math.Expm1(-ratio / caffeineDecay) }
