package layers

import (
	"math"

	"shothand/advisor/extraction"
)

// A Held is what a cup held.
type Held struct {
	Mass   float64 // g
	Solids float64 // g
	Share  float64 // % of the solids of all cups
	TDS    float64 // %
	EY     float64 // % of the dose
}

func share(part, whole float64) float64 {
	if !(whole > 0) {
		return 0
	}
	return 100 * part / whole
}

// Measure returns what cups of so many grams and percent of TDS held, of a dose
// in grams. It is false unless all were weighed and measured.
func Measure(dose float64, masses, tds [Cups]float64) ([Cups]Held, bool) {
	var all [Cups]Held
	solids := 0.0
	for i := range all {
		ey, err := extraction.Yield(tds[i], masses[i], dose)
		if err != nil {
			return all, false
		}
		all[i] = Held{Mass: masses[i], Solids: masses[i] * tds[i] / 100, TDS: tds[i], EY: ey}
		solids += all[i].Solids
	}
	for i := range all {
		all[i].Share = share(all[i].Solids, solids)
	}
	return all, true
}

// Together returns the cups poured together again.
func Together(cups [Cups]Held) Held {
	var whole Held
	for _, c := range cups {
		whole.Mass += c.Mass
		whole.Solids += c.Solids
		whole.EY += c.EY
	}
	whole.Share, whole.TDS = 100, share(whole.Solids, whole.Mass)
	return whole
}

// How far the cups may be from the whole and still be taken to balance. Grams:
// what stays in a cup that is poured, assumed. Strength: 2.77 standard
// deviations of single cups of 2.5 % (Schmieder 2023), so one time in twenty.
const (
	lostGrams  = 1.5
	offBalance = 0.07
)

// Balances reports whether cups that weigh so much together are all of a shot
// of so many grams.
func Balances(together, shot float64) bool { return math.Abs(together-shot) <= lostGrams }

// Agrees reports whether the strength of cups put together is that of the whole
// shot that was pulled beside them.
func Agrees(together, whole float64) bool {
	return math.Abs(together-whole) <= offBalance*whole
}
