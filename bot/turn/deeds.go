package turn

import (
	"slices"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/day"
	"shothand/store"
)

// At returns the same turn at another instant.
func (t *Turn) At(when time.Time) *Turn {
	t.waiting() // is of both
	other := *t
	other.Now = when.In(t.Now.Location())
	return &other
}

// Day is the bar's day.
func (t *Turn) Day() bar.Day { return bar.DayOf(t.Now) }

// Deeds returns what has been done today.
func (t *Turn) Deeds() (deeds []store.Deed, err error) {
	err = t.See(func(tx *store.Tx) error {
		deeds, err = tx.Deeds(t.Bar.ID, t.Day())
		return err
	})
	return deeds, err
}

// DeedOf returns the deed of that name.
func DeedOf(deeds []store.Deed, name string) (store.Deed, bool) {
	i := slices.IndexFunc(deeds, func(d store.Deed) bool { return d.Name == name })
	if i < 0 {
		return store.Deed{}, false
	}
	return deeds[i], true
}

// PutDeeds records deeds of today.
func (t *Turn) PutDeeds(deeds ...store.Deed) error {
	return t.Update(func(tx *store.Tx) error {
		for _, d := range deeds {
			if err := tx.PutDeed(t.Bar.ID, t.Day(), d); err != nil {
				return err
			}
		}
		return nil
	})
}

// A DeedRef says which deed is done once its post is sent, and what it shows.
type DeedRef struct {
	Bar   bar.ID
	Day   bar.Day
	Name  string
	Shown string
}

// Look returns where a coffee stands.
func (t *Turn) Look(c bar.Coffee) (advisor.Outlook, error) {
	h, err := t.History(c.ID)
	if err != nil {
		return advisor.Outlook{}, err
	}
	o := t.Outlook(h, c.ID, t.Now)
	return o, nil
}

// Clock is what the bar is told by, as it stands.
func (t *Turn) Clock() day.Clock { return day.Clock{Bar: t.Bar, Now: t.Now, Live: t.Wakes} }
