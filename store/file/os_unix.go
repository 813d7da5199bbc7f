//go:build unix

package file

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
)

// tryLock takes the lock of a file that bbolt takes as well, if nobody else has
// it.
func tryLock(f *os.File, exclusive bool) error {
	how := syscall.LOCK_SH
	if exclusive {
		how = syscall.LOCK_EX
	}
	return syscall.Flock(int(f.Fd()), how|syscall.LOCK_NB)
}

// isBusy reports whether a lock may be had by trying again.
func isBusy(err error) bool {
	return errors.Is(err, syscall.EWOULDBLOCK) || errors.Is(err, syscall.EINTR)
}

// swap puts a file that is open in the place of the one of the store. Both are
// locked: nobody comes between.
func (s *DB) swap(fresh *database, temporary string) error {
	if err := os.Rename(temporary, s.real); err != nil {
		return errors.Join(err, fresh.Close(), os.Remove(temporary))
	}
	old := s.db
	s.db = fresh
	return errors.Join(syncDir(s.real), old.Close())
}

// sameOwner gives fresh the owner of the file that it takes the place of.
func sameOwner(fresh *os.File, old os.FileInfo) error {
	owner, ok := old.Sys().(*syscall.Stat_t)
	if !ok || int(owner.Uid) == os.Geteuid() {
		return nil
	}
	return fresh.Chown(int(owner.Uid), int(owner.Gid))
}

// syncDir makes the name of a new file last.
func syncDir(path string) error {
	dir, err := os.Open(filepath.Dir(path))
	if err != nil {
		return err
	}
	return errors.Join(dir.Sync(), dir.Close())
}
