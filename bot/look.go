package bot

import (
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/store"
)

// A message is read for with one look at the records, so that all it is
// answered from is of one moment. The look ends before advice is computed and
// before anything is changed.

// see reads the records, with the look of the message if it has one.
func (t *turn) see(read func(*store.Tx) error) error {
	if t.looked == nil {
		return t.store.View(read)
	}
	return t.looked.View(read)
}

// update changes the records.
func (t *turn) update(change func(*store.Tx) error) error {
	t.unlook()
	return t.store.Update(change)
}

// unlook ends the look.
func (t *turn) unlook() {
	if t.looked == nil {
		return
	}
	if err := t.looked.Close(); err != nil {
		t.log.Error("end a look", "message", t.m.ID, "err", err)
	}
}

// advise advises on a coffee.
func (t *turn) advise(h bar.History, c bar.CoffeeID, now time.Time) (advisor.Advice, bool) {
	t.unlook()
	return t.tools.advise(h, c, now)
}

// outlook tells where a coffee stands, its shots as they were told: by the bar's
// own clock, and not by the pump, as the advisor sees them.
func (t *turn) outlook(h bar.History, c bar.CoffeeID, now time.Time) advisor.Outlook {
	t.unlook()
	o, _ := t.tools.outlook(h, c, now)
	for _, e := range h.Entries {
		for _, shown := range []*bar.Entry{&o.Last, &o.Earned} {
			if shown.ID == e.ID {
				*shown = e
			}
		}
	}
	return o
}
