package bot

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/settings"
	"shothand/bot/shots"
	"shothand/bot/turn"
	"shothand/bot/which"
	"shothand/store"
)

// deleted takes out what a deleted message had put in.
func deleted(t *turn.Turn) ([]turn.Out, error) {
	e, reply, ok, err := original(t)
	if err != nil || !ok || e.Deleted {
		return nil, err
	}
	r, err := t.Book()
	if err != nil {
		return nil, err
	}
	return shots.TakeOut(t, r, e, reply)
}

// original returns the entry that the edited or deleted message made, and the
// id of the post that answered it, if there is one.
func original(t *turn.Turn) (e bar.Entry, reply string, ok bool, err error) {
	err = t.See(func(tx *store.Tx) error {
		if e, ok, err = tx.EntryOf(t.Bar.ID, t.Msg.ID); err != nil || !ok {
			return err
		}
		said, _, err := tx.ReplyOf(t.Bar.ID, t.Msg.ID)
		reply = said.Post
		return err
	})
	return e, reply, ok, err
}

// undo takes back the last thing this person did today.
func undo(t *turn.Turn) ([]turn.Out, error) {
	r, err := t.Book()
	if err != nil {
		return nil, err
	}
	for _, e := range slices.Backward(r.Recent) {
		if _, told := e.What.(bar.Told); told && e.Message == "" {
			continue // learnt from a shot, and undone with it
		}
		if e.Person == t.Who.ID && e.Day == r.Day {
			if outs, done, err := uncorrect(t, e); done || err != nil {
				return outs, err
			}
			if what := long(t, r, e); what != "" {
				return nil, turn.Mistake(what)
			}
			if outs, done, err := shots.HandBack(t, r, e); done || err != nil {
				return outs, err
			}
			return shots.TakeOut(t, r, e, "")
		}
	}
	if outs, done, err := uncorrect(t, bar.Entry{}); done || err != nil {
		return outs, err
	}
	return nil, turn.Mistake(t.WriterLang().Say(say.NothingToUndo))
}

// long says what there is to undo of a setting, or of what was said of a taste, that is not
// the last thing that happened here: a word alone, which may be about something else, does
// not take it back. It is empty for anything else.
func long(t *turn.Turn, r *recent.Book, e bar.Entry) string {
	if t.Msg.Kind != chat.Text || strings.HasPrefix(strings.TrimSpace(t.Msg.Text), "/") {
		return ""
	}
	_, since := r.Newest(func(other bar.Entry, _ bar.Shot) bool { return recent.Earlier(e, other) })
	switch w := e.What.(type) {
	case bar.Setting:
		if name := settings.Of(t, w); since || r.Now.Sub(e.At) > turn.AnswerWindow {
			return t.WriterLang().Say("All there is of yours to undo is what was set of %s at %s. /undo takes that back.", name, t.WriterLang().Clock(e.At))
		}
	case bar.Words:
		shot, ok := r.Newest(func(other bar.Entry, _ bar.Shot) bool { return other.ID == w.Shot })
		if s, _ := shot.What.(bar.Shot); ok && since {
			coffee, _ := r.Coffee(s.Coffee)
			return t.WriterLang().Say("All there is of yours to undo is what you said of the taste of %s at %s. /undo takes that back.", coffee.Name, t.WriterLang().Clock(e.At))
		}
	case bar.Shot, bar.Dialled, bar.Told, bar.Held, bar.Layers, bar.Sips:
	}
	return ""
}

// saidSince reports whether who writes has said something of their own last shot since, in
// the last minutes, or put it right: "scratch that" is of that, and not of the shot.
func saidSince(t *turn.Turn, r *recent.Book) (bool, error) {
	shot, ok := which.JustPulled(r)
	if !ok || t.Msg.ReplyTo != "" {
		return false, nil
	}
	back, err := lastBack(t)
	if err != nil || len(back.Taps) > 0 && back.At.After(shot.At) {
		return err == nil, err
	}
	for _, e := range slices.Backward(r.Recent) {
		if !recent.Earlier(shot, e) {
			break
		}
		switch e.What.(type) {
		case bar.Words, bar.Told:
			if e.Person == t.Who.ID && e.Message != "" && !e.Deleted {
				return true, nil
			}
		case bar.Shot, bar.Setting, bar.Dialled, bar.Held, bar.Layers, bar.Sips:
		}
	}
	return false, nil
}

// righted reports whether the last that who writes did, in the last minutes, is that they
// put their last shot right.
func righted(t *turn.Turn, r *recent.Book) (bool, error) {
	back, err := lastBack(t)
	if err != nil || len(back.Taps) == 0 || t.Now.Sub(back.At) > resolve.TasteWindow {
		return false, err
	}
	_, shot := r.Newest(func(e bar.Entry, _ bar.Shot) bool { return e.ToldBy(t.Who.ID) && !e.At.After(back.At) })
	since := slices.ContainsFunc(r.Recent, func(e bar.Entry) bool { return e.Person == t.Who.ID && e.At.After(back.At) && !e.Deleted })
	return shot && !since, nil
}
