package bot

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/parse"
	"shothand/store"
)

// learnDial returns the grinder of an entry that tells a number of its dial. A number read off a grinder
// that had none shows its step; which way it goes is asked.
func (t *turn) learnDial(r *room, id bar.GrinderID, p parse.Grind, of bar.Entry) (bar.Grinder, error) {
	g, _ := r.grinder(id)
	whole, plus := strings.CutSuffix(p.Text, "+")
	if plus {
		p.X, p.Odd = 0, false
		if x, err := parse.Position(whole); err == nil {
			p.X = x
		}
	}
	plus = plus && !g.Plus && g.Small == 0 && !(g.Wraps > 0)
	known := g.Step > 0 && (!g.Guessed || g.Step <= parse.StepOf(p.X))
	if !p.Said || p.Relative || p.Odd || known && !plus {
		return g, nil
	}
	fresh := !(g.Step > 0)
	if g.Plus = g.Plus || plus; !known {
		g.Step, g.Guessed = parse.StepOf(p.X), true
	}
	_, used := r.newest(func(e bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && e.At.Before(of.At) })
	err := t.update(func(tx *store.Tx) error {
		if fresh && used { // what was counted in steps and what the dial says have nothing in common
			if err := t.newNumbers(tx, g.ID, of); err != nil {
				return err
			}
		}
		return tx.PutGrinder(t.bar.ID, &g)
	})
	for i := range r.grinders {
		if r.grinders[i].ID == g.ID {
			r.grinders[i] = g
		}
	}
	return g, err
}

// newNumbers records that a dial's numbers begin with an entry.
func (t *turn) newNumbers(tx *store.Tx, g bar.GrinderID, of bar.Entry) error {
	_, err := tx.AddEntry(t.bar.ID, bar.Entry{
		With: cmp.Or(of.Message, of.With), Person: t.who.ID, At: learntAt(of.At), Day: bar.DayOf(of.At),
		What: bar.Told{Event: bar.Rezeroed, Grinder: g, Shown: true},
	})
	return err
}

// learntAt is when the numbers of a dial begin that a shot has shown.
func learntAt(shot time.Time) time.Time { return shot.Add(-time.Millisecond) }

// begun returns the entry that newNumbers made of another.
func (r *room) begun(g bar.GrinderID, of bar.Entry) (bar.Entry, bool) {
	for _, e := range r.recent {
		if w, ok := e.What.(bar.Told); ok && w.Grinder == g && w.Shown && e.With == of.Message && e.With != "" {
			return e, true
		}
	}
	return bar.Entry{}, false
}

// unlearnDial takes back what learnDial saw in a shot that never was, unless
// the numbers have been used since.
func (t *turn) unlearnDial(r *room, e bar.Entry, s bar.Shot) error {
	g, _ := r.grinder(s.Grinder)
	_, used := r.newest(func(other bar.Entry, o bar.Shot) bool { return o.Grinder == g.ID && earlier(e, other) })
	learnt, ok := r.begun(g.ID, e)
	if !ok || !g.Guessed || used {
		return nil
	}
	learnt.Deleted, g.Step, g.Guessed = true, 0, false
	return t.update(func(tx *store.Tx) error {
		if err := tx.PutEntry(t.bar.ID, learnt); err != nil {
			return err
		}
		return tx.PutGrinder(t.bar.ID, &g)
	})
}

// grind returns the dial position of a shot: said, else as advised, else the
// grinder's last. Where the dial has numbers and none is known, it returns by
// how many steps the dial was turned.
func (r *room) grind(entry bar.Entry, p parse.Grind, g bar.Grinder, said store.Said, advised bool) (bar.Value[bar.Dial], float64) {
	type position = bar.Value[bar.Dial]
	last, known := r.position(entry, g)
	known = known || !(g.Step > 0) // counted from where it stood: 0 steps
	followed := advised && said.Lever == bar.Grind && said.Grinder == g.ID
	moved, set := r.dialSet(entry, g.ID)
	if by, ok := r.lastMove(entry, g.ID); followed && ok && by.With == "" && by.At.Before(said.At) {
		set = false // advised since, and done; what was told in the same breath holds
	}
	switch {
	case p.Odd: // asked about, never half understood
		return position{}, 0
	case p.Said && !p.Relative:
		return position{X: bar.Dial(p.X), From: bar.Said, Rough: p.Rough}, 0
	case p.Said && known:
		return position{X: g.Turn(last, p.X), From: bar.Said}, 0
	case p.Said:
		return position{}, p.X
	case set && moved.Dial.From != bar.None:
		return moved.Dial, 0
	case set:
		return position{}, moved.Turned
	case followed && said.Unit == advisor.DialUnit:
		return position{X: bar.Dial(said.To), From: bar.Advised}, 0
	case followed && known:
		return position{X: g.Turn(last, said.To), From: bar.Advised}, 0
	case followed:
		return position{}, said.To
	case known:
		return position{X: last, From: bar.Last}, 0
	}
	return position{}, 0
}

// settle returns a position that was said as the people of its grinder mean
// it. What the dial does not have stays odd, and is asked about.
func (r *room) settle(entry bar.Entry, p parse.Grind, g bar.Grinder) parse.Grind {
	if !p.Said || p.Relative && p.Odd {
		return p
	}
	last, known := r.position(entry, g)
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

// position returns where a grinder stood at its last shot before an entry, if
// its numbers still mean the same.
func (r *room) position(before bar.Entry, g bar.Grinder) (bar.Dial, bool) {
	for e := range r.eachShot(func(e bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && earlier(e, before) }) {
		if r.rezeroed(g.ID, e.At, before) {
			return 0, false
		}
		if v := e.What.(bar.Shot).Grind; v.From != bar.None {
			return v.X, true
		}
	}
	return 0, false
}

// rezeroed reports whether the numbers of a grinder's dial got another meaning
// between an instant and an entry.
func (r *room) rezeroed(g bar.GrinderID, since time.Time, before bar.Entry) bool {
	is := func(e bar.Entry) bool {
		w, ok := e.What.(bar.Told)
		return ok && w.Event == bar.Rezeroed && w.Grinder == g && e.At.After(since) && earlier(e, before)
	}
	return slices.ContainsFunc(r.recent, is) || slices.ContainsFunc(r.before, is)
}
