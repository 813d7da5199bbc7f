package turn

import (
	"time"

	"shothand/advisor/bar"
	"shothand/bot/recent"
	"shothand/store"
)

// What its buttons begin with, and the one under a shot that was made one of two.
const (
	PressPosted = "posted"
	PressApart  = "apart"
	PressBack   = "back" // a posted shot that was taken out stands again
)

// StandsFor returns the entry that stands for one that a device posted: the
// person's who told of the same shot, or e itself.
func StandsFor(tx *store.Tx, here bar.ID, e bar.Entry) (bar.Entry, error) {
	if recent.PostedBy(e) == 0 || !e.Deleted {
		return e, nil
	}
	around, err := tx.Recent(here, e.At.Add(-recent.SameShot))
	for _, other := range around {
		if s, ok := other.What.(bar.Shot); ok && s.Posted == e.ID {
			return other, err
		}
	}
	return e, err
}

// A PostedShot is what a device is told of its shot as it stands in the book.
type PostedShot struct {
	Coffee string    `json:"coffee"`
	Dose   float64   `json:"dose_g"`
	Yield  float64   `json:"yield_g"`
	Time   float64   `json:"time_s"`
	At     time.Time `json:"at"`
	Newest bool      `json:"newest"` // the advice is on this shot, and not on a later one
}

// Devices returns the bar's devices, retired ones too.
func (t *Turn) Devices() (all []bar.Device, err error) {
	err = t.See(func(tx *store.Tx) error {
		all, err = tx.Devices(t.Bar.ID)
		return err
	})
	return all, err
}
