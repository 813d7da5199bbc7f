package bot

import (
	"hash/fnv"
	"strconv"

	"shothand/bot/chat"
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
func (t *turn) told() (bool, error) { return t.toldOnce(toldKey(t.m)) }

// markTold notes that it was.
func (t *turn) markTold() error {
	if t.m.Kind != chat.Text && t.m.Kind != chat.Edited || t.bar.ID == 0 {
		return nil
	}
	return t.update(func(tx *store.Tx) error { return tx.TellOnce(t.bar.ID, toldKey(t.m), t.now) })
}
