package store

import (
	"errors"
	"time"

	"shothand/advisor/bar"
)

const (
	// markedFor is how long a message that made no entry, and what was told
	// once, is remembered. A service delivers again within minutes, or hours
	// after an outage.
	markedFor = 7 * 24 * time.Hour
	// markedPruned is how many old ones each new one takes away: more than one,
	// so that their number falls.
	markedPruned = 8
)

// A marked is two buckets that remember keys for some days: by key, and in the
// order of time.
type marked struct{ kind, byKey, byTime string }

func seenMarks() marked { return marked{"seen", bucketSeen, bucketSeenByTime} }
func onceMarks() marked { return marked{"once", bucketOnce, bucketOnceByTime} }

// Seen reports whether the bar has recorded the message, as an entry or as
// seen.
func (tx *Tx) Seen(here bar.ID, message string) bool {
	return tx.has(here, bucketMessages, message) || tx.has(here, bucketSeen, message)
}

// MarkSeen records that a message which makes no entry, such as a command or
// the press of a button, was seen at an instant. It is forgotten when others
// are marked more than seven days later.
func (tx *Tx) MarkSeen(here bar.ID, message string, seen time.Time) error {
	if tx.Seen(here, message) {
		return nil
	}
	return tx.mark(here, seenMarks(), message, seen)
}

// ToldOnce reports whether what is to be told once was told.
func (tx *Tx) ToldOnce(here bar.ID, what string) bool { return tx.has(here, bucketOnce, what) }

// TellOnce records that it was told at an instant. It is forgotten as what was
// seen is.
func (tx *Tx) TellOnce(here bar.ID, what string, told time.Time) error {
	if tx.ToldOnce(here, what) {
		return nil
	}
	return tx.mark(here, onceMarks(), what, told)
}

func (tx *Tx) has(here bar.ID, bucket, key string) bool {
	v, err := tx.value(here, bucket, textKey(key))
	return err == nil && v != nil
}

// mark records a key that is not there, and forgets some old ones.
func (tx *Tx) mark(here bar.ID, in marked, key string, marked time.Time) error {
	at, err := instantOf(marked)
	if err != nil {
		return err
	}
	return errors.Join(tx.putMark(here, in, key, at), tx.pruneMarks(here, in, at-instant(markedFor)))
}

func (tx *Tx) putMark(here bar.ID, in marked, key string, at instant) error {
	return errors.Join(tx.index(here, in.byKey, textKey(key), at.append(nil)), tx.index(here, in.byTime, timedKey(at, key), nil))
}

// pruneMarks forgets some of what was marked before an instant.
func (tx *Tx) pruneMarks(here bar.ID, in marked, before instant) error {
	byTime, err := tx.in(here, in.byTime)
	if err != nil {
		return err
	}
	for range markedPruned {
		key, _ := byTime.Cursor().First()
		if key == nil || readInstant(key) >= before {
			return nil
		}
		if err := errors.Join(tx.drop(here, in.byKey, key[8:]), byTime.Delete(key)); err != nil {
			return err
		}
	}
	return nil
}
