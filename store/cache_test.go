package store

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor/bar"
)

// What is read twice is the same, and an edit is seen at once.
func TestCachedEntries(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	e := add(t, s, c.bar, entry("m1", morning(), shot(c.harbour, c.left)))
	read := func() (got bar.Entry) {
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
	words := append(first.What.(bar.Shot).Words, first.What.(bar.Shot).Words...) // by a careless reader
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

// What a careless reader appends to the lists of a tasting stays theirs.
func TestCachedLayersAreClipped(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	table := add(t, s, c.bar, entry("m1", morning(), bar.Layers{Coffee: c.harbour, Shown: []int{1, 2, 3}, Struck: []int{1, 2, 3}}))
	one := bar.Note{
		Of: bar.Early, Unread: []string{"zingy", "zangy", "zongy"},
		Scores: []bar.Score{{Of: bar.Sour, X: 3}, {Of: bar.Sweet, X: 3}, {Of: bar.Dry, X: 3}},
	}
	sips := add(t, s, c.bar, entry("m2", morning(), bar.Sips{Layers: table.ID, Sips: []bar.Note{one, one, one}}))
	read := func(id bar.EntryID) (got bar.Entry) {
		view(t, s, func(tx *Tx) (err error) {
			got, err = tx.Entry(c.bar, id)
			return err
		})
		return got
	}
	l := read(table.ID).What.(bar.Layers)
	said := read(sips.ID).What.(bar.Sips)
	note := said.Sips[0]
	for what, spare := range map[string]int{
		"Shown": cap(l.Shown) - len(l.Shown), "Struck": cap(l.Struck) - len(l.Struck), "Sips": cap(said.Sips) - len(said.Sips),
		"Unread": cap(note.Unread) - len(note.Unread), "Scores": cap(note.Scores) - len(note.Scores),
	} {
		if spare > 0 {
			t.Errorf("%s: room for %d more, which the next reader would see", what, spare)
		}
	}
}

// A cache is bounded: what has not been asked for goes.
func TestCacheIsBounded(t *testing.T) {
	var c cache[entryAs, bar.Entry]
	for n := range 5 * cached {
		c.put(entryAs{bar: bar.ID(n)}, bar.Entry{ID: bar.EntryID(n)})
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
