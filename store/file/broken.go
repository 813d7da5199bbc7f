package file

import (
	"errors"
	"fmt"
	"math"
	"os"
	"runtime"
	"runtime/debug"
	"strings"
	"sync/atomic"

	"go.etcd.io/bbolt"
)

// A database is a file that is open.
type database struct {
	*bbolt.DB
	file *os.File
	last atomic.Int64 // the id of the last commit, 0 if not known
}

// remember notes the last commit.
func (db *database) remember() error {
	return db.View(func(tx *bbolt.Tx) error {
		db.last.Store(int64(tx.ID()))
		return nil
	})
}

// Broken is closed when the file was cut short, overwritten, moved away or
// replaced while it was open. From then on nothing is read or taken, Close does
// not wait, and there is nothing to do but to end: bbolt's locks may be held
// for ever.
func (s *DB) Broken() <-chan struct{} { return s.broken }

// Err returns what broke the file, or nil. It never waits.
func (s *DB) Err() error {
	select {
	case <-s.broken:
		return s.why
	default:
		return nil
	}
}

// fail notes that the file is broken, and returns the first error that was.
func (s *DB) fail(why *Error) error {
	s.breaking.Do(func() {
		s.why = why
		close(s.broken)
	})
	return s.Err()
}

func (s *DB) overwritten(cause error) error {
	return s.fail(&Error{
		Path: s.path, Problem: "was cut short or overwritten while it was open", Kind: ErrCorrupt, Cause: cause,
		Hint: "nothing more was written: put a backup in its place",
	})
}

func (s *DB) movedAway() error {
	return s.fail(&Error{
		Path: s.path, Problem: "was moved away or replaced while it was open", Kind: ErrCorrupt,
		Hint: "nothing more was taken: see what is there now, and start again",
	})
}

// Look finds out whether the file was broken while nobody used it, and
// returns [DB.Err]. It may wait for ever if the file breaks at this moment.
func (s *DB) Look() error {
	s.mu.RLock()
	defer s.mu.RUnlock()
	if err := s.look(func(*bbolt.Tx) error { return nil }); err != nil {
		return err
	}
	return s.atPath(s.db)
}

// look calls read if the file is sound.
func (s *DB) look(read func(*bbolt.Tx) error) error {
	last := s.db.last.Load()
	return s.guard(func() error {
		return s.db.View(func(tx *bbolt.Tx) error {
			if err := s.sound(s.db, tx, last); err != nil {
				return err
			}
			return read(tx)
		})
	})
}

// sound returns an error if the file is not as this program left it: shorter
// than what is in use of it, or with another commit than the last, which is 0
// if it is not known. To a reader there may be later ones.
func (s *DB) sound(db *database, tx *bbolt.Tx, last int64) error {
	info, err := db.file.Stat()
	if err != nil {
		return err
	}
	found, latest := int64(tx.ID()), int64(math.MaxInt64)
	if tx.Writable() {
		found, latest = found-1, last
	}
	if tx.Size() > info.Size() || last > 0 && (found < last || found > latest) {
		return s.overwritten(nil)
	}
	return nil
}

// atPath returns an error if the path means another file than the open one.
func (s *DB) atPath(db *database) error {
	if same, err := isAt(db.file, s.path); err == nil && !same {
		return s.movedAway()
	}
	return nil // also if it cannot be told
}

// guard calls f and returns its panic as an error. What can only come of a
// file that was changed from outside breaks the store.
func (s *DB) guard(f func() error) error {
	if err := s.Err(); err != nil {
		return err
	}
	err := guard(f)
	if p, ok := errors.AsType[*panicked](err); ok && p.ofFile || errors.Is(err, ErrDamaged) {
		return s.overwritten(err)
	}
	return err
}

// A panicked is an error that was a panic.
type panicked struct {
	error
	ofFile bool // a page was missing or not what bbolt left there
}

// Unwrap returns what the panic was about.
func (p *panicked) Unwrap() error { return p.error }

// guard calls f and returns its panic as an error, even that of a page that
// has gone from under the memory map.
func guard(f func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		switch p := recover().(type) {
		case nil:
		case error:
			_, fault := p.(interface{ Addr() uintptr })
			err = &panicked{fmt.Errorf("panic: %w", p), fault || fromBolt()}
		default:
			err = &panicked{fmt.Errorf("panic: %v", p), fromBolt()}
		}
	}()
	return f()
}

// fromBolt reports whether the panic that was just recovered came from bbolt,
// which panics where a page is not what it should be.
func fromBolt() bool {
	var at [64]uintptr
	frames := runtime.CallersFrames(at[:runtime.Callers(1, at[:])])
	for panicking, more := false, true; more; {
		var f runtime.Frame
		f, more = frames.Next()
		ofRuntime := strings.HasPrefix(f.Function, "runtime.")
		if panicking && !ofRuntime {
			return strings.HasPrefix(f.Function, "go.etcd.io/bbolt")
		}
		panicking = panicking || f.Function == "runtime.gopanic"
	}
	return false
}
