package store

import (
	"errors"

	"shothand/advisor/bar"
)

// LayersOf returns all tastings cup by cup of a coffee, oldest first, without
// deleted ones.
func (tx *Tx) LayersOf(here bar.ID, coffee bar.CoffeeID) ([]bar.Entry, error) {
	index, err1 := tx.in(here, bucketByCoffee)
	zone, err2 := tx.zoneOf(here)
	if err := errors.Join(err1, err2); err != nil {
		return nil, err
	}
	var keys [][]byte
	for key, kind := range owned(index, idKey(coffee), maxInstant, minInstant) {
		if kindLayers.is(kind) {
			keys = append(keys, key)
		}
	}
	return tx.entriesAt(here, keys, zone)
}

// SipsOf returns what was said of the cups of a tasting, in the order it was
// told, without what was deleted.
func (tx *Tx) SipsOf(here bar.ID, tasting bar.EntryID) ([]bar.Entry, error) {
	zone, err1 := tx.zoneOf(here)
	keys, err2 := tx.wordsKeys(here, []bar.EntryID{tasting}, kindSips)
	if err := errors.Join(err1, err2); err != nil {
		return nil, err
	}
	return tx.entriesAt(here, keys, zone)
}
