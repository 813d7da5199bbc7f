package advisor

import (
	"math"
	"slices"

	"shothand/advisor/taste"
)

// Beliefs about where a coffee tastes best, in taste steps; all assumed.
const (
	nearSpot     = 0.5  // sd of the sweet spot about a recipe that is right
	strengthSpot = 0.7  // the same of strength
	farSpot      = 2.0  // sd of extraction about a recipe that is not
	biasSD       = 0.5  // sd of how much tasters differ in what they call sour
	spotDrift    = 0.15 // sd by which a coffee's sweet spot moves overnight
	wordsFloor   = 0.25 // the least variance one person's words on one cup can have
	wordsNoNews  = 0.05 // precision below which words say nothing about an axis
)

// wrongRecipe is how likely it is that a recipe's window is not where its
// coffee tastes best: where somebody typed it, and where nobody did.
func wrongRecipe(r Recipe) float64 {
	if r.Soft {
		return 0.25
	}
	return 0.15
}

// An aim is the belief about how a cup at the recipe itself would taste. It
// holds two views: the recipe is right, give or take; or its window is not
// where the coffee tastes best, and binds nobody.
type aim struct {
	near, far outlook
	tasters   map[uint64]int // taster → state of extraction, in both views
}

// An outlook is one view of the recipe and how likely it is.
type outlook struct {
	weight               float64
	extraction, strength axis
}

// An axis is a normal belief about a cup, state 0, and its tasters' leanings.
type axis struct {
	mean []float64
	cov  [][]float64
}

func newAxis(sd float64) axis { return axis{mean: []float64{0}, cov: [][]float64{{sd * sd}}} }

// newAim returns the belief before any tasting.
func newAim(r Recipe) *aim {
	wrong := wrongRecipe(r)
	return &aim{
		near:    outlook{1 - wrong, newAxis(nearSpot), newAxis(strengthSpot)},
		far:     outlook{wrong, newAxis(farSpot), newAxis(strengthSpot)},
		tasters: map[uint64]int{},
	}
}

// night lets the sweet spot drift.
func (a *aim) night() {
	for _, v := range []*outlook{&a.near, &a.far} {
		v.extraction.cov[0][0] += spotDrift * spotDrift
		v.strength.cov[0][0] += spotDrift * spotDrift
	}
}

// learn takes in what one taster said of a cup at s.
func (a *aim) learn(s spot, taster uint64, r taste.Reading) {
	if !r.Tasted {
		return
	}
	state, known := a.tasters[taster]
	if !known {
		state = len(a.near.extraction.mean)
		a.tasters[taster] = state
	}
	for _, v := range []*outlook{&a.near, &a.far} {
		if !known {
			v.extraction.grow(biasSD * biasSD)
		}
		if y, variance, ok := witness(r.Extraction, r.ExtractionSD); ok {
			v.weight *= v.extraction.observe(state, y-s.extraction(), max(variance-biasSD*biasSD, wordsFloor))
		}
		if y, variance, ok := witness(r.Strength, r.StrengthSD); ok {
			v.weight *= v.strength.observe(0, y-s.strength(), max(variance, wordsFloor))
		}
	}
	total := a.near.weight + a.far.weight
	a.near.weight /= total
	a.far.weight /= total
}

// witness takes the standard normal prior of a reading out of it again: what
// is left is what the words alone said. It is false if they said nothing.
func witness(mean, sd float64) (y, variance float64, ok bool) {
	precision := 1/(sd*sd) - 1
	if !(precision > wordsNoNews) {
		return 0, 0, false
	}
	return mean / (sd * sd) / precision, 1 / precision, true
}

// grow adds a state with that variance.
func (x *axis) grow(variance float64) {
	n := len(x.mean)
	for i := range x.cov {
		x.cov[i] = append(x.cov[i], 0)
	}
	x.mean = append(x.mean, 0)
	x.cov = append(x.cov, make([]float64, n+1))
	x.cov[n][n] = variance
}

// observe updates x with y = state 0 (+ the taster's leaning) + noise, and
// returns the density that x gave y before.
func (x *axis) observe(taster int, y, noise float64) float64 {
	gain := slices.Clone(x.cov[0])
	if taster > 0 {
		for i := range gain {
			gain[i] += x.cov[i][taster]
		}
	}
	e, s := y-x.mean[0], noise+gain[0]
	if taster > 0 {
		e -= x.mean[taster]
		s += gain[taster]
	}
	for i := range gain {
		x.mean[i] += gain[i] / s * e
		for j := range gain {
			x.cov[i][j] -= gain[i] * gain[j] / s
		}
	}
	return math.Exp(-0.5*e*e/s) / math.Sqrt(s)
}

// within returns the probability that state 0, moved by shift, lies within one
// taste step, if shift is known to a variance.
func (x *axis) within(shift, variance float64) float64 {
	m, sd := x.mean[0]+shift, math.Sqrt(max(x.cov[0][0]+variance, 1e-9))
	return phi((1-m)/sd) - phi((-1-m)/sd)
}

// right returns the probability that a cup at s tastes right, if its log time
// is known to a variance.
func (v *outlook) right(s spot, variance float64) float64 {
	return v.extraction.within(s.extraction(), sq(extractionByTime)*variance) *
		v.strength.within(s.strength(), sq(strengthByTime)*variance)
}

// off returns how a cup at s is believed to taste, in taste steps.
func (a *aim) off(s spot) (extraction, strength float64) {
	return a.near.weight*a.near.extraction.mean[0] + a.far.weight*a.far.extraction.mean[0] + s.extraction(),
		a.near.weight*a.near.strength.mean[0] + a.far.weight*a.far.strength.mean[0] + s.strength()
}

// phi is the distribution function of the standard normal.
func phi(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
