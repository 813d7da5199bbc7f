package file

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"
)

// ErrNotSaved wraps what kept a transaction from the disk, such as that it is full.
// The records are as they were before.
var ErrNotSaved = errors.New("not saved")

const fileMode = 0o600

// A Format is what the files of a program are: how one comes from an earlier version
// to this one, and how all of a file is checked.
type Format struct {
	Migrations []Migration
	Check      func(path string) error
}

// A DB is an open file of records. Its methods may be called by many goroutines at
// once.
type DB struct {
	format Format
	mu     sync.RWMutex // held to read while db is used
	db     *database    // another one after Compact
	path   string
	real   string // what path is if it is a link
	swept  int    // what was left by programs that were killed
	queue  queue

	views, updates atomic.Int64 // see Counts

	breaking sync.Once
	broken   chan struct{} // closed once why is set
	why      error
}

// Open opens the file, or makes it if it is absent or empty. A file that is
// damaged, cut short, not ours, in use or of a later version is left as it is
// and refused with a [Error].
func (of Format) Open(path string) (*DB, error) {
	for {
		s, err := of.openOnce(path)
		if !errors.Is(err, errOther) {
			return s, err
		}
	}
}

// errOther is that another file came to the path after it was inspected.
var errOther = errors.New("another file")

func (of Format) openOnce(path string) (*DB, error) {
	fresh, err := inspect(path)
	if err != nil {
		return nil, err
	}
	var seen os.FileInfo
	if !fresh {
		if seen, err = of.inspectOurs(path); err != nil {
			return nil, err
		}
	}
	db, err := openBolt(path, false, func(f *os.File) error { return unchanged(f, seen) })
	if err != nil {
		return nil, err
	}
	s := &DB{format: of, db: db, path: path, broken: make(chan struct{})}
	err = guard(func() error { return errors.Join(of.migrate(db.DB), db.remember()) })
	if err == nil {
		err = s.settle(fresh)
	}
	if err != nil {
		return nil, errors.Join(refusal(path, err), db.Close())
	}
	return s, nil
}

// settle follows a link, makes the name of a new file last, takes away what a
// compaction left that was cut short, and does the one that should have
// followed a Forget.
func (s *DB) settle(fresh bool) (err error) {
	if s.real, err = filepath.EvalSymlinks(s.path); err != nil {
		return err
	}
	left, err := removeCompact(s.real)
	if left {
		s.swept++
	}
	if fresh {
		err = errors.Join(err, syncDir(s.real))
	}
	traces, err2 := hasTraces(s.db.DB)
	if traces {
		_, _, _ = s.Compact() // on a full disk the next start does it
	}
	return errors.Join(err, err2)
}

// Swept returns how many partial copies, left by a program that was killed,
// were taken away when the file was opened.
func (s *DB) Swept() int { return s.swept }

// unchanged returns an error unless f is the file that was seen, or an empty
// one if none was.
func unchanged(f *os.File, seen os.FileInfo) error {
	info, err := f.Stat()
	switch {
	case err != nil:
		return err
	case seen == nil && info.Size() > 0, seen != nil && !os.SameFile(seen, info):
		return errOther
	}
	return nil
}

// inspectOurs looks into the file without the right to write, and returns which
// it was.
func (of Format) inspectOurs(path string) (os.FileInfo, error) {
	db, _, err := of.openOurs(path)
	if err != nil {
		return nil, err
	}
	info, err := db.file.Stat()
	return info, errors.Join(err, db.Close())
}

// openOurs opens the file to be read, if it is ours, not damaged, and not of a
// later version than its own, which it returns.
func (of Format) openOurs(path string) (db *database, version int, err error) {
	damaged := false
	db, err = openBolt(path, true, func(f *os.File) (err error) {
		damaged, err = inspectPages(path, f)
		return err
	})
	if err != nil {
		return nil, 0, err
	}
	err = guard(func() error {
		return db.View(func(tx *bbolt.Tx) (err error) {
			version, err = versionOf(tx)
			return err
		})
	})
	switch {
	case err != nil:
		err = refusal(path, err)
	case version > of.latest():
		err = &Error{
			Path: path, Problem: fmt.Sprintf("was written by a newer shothand (format %d)", version), Kind: ErrNewer,
			Hint: "nothing was changed: run that version, or name another file with --db",
		}
	case damaged:
		err = corrupt(path, "is damaged (a record has a wrong checksum)")
	}
	if err != nil {
		return nil, 0, errors.Join(err, db.Close())
	}
	return db, version, nil
}

