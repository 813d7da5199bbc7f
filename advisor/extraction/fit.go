package extraction

import (
	"fmt"
	"math"
)

// A Reading is the strength that was measured of a brew's whole cup.
type Reading struct {
	Brew Brew
	TDS  float64 // %
	SD   float64 // %, of the same unit; 0 for what careful work scatters by
}

// scatter is the relative standard deviation of a cup's solids: 2.5 % in one
// study (Schmieder 2023), 0.41 of 19.5 points of yield in another (Smrke 2024).
const scatter = 0.025

// What coffees differ by, as standard deviations of logarithms. Sizes are
// assumed: soluble material varies by some 10 %, and the effect of time by a
// factor of two between two coffees (Smrke 2024, Egidi 2024).
const (
	solublesSpread = 0.10
	rateSpread     = 0.50
)

// A trim is what a coffee differs by from its prior, in logarithms.
type trim struct{ solubles, rate float64 }

// trimmed returns p with t applied: both pools, and the rate of the slow one.
func (p Params) trimmed(t trim) Params {
	p.Fast *= math.Exp(t.solubles)
	p.Slow *= math.Exp(t.solubles)
	p.SlowRate *= math.Exp(t.rate)
	return p
}

// Fit returns p adjusted to one coffee by at least one reading: the most
// probable scale of its solubles and of the slow pool's rate, where both are
// log-normal about p and readings are normal. A single reading moves mostly the
// solubles; the rate moves when readings at different times ask for it.
func Fit(p Params, readings []Reading) (Params, error) {
	if len(readings) == 0 {
		return Params{}, fmt.Errorf("%w: no reading", ErrImplausible)
	}
	for _, r := range readings {
		if !(0 < r.TDS && r.TDS < 100) || !(0 <= r.SD && r.SD < 100) {
			return Params{}, fmt.Errorf("%w: TDS %g ± %g %%", ErrImplausible, r.TDS, r.SD)
		}
	}
	t, err := p.descend(readings)
	if err != nil {
		return Params{}, err
	}
	return p.trimmed(t), nil
}

// descend finds the most probable trim by Gauss and Newton's steps, halved while
// they do not improve it. The prior keeps the equations well-conditioned.
func (p Params) descend(readings []Reading) (trim, error) {
	const rounds, halvings = 20, 10
	var t trim
	loss, step, err := p.slope(t, readings)
	for range rounds {
		if err != nil {
			return trim{}, err
		}
		if math.Hypot(step.solubles, step.rate) < 1e-6 {
			break
		}
		improved := false
		for range halvings {
			next := trim{t.solubles + step.solubles, t.rate + step.rate}.bounded()
			l, s, e := p.slope(next, readings)
			if e != nil {
				return trim{}, e
			}
			if l < loss {
				t, loss, step, improved = next, l, s, true
				break
			}
			step = trim{step.solubles / 2, step.rate / 2}
		}
		if !improved {
			break
		}
	}
	return t, nil
}

// bounded keeps t within four spreads, beyond which a reading is wrong and not
// the coffee unusual.
func (t trim) bounded() trim {
	return trim{
		solubles: min(max(t.solubles, -4*solublesSpread), 4*solublesSpread),
		rate:     min(max(t.rate, -4*rateSpread), 4*rateSpread),
	}
}

// slope returns the loss of t, twice the negative log posterior, and Gauss and
// Newton's step down from it.
func (p Params) slope(t trim, readings []Reading) (loss float64, step trim, err error) {
	const h = 1e-3
	a, b, c := 1/(solublesSpread*solublesSpread), 0.0, 1/(rateSpread*rateSpread)
	u, v := -t.solubles*a, -t.rate*c
	loss = t.solubles*t.solubles*a + t.rate*t.rate*c
	for _, r := range readings {
		var z [3]float64 // misses in standard deviations, at t and beside it
		for i, t := range []trim{t, {t.solubles + h, t.rate}, {t.solubles, t.rate + h}} {
			if z[i], err = p.trimmed(t).miss(r); err != nil {
				return 0, trim{}, err
			}
		}
		ds, dr := (z[1]-z[0])/h, (z[2]-z[0])/h
		a, b, c = a+ds*ds, b+ds*dr, c+dr*dr
		u, v = u-ds*z[0], v-dr*z[0]
		loss += z[0] * z[0]
	}
	det := a*c - b*b
	return loss, trim{(c*u - b*v) / det, (a*v - b*u) / det}, nil
}

// miss returns by how many standard deviations p is stronger than r.
func (p Params) miss(r Reading) (float64, error) {
	c, err := p.Pour(r.Brew)
	if err != nil {
		return 0, err
	}
	sd := r.SD
	if !(sd > 0) {
		sd = scatter * r.TDS
	}
	return (c.Whole().TDS - r.TDS) / max(sd, 1e-3), nil
}
