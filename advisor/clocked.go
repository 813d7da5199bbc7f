package advisor

import (
	"shothand/advisor/bar"
	"shothand/advisor/flow"
	"shothand/advisor/history"
)

// DialOdds returns the odds, by its time alone, that a coffee's last shot was
// pulled where the dial is said to have stood, against another position. They are
// 1 where its time tells nothing.
func (m *Memory) DialOdds(h bar.History, shot bar.EntryID, instead bar.Value[bar.Dial]) float64 {
	e, ok := entryOf(h, shot)
	if !ok {
		return 1
	}
	id := e.What.(bar.Shot).Coffee
	h = history.Of(h, id)
	coffee, ok := bar.CoffeeOf(h.Coffees, id)
	if !ok {
		return 1
	}
	s := newReplayInput(h, coffee)
	if s.newest < 0 || s.entries[s.newest].ID != shot {
		return 1
	}
	e = s.entries[s.newest]
	as := e.What.(bar.Shot)
	if !teaches(as) || as.Grinder != coffee.Grinder {
		return 1
	}
	other := as
	other.Grind, other.Turned = instead, 0
	c, _ := m.before(s)
	likely := func(c *replaying, shot bar.Shot) float64 {
		next, seen := c.foretell(h, e, shot)
		return next.Density(seen.LogTime)
	}
	return likely(c.clone(), as) / likely(c, other)
}

// entryOf returns the shot of that id.
func entryOf(h bar.History, id bar.EntryID) (bar.Entry, bool) {
	for _, e := range h.Entries {
		if _, ok := e.What.(bar.Shot); ok && e.ID == id {
			return e, true
		}
	}
	return bar.Entry{}, false
}

// foretell returns what c believes of the time of a shot that it has not seen, and
// the shot as its filter sees it. It uses c up.
func (c *replaying) foretell(h bar.History, e bar.Entry, shot bar.Shot) (flow.Mixture, flow.Shot) {
	p := pull{Entry: e, shot: shot}
	effective, doubt := c.state.grind(&p)
	l := c.state.visit(h, c.coffee, &p)
	seen := l.observed(c.coffee.Recipe, shot, effective, doubt)
	return l.filter.Next(seen), seen
}
