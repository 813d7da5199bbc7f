package shots

import (
	"shothand/advisor/bar"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/turn"
)

// inUse reports whether a grinder's coffee was pulled not long ago.
func inUse(r *recent.Book, g bar.Grinder) bool {
	_, ok := r.Newest(func(e bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && r.Now.Sub(e.At) <= resolve.TasteWindow })
	return ok
}

// undone takes back what this person told of a dial just before, or says that no advice
// was done.
func undone(t *turn.Turn, r *recent.Book) ([]turn.Out, error) {
	if e, ok := ownMove(r, t.Who.ID, 0); ok {
		return TakeOut(t, r, e, "")
	}
	said, open, err := openAdvice(t, r)
	if g, ok := r.Settable(parse.Set{}); err == nil && !open && ok {
		if _, moved := r.DialSet(bar.Entry{At: t.Now}, g.ID); moved { // by somebody else
			return Set(t, r, parse.Set{Grinder: g.ID, Grind: parse.Grind{Said: true, Relative: true, Odd: true, Text: t.Msg.Text}})
		}
	}
	if err != nil || !open {
		return nil, err
	}
	e, err := t.Stored(said.Entry)
	if err != nil {
		return nil, err
	}
	return PressDid(t, r, e, false)
}
