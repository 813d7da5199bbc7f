package history

import (
	"slices"

	"shothand/advisor/bar"
)

// FromPump returns h with all times counted from the pump.
func FromPump(h bar.History) bar.History {
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
