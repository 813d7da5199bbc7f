package bot

import (
	"hash/fnv"
	"strconv"

	"shothand/bot/chat"
	"shothand/bot/turn"
	"shothand/store"
)

// A message that was answered with a mistake makes no entry. That it was
// answered is kept under its text, so that a service which brings it again
// after an outage does not have it answered again, and that an edit is.

// toldKey names a message with its text.
func toldKey(m chat.Message) string {
	h := fnv.New64a()
	h.Write([]byte(m.Text)) // a hash never fails
	return "told " + m.ID + " " + strconv.FormatUint(h.Sum64(), 36)
}

// told reports whether the message was answered with a mistake already.
func told(t *turn.Turn) (bool, error) { return t.ToldOnce(toldKey(t.Msg)) }

// markTold notes that it was.
func markTold(t *turn.Turn) error {
	if t.Msg.Kind != chat.Text && t.Msg.Kind != chat.Edited || t.Bar.ID == 0 {
		return nil
	}
	return t.Update(func(tx *store.Tx) error { return tx.TellOnce(t.Bar.ID, toldKey(t.Msg), t.Now) })
}
