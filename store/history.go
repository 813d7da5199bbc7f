package store

import (
	"bytes"
	"errors"
	"iter"
	"slices"
	"time"

	"go.etcd.io/bbolt"

	"shothand/advisor/bar"
)

// How far back a coffee is replayed: the bounds within which the advisor's
// full replay stays fast, and beyond which a season has changed everything. A
// grinder that was hardly used since, in a bar that opens again after a winter,
// still has its last shots to teach by.
const (
	maxShots = 200
	maxAge   = 90 * 24 * time.Hour
	enough   = 40  // shots of a grinder or coffee that make older ones of no use
	fewest   = 100 // entries to keep rather than to cut where a week or a day begins
)

// History returns what is needed to advise on a coffee at now: the entries of
// that coffee, of those on the same grinder, of the grinder and of the whole
// bar, oldest first, without deleted ones. Each coffee is followed back over
// at most its last 200 shots and 90 days, cut between weeks or days, with the words that
// came later; beyond 90 days only as far as makes 40 shots, of the coffee and of
// all on its grinder. An entry after now, by a clock a little ahead, counts.
func (tx *Tx) History(here bar.ID, coffee bar.CoffeeID, now time.Time) (bar.History, error) {
	b, err1 := tx.Bar(here)
	coffees, err2 := tx.Coffees(here)
	grinders, err3 := tx.Grinders(here)
	people, err4 := tx.People(here)
	if err := errors.Join(err1, err2, err3, err4); err != nil {
		return bar.History{}, err
	}
	h := bar.History{Bar: b, Coffees: coffees, Grinders: grinders, People: people}
	i := slices.IndexFunc(h.Coffees, func(c bar.Coffee) bool { return c.ID == coffee })
	if i < 0 {
		return bar.History{}, missing("coffee", coffee)
	}
	since, err := instantOf(now.Truncate(24 * time.Hour).Add(-maxAge)) // it moves once a day
	if err != nil {
		return bar.History{}, err
	}
	keys, err := tx.historyKeys(here, h.Coffees, h.Coffees[i], since)
	if err != nil {
		return bar.History{}, err
	}
	h.Entries, err = tx.entriesAt(here, keys, tx.store.Zone(h.Bar.Zone))
	return h, err
}

// historyKeys returns the keys of the entries to advise on coffee.
func (tx *Tx) historyKeys(here bar.ID, all []bar.Coffee, coffee bar.Coffee, since instant) ([][]byte, error) {
	var older []indexed
	var keys [][]byte
	var shots []bar.EntryID
	take := func(e indexed) {
		at, id := readEntryKey(e.key)
		since = min(since, at) // what happened to the grinder meanwhile counts
		keys = append(keys, e.key)
		if e.shot {
			shots = append(shots, id)
		}
	}
	bound := since
	for _, c := range all {
		if c.ID != coffee.ID && (c.Grinder != coffee.Grinder || c.Grinder == 0) {
			continue
		}
		of, err := tx.coffeeEntries(here, c.ID, bound)
		if err != nil {
			return nil, err
		}
		keys, shots = slices.Grow(keys, len(of)), slices.Grow(shots, len(of))
		for _, e := range of {
			if e.old && c.ID != coffee.ID {
				older = append(older, e)
			} else {
				take(e)
			}
		}
	}
	slices.SortFunc(older, func(a, b indexed) int { return bytes.Compare(b.key, a.key) })
	for _, e := range older {
		if len(shots) >= enough {
			break
		}
		take(e)
	}
	words, err := tx.wordsKeys(here, shots, kindWords)
	if err != nil {
		return nil, err
	}
	keys = append(keys, words...)
	byGrinder, err := tx.in(here, bucketByGrinder)
	if err != nil {
		return nil, err
	}
	for _, g := range slices.Compact([]bar.GrinderID{0, coffee.Grinder}) {
		for key, kind := range owned(byGrinder, idKey(g), maxInstant, since) {
			if !kindMoved.is(kind) { // the shots have it
				keys = append(keys, key)
			}
		}
	}
	return keys, nil
}

