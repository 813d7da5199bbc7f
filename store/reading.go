package store

// A Reading is one view of the records that several looks share: all of them see
// the records as they were at the first, until [Reading.Close]. A change must not be
// made while it is open.
type Reading struct {
	store *Store
	tx    *Tx // nil before the first look and once it is closed
}

// Reading returns a view of the records that begins with the first look at them.
func (s *Store) Reading() *Reading { return &Reading{store: s} }

// View calls read with the records, as [Store.View] does.
func (l *Reading) View(read func(*Tx) error) error {
	if l.tx == nil {
		if err := l.begin(); err != nil {
			return err
		}
	}
	return l.store.guard(func() error { return read(l.tx) })
}

func (l *Reading) begin() error {
	l.store.mu.RLock()
	defer l.store.mu.RUnlock()
	return l.store.guard(func() error {
		tx, err := l.store.db.Begin(false)
		if err != nil {
			return err
		}
		l.tx = &Tx{tx: tx, store: l.store}
		l.store.views.Add(1)
		return nil
	})
}

// Close ends it. The next look begins another one.
func (l *Reading) Close() error {
	if l.tx == nil {
		return nil
	}
	tx := l.tx.tx
	l.tx = nil
	return guard(tx.Rollback)
}

// Counts returns how often the records were looked at and how often they were
// changed since the file was opened.
func (s *Store) Counts() (views, updates int64) { return s.views.Load(), s.updates.Load() }
