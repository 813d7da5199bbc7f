package turn

import (
	"slices"

	"shothand/advisor/bar"
	"shothand/bot/recent"
	"shothand/store"
)

// A later is what a message changes on the way to its answer. It is written with
// the next change, which is the answer's; until then what is read shows it.
type later struct {
	entries  []bar.Entry
	grinders []bar.Grinder
	writes   []func(*store.Tx) error
	settled  int // how often what waited was written or forgotten
}

// Later makes a change with the next one.
func (t *Turn) Later(change func(*store.Tx) error) {
	l := t.waiting()
	l.writes = append(l.writes, change)
}

// Put writes an entry with the next change and returns it. A new one has an id
// that stands for its own until then.
func (t *Turn) Put(e bar.Entry) bar.Entry {
	l, put := t.waiting(), e
	if e.ID == 0 {
		e.ID = recent.Provisional - 2 - bar.EntryID(len(l.entries))
	}
	l.entries = append(l.entries, e)
	t.Later(func(tx *store.Tx) error {
		if put.ID != 0 {
			return tx.PutEntry(t.Bar.ID, put)
		}
		_, err := tx.AddEntry(t.Bar.ID, put)
		return err
	})
	return e
}

// PutGrinder writes a grinder with the next change.
func (t *Turn) PutGrinder(g bar.Grinder) {
	l := t.waiting()
	l.grinders = append(l.grinders, g)
	t.Later(func(tx *store.Tx) error { return tx.PutGrinder(t.Bar.ID, &g) })
}

// Settle writes what waits for a change that did not come.
func (t *Turn) Settle() error {
	if len(t.waiting().writes) == 0 {
		return nil
	}
	return t.Update(func(tx *store.Tx) error { return tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now) })
}

// Drop forgets what waits: the message came to nothing.
func (t *Turn) Drop() {
	l := t.waiting()
	*l = later{settled: l.settled + 1}
}

// Try does what may come to nothing. What it left waiting is forgotten then.
func (t *Turn) Try(do func() (done bool, err error)) error {
	before := *t.waiting()
	done, err := do()
	if (!done || err != nil) && t.later.settled == before.settled {
		*t.later = before
	}
	return err
}

func (t *Turn) waiting() *later {
	if t.later == nil {
		t.later = &later{}
	}
	return t.later
}

// showIn puts what waits into what was read to advise on a coffee.
func (l *later) showIn(h *bar.History, of bar.CoffeeID) {
	for _, g := range l.grinders {
		if i := slices.IndexFunc(h.Grinders, func(old bar.Grinder) bool { return old.ID == g.ID }); i >= 0 {
			h.Grinders = slices.Clone(h.Grinders)
			h.Grinders[i] = g
		}
	}
	for _, e := range l.entries {
		if e.Deleted || concerns(*h, of, e) {
			h.Entries = recent.With(h.Entries, e)
		}
	}
}

// concerns reports whether an entry is among what the store reads to advise on a coffee.
func concerns(h bar.History, of bar.CoffeeID, e bar.Entry) bool {
	coffee, _ := bar.CoffeeOf(h.Coffees, of)
	on := func(id bar.CoffeeID) bool {
		c, _ := bar.CoffeeOf(h.Coffees, id)
		return id == of || c.Grinder != 0 && c.Grinder == coffee.Grinder
	}
	switch w := e.What.(type) {
	case bar.Shot:
		return on(w.Coffee)
	case bar.Dialled:
		return on(w.Coffee)
	case bar.Words:
		return slices.ContainsFunc(h.Entries, func(e bar.Entry) bool { return e.ID == w.Shot })
	case bar.Told:
		ofGrinder := w.Grinder == coffee.Grinder || w.Grinder == 0 && w.Coffee == 0
		return w.Event != bar.Moved && (ofGrinder || w.Coffee != 0 && on(w.Coffee))
	case bar.Setting, bar.Held, bar.Layers, bar.Sips: // teach nothing
	}
	return false
}
