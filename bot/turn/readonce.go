package turn

import (
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/store"
)

// A message is read for with one look at the records, so that all it is
// answered from is of one moment. The look ends before advice is computed and
// before anything is changed.

// See reads the records, with the look of the message if it has one.
func (t *Turn) See(read func(*store.Tx) error) error {
	if t.Looked == nil {
		return t.Store.View(read)
	}
	return t.Looked.View(read)
}

// Update changes the records, by what waits as well.
func (t *Turn) Update(change func(*store.Tx) error) error {
	t.Unlook()
	before := t.waiting().writes
	t.Drop()
	return t.Store.Update(func(tx *store.Tx) error {
		for _, write := range before {
			if err := write(tx); err != nil {
				return err
			}
		}
		return change(tx)
	})
}

// Unlook ends the look.
func (t *Turn) Unlook() {
	if t.Looked == nil {
		return
	}
	if err := t.Looked.Close(); err != nil {
		t.Log.Error("end a look", "message", t.Msg.ID, "err", err)
	}
}

// Advise advises on a coffee.
func (t *Turn) Advise(h bar.History, c bar.CoffeeID, now time.Time) (advisor.Advice, bool) {
	t.Unlook()
	return t.Tools.Advise(h, c, now)
}

// Outlook tells where a coffee stands, its shots as they were told: by the bar's
// own clock, and not by the pump, as the advisor sees them.
func (t *Turn) Outlook(h bar.History, c bar.CoffeeID, now time.Time) advisor.Outlook {
	t.Unlook()
	o, _ := t.Tools.Outlook(h, c, now)
	for _, e := range h.Entries {
		for _, shown := range []*bar.Entry{&o.Last, &o.Earned} {
			if shown.ID == e.ID {
				*shown = e
			}
		}
	}
	return o
}
