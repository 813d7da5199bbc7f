package file

import (
	"sync"

	"go.etcd.io/bbolt"
)

// A queue holds the updates that are to go into the next commit. While one is
// on its way to the disk, the next gather, and all of them share a commit, so
// the more there are the fewer commits each costs, and one alone does not wait
// for others. bbolt's Batch closes a batch after a time of its own, though the
// one before may still be on its way: under load it made several commits of
// what could be one.
type queue struct {
	mu      sync.Mutex
	waiting []pending
	running bool // a goroutine commits until nothing waits
}

// A pending is a change, and who waits for it.
type pending struct {
	change func(*bbolt.Tx) error
	done   chan error // takes one
}

// mostShared is how many updates share a commit at most.
const mostShared = 1000

// commit applies change, in a commit with others, and returns once it is on
// the disk or what kept it from there.
func (s *DB) commit(change func(*bbolt.Tx) error) error {
	u := pending{change, make(chan error, 1)}
	q := &s.queue
	q.mu.Lock()
	q.waiting = append(q.waiting, u)
	if !q.running {
		q.running = true
		go s.commitAll()
	}
	q.mu.Unlock()
	return <-u.done
}

// commitAll commits until nothing waits. The database stays the same as long
// as somebody waits.
func (s *DB) commitAll() {
	q := &s.queue
	for {
		q.mu.Lock()
		n := min(len(q.waiting), mostShared)
		if n == 0 {
			q.running = false
			q.mu.Unlock()
			return
		}
		shared := q.waiting[:n:n]
		q.waiting = q.waiting[n:]
		db := s.db
		q.mu.Unlock()
		s.commitShared(db, shared)
	}
}

// commitShared applies updates in one commit. One that fails is tried again
// without the others, and they without it.
func (s *DB) commitShared(db *database, updates []pending) {
	for len(updates) > 0 {
		failed := -1
		err := s.write(db, func(tx *bbolt.Tx) error {
			for i, u := range updates {
				if err := u.change(tx); err != nil {
					failed = i
					return err
				}
			}
			return nil
		})
		if failed < 0 {
			for _, u := range updates {
				u.done <- err
			}
			return
		}
		u := updates[failed]
		if len(updates) > 1 {
			err = s.write(db, u.change)
		}
		u.done <- err
		updates = append(updates[:failed:failed], updates[failed+1:]...)
	}
}

// write makes one commit. It returns nil once that is on the disk, in the file
// that the path means.
func (s *DB) write(db *database, change func(*bbolt.Tx) error) error {
	var id int64
	err := s.guard(func() error {
		return db.Update(func(tx *bbolt.Tx) error {
			if err := s.sound(db, tx, db.last.Load()); err != nil {
				return err
			}
			if err := change(tx); err != nil {
				return err
			}
			id = int64(tx.ID())
			return nil
		})
	})
	switch {
	case err == nil:
		db.last.Store(id)
		return s.atPath(db)
	case id > 0: // the disk refused it, or some of it
		db.last.Store(0)
	}
	return err
}
