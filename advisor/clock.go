package advisor

import "slices"

// How long water takes to the first drip, in s. Common practice says 5 to 9;
// where nobody has timed it, 6.7 s in one study (Foster 2025). After a
// pre-infusion it comes a little later: common practice, no source.
const (
	wetting      = 7
	afterSoaking = 2
)

// Wetting returns how long the water of c takes to the first drip: by how much
// a clock that starts there shows less than one that starts with the pump.
func (c Coffee) Wetting() Seconds { return max(wetting, c.PreInfusion+afterSoaking) }

// fromPump returns h with all times counted from the pump.
func fromPump(h History) History {
	if !h.Bar.FromDrip {
		return h
	}
	h.Coffees = slices.Clone(h.Coffees)
	wet := map[CoffeeID]Seconds{}
	for i := range h.Coffees {
		c := &h.Coffees[i]
		wet[c.ID] = c.Wetting()
		c.Recipe.Low += wet[c.ID]
		c.Recipe.High += wet[c.ID]
	}
	h.Entries = slices.Clone(h.Entries)
	for i, e := range h.Entries {
		if s, ok := e.What.(Shot); ok && s.Time.From != None {
			s.Time.X += wet[s.Coffee]
			h.Entries[i].What = s
		}
	}
	return h
}

// fromDrip returns a with its times counted from the first drip.
func (a Advice) fromDrip(wet Seconds) Advice {
	if a.Expect.Time > 0 {
		a.Expect.Time -= wet
		a.Expect.Low = max(0, a.Expect.Low-wet)
		a.Expect.High -= wet
	}
	if a.Lever == Time {
		a.From, a.To = a.From-float64(wet), a.To-float64(wet)
	}
	for i := range a.Others {
		a.Others[i].Time -= wet
	}
	a.Drift = a.Drift.fromDrip(wet)
	return a
}
