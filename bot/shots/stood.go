package shots

import (
	"math"
	"slices"
	"strconv"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// PressStood puts the dial of the last shots where it stood, as far as they are
// believed to have been pulled beyond that.
func PressStood(t *turn.Turn, r *recent.Book, e bar.Entry, arg string) ([]turn.Out, error) {
	x, err := strconv.ParseFloat(arg, 64)
	last, ok := e.What.(bar.Shot)
	if err != nil || !ok || math.IsNaN(x) {
		return nil, turn.Mistake(say.OldButton)
	}
	g, ok := r.Grinder(last.Grinder)
	if !ok || !g.Holds(bar.Dial(x)) {
		return nil, turn.Mistake(say.OldButton)
	}
	stood := bar.Dial(x)
	changed := atOne(r, e, last, stood)
	putAll(t, r, changed)
	t.Later(func(tx *store.Tx) error { return tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now) })
	post, err := answer.Again(t, last.Coffee, t.Lang().StoodIn(g, stood, len(changed)))
	return []turn.Out{{Post: post}}, err
}

// standAt puts where the dial stood for so many of the last shots: "the last two were on
// 4.9". They are of one grinder, the last one's that can stand there.
func standAt(t *turn.Turn, r *recent.Book, shots []bar.Entry, p parse.Correction) ([]turn.Out, error) {
	newest := shots[max(0, slices.IndexFunc(shots, func(e bar.Entry) bool { return couldStand(r, e, p.Grind) }))]
	last, ok := newest.What.(bar.Shot)
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.NothingToCorrect))
	}
	g := resolve.LearnDial(t, r, last.Grinder, p.Grind, newest)
	if p.Grind = r.Settle(newest, p.Grind, g); p.Grind.Odd {
		return nil, turn.Mistake(t.WriterLang().Unplaced(g, say.Notes{Odd: p.Grind.Text, Beyond: p.Grind.Beyond}))
	}
	if far := farFixed(t, r, newest, last, p); far != nil {
		return far, nil
	}
	var changed []bar.Entry
	for _, e := range shots {
		s, ok := e.What.(bar.Shot)
		if ok && s.Grinder == last.Grinder && len(changed) < p.Which.Last {
			s.Grind, s.Turned = bar.Value[bar.Dial]{X: bar.Dial(p.Grind.X), From: bar.Said, Rough: p.Grind.Rough}, 0
			s.Marks &^= bar.Unplaced
			e.What = s
			changed = append(changed, e)
		}
	}
	putAll(t, r, changed)
	t.Later(func(tx *store.Tx) error { return tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now) })
	post, err := answer.Again(t, last.Coffee, t.Lang().StoodIn(g, bar.Dial(p.Grind.X), len(changed)))
	return []turn.Out{{Post: post}}, err
}

// couldStand reports whether a shot's grinder has such a position, near where it stood.
func couldStand(r *recent.Book, e bar.Entry, p parse.Grind) bool {
	s, ok := e.What.(bar.Shot)
	g, known := r.Grinder(s.Grinder)
	steps := p.X / g.Step
	return ok && known && g.Step > 0 && s.Grind.From != bar.None && math.Abs(steps-math.Round(steps)) < 1e-6 && stepsBetween(s.Grind.X, p.X, g) <= resolve.FarMove
}

// atOne returns the shot, and those before it that nobody said the dial of and that
// are believed to have been pulled beyond where it stood, as they were then.
func atOne(r *recent.Book, e bar.Entry, last bar.Shot, at bar.Dial) []bar.Entry {
	shots := r.Shots(func(o bar.Entry, s bar.Shot) bool {
		return s.Coffee == last.Coffee && s.Grinder == last.Grinder && o.Day == e.Day && !recent.Earlier(e, o)
	})
	way := last.Grind.X - at
	var changed []bar.Entry
	for _, o := range shots { // newest first
		s := o.What.(bar.Shot)
		if !s.Grind.From.Supposed() || o.ID != e.ID && !((s.Grind.X-at)*way > 0) {
			break
		}
		s.Grind, s.Turned = bar.Value[bar.Dial]{X: at, From: bar.Said}, 0
		o.What = s
		changed = append(changed, o)
	}
	return changed
}

// stoodToo returns the shots, newest first, that stood where somebody had said that a
// dial was put and whose own message says nothing of it, as they stood where it was put
// in truth.
func stoodToo(r *recent.Book, told, truth bar.Entry) (changed []bar.Entry) {
	was, is := told.What, truth.What
	from, ok := was.(bar.Told)
	to, also := is.(bar.Told)
	if !ok || !also || from.Dial.From == bar.None || to.Dial.From == bar.None {
		return nil
	}
	since := told
	if truth.ID != 0 && truth.ID < told.ID { // back to what was said before
		since = truth
	}
	for _, e := range r.Shots(func(e bar.Entry, s bar.Shot) bool {
		return s.Grinder == from.Grinder && recent.Earlier(since, e) && s.Grind.From == bar.Said && s.Grind.X == from.Dial.X
	}) {
		if p, ok, err := resolve.ReadShot(e.Raw, r.Vocab()); err != nil || !ok || p.Grind.Said {
			continue
		}
		s := e.What.(bar.Shot)
		s.Grind = to.Dial
		e.What = s
		changed = append(changed, e)
	}
	return changed
}
