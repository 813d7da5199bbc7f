package store

import (
	"go.etcd.io/bbolt"

	"shothand/store/file"
)

// A Reading is one view of the records that several looks share, as
// [file.Reading] is.
type Reading struct {
	*file.Reading
	store *Store
	tx    *Tx // of the view, nil before the first look
}

// Reading returns a view of the records that begins with the first look at them.
func (s *Store) Reading() *Reading { return &Reading{Reading: s.DB.Reading(), store: s} }

// View calls read with the records, as [Store.View] does.
func (l *Reading) View(read func(*Tx) error) error {
	return l.Reading.View(func(tx *bbolt.Tx) error {
		if l.tx == nil || l.tx.tx != tx {
			l.tx = &Tx{tx: tx, store: l.store}
		}
		return read(l.tx)
	})
}
