package store

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor"
)

// What is read twice is the same, and an edit is seen at once.
func TestCachedEntries(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	e := add(t, s, c.bar, entry("m1", morning(), shot(c.harbour, c.left)))
	read := func() (got advisor.Entry) {
		view(t, s, func(tx *Tx) (err error) {
			got, err = tx.Entry(c.bar, e.ID)
			return err
		})
		return got
	}
	first := read()
	if diff := cmp.Diff(first, read()); diff != "" {
		t.Errorf("read twice (-first +second):\n%s", diff)
	}
	words := append(first.What.(advisor.Shot).Words, first.What.(advisor.Shot).Words...) // by a careless reader
	words[0].Term = "sweet"
	if diff := cmp.Diff(e, read()); diff != "" {
		t.Errorf("after a careless reader (-was +is):\n%s", diff)
	}
	e.Raw = "edited"
	update(t, s, func(tx *Tx) error { return tx.PutEntry(c.bar, e) })
	if got := read(); got.Raw != "edited" {
		t.Errorf("after an edit: %q", got.Raw)
	}
}

// A cache is bounded: what has not been asked for goes.
func TestCacheIsBounded(t *testing.T) {
	var c cache[entryAs, advisor.Entry]
	for n := range 5 * cached {
		c.put(entryAs{bar: advisor.BarID(n)}, advisor.Entry{ID: advisor.EntryID(n)})
		if e, ok := c.get(entryAs{bar: 7}); n >= 7 && (!ok || e.ID != 7) {
			t.Fatalf("after %d: %v %v", n, e.ID, ok)
		}
	}
	if n := len(c.young) + len(c.old); n > cached {
		t.Errorf("%d entries", n)
	}
	if _, ok := c.get(entryAs{bar: 8}); ok {
		t.Error("one that nobody asked for is still there")
	}
}
