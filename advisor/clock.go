package advisor

import (
	"slices"

	"shothand/advisor/bar"
)

// fromPump returns h with all times counted from the pump.
func fromPump(h bar.History) bar.History {
	if !h.Bar.FromDrip {
		return h
	}
	h.Coffees = slices.Clone(h.Coffees)
	wet := map[bar.CoffeeID]bar.Seconds{}
	for i := range h.Coffees {
		c := &h.Coffees[i]
		wet[c.ID] = c.Wetting()
		c.Recipe.Low += wet[c.ID]
		c.Recipe.High += wet[c.ID]
	}
	h.Entries = slices.Clone(h.Entries)
	for i, e := range h.Entries {
		if s, ok := e.What.(bar.Shot); ok && s.Time.From != bar.None {
			s.Time.X += wet[s.Coffee]
			h.Entries[i].What = s
		}
	}
	return h
}

// fromDrip returns a with its times counted from the first drip.
func (a Advice) fromDrip(wet bar.Seconds) Advice {
	if a.Expect.Time > 0 {
		a.Expect.Time -= wet
		a.Expect.Low = max(0, a.Expect.Low-wet)
		a.Expect.High -= wet
	}
	if a.Lever == bar.Time {
		a.From, a.To = a.From-float64(wet), a.To-float64(wet)
	}
	for i := range a.Others {
		a.Others[i].Time -= wet
	}
	a.Drift = a.Drift.fromDrip(wet)
	return a
}
