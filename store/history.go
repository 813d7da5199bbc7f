package store

import (
	"bytes"
	"slices"
	"time"

	"go.etcd.io/bbolt"

	"shothand/advisor"
)

// How far back a coffee is replayed: the bounds within which the advisor's
// full replay stays fast, and beyond which a season has changed everything.
const (
	maxShots = 200
	maxAge   = 90 * 24 * time.Hour
	fewest   = 100 // entries to keep rather than to cut where a day begins
)

// History returns what is needed to advise on a coffee at now: the entries of
// that coffee, of those on the same grinder, of the grinder and of the whole
// bar, oldest first, without deleted ones. Each coffee is followed back over
// at most its last 200 shots and 90 days, cut between days, with the words that
// came later. An entry after now, by a clock a little ahead, counts.
func (tx *Tx) History(bar advisor.BarID, coffee advisor.CoffeeID, now time.Time) (advisor.History, error) {
	f := first{}
	h := advisor.History{
		Bar:      keep(&f, func() (advisor.Bar, error) { return tx.Bar(bar) }),
		Coffees:  keep(&f, func() ([]advisor.Coffee, error) { return tx.Coffees(bar) }),
		Grinders: keep(&f, func() ([]advisor.Grinder, error) { return tx.Grinders(bar) }),
		People:   keep(&f, func() ([]advisor.Person, error) { return tx.People(bar) }),
	}
	if f.err != nil {
		return advisor.History{}, f.err
	}
	i := slices.IndexFunc(h.Coffees, func(c advisor.Coffee) bool { return c.ID == coffee })
	if i < 0 {
		return advisor.History{}, missing("coffee", coffee)
	}
	since, err := instantOf(now.Truncate(24 * time.Hour).Add(-maxAge)) // it moves once a day
	if err != nil {
		return advisor.History{}, err
	}
	keys, err := tx.historyKeys(bar, h.Coffees, h.Coffees[i], since)
	if err != nil {
		return advisor.History{}, err
	}
	h.Entries, err = tx.entriesAt(bar, keys, tx.store.Zone(h.Bar.Zone))
	return h, err
}

// historyKeys returns the keys of the entries to advise on coffee.
func (tx *Tx) historyKeys(bar advisor.BarID, all []advisor.Coffee, coffee advisor.Coffee, since instant) ([][]byte, error) {
	var keys [][]byte
	for _, c := range all {
		if c.ID != coffee.ID && (c.Grinder != coffee.Grinder || c.Grinder == 0) {
			continue
		}
		of, err := tx.coffeeKeys(bar, c.ID, since)
		if err != nil {
			return nil, err
		}
		keys = append(keys, of...)
	}
	byGrinder, err := tx.in(bar, bucketByGrinder)
	if err != nil {
		return nil, err
	}
	grinders := []advisor.GrinderID{0, coffee.Grinder}
	for _, g := range slices.Compact(grinders) {
		owned(byGrinder, idKey(g), since, func(key, _ []byte) bool {
			keys = append(keys, key)
			return true
		})
	}
	return keys, nil
}

// coffeeKeys returns the keys of a coffee's entries, with the words of its
// shots.
func (tx *Tx) coffeeKeys(bar advisor.BarID, c advisor.CoffeeID, since instant) ([][]byte, error) {
	byCoffee, err := tx.in(bar, bucketByCoffee)
	if err != nil {
		return nil, err
	}
	var all []indexed
	shots := 0
	owned(byCoffee, idKey(c), since, func(key, kind []byte) bool {
		if string(kind) == kindLayers { // teach by what becomes of the recipe
			return true
		}
		shot := string(kind) == kindShot
		if shot {
			shots++
		}
		all = append(all, indexed{key, shot})
		return shots <= maxShots
	})
	if shots > maxShots {
		all = wholeDays(all)
	}
	var keys [][]byte
	var ids []advisor.EntryID
	for _, e := range all {
		keys = append(keys, e.key)
		if e.shot {
			_, id := readEntryKey(e.key)
			ids = append(ids, id)
		}
	}
	words, err := tx.wordsKeys(bar, ids, kindWords)
	return append(keys, words...), err
}

