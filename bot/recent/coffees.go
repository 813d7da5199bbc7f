package recent

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
)

// OnBar returns the coffees that are not retired.
func (r *Book) OnBar() []bar.Coffee {
	return slices.DeleteFunc(slices.Clone(r.Coffees), func(c bar.Coffee) bool { return c.Retired })
}

// Which returns the coffee a message is about: the one it names, else the one
// this person last pulled today, else the only one on the bar.
func (r *Book) Which(named bar.CoffeeID) (bar.Coffee, bool) {
	if named != 0 {
		return r.Coffee(named)
	}
	return r.UsualCoffee()
}

// UsualCoffee returns the coffee of a message that names none.
func (r *Book) UsualCoffee() (bar.Coffee, bool) {
	if c, ok := r.next(); ok {
		return c, true
	}
	return r.LastCoffee(func(e bar.Entry, _ bar.Shot) bool { return e.Person == r.Who.ID && e.Day == r.Day })
}

// next returns the coffee that is named for this person's next shot.
func (r *Book) next() (bar.Coffee, bool) {
	_, since := r.Newest(func(e bar.Entry, _ bar.Shot) bool { return e.Person == r.Who.ID && e.At.After(r.Named.At) })
	c, ok := r.Coffee(r.Named.Coffee)
	return c, ok && !since && !c.Retired
}

// NamedFor reports whether a shot's coffee was named alone, before it.
func (r *Book) NamedFor(e bar.Entry, s bar.Shot) bool {
	_, between := r.Newest(func(o bar.Entry, _ bar.Shot) bool {
		return o.Person == e.Person && o.At.After(r.Named.At) && o.At.Before(e.At)
	})
	return r.Named.Coffee != 0 && r.Named.Coffee == s.Coffee && r.Named.At.Before(e.At) && !between
}

// LastCoffee returns what is in the grinder now of the last of those shots, else the
// only coffee on the bar.
func (r *Book) LastCoffee(of func(bar.Entry, bar.Shot) bool) (bar.Coffee, bool) {
	if last, ok := r.Newest(of); ok {
		s := last.What.(bar.Shot)
		if c, ok := r.Coffee(r.InGrinder(s.Coffee, s.Grinder, last)); ok && !c.Retired {
			return c, true
		}
	}
	if on := r.OnBar(); len(on) == 1 {
		return on[0], true
	}
	return bar.Coffee{}, false
}

// LastOf returns the last shot of a coffee before an entry.
func (r *Book) LastOf(before bar.Entry, c bar.CoffeeID) (bar.Shot, bool) {
	e, ok := r.Newest(func(e bar.Entry, s bar.Shot) bool { return s.Coffee == c && Earlier(e, before) })
	if !ok {
		return bar.Shot{}, false
	}
	return e.What.(bar.Shot), true
}

// Earlier reports whether e came before other, which may not have an id yet.
func Earlier(e, other bar.Entry) bool {
	return e.ID != other.ID && (e.At.Before(other.At) || e.At.Equal(other.At) && (other.ID == 0 || e.ID < other.ID))
}

// CoffeeOf returns the coffee that a shot, or words about one, is of; else none.
func (r *Book) CoffeeOf(e bar.Entry) bar.CoffeeID {
	switch w := e.What.(type) {
	case bar.Shot:
		return w.Coffee
	case bar.Words:
		shot, ok := r.Newest(func(other bar.Entry, _ bar.Shot) bool { return other.ID == w.Shot })
		if ok {
			return shot.What.(bar.Shot).Coffee
		}
	case bar.Told, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
	}
	return 0
}

// HasName reports whether a coffee or a grinder is called so.
func (r *Book) HasName(said string) bool {
	return slices.ContainsFunc(r.Coffees, func(c bar.Coffee) bool { return strings.EqualFold(c.Name, said) }) ||
		slices.ContainsFunc(r.Grinders, func(g bar.Grinder) bool { return strings.EqualFold(g.Name, said) })
}
