package store

import (
	"bytes"

	"shothand/advisor/bar"
)

// LayersOf returns all tastings cup by cup of a coffee, oldest first, without
// deleted ones.
func (tx *Tx) LayersOf(here bar.ID, coffee bar.CoffeeID) ([]bar.Entry, error) {
	index, err := tx.in(here, bucketByCoffee)
	if err != nil {
		return nil, err
	}
	zone, err := tx.zoneOf(here)
	if err != nil {
		return nil, err
	}
	var keys [][]byte
	owned(index, idKey(coffee), minInstant, func(key, kind []byte) bool {
		if kindLayers.is(kind) {
			keys = append(keys, bytes.Clone(key))
		}
		return true
	})
	return tx.entriesAt(here, keys, zone)
}

// SipsOf returns what was said of the cups of a tasting, in the order it was
// told, without what was deleted.
func (tx *Tx) SipsOf(here bar.ID, tasting bar.EntryID) ([]bar.Entry, error) {
	zone, err := tx.zoneOf(here)
	if err != nil {
		return nil, err
	}
	keys, err := tx.wordsKeys(here, []bar.EntryID{tasting}, kindSips)
	if err != nil {
		return nil, err
	}
	return tx.entriesAt(here, keys, zone)
}
