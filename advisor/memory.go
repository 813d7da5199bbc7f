package advisor

import (
	"container/list"
	"encoding/binary"
	"fmt"
	"hash/maphash"
	"math"
	"slices"
	"sync"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/history"
	"shothand/advisor/taste"
)

// A Memory keeps replays, so that a new shot need not replay those before it.
// It changes no advice: what it keeps is found by a hash of all that went into
// it. A nil Memory keeps nothing. Its methods may be called by many goroutines.
type Memory struct {
	mu    sync.Mutex
	seed  maphash.Seed
	size  int
	by    map[digest]*list.Element
	order *list.List             // of remembered, the last used first
	team  map[digest]taste.Leans // by the cups they are of
}

// A digest is the hash of what went into a replay, within one memory.
type digest uint64

// A remembered is a replay that is kept. It is never changed: who uses it takes
// a clone.
type remembered struct {
	key digest
	*replaying
}

// NewMemory returns a memory of at most size replays, of some 0.2 MB each.
func NewMemory(size int) *Memory {
	return &Memory{seed: maphash.MakeSeed(), size: size, by: map[digest]*list.Element{}, order: list.New(), team: map[digest]taste.Leans{}}
}

// Advise is [Advise], helped by what m remembers.
func (m *Memory) Advise(h bar.History, id bar.CoffeeID, now time.Time) (Advice, bool) {
	r, ok := m.replay(h, id, now)
	if !ok {
		return Advice{}, false
	}
	return r.advise()
}

// replay returns what the entries of a coffee come to by now. It is false for a
// coffee that is not known.
func (m *Memory) replay(h bar.History, id bar.CoffeeID, now time.Time) (*replay, bool) {
	h = history.Of(h, id)
	coffee, ok := bar.CoffeeOf(h.Coffees, id)
	if !ok {
		return nil, false
	}
	s := newReplayInput(h, coffee)
	c, key := m.before(s)
	c.advance(s, max(s.newest, 0), len(s.entries))
	if m != nil {
		c.aim.Settle() // what is kept is shared, and only read from here on
		m.keep(key, c)
	}
	r := c.end(s, now)
	if l := m.leans(s, r.day); len(l) > 0 {
		r.aim = r.aim.Clone() // what is kept knows nobody: the team is known better each day
		r.aim.Know(l)
	}
	return r, true
}

// before returns the replay of all before the coffee's last shot, and the key that
// the whole replay is kept by.
func (m *Memory) before(s replayInput) (*replaying, digest) {
	newest := max(s.newest, 0)
	if m == nil {
		c := s.start()
		c.advance(s, 0, newest)
		return c, 0
	}
	keys := s.digests(m.seed)
	c, from := m.recall(keys[:newest+1])
	if c == nil {
		c = s.start()
	}
	c.advance(s, from, newest)
	return c, keys[len(s.entries)]
}

// recall returns a clone of the longest replay that is kept by one of keys, nil if
// there is none, and how many entries it is of. What was said of a coffee since its
// last shot, and a shot that was mended, leave the replay of what came before.
func (m *Memory) recall(keys []digest) (c *replaying, entries int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for n, key := range slices.Backward(keys) {
		if e, ok := m.by[key]; ok {
			m.order.MoveToFront(e)
			return e.Value.(remembered).clone(), n
		}
	}
	return nil, 0
}

// keep remembers c, and forgets the replay that was not used for longest.
func (m *Memory) keep(key digest, c *replaying) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if _, ok := m.by[key]; ok {
		return
	}
	m.by[key] = m.order.PushFront(remembered{key, c})
	if m.order.Len() > m.size {
		oldest := m.order.Back()
		delete(m.by, oldest.Value.(remembered).key)
		m.order.Remove(oldest)
	}
}

// digests returns the hash of all that goes into the replay of none of the
// entries, of the first, of the first two, and so on to all of them.
func (s replayInput) digests(seed maphash.Seed) []digest {
	var sum maphash.Hash
	sum.SetSeed(seed)
	sum.Write(fmt.Append(nil, Model, s.history.Bar, s.coffee, s.history.Coffees, s.history.Grinders, s.untaught, s.readings))
	keys := []digest{digest(sum.Sum64())}
	for _, e := range s.entries {
		hashEntry(e, &sum)
		for _, t := range s.later[e.ID] {
			sum.Write(fmt.Append(nil, t))
		}
		keys = append(keys, digest(sum.Sum64()))
	}
	return keys
}

// hashEntry adds to sum what of e goes into a replay.
func hashEntry(e bar.Entry, sum *maphash.Hash) {
	b := make([]byte, 0, 256)
	put := func(values ...uint64) {
		for _, v := range values {
			b = binary.LittleEndian.AppendUint64(b, v)
		}
	}
	put(uint64(e.Person), uint64(e.At.UnixNano())) // not the id: a shot is advised on before it has one
	b = append(b, e.Day...)
	switch w := e.What.(type) {
	case bar.Shot:
		put(uint64(w.Coffee), uint64(w.Grinder), uint64(w.Marks))
		put(bits(w.Grind)...)
		put(bits(w.Dose)...)
		put(bits(w.Yield)...)
		put(bits(w.Time)...)
		for _, x := range []float64{w.Turned, float64(w.TDS), float64(w.Water), float64(w.FirstDrip), float64(w.TimeSD), float64(w.Meant)} {
			put(math.Float64bits(x))
		}
		for _, word := range w.Words {
			b = fmt.Append(b, word)
		}
	case bar.Told, bar.Dialled, bar.Words, bar.Setting, bar.Held, bar.Layers, bar.Sips:
		b = fmt.Appendf(b, "%T%v", w, w)
	}
	sum.Write(b)
}

// bits returns all of a value in numbers.
func bits[T ~float64](v bar.Value[T]) []uint64 {
	rough := uint64(0)
	if v.Rough {
		rough = 1
	}
	return []uint64{math.Float64bits(float64(v.X)), uint64(v.From), rough}
}
