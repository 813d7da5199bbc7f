package store

import (
	"time"

	"shothand/advisor/bar"
)

const (
	// seenFor is how long a message that made no entry is remembered. A
	// service delivers again within minutes, or hours after an outage.
	seenFor = 7 * 24 * time.Hour
	// seenPruned is how many old ones each new one takes away: more than one,
	// so that their number falls.
	seenPruned = 8
)

// Seen reports whether the bar has recorded the message, as an entry or as
// seen.
func (tx *Tx) Seen(here bar.ID, message string) bool {
	for _, bucket := range []string{bucketMessages, bucketSeen} {
		if v, err := tx.value(here, bucket, textKey(message)); err == nil && v != nil {
			return true
		}
	}
	return false
}

// MarkSeen records that a message which makes no entry, such as a command or
// the press of a button, was seen at an instant. It is forgotten when others
// are marked more than seven days later.
func (tx *Tx) MarkSeen(here bar.ID, message string, seen time.Time) error {
	if tx.Seen(here, message) {
		return nil
	}
	at, err := instantOf(seen)
	if err != nil {
		return err
	}
	if err := tx.index(here, bucketSeen, textKey(message), at.append(nil)); err != nil {
		return err
	}
	if err := tx.index(here, bucketSeenByTime, timedKey(at, message), nil); err != nil {
		return err
	}
	return tx.pruneSeen(here, at-instant(seenFor))
}

// pruneSeen forgets some of what was seen before an instant.
func (tx *Tx) pruneSeen(here bar.ID, before instant) error {
	byTime, err := tx.in(here, bucketSeenByTime)
	if err != nil {
		return err
	}
	for range seenPruned {
		key, _ := byTime.Cursor().First()
		if key == nil || readInstant(key) >= before {
			return nil
		}
		if err := tx.drop(here, bucketSeen, key[8:]); err != nil {
			return err
		}
		if err := byTime.Delete(key); err != nil {
			return err
		}
	}
	return nil
}
