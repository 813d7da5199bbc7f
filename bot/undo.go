package bot

import (
	"slices"

	"shothand/advisor/bar"
	"shothand/bot/say"
	"shothand/bot/shots"
	"shothand/bot/turn"
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
			if outs, done, err := shots.HandBack(t, r, e); done || err != nil {
				return outs, err
			}
			return shots.TakeOut(t, r, e, "")
		}
	}
	if outs, done, err := uncorrect(t, bar.Entry{}); done || err != nil {
		return outs, err
	}
	return nil, turn.Mistake(t.Own().Say(say.NothingToUndo))
}
