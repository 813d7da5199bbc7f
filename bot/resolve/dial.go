package resolve

import (
	"cmp"
	"slices"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/turn"
	"shothand/store"
)

// LearnDial returns the grinder of an entry that tells a number of its dial. A number read off a grinder
// that had none shows its step; which way it goes is asked.
func LearnDial(t *turn.Turn, r *recent.Book, id bar.GrinderID, p parse.Grind, of bar.Entry) bar.Grinder {
	g, _ := r.Grinder(id)
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
		return g
	}
	fresh := !(g.Step > 0)
	if g.Plus = g.Plus || plus; !known {
		g.Step, g.Guessed = parse.StepOf(p.X), true
	}
	_, used := r.Newest(func(e bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && e.At.Before(of.At) })
	if fresh && used { // what was counted in steps and what the dial says have nothing in common
		t.Put(newNumbers(t, g.ID, of))
	}
	t.PutGrinder(g)
	for i := range r.Grinders {
		if r.Grinders[i].ID == g.ID {
			r.Grinders[i] = g
		}
	}
	return g
}

// NewNumbers records that a dial's numbers begin with an entry.
func NewNumbers(t *turn.Turn, tx *store.Tx, g bar.GrinderID, of bar.Entry) error {
	_, err := tx.AddEntry(t.Bar.ID, newNumbers(t, g, of))
	return err
}

func newNumbers(t *turn.Turn, g bar.GrinderID, of bar.Entry) bar.Entry {
	return bar.Entry{
		With: cmp.Or(of.Message, of.With), Person: t.Who.ID, At: recent.LearntAt(of.At), Day: bar.DayOf(of.At),
		What: bar.Told{Event: bar.Rezeroed, Grinder: g, Shown: true},
	}
}

// UnlearnDial takes back what learnDial saw in a shot that never was, unless
// the numbers have been used since.
func UnlearnDial(t *turn.Turn, r *recent.Book, e bar.Entry, s bar.Shot) {
	g, _ := r.Grinder(s.Grinder)
	_, used := r.Newest(func(other bar.Entry, o bar.Shot) bool { return o.Grinder == g.ID && recent.Earlier(e, other) })
	learnt, ok := r.Begun(g.ID, e)
	if !ok || !g.Guessed || used {
		return
	}
	learnt.Deleted, g.Step, g.Guessed = true, 0, false
	t.Put(learnt)
	t.PutGrinder(g)
}

// Grind returns the dial position of a shot: said, else as advised, else the
// grinder's last. Where the dial has numbers and none is known, it returns by
// how many steps the dial was turned, and whether somebody said so.
func Grind(r *recent.Book, entry bar.Entry, p parse.Grind, g bar.Grinder, said store.Said, advised bool) (at bar.Value[bar.Dial], turned float64, from bar.Provenance) {
	type position = bar.Value[bar.Dial]
	last, known := r.Position(entry, g)
	known = known || !(g.Step > 0) // counted from where it stood: 0 steps
	followed := advised && said.Lever == bar.Grind && said.Grinder == g.ID
	moved, set := r.DialSet(entry, g.ID)
	if by, ok := r.LastMove(entry, g.ID); followed && ok && by.With == "" && by.At.Before(said.At) {
		set = false // advised since, and done; what was told in the same breath holds
	}
	switch {
	case p.Odd: // asked about, never half understood
		return position{}, 0, bar.None
	case p.Said && !p.Relative:
		return position{X: bar.Dial(p.X), From: bar.Said, Rough: p.Rough}, 0, bar.None
	case asked(r, entry, g): // it was moved, and nobody has said yet to where
		return position{}, 0, bar.None
	case p.Said && known:
		return position{X: g.Turn(last, p.X), From: bar.Said}, 0, bar.None
	case p.Said:
		return position{}, p.X, bar.Said
	case set && moved.Dial.From != bar.None:
		return moved.Dial, 0, bar.None
	case set:
		return position{}, moved.Turned, bar.Said
	case followed && said.Unit == advisor.DialUnit:
		return position{X: bar.Dial(said.To), From: bar.Advised}, 0, bar.None
	case followed && known:
		return position{X: g.Turn(last, said.To), From: bar.Advised}, 0, bar.None
	case followed:
		return position{}, said.To, bar.Advised
	case known:
		return position{X: last, From: bar.Last}, 0, bar.None
	}
	return position{}, 0, bar.None
}

// asked reports whether a move of a grinder's dial was asked about on the day of an entry,
// and neither that nor where it stands has been said since.
func asked(r *recent.Book, entry bar.Entry, g bar.Grinder) bool {
	for _, e := range slices.Backward(r.Recent) {
		if e.Deleted || e.Day != entry.Day || !recent.Earlier(e, entry) {
			continue
		}
		switch w := e.What.(type) {
		case bar.Shot:
			if w.Grinder == g.ID && w.Grind.From != bar.None {
				return false
			}
		case bar.Told:
			if w.Grinder == g.ID && w.Event == bar.Moved {
				return false
			}
		case bar.Held:
			if w.Device == 0 && movesDial(r, e, g) {
				return true
			}
		case bar.Words, bar.Dialled, bar.Setting, bar.Layers, bar.Sips:
		}
	}
	return false
}

// movesDial reports whether a message that was kept says that a grinder's dial was moved.
func movesDial(r *recent.Book, held bar.Entry, g bar.Grinder) bool {
	meaning, err := parse.Message(held.Raw, r.Vocab())
	set, ok := meaning.(parse.Set)
	if err != nil || !ok {
		return false
	}
	then := *r
	then.Who.ID = held.Person
	of, ok := then.Settable(set)
	return ok && of.ID == g.ID
}