// coffeeEntries returns a coffee's entries, newest first: those since, and older
// ones as far as makes enough shots.
func (tx *Tx) coffeeEntries(here bar.ID, c bar.CoffeeID, since instant) ([]indexed, error) {
	byCoffee, err := tx.in(here, bucketByCoffee)
	if err != nil {
		return nil, err
	}
	all := make([]indexed, 0, fewest)
	shots := 0
	for key, kind := range owned(byCoffee, idKey(c), maxInstant, minInstant) {
		at, _ := readEntryKey(key)
		old := at < since
		if old && shots >= enough {
			break
		}
		if kindLayers.is(kind) { // teach by what becomes of the recipe
			continue
		}
		shot := kindShot.is(kind)
		all = append(all, indexed{key, shot, old})
		if shot {
			shots++
		}
		if shots > maxShots {
			return inLeaps(all), nil
		}
	}
	return all, nil
}

// An indexed is an entry as an index has it.
type indexed struct {
	key  []byte
	shot bool
	old  bool // older than the bound
}

// inLeaps returns the newest of what reaches beyond the bound, cut where a week
// begins, or if too little is left so, a day or an hour. A history that lost its
// oldest shot with each new one would be replayed from the start each time.
func inLeaps(newestFirst []indexed) []indexed {
	cut := newestFirst[len(newestFirst)-1].key
	for _, block := range []time.Duration{7 * 24 * time.Hour, 24 * time.Hour, time.Hour} {
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

// owned goes through the keys and kinds of the entries of one coffee or grinder,
// newest first, from before an instant back to another.
func owned(index *bbolt.Bucket, owner []byte, end, since instant) iter.Seq2[[]byte, []byte] {
	return func(yield func(key, kind []byte) bool) {
		c := index.Cursor()
		for k, kind := before(c, end.append(bytes.Clone(owner))); k != nil && bytes.HasPrefix(k, owner); k, kind = c.Prev() {
			key := k[len(owner):]
			if at, _ := readEntryKey(key); at < since || !yield(key, kind) {
				return
			}
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

// Before returns, of what came before an instant, the last shot of each coffee
// and what happened to its grinder since, oldest first.
func (tx *Tx) Before(here bar.ID, now time.Time) ([]bar.Entry, error) {
	end, err1 := instantOf(now)
	coffees, err2 := tx.Coffees(here)
	zone, err3 := tx.zoneOf(here)
	byCoffee, err4 := tx.in(here, bucketByCoffee)
	byGrinder, err5 := tx.in(here, bucketByGrinder)
	if err := errors.Join(err1, err2, err3, err4, err5); err != nil {
		return nil, err
	}
	var keys [][]byte
	since := map[bar.GrinderID]instant{}
	for _, c := range coffees {
		for key, kind := range owned(byCoffee, idKey(c.ID), end, minInstant) {
			if !kindShot.is(kind) {
				continue
			}
			at, _ := readEntryKey(key)
			keys = append(keys, key)
			if earliest, ok := since[c.Grinder]; !ok || at < earliest {
				since[c.Grinder] = at
			}
			break
		}
	}
	for g, from := range since {
		for key := range owned(byGrinder, idKey(g), end, from) {
			keys = append(keys, key)
		}
	}
	return tx.entriesAt(here, keys, zone)
}

// wordsKeys returns the keys of the words that belong to the shots, or of the
// sips that belong to the tastings, whichever kind is.
func (tx *Tx) wordsKeys(here bar.ID, shots []bar.EntryID, kind entryKind) ([][]byte, error) {
	byShot, err := tx.in(here, bucketByShot)
	if err != nil {
		return nil, err
	}
	instants, err := tx.in(here, bucketInstants)
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
			if id := k[len(prefix):]; kind.is(v) {
				keys = append(keys, slices.Concat(instants.Get(id), id))
			}
		}
	}
	return keys, nil
}

// entriesAt returns the entries with those keys, oldest first, each once.
func (tx *Tx) entriesAt(here bar.ID, keys [][]byte, zone *time.Location) ([]bar.Entry, error) {
	b, err := tx.in(here, bucketEntries)
	if err != nil {
		return nil, err
	}
	slices.SortFunc(keys, bytes.Compare)
	keys = slices.CompactFunc(keys, bytes.Equal)
	entries := make([]bar.Entry, 0, len(keys)+1) // mostly one more is put among them
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
		e, err := tx.entryOf(here, key, value, zone)
		if err != nil {
			return nil, err
		}
		entries = append(entries, e)
	}
	return entries, nil
}
