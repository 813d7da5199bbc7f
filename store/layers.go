package store

import (
	"bytes"

	"shothand/advisor"
)

// LayersOf returns all tastings cup by cup of a coffee, oldest first, without
// deleted ones.
func (tx *Tx) LayersOf(bar advisor.BarID, coffee advisor.CoffeeID) ([]advisor.Entry, error) {
	index, err := tx.in(bar, bucketByCoffee)
	if err != nil {
		return nil, err
	}
	zone, err := tx.zoneOf(bar)
	if err != nil {
		return nil, err
	}
	var keys [][]byte
	owned(index, idKey(coffee), minInstant, func(key, kind []byte) bool {
		if string(kind) == kindLayers {
			keys = append(keys, bytes.Clone(key))
		}
		return true
	})
	return tx.entriesAt(bar, keys, zone)
}

// SipsOf returns what was said of the cups of a tasting, in the order it was
// told, without what was deleted.
func (tx *Tx) SipsOf(bar advisor.BarID, tasting advisor.EntryID) ([]advisor.Entry, error) {
	zone, err := tx.zoneOf(bar)
	if err != nil {
		return nil, err
	}
	keys, err := tx.wordsKeys(bar, []advisor.EntryID{tasting}, kindSips)
	if err != nil {
		return nil, err
	}
	return tx.entriesAt(bar, keys, zone)
}
