package shots

import (
	"cmp"
	"errors"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/device"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/bot/which"
	"shothand/store"
)

// EditedShot records a shot anew in place of e. Settled are the numbers that an
// answer settled, see [resolve.Settle].
func EditedShot(t *turn.Turn, r *recent.Book, e bar.Entry, p parse.Shot, reply, settled string) ([]turn.Out, error) {
	old, was := e.What.(bar.Shot)
	if p.Coffee == 0 && was {
		p.Coffee = old.Coffee
	}
	coffee, ok := r.Which(p.Coffee)
	if !ok && len(r.OnBar()) > 1 {
		return nil, turn.Mistake(t.WriterLang().WhichCoffee(r.OnBar()))
	}
	coffee, err := resolve.OrHouse(t, r, coffee, ok, p.Stranger)
	if err != nil {
		return nil, err
	}
	if off, far := resolve.FarOff(r, p, coffee, settled); far && ok {
		return askEdit(t, e, p, off, settled)
	}
	untell(t, r, e)
	takenOutOf(t, r, e.Message)
	told, err := before(t, r, e, p, coffee)
	if err != nil {
		return nil, err
	}
	s, _, err := resolved(t, r, e, &p, coffee)
	if err != nil {
		return nil, err
	}
	if was && s.Grind.From != bar.Said && old.Grinder == s.Grinder {
		s.Grind, s.Turned, s.TurnedFrom = old.Grind, old.Turned, old.TurnedFrom
		s.Marks |= old.Marks & bar.Unplaced
	}
	var aside *bar.Entry
	if was && old.Posted != 0 {
		if s, aside, err = device.Rejoined(t, r, s, p, old.Posted, coffee); err != nil {
			return nil, err
		}
	}
	e.What = s
	uncall(t, r, e.ID)
	a := answer.CorrectionOf(t, r, e, coffee, t.Lang().Say(say.Corrected)+told, reply)
	a.Aside = aside
	a.Call = p.Dialled
	a.Notes.House = !ok
	a.Notes.Unplaced(p.Grind)
	return a.Give()
}

// askEdit asks whether a number was meant that an edit has put in. The new text is
// kept; the entry stays as it was until the answer.
func askEdit(t *turn.Turn, e bar.Entry, p parse.Shot, off say.FarOff, settled string) ([]turn.Out, error) {
	err := t.Update(func(tx *store.Tx) error {
		if err := tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now); err != nil {
			return err
		}
		asks := store.Reply{Cause: t.Msg.ID, Entry: e.ID, Kind: chat.Question.String(), At: t.Now}
		return errors.Join(tx.PutEntry(t.Bar.ID, e), tx.PutReply(t.Bar.ID, asks))
	})
	return []turn.Out{{Post: farEditPost(t, e, p, off, settled)}}, err
}

// farEditPost is the question.
func farEditPost(t *turn.Turn, e bar.Entry, p parse.Shot, off say.FarOff, settled string) chat.Post {
	post := resolve.FarPost(t, e.ID, p, off, settled)
	post.Text = t.Lang().FarEditQuestion(off)
	post.Buttons[len(post.Buttons)-1].Label = t.Lang().Say(say.LeaveEditLabel)
	return post
}

// EditAnew asks again about an edit, if a number that it has put in is still to be
// settled.
func EditAnew(t *turn.Turn, e bar.Entry) (post chat.Post, asks bool, err error) {
	s := e.What.(bar.Shot)
	r, err := t.Book()
	if err != nil || e.Deleted {
		return post, false, err
	}
	p, ok, err := resolve.ReadShot(e.Raw, r.Vocab())
	coffee, known := r.Coffee(cmp.Or(p.Coffee, s.Coffee))
	if err != nil || !ok || !known {
		return post, false, nil // as it was
	}
	p.Coffee = coffee.ID
	off, far := resolve.FarOff(r, p, coffee, "")
	return farEditPost(t, e, p, off, ""), far, nil
}

// PressEdit goes on with an edit that was asked about.
func PressEdit(t *turn.Turn, r *recent.Book, e bar.Entry, verb, arg string) ([]turn.Out, error) {
	p, ok, err := resolve.ReadShot(e.Raw, r.Vocab())
	switch {
	case err != nil:
		return nil, err
	case verb == turn.PressShot && arg == say.ShotNo:
		answeredEdit(t, e)
		return t.Says(chat.Info, t.Lang().Say(say.LeftAsItWas)), nil
	case verb != turn.PressFar || !ok:
		return nil, nil // answered already
	}
	coffee, settled, _ := strings.Cut(arg, ":")
	if err := resolve.Settle(t.Lang(), &p, settled); err != nil {
		return nil, err
	}
	answeredEdit(t, e)
	if id, ok := idOf(r, coffee); ok {
		p.Coffee = id
	}
	return EditedShot(t, r, e, p, "", settled)
}

// answeredEdit notes that the question about an edit needs no asking again.
func answeredEdit(t *turn.Turn, e bar.Entry) {
	t.Later(func(tx *store.Tx) error {
		asked, kept, err := tx.ReplyOf(t.Bar.ID, e.Message)
		if err != nil || !kept || asked.Kind != chat.Question.String() {
			return err
		}
		asked.State = store.Sent
		return tx.PutReply(t.Bar.ID, asked)
	})
}

// EditedWords records other words about the same shot in place of e, and what they
// say of the dial.
func EditedWords(t *turn.Turn, r *recent.Book, e bar.Entry, p parse.Words, reply string) ([]turn.Out, error) {
	w := e.What.(bar.Words)
	shot, err := t.Stored(w.Shot)
	if err != nil {
		return nil, err
	}
	s, _ := shot.What.(bar.Shot)
	untell(t, r, e)
	lead := t.Lang().Say(say.Corrected)
	if p.Set.Grind.Said {
		set, err := setBeside(t, r, e.At, s, p.Set)
		if err != nil {
			return nil, err
		}
		lead += "\n" + set
	}
	w.Words, w.Unread = p.Words, p.Unread
	e.What = w
	return answer.GiveCorrected(t, r, e, s.Coffee, lead, reply)
}

// EditedTold records something else that happened in place of e.
func EditedTold(t *turn.Turn, r *recent.Book, e bar.Entry, p parse.Happened, reply string) ([]turn.Out, error) {
	coffee, known := r.Which(p.Coffee)
	told, err := which.ToldOf(r, p, coffee, known)
	if err != nil {
		return nil, err
	}
	e.What = told
	takenOutOf(t, r, e.Message)
	text := r.Happened(told) + putInto(t, r, e, told)
	return answer.GiveCorrected(t, r, e, told.Coffee, text, reply)
}
