package store

import (
	"slices"
	"time"

	"shothand/advisor/bar"
)

// AdviceSince returns what was said about a coffee since an instant, oldest
// first, without what was taken back.
func (tx *Tx) AdviceSince(here bar.ID, coffee bar.CoffeeID, since time.Time) ([]Said, error) {
	from, err := instantOf(since)
	if err != nil {
		return nil, err
	}
	index, err := tx.in(here, bucketAdviceByCoffee)
	if err != nil {
		return nil, err
	}
	var ids []bar.EntryID
	owned(index, idKey(coffee), from, func(key, _ []byte) bool {
		_, id := readEntryKey(key)
		ids = append(ids, id)
		return true
	})
	var list []Said
	for _, id := range slices.Backward(ids) {
		s, found, err := tx.AdviceOf(here, id)
		if err != nil {
			return nil, err
		}
		if found && !s.Voided {
			list = append(list, s)
		}
	}
	return list, nil
}
