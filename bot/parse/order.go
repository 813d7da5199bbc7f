package parse

import (
	"math"

	"shothand/advisor/bar"
)

// How far numbers stray from a recipe from shot to shot, as logarithms, and
// from where on another order fits so much better that the bot asks. Common
// practice, no source: doses are weighed, times are not.
const (
	doseStray  = 0.05
	yieldStray = 0.1
	timeStray  = 0.15
	muchBetter = 2.5
	fitsWell   = 1.0
)

// A Trio is the three numbers of a shot in their places.
type Trio struct{ Dose, Yield, Time Number }

// checkOrder compares three bare numbers with the recipe, and marks the shot
// where it fits much better with yield and time exchanged, or dose and yield.
func (s *sheet) checkOrder(bare int) {
	exchanged := bare < 3 && s.weights && s.shot.Dose.Said && s.shot.Yield.Said && s.shot.Time.Said // "27s 36 18"
	if bare != 3 && !exchanged || s.shot.Marks&(bar.Choked|bar.Stopped) != 0 || s.shot.Gushed {
		return
	}
	typed := Trio{s.shot.Dose, s.shot.Yield, s.shot.Time}
	best := typed
	for i, other := range []Trio{
		{typed.Yield, typed.Dose, typed.Time},
		{typed.Dose, typed.Time, typed.Yield},
		{typed.Time, typed.Yield, typed.Dose},
		{typed.Yield, typed.Time, typed.Dose},
		{typed.Time, typed.Dose, typed.Yield},
	} {
		if s.misfit(other) < s.misfit(best) && (i == 0 || !exchanged) {
			best = other
		}
	}
	if s.misfit(best) <= fitsWell && s.misfit(typed)-s.misfit(best) >= muchBetter && best.check(0) == nil {
		s.shot.Swapped, s.shot.Better = true, best
	}
}

// misfit is how far t is from the recipe, in strays. A number that is none is
// infinitely far.
func (s *sheet) misfit(t Trio) float64 {
	r := s.recipe()
	m := apart(t.Dose.X, float64(r.Dose))/doseStray + apart(t.Yield.X, float64(r.Yield))/yieldStray
	switch x := t.Time.X; {
	case x < float64(r.Low):
		m += apart(x, float64(r.Low)) / timeStray
	case x > float64(r.High):
		m += apart(x, float64(r.High)) / timeStray
	}
	if !(m >= 0) {
		return math.Inf(1)
	}
	return m
}

// timeLike reports whether a yield of two bare numbers fits the recipe's time and is far
// from what it has in the cup: "18 28 sweet".
func (s *sheet) timeLike(r bar.Recipe) bool {
	x := s.shot.Yield.X
	return apart(s.shot.Dose.X, float64(r.Dose)) <= 2*doseStray && float64(r.Low) <= x && x <= float64(r.High) && apart(x, float64(r.Yield)) > 2*yieldStray
}

// inBetterOrder returns the shot with its numbers as they fit the recipe, where
// they were perhaps typed in another order.
func (s Shot) inBetterOrder() Shot {
	if s.Swapped {
		s.Dose, s.Yield, s.Time = s.Better.Dose, s.Better.Yield, s.Better.Time
	}
	return s
}
