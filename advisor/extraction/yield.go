package extraction

import (
	"fmt"
	"math"
)

// What an extraction yield can be, in percent. Hours of stirring dissolve 28 to
// 32 % (Moroney 2015, Chem Eng Sci 137:216).
const (
	QueryYield = 25 // above this, ask whether the numbers are right
	BadYield   = 30 // above this, one of them is wrong
)

// Yield returns the extraction yield in percent of a beverage of so many grams
// and percent of TDS from a dose in grams. It does not judge the result:
// [QueryYield], [BadYield].
func Yield(tds, beverage, dose float64) (float64, error) {
	if err := checkCup(tds, beverage, dose); err != nil {
		return 0, err
	}
	return tds * beverage / dose, nil
}

// checkCup returns an error unless a beverage of so many grams and percent of
// TDS can have come from a dose in grams.
func checkCup(tds, beverage, dose float64) error {
	if !(0 < tds && tds < 100) {
		return fmt.Errorf("%w: TDS %g %%", ErrImplausible, tds)
	}
	if !(0 < beverage && beverage <= maxMass) {
		return fmt.Errorf("%w: beverage %g g", ErrImplausible, beverage)
	}
	if !(0.1 <= dose && dose <= maxMass) {
		return fmt.Errorf("%w: dose %g g", ErrImplausible, dose)
	}
	return nil
}

// maxMass is more than anybody weighs here, in grams.
const maxMass = 1e5

// DripKept is the water that a filter's grounds keep, in g for each g of dose
// (Guinard 2023, J Food Sci 88:2168).
const DripKept = 2.1

// DripYield returns the extraction yield in percent where the water that was
// poured on is known and not the beverage, as a filter brew is told. Half an
// espresso's water never leaves the machine: use [Yield] there.
func DripYield(tds, water, dose float64) (float64, error) {
	if err := checkCup(tds, water, dose); err != nil {
		return 0, err
	}
	ratio := water/dose - DripKept
	if !(ratio > 0) {
		return 0, fmt.Errorf("%w: %g g of water, less than the grounds keep", ErrImplausible, water)
	}
	share := tds / 100
	return 100 * share / (1 - share) * ratio, nil
}

// A Measured is a number and its standard deviation, in its own unit.
type Measured struct{ X, SD float64 }

// MeasuredYield returns the extraction yield in percent with its standard
// deviation, of errors that have nothing to do with each other.
func MeasuredYield(tds, beverage, dose Measured) (Measured, error) {
	ey, err := Yield(tds.X, beverage.X, dose.X)
	if err != nil {
		return Measured{}, err
	}
	relative := 0.0
	for _, m := range []Measured{tds, beverage, dose} {
		if !(0 <= m.SD && m.SD <= maxMass) {
			return Measured{}, fmt.Errorf("%w: standard deviation %g", ErrImplausible, m.SD)
		}
		relative = math.Hypot(relative, m.SD/m.X)
	}
	return Measured{X: ey, SD: ey * relative}, nil
}
