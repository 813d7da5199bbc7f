package file

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// lockAt is which byte of a file is locked, in two halves. It is another than
// bbolt's, since here a file that is locked twice by one process is refused;
// and beyond any file, since what is locked cannot be read.
const lockAt = 1 << 30

// tryLock locks a file, if nobody else has.
func tryLock(f *os.File, exclusive bool) error {
	how := uint32(windows.LOCKFILE_FAIL_IMMEDIATELY)
	if exclusive {
		how |= windows.LOCKFILE_EXCLUSIVE_LOCK
	}
	return windows.LockFileEx(windows.Handle(f.Fd()), how, 0, 1, 0, &windows.Overlapped{OffsetHigh: lockAt})
}

// isBusy reports whether a lock may be had by trying again.
func isBusy(err error) bool { return errors.Is(err, windows.ERROR_LOCK_VIOLATION) }

// swap puts a file in the place of the one of the store. A file that is open
// cannot be renamed here, nor replaced, so both are closed meanwhile.
func (s *DB) swap(fresh *database, temporary string) error {
	err := errors.Join(fresh.Close(), s.db.Close(), os.Rename(temporary, s.real))
	db, gone := openBolt(s.real, false, func(*os.File) error { return nil })
	if gone == nil {
		gone = db.remember()
	}
	if gone != nil {
		return errors.Join(err, s.fail(unreachable(s.path, gone)))
	}
	s.db = db
	return err
}

// sameOwner does nothing: who may open a file follows from its directory.
func sameOwner(*os.File, os.FileInfo) error { return nil }

// syncDir does nothing: a directory cannot be synchronised here.
func syncDir(string) error { return nil }
