package review

import (
	"slices"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
)

// How much of a coffee is gone through again: so many shots at once, since the
// advisor replays no more, of which the first only teach; and so many in all,
// since each takes a millisecond or two.
const (
	atOnce   = 200
	teaching = 60
	mostGone = 1500
)

// TrailOf returns how a coffee of h went since a day, shot by shot. The entries
// of h are all of the bar's; it is false if the coffee has no shot.
func TrailOf(h bar.History, id bar.CoffeeID, since bar.Day, now time.Time) (advisor.Trail, bool) {
	h.Entries = about(h, id)
	var shots []int // where they stand
	for i, e := range h.Entries {
		if s, ok := e.What.(bar.Shot); ok && s.Coffee == id {
			shots = append(shots, i)
		}
	}
	var whole advisor.Trail
	for end := len(shots); end > 0; end -= atOnce - teaching {
		from := max(0, end-atOnce)
		part := h
		part.Entries = between(h.Entries, shots[from], shots[end-1])
		if end == len(shots) {
			part.Entries = h.Entries[shots[from]:]
		}
		trail, ok := advisor.TrailOf(part, id, now)
		if !ok {
			return whole, false
		}
		if end == len(shots) {
			whole.Worth, whole.Curve = trail.Worth, trail.Curve
		}
		steps := trail.Steps
		if from > 0 {
			steps = steps[min(teaching, len(steps)):]
		}
		whole.Steps = slices.Concat(steps, whole.Steps)
		if from == 0 || len(shots)-from >= mostGone || h.Entries[shots[from]].Day < since {
			break
		}
	}
	return whole, len(whole.Steps) > 0
}

// about returns the entries that teach of a coffee: its own, those of the others
// on its grinder, and what happened to the bar and the grinder.
func about(h bar.History, id bar.CoffeeID) []bar.Entry {
	var grinder bar.GrinderID
	for _, c := range h.Coffees {
		if c.ID == id {
			grinder = c.Grinder
		}
	}
	near := map[bar.CoffeeID]bool{id: true}
	for _, c := range h.Coffees {
		near[c.ID] = near[c.ID] || c.Grinder == grinder && grinder != 0
	}
	var kept []bar.Entry
	shots := map[bar.EntryID]bool{}
	for _, e := range h.Entries {
		keep := false
		switch w := e.What.(type) {
		case bar.Shot:
			keep = near[w.Coffee]
			shots[e.ID] = keep
		case bar.Words:
			keep = shots[w.Shot]
		case bar.Told:
			keep = w.Event != bar.Moved && (w.Coffee == 0 || near[w.Coffee]) && (w.Grinder == 0 || w.Grinder == grinder)
		case bar.Dialled:
			keep = near[w.Coffee]
		case bar.Setting:
			keep = true
		case bar.Held, bar.Layers, bar.Sips:
		}
		if keep && !e.Deleted {
			kept = append(kept, e)
		}
	}
	return kept
}

// between returns the entries from one to another, and what was said of them
// later.
func between(all []bar.Entry, from, to int) []bar.Entry {
	kept := slices.Clone(all[from : to+1])
	for _, e := range all[to+1:] {
		if _, ok := e.What.(bar.Words); ok {
			kept = append(kept, e)
		}
	}
	return kept
}
