package advisor

import (
	"math"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/flow"
)

// Foretold returns what is believed of the time of the shot that e tells, in
// log s, before it has been seen: given the entries of h before it, its grind,
// its dose, its yield and its marks.
func Foretold(h bar.History, e bar.Entry) flow.Mixture { return foretold(h, e, false) }

// ForetoldStill is Foretold where nothing happens that nobody told, as in a trail.
func ForetoldStill(h bar.History, e bar.Entry) flow.Mixture { return foretold(h, e, true) }

func foretold(h bar.History, e bar.Entry, still bool) flow.Mixture {
	shot := e.What.(bar.Shot)
	coffee, _ := bar.CoffeeOf(h.Coffees, shot.Coffee)
	s := newReplayInput(h, coffee)
	c := s.start()
	c.state.still = still
	c.advance(s, 0, len(s.entries))
	next, _ := c.foretell(h, e, shot)
	return next
}

// AdviseGiven is [Advise] for the only coffee of a new grinder, where the
// filter begins with what carried says of the grinder.
func AdviseGiven(h bar.History, id bar.CoffeeID, now time.Time, carried *flow.Carried) (Advice, bool) {
	coffee, ok := bar.CoffeeOf(h.Coffees, id)
	if !ok {
		return Advice{}, false
	}
	s := newReplayInput(h, coffee)
	c := s.start()
	prior := flow.Unknown(math.Sqrt(float64(coffee.Recipe.Low * coffee.Recipe.High)))
	first := s.entries[0].What.(bar.Shot)
	c.state.filters[id] = &coffeeState{filter: flow.New(prior, carried), ref: c.grinder.Steps(first.Grind.X)}
	c.advance(s, 0, len(s.entries))
	return c.end(s, now).advise()
}

// YieldUsed returns the yield, in g, that people are taken to aim at.
func YieldUsed(h bar.History, id bar.CoffeeID, now time.Time) (float64, bool) {
	r, ok := (*Memory)(nil).replay(h, id, now)
	if !ok {
		return 0, false
	}
	return float64(r.yieldUsed()), true
}
