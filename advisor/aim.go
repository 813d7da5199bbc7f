package advisor

import (
	"math"

	"shothand/advisor/taste"
)

// Beliefs about a coffee's taste, in taste steps; all assumed.
const (
	firmSpot    = 0.5  // sd of the sweet spot about a recipe whose window was typed
	softSpot    = 1.0  // the same where it was not
	biasSD      = 0.5  // sd of how much tasters differ in what they call sour
	spotDrift   = 0.15 // sd by which a coffee's sweet spot moves overnight
	wordsFloor  = 0.25 // the least variance one person's words on one cup can have
	wordsNoNews = 0.05 // precision below which words say nothing about an axis
)

// An aim is the belief about how a cup at the recipe itself would taste, in
// taste steps, and how each taster leans. One Kalman filter an axis: state 0 is
// the cup, the others are the tasters' leanings in extraction.
type aim struct {
	extraction, strength axis
	tasters              map[uint64]int // taster → state of extraction
	tasted               bool
}

// An axis is a normal belief about a cup and its tasters' leanings.
type axis struct {
	mean []float64
	cov  [][]float64
}

// newAim returns the belief before any tasting.
func newAim(r Recipe) *aim {
	sd := firmSpot
	if r.Soft {
		sd = softSpot
	}
	start := func() axis { return axis{mean: []float64{0}, cov: [][]float64{{sd * sd}}} }
	return &aim{extraction: start(), strength: start(), tasters: map[uint64]int{}}
}

// night lets the sweet spot drift.
func (a *aim) night() {
	a.extraction.cov[0][0] += spotDrift * spotDrift
	a.strength.cov[0][0] += spotDrift * spotDrift
}

// learn takes in what one taster said of a cup at s.
func (a *aim) learn(s spot, taster uint64, r taste.Reading) {
	if !r.Tasted {
		return
	}
	a.tasted = true
	state, known := a.tasters[taster]
	if !known {
		state = a.extraction.grow(biasSD * biasSD)
		a.tasters[taster] = state
	}
	if y, v, ok := witness(r.Extraction, r.ExtractionSD); ok {
		a.extraction.observe(state, y-s.extraction(), max(v-biasSD*biasSD, wordsFloor))
	}
	if y, v, ok := witness(r.Strength, r.StrengthSD); ok {
		a.strength.observe(0, y-s.strength(), max(v, wordsFloor))
	}
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

// grow adds a state with that variance and returns its number.
func (x *axis) grow(variance float64) int {
	n := len(x.mean)
	for i := range x.cov {
		x.cov[i] = append(x.cov[i], 0)
	}
	x.mean = append(x.mean, 0)
	x.cov = append(x.cov, make([]float64, n+1))
	x.cov[n][n] = variance
	return n
}

// observe updates x with y = state 0 (+ the taster's leaning) + noise.
func (x *axis) observe(taster int, y, noise float64) {
	n := len(x.mean)
	gain := make([]float64, n)
	e, s := y-x.mean[0], noise
	for i := range n {
		gain[i] = x.cov[i][0]
		if taster > 0 {
			gain[i] += x.cov[i][taster]
		}
	}
	s += gain[0]
	if taster > 0 {
		s += gain[taster]
		e -= x.mean[taster]
	}
	for i := range n {
		x.mean[i] += gain[i] / s * e
	}
	for i := range n {
		for j := range n {
			x.cov[i][j] -= gain[i] * gain[j] / s
		}
	}
}

// within returns the probability that state 0, moved by shift, lies within one
// taste step.
func (x *axis) within(shift float64) float64 {
	m, sd := x.mean[0]+shift, math.Sqrt(max(x.cov[0][0], 1e-9))
	return phi((1-m)/sd) - phi((-1-m)/sd)
}

// right returns the probability that a cup at s tastes right.
func (a *aim) right(s spot) float64 {
	return a.extraction.within(s.extraction()) * a.strength.within(s.strength())
}

// off returns how a cup at s is believed to taste, in taste steps.
func (a *aim) off(s spot) (extraction, strength float64) {
	return a.extraction.mean[0] + s.extraction(), a.strength.mean[0] + s.strength()
}

// phi is the distribution function of the standard normal.
func phi(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
