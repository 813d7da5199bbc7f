package file

import "go.etcd.io/bbolt"

// A Reading is one view of the records that several looks share: all of them see
// the records as they were at the first, until [Reading.Close]. A change must not be
// made while it is open.
type Reading struct {
	of *DB
	tx *bbolt.Tx // nil before the first look and once it is closed
}

// Reading returns a view of the records that begins with the first look at them.
func (s *DB) Reading() *Reading { return &Reading{of: s} }

// View calls read with the records, as [DB.View] does.
func (l *Reading) View(read func(*bbolt.Tx) error) error {
	if l.tx == nil {
		if err := l.begin(); err != nil {
			return err
		}
	}
	return l.of.guard(func() error { return read(l.tx) })
}

func (l *Reading) begin() error {
	l.of.mu.RLock()
	defer l.of.mu.RUnlock()
	return l.of.guard(func() (err error) {
		if l.tx, err = l.of.db.Begin(false); err == nil {
			l.of.views.Add(1)
		}
		return err
	})
}

// Close ends it. The next look begins another one.
func (l *Reading) Close() error {
	if l.tx == nil {
		return nil
	}
	tx := l.tx
	l.tx = nil
	return guard(tx.Rollback)
}

// Counts returns how often the records were looked at and how often they were
// changed since the file was opened.
func (s *DB) Counts() (views, updates int64) { return s.views.Load(), s.updates.Load() }
