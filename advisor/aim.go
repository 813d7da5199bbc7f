package advisor

import (
	"math"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// How far a recipe is trusted, and how long what was tasted is; all assumed.
const (
	softSpot  = 1.15 // by how much less a recipe that nobody typed is trusted
	overnight = 0.10 // share of what tasters have taught that a night takes away
	maxCups   = 50   // how many cups, of the newest, teach; as many more at most
)

// newAim returns the belief about how the cups of a coffee taste, before any
// tasting.
func newAim(r bar.Recipe, answers response) *taste.Belief {
	wide := 1.0
	if r.Soft {
		wide = softSpot
	}
	return taste.Default().NewBelief(taste.Response{Extraction: answers.extraction.time, Strength: answers.strength.time}, wide)
}

// right returns the probability that m is right: that a cup of it is within a
// taste step of a good one and its bed holds, over what is not known of its time.
func (r *replay) right(m move) float64 {
	return r.likely(m.yield, m.dose).Right(m.time-middle(r.coffee.Recipe), math.Sqrt(r.steady.Variance(m.steps-r.ref)))
}

// A cupSize is what a curve is of.
type cupSize struct{ yield, dose bar.Grams }

// likely returns how likely a cup of that yield and dose is right, by its time.
func (r *replay) likely(yield, dose bar.Grams) *taste.Curve {
	size := cupSize{yield, dose}
	c, ok := r.curves[size]
	if !ok {
		c = r.aim.Curve(r.answers.shift(spot{yield: logOf(yield, r.coffee.Recipe.Yield), dose: logOf(dose, r.coffee.Recipe.Dose)}), targetOf(r.coffee.Aim))
		r.curves[size] = c
	}
	return c
}

// misplaced returns the probability that no time in the window is right for the
// recipe's dose and yield.
func (r *replay) misplaced() float64 {
	half := math.Log(float64(r.coffee.Recipe.High/r.coffee.Recipe.Low)) / 2
	return r.aim.Outside(-half, half, targetOf(r.coffee.Aim))
}

// logOf returns log(to/from).
func logOf(to, from bar.Grams) float64 { return math.Log(float64(to / from)) }

// off returns how a cup at s is believed to taste, in taste steps.
func (r *replay) off(s spot) (extraction, strength float64) {
	m, at := r.aim.Mean(), r.answers.place(s)
	to := targetOf(r.coffee.Aim)
	return m.Extraction + at.Extraction - to.Extraction, m.Strength + at.Strength - to.Strength
}
