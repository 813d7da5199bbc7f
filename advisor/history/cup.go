package history

import (
	"slices"

	"shothand/advisor/bar"
)

// inCup returns h as it is for the cup a coffee was last pulled for. Where it has
// a recipe for milk beside its own, its shots for the other teach of the grind,
// which they share, and not of the taste.
func inCup(h bar.History, id bar.CoffeeID) bar.History {
	c, ok := bar.CoffeeOf(h.Coffees, id)
	if !ok || c.Milk == (bar.Recipe{}) {
		return h
	}
	return ForCup(h, c, LastMarks(h, id)&bar.InMilk)
}

// ForCup returns h as it is for cups of c in milk, or for the others.
func ForCup(h bar.History, c bar.Coffee, milk bar.Marks) bar.History {
	if c.Milk == (bar.Recipe{}) {
		return h
	}
	h.Coffees = slices.Clone(h.Coffees)
	for i := range h.Coffees {
		if h.Coffees[i].ID == c.ID {
			h.Coffees[i].Recipe = c.RecipeFor(milk)
		}
	}
	h.Entries = slices.Clone(h.Entries)
	other := map[bar.EntryID]bool{}
	for i, e := range h.Entries {
		if s, ok := e.What.(bar.Shot); ok && s.Coffee == c.ID && s.Marks&bar.InMilk != milk {
			s.Words, s.TDS, other[e.ID] = nil, 0, true
			h.Entries[i].What = s
		}
	}
	for i, e := range h.Entries {
		if w, ok := e.What.(bar.Words); ok && other[w.Shot] {
			h.Entries[i].Deleted = true
		}
	}
	return h
}

// LastMarks returns the marks of a coffee's last shot.
func LastMarks(h bar.History, id bar.CoffeeID) bar.Marks {
	var last bar.Entry
	var marks bar.Marks
	for _, e := range h.Entries {
		s, ok := e.What.(bar.Shot)
		if !ok || e.Deleted || s.Coffee != id || e.At.Before(last.At) || e.At.Equal(last.At) && e.ID < last.ID {
			continue
		}
		last, marks = e, s.Marks
	}
	return marks
}
