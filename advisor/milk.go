package advisor

import "slices"

// RecipeFor returns the recipe of a shot of c: that for milk, where there is one
// and the shot was for it.
func (c Coffee) RecipeFor(m Marks) Recipe {
	if m.Has(InMilk) && c.Milk != (Recipe{}) {
		return c.Milk
	}
	return c.Recipe
}

// inCup returns h as it is for the cup a coffee was last pulled for. Where it has
// a recipe for milk beside its own, its shots for the other teach of the grind,
// which they share, and not of the taste.
func inCup(h History, id CoffeeID) History {
	c, ok := coffeeOf(h, id)
	if !ok || c.Milk == (Recipe{}) {
		return h
	}
	return forCup(h, c, lastMarks(h, id)&InMilk)
}

// forCup returns h as it is for cups of c in milk, or for the others.
func forCup(h History, c Coffee, milk Marks) History {
	if c.Milk == (Recipe{}) {
		return h
	}
	h.Coffees = slices.Clone(h.Coffees)
	for i := range h.Coffees {
		if h.Coffees[i].ID == c.ID {
			h.Coffees[i].Recipe = c.RecipeFor(milk)
		}
	}
	h.Entries = slices.Clone(h.Entries)
	other := map[EntryID]bool{}
	for i, e := range h.Entries {
		if s, ok := e.What.(Shot); ok && s.Coffee == c.ID && s.Marks&InMilk != milk {
			s.Words, s.TDS, other[e.ID] = nil, 0, true
			h.Entries[i].What = s
		}
	}
	for i, e := range h.Entries {
		if w, ok := e.What.(Words); ok && other[w.Shot] {
			h.Entries[i].Deleted = true
		}
	}
	return h
}

// lastMarks returns the marks of a coffee's last shot.
func lastMarks(h History, id CoffeeID) Marks {
	var last Entry
	var marks Marks
	for _, e := range h.Entries {
		s, ok := e.What.(Shot)
		if !ok || e.Deleted || s.Coffee != id || e.At.Before(last.At) || e.At.Equal(last.At) && e.ID < last.ID {
			continue
		}
		last, marks = e, s.Marks
	}
	return marks
}
