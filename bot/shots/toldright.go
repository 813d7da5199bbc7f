package shots

import (
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/turn"
)

// soonPutRight is how long after it was told what happened may be put right without its
// name. Assumed.
const soonPutRight = 15 * time.Minute

// toldLast returns the last thing this person did, where it was to tell of the bar.
func toldLast(t *turn.Turn, r *recent.Book) (bar.Entry, bool) {
	for _, e := range slices.Backward(r.Recent) {
		if e.Person != t.Who.ID || e.Deleted {
			continue
		}
		w, ok := e.What.(bar.Told)
		return e, ok && w.Event != bar.Moved && !w.Shown && e.Message != "" && r.Now.Sub(e.At) <= soonPutRight
	}
	return bar.Entry{}, false
}

// toldWrong puts right what was told of the bar, or takes it back: the last event of that
// kind today.
func toldWrong(t *turn.Turn, r *recent.Book, p parse.Happened) (outs []turn.Out, ours bool, err error) {
	for _, e := range slices.Backward(r.Recent) {
		w, ok := e.What.(bar.Told)
		if !ok || w.Event != p.Event || e.Deleted || e.Day != r.Day || e.Message == "" {
			continue
		}
		if p.Not {
			outs, err = TakeOut(t, r, e, "")
			return outs, true, err
		}
		outs, err = putToldRight(t, r, e, w, p.Coffee, p.Grinder)
		return outs, true, err
	}
	return nil, p.Not || p.Weak, nil
}

// otherEvent takes what would put a shot right for what was told last, which a new message
// was about: "new bag", "it was tide".
func otherEvent(t *turn.Turn, r *recent.Book, p parse.Correction) (outs []turn.Out, ours bool, err error) {
	e, ok := toldLast(t, r)
	figures := p.Dose.Said || p.Yield.Said || p.Time.Said || p.Bare.Said || p.Grind.Said
	if !ok || figures || t.Msg.ReplyTo != "" || p.By != "" || p.Mine || p.Which != (parse.Which{}) || p.Next || p.Yesterday || p.Or != 0 || p.Of != 0 {
		return nil, false, nil
	}
	w := e.What.(bar.Told)
	about := w.Event.About()
	switch {
	case p.Ignore:
		outs, err = TakeOut(t, r, e, "")
	case p.Coffee != 0 && p.Coffee == w.Coffee: // of the shot, then
		return nil, false, nil
	case p.Coffee != 0 && (about == bar.TheCoffee || about == bar.NamedCoffee || about == bar.CoffeeInGrinder),
		p.Grinder != 0 && p.Coffee == 0 && about == bar.TheGrinder:
		outs, err = putToldRight(t, r, e, w, p.Coffee, p.Grinder)
	default:
		return nil, false, nil
	}
	return outs, true, err
}

// putToldRight makes what happened one of another coffee or grinder.
func putToldRight(t *turn.Turn, r *recent.Book, e bar.Entry, w bar.Told, coffee bar.CoffeeID, grinder bar.GrinderID) ([]turn.Out, error) {
	e.Deleted = true
	putAll(t, r, []bar.Entry{e})
	if moved := takenOutOf(t, r, e.Message); moved != "" && grinder == 0 {
		grinder = w.Grinder
	}
	return Happened(t, r, parse.Happened{Event: w.Event, Coffee: coffee, Grinder: grinder})
}
