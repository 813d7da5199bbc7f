package store

import (
	"fmt"
	"time"

	"go.etcd.io/bbolt"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// A Tx is a view of the records, or a change of them. It is good only within
// the call it was made for.
type Tx struct {
	tx    *bbolt.Tx
	store *Store

	// To read, bbolt opens a bucket anew each time, so those of the bar that was
	// asked for last are kept, its own under the empty name.
	of     bar.ID
	opened map[string]*bbolt.Bucket
}

// missing returns ErrNotFound with what was looked for.
func missing[T ~uint64](what string, id T) error {
	return fmt.Errorf("%s %d: %w", what, id, ErrNotFound)
}

// bars returns the bucket of all bars.
func (tx *Tx) bars() *bbolt.Bucket { return tx.tx.Bucket([]byte(bucketBars)) }

// bar returns the bucket of a bar, or nil.
func (tx *Tx) bar(id bar.ID) *bbolt.Bucket {
	return tx.open(id, "", func() *bbolt.Bucket { return tx.bars().Bucket(idKey(id)) })
}

// in returns the bucket of that name in a bar.
func (tx *Tx) in(here bar.ID, name string) (*bbolt.Bucket, error) {
	of := tx.bar(here)
	if of == nil {
		return nil, missing("bar", here)
	}
	b := tx.open(here, name, func() *bbolt.Bucket { return of.Bucket([]byte(name)) })
	if b == nil {
		return nil, fmt.Errorf("bar %d: bucket %s: %w", here, name, ErrNotFound)
	}
	return b, nil
}

// open returns the bucket that find returns, or did before.
func (tx *Tx) open(here bar.ID, name string, find func() *bbolt.Bucket) *bbolt.Bucket {
	if tx.tx.Writable() { // they may be made and deleted meanwhile
		return find()
	}
	if tx.opened == nil || tx.of != here {
		tx.of, tx.opened = here, map[string]*bbolt.Bucket{}
	}
	b, known := tx.opened[name]
	if !known {
		b = find()
		tx.opened[name] = b
	}
	return b
}

// read reads the record under key in a bucket of a bar.
func (tx *Tx) read(here bar.ID, bucket string, key []byte, record any) (found bool, err error) {
	b, err := tx.in(here, bucket)
	if err != nil {
		return false, err
	}
	if found, err = file.Get(b, key, record); err != nil {
		err = fmt.Errorf("bar %d: %s %x: %w", here, bucket, key, err)
	}
	return found, err
}

// value returns what lies under key in a bucket of a bar, or nil.
func (tx *Tx) value(here bar.ID, bucket string, key []byte) ([]byte, error) {
	b, err := tx.in(here, bucket)
	if err != nil {
		return nil, err
	}
	return b.Get(key), nil
}

// write puts the record under key in a bucket of a bar.
func (tx *Tx) write(here bar.ID, bucket string, key []byte, record any) error {
	b, err := tx.in(here, bucket)
	if err != nil {
		return err
	}
	if err := file.Put(b, key, record); err != nil {
		return fmt.Errorf("bar %d: %s %x: %w", here, bucket, key, err)
	}
	return nil
}

// index puts a bare value under key in a bucket of a bar.
func (tx *Tx) index(here bar.ID, bucket string, key, value []byte) error {
	b, err := tx.in(here, bucket)
	if err != nil {
		return err
	}
	return b.Put(key, value)
}

// drop takes the key out of a bucket of a bar.
func (tx *Tx) drop(here bar.ID, bucket string, key []byte) error {
	b, err := tx.in(here, bucket)
	if err != nil {
		return err
	}
	return b.Delete(key)
}

// assign returns *id, or the next number of the bucket if it is zero. The
// numbers go on after the highest one used.
func assign[T ~uint64](b *bbolt.Bucket, id *T) error {
	if *id == 0 {
		next, err := b.NextSequence()
		*id = T(next)
		return err
	}
	if uint64(*id) > b.Sequence() {
		return b.SetSequence(uint64(*id))
	}
	return nil
}

// InZone returns an instant on the clock of a zone, or as it came if there is no
// such zone.
func (s *Store) InZone(at time.Time, zone string) time.Time {
	if place := s.Zone(zone); place != nil {
		return at.In(place)
	}
	return at
}

// Zone returns the place of that name, or nil if none loads. What was asked for
// before is at hand.
func (s *Store) Zone(name string) *time.Location {
	if name == "" || name == "Local" {
		return nil
	}
	if known, ok := s.zones.Load(name); ok {
		return known.(*time.Location)
	}
	loc, err := time.LoadLocation(name)
	if err != nil {
		loc = nil
	}
	s.zones.Store(name, loc)
	return loc
}

// zoneOf returns the zone of a bar, or nil.
func (tx *Tx) zoneOf(here bar.ID) (*time.Location, error) {
	b, err := tx.Bar(here)
	return tx.store.Zone(b.Zone), err
}
