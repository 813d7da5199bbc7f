package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"shothand/advisor/bar"
)

// An instant is a time as keys hold it: nanoseconds since 1970.
type instant int64

// minInstant is before all others, maxInstant after them.
const (
	minInstant instant = math.MinInt64
	maxInstant instant = math.MaxInt64
)

// errTime is returned for a time no key can hold.
var errTime = errors.New("time outside the years 1678 to 2261")

// instantOf returns the instant of at.
func instantOf(at time.Time) (instant, error) {
	// time.Time.UnixNano is undefined outside these years, which the zero
	// time is.
	if y := at.UTC().Year(); y < 1678 || y > 2261 {
		return 0, fmt.Errorf("%w: %v", errTime, at)
	}
	return instant(at.UnixNano()), nil
}

// append appends i to key so that byte order is the order of time.
func (i instant) append(key []byte) []byte {
	return binary.BigEndian.AppendUint64(key, uint64(i)^1<<63)
}

// readInstant reads what append wrote.
func readInstant(b []byte) instant { return instant(binary.BigEndian.Uint64(b) ^ 1<<63) }

// idKey is the key of anything that has a number.
func idKey[T ~uint64](id T) []byte { return binary.BigEndian.AppendUint64(nil, uint64(id)) }

// readID reads what idKey wrote.
func readID[T ~uint64](b []byte) T { return T(binary.BigEndian.Uint64(b)) }

// text makes s what JSON would make of it, so that a key and a record agree.
func text(s string) string { return strings.ToValidUTF8(s, "\uFFFD") }

// textKey is the key of anything whose name is not ours: a message, a post, a
// channel, an account.
func textKey(s string) []byte { return []byte(text(s)) }

// entryKey is the key of an entry among all of its bar.
func entryKey(at instant, id bar.EntryID) []byte {
	return append(at.append(make([]byte, 0, 16)), idKey(id)...)
}

// readEntryKey reads what entryKey wrote.
func readEntryKey(b []byte) (instant, bar.EntryID) {
	return readInstant(b), readID[bar.EntryID](b[8:])
}

// ownedKey is the key of an entry among those of one coffee or grinder.
func ownedKey[T ~uint64](owner T, at instant, id bar.EntryID) []byte {
	return append(at.append(append(make([]byte, 0, 24), idKey(owner)...)), idKey(id)...)
}

// wordsKey is the key of words among those of their shot.
func wordsKey(shot, id bar.EntryID) []byte { return append(idKey(shot), idKey(id)...) }

// timedKey is the key of a text in the order of time.
func timedKey(at instant, s string) []byte { return append(at.append(nil), textKey(s)...) }
