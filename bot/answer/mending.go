package answer

import (
	"errors"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// GiveCorrected writes an entry that was put right, and says what to do now. The
// advice is that of the coffee's newest shot, whichever was mended.
func GiveCorrected(t *turn.Turn, r *recent.Book, e bar.Entry, c bar.CoffeeID, lead, reply string) ([]turn.Out, error) {
	coffee, known := r.Coffee(c)
	if !known {
		post := t.Post(chat.Recorded, lead)
		err := t.Update(func(tx *store.Tx) error {
			return errors.Join(tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now), tx.PutEntry(t.Bar.ID, e), t.Remember(tx, post))
		})
		return []turn.Out{{Post: post, Edits: reply}}, err
	}
	for i := range r.Recent {
		if r.Recent[i].ID == e.ID {
			r.Recent[i] = e
		}
	}
	return CorrectionOf(t, r, e, coffee, lead, reply).Give()
}

// CorrectionOf is the answer to an entry that was put right.
func CorrectionOf(t *turn.Turn, r *recent.Book, e bar.Entry, coffee bar.Coffee, lead, reply string) Answer {
	a := Answer{Turn: t, Book: r, Entry: e, Coffee: coffee, Lead: lead, edits: reply}
	if s, ok := e.What.(bar.Shot); ok && !e.Deleted {
		a.Notes.Unread = s.Unread
	}
	return a
}

// Corrected says what was changed of a shot, and of which where it is not the
// coffee's newest.
func Corrected(r *recent.Book, e bar.Entry, was, s bar.Shot, changes []string) string {
	newest, ok := r.Newest(func(_ bar.Entry, o bar.Shot) bool { return o.Coffee == s.Coffee })
	switch {
	case len(changes) == 0:
		return r.Lang().Say(say.Corrected)
	case Alike(was, s):
		return r.Lang().StandsSo(changes)
	case ok && newest.ID != e.ID:
		return r.Lang().CorrectedOf(e, r.NameOf(e.Person), changes)
	}
	return r.Lang().CorrectedFrom(changes)
}

// Alike reports whether two shots are the same but for where their numbers come from.
func Alike(a, b bar.Shot) bool {
	return a.Coffee == b.Coffee && a.Grinder == b.Grinder && a.Marks == b.Marks && a.Turned == b.Turned && len(a.Words) == len(b.Words) &&
		a.Dose.X == b.Dose.X && a.Yield.X == b.Yield.X && a.Time.X == b.Time.X && a.Grind.X == b.Grind.X &&
		(a.Time.From == bar.None) == (b.Time.From == bar.None) && (a.Grind.From == bar.None) == (b.Grind.From == bar.None)
}
