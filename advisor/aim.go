package advisor

import (
	"math"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// Beliefs about where a coffee tastes best, in taste steps; all assumed.
const (
	nearSpot     = 0.4  // sd of extraction about a recipe that is right
	farSpot      = 2.0  // the same about a recipe that is not
	strengthSpot = 0.7  // sd of strength about any recipe
	overnight    = 0.10 // share of what tasters have taught that a night takes away
	maxCups      = 50   // how many cups, of the newest, teach; as many more at most

	// How likely it is that a recipe's window is not where its coffee tastes
	// best: where somebody typed it, and where nobody did.
	wrongTyped = 0.25
	wrongSoft  = 0.35
)

// newAim returns the belief about how a cup at the recipe itself would taste,
// before any tasting. It holds two views: the recipe is right, give or take; or
// its window is not where the coffee tastes best, and binds nobody.
func newAim(r bar.Recipe) *taste.Belief {
	p := taste.Prior{Near: nearSpot, Far: farSpot, Strength: strengthSpot, Misplaced: wrongTyped}
	if r.Soft {
		p.Misplaced = wrongSoft
	}
	return taste.Default().NewBelief(p)
}

// right returns the probability that m is right. If the recipe is right, time
// and taste both have to be; if it is not, only the taste counts.
func (r *replay) right(m move) float64 {
	s := r.spotOf(m)
	inside := s // where the time is right it tastes as the middle of what is right does
	low, high := math.Log(float64(r.coffee.Recipe.Low)), math.Log(float64(r.coffee.Recipe.High))
	inside.time = min(max(s.time, (low-high)/2), (high-low)/2)
	near, _ := r.aim.Right(r.meant(inside))
	return near*m.inTime + r.far(s, m)
}

// spotOf returns where a cup of m is expected.
func (r *replay) spotOf(m move) spot {
	return spot{
		time:  m.time - middle(r.coffee.Recipe),
		yield: math.Log(float64(m.yield / r.coffee.Recipe.Yield)),
		dose:  math.Log(float64(m.dose / r.coffee.Recipe.Dose)),
	}
}

// far returns the probability that the window is wrong and m tastes right, over
// what is not known of its time.
func (r *replay) far(s spot, m move) float64 {
	spread := math.Sqrt(3 * r.steady.Variance(m.steps-r.ref))
	sum := 0.0
	for _, p := range [3]struct{ off, weight float64 }{{-1, 1. / 6}, {0, 2. / 3}, {1, 1. / 6}} {
		at := s
		at.time += p.off * spread
		_, far := r.aim.Right(r.meant(at))
		sum += p.weight * far
	}
	return sum
}

// off returns how a cup at s is believed to taste, in taste steps.
func (r *replay) off(s spot) (extraction, strength float64) {
	m, at := r.aim.Mean(), r.answers.place(s)
	to := targetOf(r.coffee.Aim)
	return m.Extraction + at.Extraction - to.Extraction, m.Strength + at.Strength - to.Strength
}

// meant returns where a cup at s stands from one at the recipe that tastes as
// this coffee is meant to.
func (r *replay) meant(s spot) taste.Place {
	at, to := r.answers.place(s), targetOf(r.coffee.Aim)
	return taste.Place{Extraction: at.Extraction - to.Extraction, Strength: at.Strength - to.Strength}
}

// phi is the distribution function of the standard normal.
func phi(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
