package store

import (
	"slices"
	"time"

	"shothand/advisor"
)

// AdviceSince returns what was said about a coffee since an instant, oldest
// first, without what was taken back.
func (tx *Tx) AdviceSince(bar advisor.BarID, coffee advisor.CoffeeID, since time.Time) ([]Said, error) {
	from, err := instantOf(since)
	if err != nil {
		return nil, err
	}
	index, err := tx.in(bar, bucketAdviceByCoffee)
	if err != nil {
		return nil, err
	}
	var ids []advisor.EntryID
	owned(index, idKey(coffee), from, func(key, _ []byte) bool {
		_, id := readEntryKey(key)
		ids = append(ids, id)
		return true
	})
	var list []Said
	for _, id := range slices.Backward(ids) {
		s, found, err := tx.AdviceOf(bar, id)
		if err != nil {
			return nil, err
		}
		if found && !s.Voided {
			list = append(list, s)
		}
	}
	return list, nil
}
