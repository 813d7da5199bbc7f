package recent

import (
	"math"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// LearntAt is when the numbers of a dial begin that a shot has shown.
func LearntAt(shot time.Time) time.Time { return shot.Add(-time.Millisecond) }

// Begun returns the entry that newNumbers made of another.
func (r *Book) Begun(g bar.GrinderID, of bar.Entry) (bar.Entry, bool) {
	for _, e := range r.Recent {
		if w, ok := e.What.(bar.Told); ok && w.Grinder == g && w.Shown && e.With == of.Message && e.With != "" {
			return e, true
		}
	}
	return bar.Entry{}, false
}

// Settle returns a position that was said as the people of its grinder mean
// it. What the dial does not have stays odd, and is asked about.
func (r *Book) Settle(entry bar.Entry, p parse.Grind, g bar.Grinder) parse.Grind {
	if !p.Said || p.Relative && p.Odd {
		return p
	}
	p = p.On(g)
	last, known := r.Position(entry, g)
	at, ok := bar.Dial(p.X), true
	switch {
	case p.Relative && !known:
		return p
	case p.Relative:
		at = g.Turn(last, p.X)
	case p.Odd || g.Small > 0 || g.Wraps > 0:
		near := bar.Value[bar.Dial]{X: last}
		if known {
			near.From = bar.Last
		}
		at, ok = parse.Place(p.Text, g, near)
		p.X = float64(at)
	}
	p.Beyond = ok && g.Step > 0 && !g.Holds(at)
	p.Odd = !ok || p.Beyond
	return p
}

// Position returns where a grinder stood at its last shot before an entry, if
// its numbers still mean the same.
func (r *Book) Position(before bar.Entry, g bar.Grinder) (bar.Dial, bool) {
	for e := range r.EachShot(func(e bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && Earlier(e, before) }) {
		if r.Rezeroed(g.ID, e.At, before) {
			return 0, false
		}
		if v := e.What.(bar.Shot).Grind; v.From != bar.None {
			return v.X, true
		}
	}
	return 0, false
}

// Rezeroed reports whether the numbers of a grinder's dial got another meaning
// between an instant and an entry.
func (r *Book) Rezeroed(g bar.GrinderID, since time.Time, before bar.Entry) bool {
	return r.toldSince(bar.Rezeroed, before, g, since)
}

// toldSince reports whether an event of a grinder was told between an instant and an entry.
func (r *Book) toldSince(event bar.Event, before bar.Entry, g bar.GrinderID, since time.Time) bool {
	is := func(e bar.Entry) bool {
		w, ok := e.What.(bar.Told)
		return ok && w.Event == event && w.Grinder == g && !e.Deleted && e.At.After(since) && Earlier(e, before)
	}
	return slices.ContainsFunc(r.Recent, is) || slices.ContainsFunc(r.Before, is)
}

// AsNumbered returns an entry without where its shot stood, if that was counted from 0
// before the dial had numbers.
func (r *Book) AsNumbered(e bar.Entry) bar.Entry {
	s, ok := e.What.(bar.Shot)
	begun := func(b bar.Entry) bool {
		w, ok := b.What.(bar.Told)
		return ok && w.Shown && w.Event == bar.Rezeroed && w.Grinder == s.Grinder && !b.Deleted && b.At.After(e.At)
	}
	if ok && s.Grind.From != bar.Said && (slices.ContainsFunc(r.Recent, begun) || slices.ContainsFunc(r.Before, begun)) {
		s.Grind = bar.Value[bar.Dial]{}
		e.What = s
	}
	return e
}

// Settable returns the grinder that was set.
func (r *Book) Settable(p parse.Set) (bar.Grinder, bool) {
	if p.Grinder != 0 {
		return r.Grinder(p.Grinder)
	}
	if p.Coffee == 0 && len(r.InUse()) == 1 {
		return r.InUse()[0], true
	}
	if id := r.bagTold(); p.Coffee == 0 && id != 0 {
		p.Coffee = id
	}
	c, ok := r.Which(p.Coffee)
	if !ok && p.Coffee == 0 {
		return r.onlyPulled(p)
	}
	if !ok {
		return bar.Grinder{}, false
	}
	g, ok := r.Grinder(c.Grinder)
	placed := p.Grind.Said && !p.Grind.Relative && !p.Grind.Odd
	if part := p.Grind.X != math.Trunc(p.Grind.X); p.Coffee == 0 && ok && placed && (!p.Weak || part) && !r.near(g, p.Grind.X) {
		if other, only := r.onlyNear(p.Grind.X); only {
			return other, true
		}
	}
	return g, ok
}

// near reports whether a place may be on a dial: in its steps, and near where it stands.
func (r *Book) near(g bar.Grinder, x float64) bool {
	at, known := r.StandsNow(g)
	return known && reaches(g, at, x)
}

// reaches reports whether a place is one of a dial's steps, and near where it stood.
func reaches(g bar.Grinder, at bar.Dial, x float64) bool {
	whole := g.Step > 0 && math.Abs(x/g.Step-math.Round(x/g.Step)) < 1e-6
	return whole && math.Abs(x-float64(at)) <= nearDial*g.Step
}

// onlyNear returns the only grinder in use on whose dial a place may be.
func (r *Book) onlyNear(x float64) (found bar.Grinder, ok bool) {
	for _, g := range r.InUse() {
		if !r.near(g, x) {
			continue
		}
		if ok {
			return bar.Grinder{}, false
		}
		found, ok = g, true
	}
	return found, ok
}

// nearDial is how many steps a dial is put from where it stood, at the most, where that
// shows whose it is. Assumed.
const nearDial = 10

// onlyPulled returns the grinder that a setting is of by somebody who has pulled nothing:
// the only one that was used today, or the only one of these whose dial stands near where it
// was put.
func (r *Book) onlyPulled(p parse.Set) (found bar.Grinder, ok bool) {
	var used, near []bar.Grinder
	for _, g := range r.InUse() {
		e, pulled := r.Newest(func(e bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && e.Day == r.Day })
		if !pulled {
			continue
		}
		used = append(used, g)
		at := e.What.(bar.Shot).Grind
		if at.From != bar.None && reaches(g, at.X, p.Grind.X) {
			near = append(near, g)
		}
	}
	if place := p.Grind.Said && !p.Grind.Relative && !p.Grind.Odd; place && len(near) == 1 && len(used) > 1 {
		return near[0], true
	}
	if len(used) == 1 {
		return used[0], true
	}
	return found, false
}

// DialSet returns where a grinder's dial was put since its last shot before an
// entry, if it was.
func (r *Book) DialSet(before bar.Entry, g bar.GrinderID) (bar.Told, bool) {
	e, ok := r.LastMove(before, g)
	if !ok {
		return bar.Told{}, false
	}
	return e.What.(bar.Told), true
}

// LastMove returns the entry that says so.
func (r *Book) LastMove(before bar.Entry, g bar.GrinderID) (found bar.Entry, ok bool) {
	for _, entries := range [][]bar.Entry{r.Before, r.Recent} {
		for _, e := range entries {
			if e.Deleted || !Earlier(e, before) {
				continue
			}
			switch w := e.What.(type) {
			case bar.Shot:
				ok = ok && (w.Grinder != g || beforeTold(w))
			case bar.Told:
				if w.Grinder == g && w.Event == bar.Moved {
					found, ok = e, true
				} else if w.Grinder == g && w.Event == bar.Rezeroed {
					ok = false
				}
			case bar.Words, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
			}
		}
	}
	return found, ok
}

// MovedSince reports whether somebody said between an instant and an entry where a grinder's
// dial was put, whatever was pulled since.
func (r *Book) MovedSince(before bar.Entry, g bar.GrinderID, since time.Time) bool {
	return r.toldSince(bar.Moved, before, g, since)
}

// beforeTold reports whether a shot was pulled before it was said where its dial stood:
// what was said then holds after it as well.
func beforeTold(s bar.Shot) bool {
	return s.Grind.From == bar.None && s.Turned == 0 && !s.Marks.Has(bar.Unplaced)
}

// StandsNow returns where a grinder's dial stands now.
func (r *Book) StandsNow(g bar.Grinder) (bar.Dial, bool) { return r.Stands(bar.Entry{At: r.Now}, g) }

// Stands returns where a grinder's dial stands before an entry: where it was put
// since its last shot, else as that shot had it.
func (r *Book) Stands(before bar.Entry, g bar.Grinder) (bar.Dial, bool) {
	if w, ok := r.DialSet(before, g.ID); ok && w.Dial.From != bar.None {
		return w.Dial.X, true
	} else if ok && w.Turned != 0 {
		return 0, false
	}
	at, known := r.Position(before, g)
	return at, known || !(g.Step > 0)
}
