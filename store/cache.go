package store

import (
	"sync"
	"time"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// cached is how many records a cache may hold, some 20 MB of entries: those on
// which advice is asked over and over, with 200 shots of each of 80 coffees.
const cached = 32_768

// A cache keeps records that were decoded, as long as they are asked for: what
// neither the present generation nor the one before has seen is let go. Most of
// the time that a shot took without advice went into decoding the day's others
// and what the bar has, again and again.
type cache[K comparable, V any] struct {
	mu         sync.Mutex
	young, old map[K]V
}

func (c *cache[K, V]) get(k K) (V, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if v, ok := c.young[k]; ok {
		return v, true
	}
	v, ok := c.old[k]
	if ok {
		c.keep(k, v)
	}
	return v, ok
}

func (c *cache[K, V]) put(k K, v V) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.keep(k, v)
}

func (c *cache[K, V]) keep(k K, v V) {
	if len(c.young) >= cached/2 || c.young == nil {
		c.old, c.young = c.young, make(map[K]V)
	}
	c.young[k] = v
}

// An entryAs is an entry as it is in the file: where it lies, and its sum. One
// that was changed has another.
type entryAs struct {
	bar  bar.ID
	key  [16]byte
	sum  [file.SealLen - 1]byte
	zone *time.Location
}

// newEntryAs returns the key of a record in an entries bucket, or false if its
// shape is not that of one.
func newEntryAs(here bar.ID, key, value []byte, zone *time.Location) (entryAs, bool) {
	k := entryAs{bar: here, zone: zone}
	if len(key) != len(k.key) || len(value) < file.SealLen {
		return k, false
	}
	copy(k.key[:], key)
	copy(k.sum[:], value[len(value)-len(k.sum):])
	return k, true
}

// A thingKey says where a bar's record, or that of one of its things, lies.
type thingKey struct {
	bar    bar.ID
	bucket string
	id     uint64
}

// A thing is a record as it was read, and what it says: a value that shares
// nothing that could be changed.
type thing struct {
	record string
	says   any
}

// readThing returns what a record says, which read tells if it is another than
// when it was read last.
func readThing[T any](tx *Tx, at thingKey, record []byte, read func() (T, error)) (T, error) {
	if known, ok := tx.store.things.get(at); ok && known.record == string(record) {
		if says, ok := known.says.(T); ok {
			return says, nil
		}
	}
	says, err := read()
	if err == nil {
		tx.store.things.put(at, thing{string(record), says})
	}
	return says, err
}