// An indexed is an entry as an index has it.
type indexed struct {
	key  []byte
	shot bool
}

// wholeDays returns the newest of what reaches beyond the bound, cut where a
// day begins, or on a day beyond the bound by itself, an hour. A history that
// lost its oldest shot with each new one would be replayed from the start each
// time.
func wholeDays(newestFirst []indexed) []indexed {
	cut := newestFirst[len(newestFirst)-1].key
	for _, block := range []time.Duration{24 * time.Hour, time.Hour} {
		in := func(e indexed) bool { return blockOf(e.key, block) == blockOf(cut, block) }
		if n := slices.IndexFunc(newestFirst, in); n >= fewest {
			return newestFirst[:n]
		}
	}
	return newestFirst[:len(newestFirst)-1]
}

func blockOf(key []byte, length time.Duration) int64 {
	at, _ := readEntryKey(key)
	return int64(at) / int64(length)
}

// owned calls visit with the key and kind of each entry of one coffee or
// grinder, newest first, until it returns false or they are older than since.
func owned(index *bbolt.Bucket, owner []byte, since instant, visit func(key, kind []byte) bool) {
	c := index.Cursor()
	// No time is as late as this, which is the end of the owner's keys.
	end := append(bytes.Clone(owner), bytes.Repeat([]byte{0xFF}, 16)...)
	for k, kind := before(c, end); k != nil && bytes.HasPrefix(k, owner); k, kind = c.Prev() {
		key := k[len(owner):]
		if at, _ := readEntryKey(key); at < since || !visit(key, kind) {
			return
		}
	}
}

// before moves c to the last key before end.
func before(c *bbolt.Cursor, end []byte) (key, value []byte) {
	if k, _ := c.Seek(end); k == nil {
		return c.Last()
	}
	return c.Prev()
}

// wordsKeys returns the keys of the words that belong to the shots, or of the
// sips that belong to the tastings, whichever kind is.
func (tx *Tx) wordsKeys(bar advisor.BarID, shots []advisor.EntryID, kind string) ([][]byte, error) {
	byShot, err := tx.in(bar, bucketByShot)
	if err != nil {
		return nil, err
	}
	instants, err := tx.in(bar, bucketInstants)
	if err != nil {
		return nil, err
	}
	shots = slices.Sorted(slices.Values(shots))
	var keys [][]byte
	c := byShot.Cursor()
	k, v := c.First()
	for _, shot := range shots {
		prefix := idKey(shot)
		if k != nil && bytes.Compare(k, prefix) < 0 { // most shots have none: no need to look for each
			k, v = c.Seek(prefix)
		}
		for ; bytes.HasPrefix(k, prefix); k, v = c.Next() {
			if id := k[len(prefix):]; string(v) == kind {
				keys = append(keys, slices.Concat(instants.Get(id), id))
			}
		}
	}
	return keys, nil
}

// entriesAt returns the entries with those keys, oldest first, each once.
func (tx *Tx) entriesAt(bar advisor.BarID, keys [][]byte, zone *time.Location) ([]advisor.Entry, error) {
	b, err := tx.in(bar, bucketEntries)
	if err != nil {
		return nil, err
	}
	slices.SortFunc(keys, bytes.Compare)
	keys = slices.CompactFunc(keys, bytes.Equal)
	entries := make([]advisor.Entry, 0, len(keys))
	c := b.Cursor()
	var at, value []byte
	for _, key := range keys {
		if at != nil { // most lie one behind the other
			at, value = c.Next()
		}
		if !bytes.Equal(at, key) {
			at, value = c.Seek(key)
		}
		if !bytes.Equal(at, key) {
			value = nil
		}
		e, err := tx.entryOf(bar, key, value, zone)
		if err != nil {
			return nil, err
		}
		entries = append(entries, e)
	}
	return entries, nil
}
