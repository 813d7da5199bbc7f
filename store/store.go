package store

import (
	"errors"
	"sync"
	"time"

	"go.etcd.io/bbolt"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// What a transaction can say.
var (
	ErrNotFound = errors.New("not found")
	ErrSeen     = errors.New("message recorded before")
	ErrNotSaved = file.ErrNotSaved
)

// A Store is an open file of records. Its methods may be called by many
// goroutines at once.
type Store struct {
	*file.DB
	zones   sync.Map // zone name → *time.Location, nil if there is none of that name
	entries cache[entryAs, bar.Entry]
	things  cache[thingKey, thing]
}

func format() file.Format { return file.Format{Migrations: migrations(), Check: Check} }

// Open opens the file, or makes it, as [file.Format.Open] does.
func Open(path string) (*Store, error) { return storeOf(format().Open(path)) }

// OpenToRead opens a file that is there without the right to write, as
// [file.Format.OpenToRead] does.
func OpenToRead(path string) (*Store, error) { return storeOf(format().OpenToRead(path)) }

func storeOf(db *file.DB, err error) (*Store, error) {
	if err != nil {
		return nil, err
	}
	return &Store{DB: db}, nil
}

// Restore puts a copy of a backup in the place of a file, as [file.Format.Restore]
// does.
func Restore(path, from string, at time.Time) (kept string, err error) {
	return format().Restore(path, from, at)
}

// Restorable returns why [Restore] refuses a backup whatever its records say.
func Restorable(from string) error { return format().Restorable(from) }

// View calls read with the records as they are now. A panic in it is returned
// as an error.
func (s *Store) View(read func(*Tx) error) error {
	return s.DB.View(func(tx *bbolt.Tx) error { return read(&Tx{tx: tx, store: s}) })
}

// Update calls change, and returns nil once all it did is on the disk, as
// [file.DB.Update] does: change may be called more than once.
func (s *Store) Update(change func(*Tx) error) error {
	return s.DB.Update(func(tx *bbolt.Tx) error { return change(&Tx{tx: tx, store: s}) })
}

// UpdateAside calls change with a copy of the records, as [file.DB.UpdateAside]
// does.
func (s *Store) UpdateAside(change func(*Store) error) error {
	return s.DB.UpdateAside(aside(change))
}

// TryAside calls change as [Store.UpdateAside] does and undoes all that it did.
func (s *Store) TryAside(change func(*Store) error) error { return s.DB.TryAside(aside(change)) }

func aside(change func(*Store) error) func(*file.DB) error {
	return func(copied *file.DB) error { return change(&Store{DB: copied}) }
}
