package store

import (
	"sync"
	"time"

	"shothand/advisor"
)

// cached is how many entries a cache may hold, some 10 MB: those on which
// advice is asked over and over.
const cached = 16_384

// A cacheKey is a record as it is in the file: where it lies, and its sum. One
// that was changed has another.
type cacheKey struct {
	bar  advisor.BarID
	key  [16]byte
	sum  [sealLen - 1]byte
	zone *time.Location
}

// A cache keeps entries that were decoded, as long as they are asked for: what
// neither the present generation nor the one before has seen is let go. Most of
// the time that a shot took without advice went into decoding the day's others
// again.
type cache struct {
	mu         sync.Mutex
	young, old map[cacheKey]advisor.Entry
}

// keyOf returns the key of a record in an entries bucket, or false if its shape
// is not that of one.
func keyOf(bar advisor.BarID, key, value []byte, zone *time.Location) (cacheKey, bool) {
	k := cacheKey{bar: bar, zone: zone}
	if len(key) != len(k.key) || len(value) < sealLen {
		return k, false
	}
	copy(k.key[:], key)
	copy(k.sum[:], value[len(value)-len(k.sum):])
	return k, true
}

func (c *cache) get(k cacheKey) (advisor.Entry, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if e, ok := c.young[k]; ok {
		return e, true
	}
	e, ok := c.old[k]
	if ok {
		c.keep(k, e)
	}
	return e, ok
}

func (c *cache) put(k cacheKey, e advisor.Entry) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.keep(k, e)
}

func (c *cache) keep(k cacheKey, e advisor.Entry) {
	if len(c.young) >= cached/2 || c.young == nil {
		c.old, c.young = c.young, make(map[cacheKey]advisor.Entry)
	}
	c.young[k] = e
}
