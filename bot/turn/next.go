package turn

import (
	"strconv"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/recent"
	"shothand/store"
)

// nextKey is the cause under which it is kept which coffee a person's next shot is of.
func nextKey(who bar.PersonID) string { return "next " + IDText(who) }

// KeepNext writes down which coffee the writer's next shot is of, 0 for none, and that
// the message has been handled.
func (t *Turn) KeepNext(tx *store.Tx, c bar.CoffeeID) error {
	if err := tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now); err != nil {
		return err
	}
	next := store.Reply{Cause: nextKey(t.Who.ID), Kind: chat.Recorded.String(), State: store.Sent, At: t.Now}
	if c != 0 {
		next.Taps = []store.Tap{{State: IDText(c)}}
	}
	return tx.PutReply(t.Bar.ID, next)
}

// named returns the coffee that the writer has named for their next shot, minutes ago. An
// edit is of a shot before.
func (t *Turn) named(tx *store.Tx) (n recent.Named, err error) {
	if t.Who.ID == 0 || t.Msg.Kind == chat.Edited || t.Msg.Kind == chat.Deleted {
		return n, nil
	}
	kept, found, err := tx.ReplyOf(t.Bar.ID, nextKey(t.Who.ID))
	if err != nil || !found || len(kept.Taps) == 0 || kept.At.Before(t.Now.Add(-AnswerWindow)) {
		return n, err
	}
	id, err := strconv.ParseUint(kept.Taps[0].State, 10, 64)
	return recent.Named{Coffee: bar.CoffeeID(id), At: kept.At}, err
}
