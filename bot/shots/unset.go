package shots

import (
	"strconv"

	"shothand/advisor/bar"
	"shothand/bot/figures"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// PressUnset takes back that a dial was set; or says that it was the last
// shot's.
func PressUnset(t *turn.Turn, r *recent.Book, e bar.Entry, verb, arg string) ([]turn.Out, error) {
	if _, ok := e.What.(bar.Setting); ok {
		if !t.Msg.Manager {
			return nil, turn.Mistake(t.WriterLang().Say(say.NotManager))
		}
		return TakeOut(t, r, e, "")
	}
	w, ok := e.What.(bar.Told)
	if !ok || w.Event != bar.Moved {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	if verb == turn.PressUnset {
		return unset(t, r, e, arg)
	}
	e.Deleted = true
	putAll(t, r, []bar.Entry{e})
	shot, ok := r.Newest(func(o bar.Entry, s bar.Shot) bool { return s.Grinder == w.Grinder && recent.Earlier(o, e) })
	if !ok || w.Dial.From == bar.None {
		return nil, turn.Mistake(t.WriterLang().Say(say.NothingToCorrect))
	}
	g := parse.Grind{X: float64(w.Dial.X), Said: true, Rough: w.Dial.Rough}
	return figures.PutRight(t, r, shot, shot.What.(bar.Shot), parse.Correction{Grind: g}, bar.Said)
}

// unset takes back where a dial was put; what it stood in the place of holds again.
func unset(t *turn.Turn, r *recent.Book, e bar.Entry, before string) ([]turn.Out, error) {
	id, err := strconv.ParseUint(before, 10, 64)
	if err != nil {
		return TakeOut(t, r, e, "")
	}
	old, err := t.Stored(bar.EntryID(id))
	if err != nil {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	old.Deleted = false
	putAll(t, r, append(stoodToo(r, e, old), old))
	return TakeOut(t, r, e, "")
}

// unmoved takes out where a grinder's dial was put since its last shot: somebody
// says now that it stands elsewhere.
func unmoved(t *turn.Turn, tx *store.Tx, r *recent.Book, g bar.GrinderID) error {
	e, ok := r.LastMove(bar.Entry{At: t.Now}, g)
	if !ok {
		return nil
	}
	e.Deleted = true
	return tx.PutEntry(t.Bar.ID, e)
}
