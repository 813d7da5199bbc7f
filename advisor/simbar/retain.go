package simbar

import "math"

// retention is how old grounds mix into a dose.
type retention struct {
	share  float64 // of the effective grind before, if above 0: falls geometrically
	purged float64 // of share that is left after a purge
	held   float64 // g of a well-mixed hold-up, if above 0
	flush  float64 // g thrown away in a purge
}

// grounds are what hangs in the grinder, in steps.
type grounds float64

// at returns the grounds of a grinder that has long stood at so many steps.
func (retention) at(steps float64) grounds { return grounds(steps) }

// grind returns the effective steps of a dose and what hangs in the grinder
// after it.
func (r retention) grind(old grounds, steps, dose float64, purge bool) (float64, grounds) {
	if r.held <= 0 {
		share := r.share
		if purge {
			share *= r.purged
		}
		eff := (1-share)*steps + share*float64(old)
		return eff, grounds(eff)
	}
	if purge {
		old = r.push(old, steps, r.flush)
	}
	share := r.held / dose * (1 - math.Exp(-dose/r.held))
	return (1-share)*steps + share*float64(old), r.push(old, steps, dose)
}

// push returns what hangs in a well-mixed hold-up after so many grams.
func (r retention) push(old grounds, steps, grams float64) grounds {
	left := math.Exp(-grams / r.held)
	return grounds((1-left)*steps + left*float64(old))
}
