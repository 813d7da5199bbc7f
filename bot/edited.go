package bot

import (
	"cmp"
	"errors"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// edited puts an entry right whose message was edited. What the edit does not
// say again stays as it was resolved.
func (t *turn) edited() ([]Out, error) {
	e, reply, ok, err := t.original()
	switch {
	case err != nil:
		return nil, err
	case !ok:
		return t.text() // it had been chat, or was never seen
	}
	if e.Raw == t.m.Text { // brought again, or shown anew without a change
		return nil, nil
	}
	if told, err := t.told(); err != nil || told {
		return nil, err
	}
	r, err := t.room()
	if err != nil {
		return nil, err
	}
	switch w := e.What.(type) {
	case bar.Setting, bar.Layers:
		return nil, mistake(t.own().Say(say.EditedCommand))
	case bar.Sips:
		return t.editedSips(r, e, w)
	case bar.Shot, bar.Words, bar.Told, bar.Dialled, bar.Held:
	}
	e.Raw, e.Deleted = t.m.Text, false
	shot, ok, err := readShot(t.m.Text, r.vocab())
	switch {
	case err != nil:
		return nil, err
	case ok:
		return t.editedShot(r, e, shot, reply, "")
	}
	meaning, err := parse.Message(t.m.Text, r.vocab())
	if err != nil {
		return nil, err
	}
	switch w := meaning.(type) {
	case parse.Words:
		if s, shot := e.What.(bar.Shot); shot { // the numbers stand, the words are new
			s.Words, s.Unread = w.Words, w.Unread
			e.What = s
			return t.mended(r, e, s.Coffee, t.in().Say(say.Corrected), reply)
		}
		if _, ok := e.What.(bar.Words); ok {
			return t.editedWords(r, e, w, reply)
		}
	case parse.Happened:
		if _, ok := e.What.(bar.Told); ok {
			return t.editedTold(r, e, w, reply)
		}
	case parse.Set:
		if told, ok := e.What.(bar.Told); ok && told.Event == bar.Moved {
			if g, ok := r.settable(w); ok {
				outs, err := t.putSet(r, e, w, g)
				if err == nil {
					outs[0].Edits = reply
				}
				return outs, err
			}
		}
	case parse.Shot, parse.Call, parse.Correction, parse.CallIt, parse.Chatter:
	}
	return t.takeOut(r, e, reply) // it is none any more
}

// editedShot records a shot anew in place of e. Settled are the numbers that an
// answer settled, see settle.
func (t *turn) editedShot(r *room, e bar.Entry, p parse.Shot, reply, settled string) ([]Out, error) {
	old, was := e.What.(bar.Shot)
	if p.Coffee == 0 && was {
		p.Coffee = old.Coffee
	}
	coffee, ok := r.which(p.Coffee)
	if !ok && len(r.onBar()) > 1 {
		return nil, mistake(t.own().WhichCoffee(r.onBar()))
	}
	if off, far := r.farOff(p, coffee, settled); far && ok {
		return t.askEdit(e, p, off, settled)
	}
	if err := errors.Join(t.untell(r, e), t.before(r, e, p, coffee)); err != nil {
		return nil, err
	}
	grinder, err := t.learnDial(r, cmp.Or(p.Grinder, coffee.Grinder), p.Grind, e)
	if err != nil {
		return nil, err
	}
	p.Grind = r.settle(e, p.Grind, grinder)
	s, err := t.resolve(r, e, p, coffee, grinder)
	if err != nil {
		return nil, err
	}
	if was && s.Grind.From != bar.Said && old.Grinder == s.Grinder {
		s.Grind, s.Turned = old.Grind, old.Turned
		s.Marks |= old.Marks & bar.Unplaced
	}
	var aside *bar.Entry
	if was && old.Posted != 0 {
		if s, aside, err = t.rejoined(r, s, p, old.Posted, coffee); err != nil {
			return nil, err
		}
	}
	e.What = s
	if err := t.uncall(r, e.ID); err != nil {
		return nil, err
	}
	a := t.mending(r, e, coffee, t.in().Say(say.Corrected), reply)
	a.aside = aside
	a.call = p.Dialled
	a.notes.Unplaced(p.Grind)
	return a.give()
}

// askEdit asks whether a number was meant that an edit has put in. The new text is
// kept; the entry stays as it was until the answer.
func (t *turn) askEdit(e bar.Entry, p parse.Shot, off say.FarOff, settled string) ([]Out, error) {
	err := t.update(func(tx *store.Tx) error {
		if err := tx.MarkSeen(t.bar.ID, t.m.ID, t.now); err != nil {
			return err
		}
		asks := store.Reply{Cause: t.m.ID, Entry: e.ID, Kind: chat.Question.String(), At: t.now}
		return errors.Join(tx.PutEntry(t.bar.ID, e), tx.PutReply(t.bar.ID, asks))
	})
	return []Out{{Post: t.farEditPost(e, p, off, settled)}}, err
}

// farEditPost is the question.
func (t *turn) farEditPost(e bar.Entry, p parse.Shot, off say.FarOff, settled string) chat.Post {
	post := t.farPost(e.ID, p, off, settled)
	post.Text = t.in().FarEditQuestion(off)
	post.Buttons[len(post.Buttons)-1].Label = t.in().Say(say.LeaveEditLabel)
	return post
}

// editAnew asks again about an edit, if a number that it has put in is still to be
// settled.
func (t *turn) editAnew(e bar.Entry) (post chat.Post, asks bool, err error) {
	s := e.What.(bar.Shot)
	r, err := t.room()
	if err != nil || e.Deleted {
		return post, false, err
	}
	p, ok, err := readShot(e.Raw, r.vocab())
	coffee, known := r.coffee(cmp.Or(p.Coffee, s.Coffee))
	if err != nil || !ok || !known {
		return post, false, nil // as it was
	}
	p.Coffee = coffee.ID
	off, far := r.farOff(p, coffee, "")
	return t.farEditPost(e, p, off, ""), far, nil
}

// pressEdit goes on with an edit that was asked about.
func (t *turn) pressEdit(r *room, e bar.Entry, verb, arg string) ([]Out, error) {
	p, ok, err := readShot(e.Raw, r.vocab())
	switch {
	case err != nil:
		return nil, err
	case verb == pressShot && arg == say.ShotNo:
		return t.say(chat.Info, t.in().Say(say.LeftAsItWas)), t.answeredEdit(e)
	case verb != pressFar || !ok:
		return nil, nil // answered already
	}
	coffee, settled, _ := strings.Cut(arg, ":")
	if err := errors.Join(settle(t.in(), &p, settled), t.answeredEdit(e)); err != nil {
		return nil, err
	}
	if id, ok := idOf(r, coffee); ok {
		p.Coffee = id
	}
	return t.editedShot(r, e, p, "", settled)
}

// answeredEdit notes that the question about an edit needs no asking again.
func (t *turn) answeredEdit(e bar.Entry) error {
	return t.update(func(tx *store.Tx) error {
		asked, kept, err := tx.ReplyOf(t.bar.ID, e.Message)
		if err != nil || !kept || asked.Kind != chat.Question.String() {
			return err
		}
		asked.State = store.Sent
		return tx.PutReply(t.bar.ID, asked)
	})
}

// editedWords records other words about the same shot in place of e, and what they
// say of the dial.
func (t *turn) editedWords(r *room, e bar.Entry, p parse.Words, reply string) ([]Out, error) {
	w := e.What.(bar.Words)
	shot, err := t.stored(w.Shot)
	if err != nil {
		return nil, err
	}
	s, _ := shot.What.(bar.Shot)
	if err := t.untell(r, e); err != nil {
		return nil, err
	}
	lead := t.in().Say(say.Corrected)
	if p.Set.Grind.Said {
		set, err := t.setBeside(r, e.At, s, p.Set)
		if err != nil {
			return nil, err
		}
		lead += "\n" + set
	}
	w.Words, w.Unread = p.Words, p.Unread
	e.What = w
	return t.mended(r, e, s.Coffee, lead, reply)
}

// editedTold records something else that happened in place of e.
func (t *turn) editedTold(r *room, e bar.Entry, p parse.Happened, reply string) ([]Out, error) {
	coffee, known := r.which(p.Coffee)
	told, err := r.told(p, coffee, known)
	if err != nil {
		return nil, err
	}
	e.What = told
	return t.mended(r, e, told.Coffee, r.happened(told), reply)
}
