package simbar

import "math"

// oracle knows the world.
type oracle struct {
	runs []*World // in order
	now  *World
}

// Oracle returns a player of w that knows its truth.
func Oracle(w *World) Player {
	o := &oracle{}
	for ; w != nil; w = w.Before {
		o.runs = append([]*World{w}, o.runs...)
	}
	return o
}

// Start implements Player.
func (o *oracle) Start(Table) { o.now, o.runs = o.runs[0], o.runs[1:] }

// Next implements Player.
func (o *oracle) Next(shots []Shot) Move {
	last := shots[len(shots)-1]
	if o.now.Right(last.Set) {
		return Move{Keep: true, Setting: same(last)}
	}
	s := o.now.best(same(last))
	s.Purge = true
	return Move{Setting: s}
}

// away returns how far s is from right: below 1 it is well inside.
func (w *World) away(s Setting) float64 {
	e, strength := w.TrueReading(s)
	return max(math.Abs(e), math.Abs(strength), w.ChannelRisk(s)/edgeRisk)
}

// best returns the setting nearest to the best, looking at one lever after the
// other.
func (w *World) best(s Setting) Setting {
	s.Grind = w.table.Start.Grind
	for range 4 {
		at := s
		for k := -150.0; k <= 150; k++ {
			at.Grind = w.table.Dial.Turn(w.table.Start.Grind, k)
			s = w.nearer(s, at)
		}
		if s = w.bestYield(s, s); w.Right(s) {
			return s
		}
	}
	return w.bestOfAll(s)
}

// bestOfAll returns the setting nearest to the best, looking at every one.
func (w *World) bestOfAll(s Setting) Setting {
	at := s
	for k := -150.0; k <= 150; k++ {
		at.Grind = w.table.Dial.Turn(w.table.Start.Grind, k)
		s = w.bestYield(s, at)
	}
	return s
}

// bestYield returns the setting nearest to the best of s and of at with any yield.
func (w *World) bestYield(s, at Setting) Setting {
	for by := -12.0; by <= 12; by++ {
		at.Yield = w.table.Recipe.Yield + by
		s = w.nearer(s, at)
	}
	return s
}

// nearer returns the one of two settings that is nearer to the best.
func (w *World) nearer(s, t Setting) Setting {
	if w.away(t) < w.away(s) {
		return t
	}
	return s
}
