package store

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"testing"
	"time"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"shothand/advisor/bar"
)

// A model is what a bar's entries should be, kept the plainest way.
type model struct {
	t       *testing.T
	path    string
	store   *Store
	counter counter
	entries []bar.Entry
}

// Adding, editing, deleting and restarting in any order leave what a plain
// list holds.
func TestAgainstModel(t *testing.T) {
	runs := 0
	dir := t.TempDir()
	rapid.Check(t, func(rt *rapid.T) {
		runs++
		m := &model{t: t, path: filepath.Join(dir, fmt.Sprint(runs, ".db"))}
		m.open()
		defer func() { closeChecked(t, m.store) }()
		m.counter = harbourLane(t, m.store)
		rt.Repeat(map[string]func(*rapid.T){
			"add":     m.add,
			"again":   m.again,
			"edit":    m.edit,
			"delete":  m.delete,
			"restart": m.restart,
			"":        m.check,
		})
	})
}

func (m *model) open() {
	s, err := Open(m.path)
	if err != nil {
		m.t.Fatal(err)
	}
	bolt(m.t, s).NoSync = true // the disk is not what is tested here
	m.store = s
}

func (m *model) restart(*rapid.T) {
	if err := m.store.Close(); err != nil { // checked at the end of the run
		m.t.Fatal(err)
	}
	m.open()
}

// what draws what an entry may tell.
func (m *model) what(t *rapid.T) bar.What {
	coffee := rapid.SampledFrom([]bar.CoffeeID{m.counter.harbour, m.counter.tide, m.counter.deca}).Draw(t, "coffee")
	grinder := rapid.SampledFrom([]bar.GrinderID{0, m.counter.left, m.counter.right}).Draw(t, "grinder")
	switch kind := rapid.IntRange(0, 8).Draw(t, "kind"); {
	case kind == 7:
		return bar.Layers{Coffee: coffee, Split: 1}
	case kind == 8:
		for _, e := range m.entries {
			if _, ok := e.What.(bar.Layers); ok {
				return bar.Sips{Layers: e.ID, Split: 1}
			}
		}
		return bar.Held{}
	case kind == 0:
		return bar.Told{Event: bar.NewBag, Coffee: coffee, Grinder: grinder}
	case kind == 1:
		return bar.Told{Event: bar.Cleaned, Grinder: grinder}
	case kind == 3:
		return bar.Held{}
	case kind == 2 && len(m.entries) > 0:
		return bar.Words{Shot: rapid.SampledFrom(m.entries).Draw(t, "shot").ID}
	}
	return shot(coffee, grinder)
}

func (m *model) add(t *rapid.T) {
	// Around 1970, and often at one instant.
	at := time.Unix(rapid.Int64Range(-20, 20).Draw(t, "second"), 0).UTC()
	e := entry(fmt.Sprint("m", len(m.entries)), at, m.what(t))
	m.entries = append(m.entries, add(m.t, m.store, m.counter.bar, e))
}

func (m *model) again(t *rapid.T) {
	e := m.pick(t)
	err := m.store.Update(func(tx *Tx) error { _, err := tx.AddEntry(m.counter.bar, *e); return err })
	if !errors.Is(err, ErrSeen) {
		t.Fatalf("%s again: %v", e.Message, err)
	}
}

func (m *model) edit(t *rapid.T) {
	e := m.pick(t)
	e.What, e.Raw = m.what(t), "edited"
	m.put(t, *e)
}

func (m *model) delete(t *rapid.T) {
	e := m.pick(t)
	e.Deleted = !e.Deleted
	m.put(t, *e)
}

func (m *model) pick(t *rapid.T) *bar.Entry {
	if len(m.entries) == 0 {
		t.Skip("no entry")
	}
	return &m.entries[rapid.IntRange(0, len(m.entries)-1).Draw(t, "entry")]
}

func (m *model) put(t *rapid.T, e bar.Entry) {
	if err := m.store.Update(func(tx *Tx) error { return tx.PutEntry(m.counter.bar, e) }); err != nil {
		t.Fatal(err)
	}
}

// live returns the entries that are not deleted and are wanted, in order.
func (m *model) live(wanted func(bar.Entry) bool) []bar.Entry {
	var all []bar.Entry
	for _, e := range m.entries {
		if !e.Deleted && wanted(e) {
			all = append(all, e)
		}
	}
	slices.SortFunc(all, func(a, b bar.Entry) int { return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID)) })
	return all
}

// onLeft reports whether e bears on a coffee of the left grinder: Harbour and
// Tide.
func (m *model) onLeft(e bar.Entry) bool {
	coffee := func(c bar.CoffeeID) bool { return c == m.counter.harbour || c == m.counter.tide }
	switch w := e.What.(type) {
	case bar.Shot:
		return coffee(w.Coffee)
	case bar.Told:
		return coffee(w.Coffee) || w.Grinder == m.counter.left || w.Coffee == 0 && w.Grinder == 0
	case bar.Words:
		of := m.entries[w.Shot-1]
		s, ok := of.What.(bar.Shot)
		return ok && !of.Deleted && coffee(s.Coffee)
	case bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
	}
	return false
}

func (m *model) check(t *rapid.T) {
	err := m.store.View(func(tx *Tx) error {
		h, err := tx.History(m.counter.bar, m.counter.harbour, time.Unix(20, 0))
		if diff := gocmp.Diff(m.live(m.onLeft), h.Entries, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("history (-want +got):\n%s", diff)
		}
		recent, err2 := tx.Recent(m.counter.bar, time.Unix(-3, 0))
		since := func(e bar.Entry) bool { return !e.At.Before(time.Unix(-3, 0)) }
		if diff := gocmp.Diff(m.live(since), recent, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("recent (-want +got):\n%s", diff)
		}
		return errors.Join(err, err2)
	})
	if err != nil {
		t.Error(err)
	}
}