// OpenToRead opens a file that is there without the right to write, so that
// what it holds can be read where nothing may be written, and by several at
// once. One of an earlier version is opened as [Format.Open] does, which brings it to
// this one. Nothing is made.
func (of Format) OpenToRead(path string) (*DB, error) {
	if err := There(path); err != nil {
		return nil, err
	}
	if _, err := inspect(path); err != nil {
		return nil, err
	}
	db, version, err := of.openOurs(path)
	if err != nil {
		return nil, err
	}
	if version < of.latest() {
		if err := db.Close(); err != nil {
			return nil, err
		}
		return of.Open(path)
	}
	s := &DB{format: of, db: db, path: path, real: path, broken: make(chan struct{})}
	if err := guard(db.remember); err != nil {
		return nil, errors.Join(refusal(path, err), db.Close())
	}
	return s, nil
}

// openBolt opens the file with bbolt, once it is locked and look has nothing
// against it: bbolt maps it into memory and faults where a page is missing.
// Open to read it does not touch a page but the first two.
func openBolt(path string, readOnly bool, look func(*os.File) error) (*database, error) {
	db := &database{}
	open := func(path string, flag int, _ os.FileMode) (*os.File, error) {
		f, err := openLocked(path, flag, !readOnly)
		if err != nil {
			return nil, err
		}
		if err := look(f); err != nil {
			return nil, errors.Join(err, f.Close())
		}
		db.file = f
		return f, nil
	}
	err := guard(func() (err error) {
		db.DB, err = bbolt.Open(path, fileMode, &bbolt.Options{
			OpenFile: open, ReadOnly: readOnly, FreelistType: bbolt.FreelistMapType, NoStatistics: true,
			Timeout: lockWait,
		})
		return err
	})
	if err != nil {
		return nil, refusal(path, err)
	}
	return db, nil
}

// refusal makes one sentence of what went wrong in opening the file.
func refusal(path string, err error) error {
	if _, ok := errors.AsType[*Error](err); ok || errors.Is(err, errOther) {
		return err
	}
	switch {
	case errors.Is(err, berrors.ErrTimeout):
		return &Error{
			Path: path, Problem: "is in use by another shothand", Kind: ErrLocked, Cause: err,
			Hint: "stop that one first, or name another file with --db",
		}
	case errors.Is(err, ErrForeign):
		return foreign(path)
	}
	if _, ok := errors.AsType[*os.PathError](err); ok {
		return unreachable(path, err)
	}
	return corrupt(path, "is damaged ("+err.Error()+")")
}

// Close closes the file. It waits for transactions to end, unless the file is
// broken.
func (s *DB) Close() error {
	if err := s.Err(); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.db.Close()
}

// Path returns the name of the file.
func (s *DB) Path() string { return s.path }

// View calls read with the records as they are now. A panic in it is returned
// as an error.
func (s *DB) View(read func(*bbolt.Tx) error) error {
	s.views.Add(1)
	s.mu.RLock()
	defer s.mu.RUnlock()
	return s.guard(func() error {
		return s.db.View(read)
	})
}

// Update calls change, and returns nil once all it did is on the disk. An
// error from change undoes what it did and is returned; if the disk refuses,
// the error is [ErrNotSaved].
//
// Updates that come at once share a commit. So change may be called more than
// once, in another goroutine, whatever it returned before: what it assigns
// outside must be assigned anew each time and used only after Update returned
// nil. It must not call View or Update.
func (s *DB) Update(change func(*bbolt.Tx) error) error {
	s.updates.Add(1)
	s.mu.RLock()
	defer s.mu.RUnlock()
	refused := false
	err := s.commit(func(tx *bbolt.Tx) error {
		err := s.guard(func() error { return change(tx) })
		refused = err != nil
		return err
	})
	if err != nil && !refused && s.Err() == nil {
		return fmt.Errorf("%w: %w", ErrNotSaved, err)
	}
	return err
}

// Examine calls read as [DB.View] does, and bears a record that is damaged: that is
// what it is to tell of.
func (s *DB) Examine(read func(*bbolt.Tx) error) error {
	s.mu.RLock()
	defer s.mu.RUnlock()
	if err := s.Err(); err != nil {
		return err
	}
	return guard(func() error { return s.db.View(read) })
}
