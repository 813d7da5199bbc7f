package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"go.etcd.io/bbolt"
)

// compactStep is how many bytes of records one commit of a compaction holds:
// a few commits, and little memory.
const compactStep = 8 << 20

// Backup writes a copy of the records as they are at one instant to a new
// file, while others read and write. The copy is on the disk, whole, when it
// has its name.
func (s *Store) Backup(path string) error {
	return newFile(path, func(f *os.File) error {
		s.mu.RLock()
		defer s.mu.RUnlock()
		return s.look(func(tx *bbolt.Tx) error {
			_, err := tx.WriteTo(f)
			return err
		})
	})
}

// newFile makes the file at path of what write puts into it, or leaves nothing.
// A file that is there already is not replaced.
func newFile(path string, write func(*os.File) error) (err error) {
	if _, err := os.Lstat(path); err == nil {
		return &fs.PathError{Op: "make", Path: path, Err: fs.ErrExist}
	}
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*") // its mode is 0600
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(f.Name()) // gone already if it has its name
		}
	}()
	err = write(f)
	if err == nil {
		err = f.Sync()
	}
	if err := errors.Join(err, f.Close()); err != nil {
		return err
	}
	if err := os.Rename(f.Name(), path); err != nil {
		return err
	}
	return syncDir(path)
}

// backupName is the name of a backup of an instant; names ascend with time.
const (
	backupName = "20060102T150405Z"
	backupExt  = ".db"
)

// BackupInto writes a backup into dir, which it makes if need be, named by the
// instant, and takes away the oldest ones beyond keep. It returns the file's
// name.
func (s *Store) BackupInto(dir string, at time.Time, keep int) (string, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", err
	}
	path := filepath.Join(dir, at.UTC().Format(backupName)+backupExt)
	err := s.Backup(path)
	if err != nil && !errors.Is(err, fs.ErrExist) { // one a second is enough
		return "", err
	}
	backups, err := Backups(dir)
	if err != nil {
		return path, err
	}
	for _, old := range backups[:max(0, len(backups)-max(keep, 1))] {
		err = errors.Join(err, os.Remove(old.Path))
	}
	return path, err
}

// A BackupFile is one backup in a directory.
type BackupFile struct {
	Path string
	At   time.Time
}

// Backups returns the backups in dir, oldest first: none if it is not there.
// Other files are left alone.
func Backups(dir string) ([]BackupFile, error) {
	files, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var all []BackupFile
	for _, f := range files {
		name, ours := strings.CutSuffix(f.Name(), backupExt)
		if at, err := time.Parse(backupName, name); err == nil && ours && f.Type().IsRegular() {
			all = append(all, BackupFile{Path: filepath.Join(dir, f.Name()), At: at})
		}
	}
	slices.SortFunc(all, func(a, b BackupFile) int { return a.At.Compare(b.At) })
	return all, err
}

// Compact writes the file anew without the room of what is gone, so that
// nothing of it can be read from the disk. Others wait meanwhile. It returns
// the file's size before and after, in bytes.
func (s *Store) Compact() (before, after int64, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if before, err = size(s.path); err != nil {
		return 0, 0, err
	}
	temporary := s.path + ".compact"
	if err := os.Remove(temporary); err != nil && !errors.Is(err, fs.ErrNotExist) { // of a try cut short
		return 0, 0, err
	}
	fresh, err := openBolt(temporary, false, func(*os.File) error { return nil })
	if err != nil {
		return 0, 0, err
	}
	err = s.look(func(*bbolt.Tx) error { return bbolt.Compact(fresh.DB, s.db.DB, compactStep) })
	if err == nil {
		err = errors.Join(fresh.Sync(), fresh.remember(), s.atPath(s.db))
	}
	if err == nil {
		err = os.Rename(temporary, s.path) // both are locked: nobody comes between
	}
	if err != nil {
		return 0, 0, errors.Join(fmt.Errorf("compact: %w", err), fresh.Close(), os.Remove(temporary))
	}
	old := s.db
	s.db = fresh
	if err := errors.Join(syncDir(s.path), old.Close()); err != nil {
		return before, 0, err
	}
	after, err = size(s.path)
	return before, after, err
}

func size(path string) (int64, error) {
	info, err := os.Stat(path)
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}
