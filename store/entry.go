package store

import (
	"cmp"
	"errors"
	"fmt"
	"iter"
	"time"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// AddEntry records e, whose id it assigns. What e is about must be there. If
// the bar knows the message of e already, it returns [ErrSeen].
func (tx *Tx) AddEntry(here bar.ID, e bar.Entry) (bar.EntryID, error) {
	if e.Message != "" && tx.Seen(here, e.Message) {
		return 0, fmt.Errorf("message %q: %w", e.Message, ErrSeen)
	}
	b, err := tx.in(here, bucketEntries)
	if err != nil {
		return 0, err
	}
	e.ID = 0
	if err := assign(b, &e.ID); err != nil {
		return 0, err
	}
	if err := tx.checkEntry(here, e); err != nil {
		return 0, fmt.Errorf("entry %d: %w", e.ID, err)
	}
	return e.ID, tx.addEntry(here, e)
}

// addEntry records e under its id, which nothing has yet.
func (tx *Tx) addEntry(here bar.ID, e bar.Entry) error {
	at, err := instantOf(e.At)
	if err != nil {
		return err
	}
	if e.Message != "" {
		err = tx.index(here, bucketMessages, textKey(e.Message), idKey(e.ID))
	}
	return errors.Join(err, tx.index(here, bucketInstants, idKey(e.ID), at.append(nil)), tx.writeEntry(here, at, e))
}

// PutEntry replaces the entry with the id of e: an edit, a deletion, an undo.
// Its message and its instant stay.
func (tx *Tx) PutEntry(here bar.ID, e bar.Entry) error {
	old, err := tx.Entry(here, e.ID)
	if err != nil {
		return err
	}
	if !old.At.Equal(e.At) || old.Message != text(e.Message) {
		return fmt.Errorf("entry %d: message %q at %v is not the one recorded", e.ID, e.Message, e.At)
	}
	at, err := instantOf(e.At)
	if err != nil {
		return err
	}
	if err := tx.checkEntry(here, e); err != nil {
		return fmt.Errorf("entry %d: %w", e.ID, err)
	}
	for _, at := range places(old, at) {
		if err := tx.drop(here, at.bucket, at.key); err != nil {
			return err
		}
	}
	return tx.writeEntry(here, at, e)
}

// writeEntry writes the record of e and puts it in its places.
func (tx *Tx) writeEntry(here bar.ID, at instant, e bar.Entry) error {
	r, err := newEntryRecord(e)
	if err != nil {
		return fmt.Errorf("entry %d: %w", e.ID, err)
	}
	for _, p := range places(e, at) {
		if err := tx.index(here, p.bucket, p.key, []byte(r.Kind.String())); err != nil {
			return err
		}
	}
	return tx.write(here, bucketEntries, entryKey(at, e.ID), r)
}

// A place is where an index holds an entry.
type place struct {
	bucket string
	key    []byte
}

// places returns where e is found besides by its time: nowhere if deleted.
func places(e bar.Entry, at instant) []place {
	if e.Deleted {
		return nil
	}
	ofCoffee := func(c bar.CoffeeID) place { return place{bucketByCoffee, ownedKey(c, at, e.ID)} }
	ofGrinder := func(g bar.GrinderID) place { return place{bucketByGrinder, ownedKey(g, at, e.ID)} }
	switch w := e.What.(type) {
	case bar.Shot:
		return []place{ofCoffee(w.Coffee)}
	case bar.Words:
		return []place{{bucketByShot, wordsKey(w.Shot, e.ID)}}
	case bar.Dialled:
		return []place{ofCoffee(w.Coffee)}
	case bar.Told:
		return placesOf(w.Coffee, w.Grinder, ofCoffee, ofGrinder)
	case bar.Setting:
		return placesOf(w.Coffee.ID, w.Grinder.ID, ofCoffee, ofGrinder)
	case bar.Layers:
		return []place{ofCoffee(w.Coffee)}
	case bar.Sips:
		return []place{{bucketByShot, wordsKey(w.Layers, e.ID)}}
	case bar.Held: // of no coffee yet
	}
	return nil
}

// placesOf returns the places of what is about a coffee, a grinder, both, or
// the whole bar, which is grinder 0.
func placesOf(c bar.CoffeeID, g bar.GrinderID,
	ofCoffee func(bar.CoffeeID) place, ofGrinder func(bar.GrinderID) place,
) []place {
	var all []place
	if c != 0 {
		all = append(all, ofCoffee(c))
	}
	if g != 0 || c == 0 {
		all = append(all, ofGrinder(g))
	}
	return all
}

// checkEntry returns an error if what e is about is not there.
func (tx *Tx) checkEntry(here bar.ID, e bar.Entry) error {
	var coffee bar.CoffeeID
	var grinder bar.GrinderID
	var device bar.DeviceID
	var shot bar.EntryID
	var nothing error
	switch w := e.What.(type) {
	case bar.Shot:
		coffee, grinder, device, shot = w.Coffee, w.Grinder, w.Device, w.Posted
		nothing = some("coffee", coffee)
	case bar.Words:
		shot = w.Shot
		nothing = some("shot", shot)
	case bar.Told:
		coffee, grinder = w.Coffee, w.Grinder
	case bar.Dialled:
		coffee, shot = w.Coffee, w.Shot
		nothing = some("coffee", coffee)
	case bar.Setting:
		coffee, grinder, device = w.Coffee.ID, w.Grinder.ID, w.Device.ID
	case bar.Layers:
		coffee = w.Coffee
		nothing = some("coffee", coffee)
	case bar.Sips:
		shot = w.Layers
		nothing = some("layers", shot)
	case bar.Held:
		device = w.Device
	}
	return cmp.Or(nothing,
		there(tx, here, bucketDevices, "device", device),
		there(tx, here, bucketCoffees, "coffee", coffee),
		there(tx, here, bucketGrinders, "grinder", grinder),
		there(tx, here, bucketInstants, "shot", shot),
	)
}

// some returns an error for the id of nothing.
func some[T ~uint64](what string, id T) error {
	if id == 0 {
		return missing(what, id)
	}
	return nil
}

// there returns an error if the bucket does not hold id, which may be zero.
func there[T ~uint64](tx *Tx, here bar.ID, bucket, what string, id T) error {
	if id == 0 {
		return nil
	}
	found, err := tx.value(here, bucket, idKey(id))
	if err == nil && found == nil {
		err = missing(what, id)
	}
	return err
}

// Entry returns the entry with that id, deleted or not.
func (tx *Tx) Entry(here bar.ID, id bar.EntryID) (bar.Entry, error) {
	at, err := tx.value(here, bucketInstants, idKey(id))
	switch {
	case err != nil:
		return bar.Entry{}, err
	case len(at) != 8:
		return bar.Entry{}, missing("entry", id)
	}
	zone, err := tx.zoneOf(here)
	if err != nil {
		return bar.Entry{}, err
	}
	return tx.entryAt(here, entryKey(readInstant(at), id), zone)
}

// EntryOf returns the entry that a message made, deleted or not, or false if
// it made none.
func (tx *Tx) EntryOf(here bar.ID, message string) (bar.Entry, bool, error) {
	id, err := tx.value(here, bucketMessages, textKey(message))
	if err != nil || len(id) != 8 {
		return bar.Entry{}, false, err
	}
	e, err := tx.Entry(here, readID[bar.EntryID](id))
	return e, err == nil, err
}

// entryAt returns the entry with that key.
func (tx *Tx) entryAt(here bar.ID, key []byte, zone *time.Location) (bar.Entry, error) {
	value, err := tx.value(here, bucketEntries, key)
	if err != nil {
		return bar.Entry{}, err
	}
	return tx.entryOf(here, key, value, zone)
}

// entryOf returns the entry of a record, nil for one that is not there. Its
// slices are shared: who changes them makes a copy.
func (tx *Tx) entryOf(here bar.ID, key, value []byte, zone *time.Location) (bar.Entry, error) {
	_, id := readEntryKey(key)
	if value == nil {
		return bar.Entry{}, missing("entry", id)
	}
	k, ok := newEntryAs(here, key, value, zone)
	if e, known := tx.store.entries.get(k); ok && known {
		return e, nil
	}
	var r entryRecord
	if err := file.Decode(key, value, &r); err != nil {
		return bar.Entry{}, fmt.Errorf("bar %d: entry %d: %w", here, id, err)
	}
	e, err := r.entry(id, zone)
	if err != nil {
		return bar.Entry{}, fmt.Errorf("bar %d: entry %d: %w", here, id, err)
	}
	if ok {
		tx.store.entries.put(k, e)
	}
	return e, nil
}

// Recent returns the entries of a bar since an instant, oldest first, without
// deleted ones.
func (tx *Tx) Recent(here bar.ID, since time.Time) ([]bar.Entry, error) {
	return tx.entriesWhile(here, since, func(bar.Entry) bool { return true })
}

// EntriesAt returns the entries of a bar of one instant, in the order in which
// they came, without deleted ones.
func (tx *Tx) EntriesAt(here bar.ID, at time.Time) ([]bar.Entry, error) {
	return tx.entriesWhile(here, at, func(e bar.Entry) bool { return e.At.Equal(at) })
}

// entriesWhile returns the entries since an instant up to the first that is not
// such.
func (tx *Tx) entriesWhile(here bar.ID, since time.Time, such func(bar.Entry) bool) ([]bar.Entry, error) {
	from, err := instantOf(since)
	if err != nil {
		return nil, err
	}
	entries := make([]bar.Entry, 0, 32)
	for e, err := range tx.entriesFrom(here, from) {
		if err != nil || !such(e) {
			return entries, err
		}
		entries = append(entries, e)
	}
	return entries, nil
}

// EachEntry calls visit with all entries of a bar, oldest first, without
// deleted ones.
func (tx *Tx) EachEntry(here bar.ID, visit func(bar.Entry) error) error {
	for e, err := range tx.entriesFrom(here, minInstant) {
		if err != nil {
			return err
		}
		if err := visit(e); err != nil {
			return err
		}
	}
	return nil
}

// entriesFrom goes through the entries from an instant on, oldest first, without
// deleted ones. It ends with the first error.
func (tx *Tx) entriesFrom(here bar.ID, from instant) iter.Seq2[bar.Entry, error] {
	return func(yield func(bar.Entry, error) bool) {
		b, err1 := tx.in(here, bucketEntries)
		zone, err2 := tx.zoneOf(here)
		if err := errors.Join(err1, err2); err != nil {
			yield(bar.Entry{}, err)
			return
		}
		c := b.Cursor()
		for key, value := c.Seek(from.append(nil)); key != nil; key, value = c.Next() {
			e, err := tx.entryOf(here, key, value, zone)
			if !e.Deleted && !yield(e, err) || err != nil {
				return
			}
		}
	}
}
