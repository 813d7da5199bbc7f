package file

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"go.etcd.io/bbolt"
)

// compactStep is how many bytes of records one commit of a compaction holds:
// a few commits, and little memory.
const compactStep = 8 << 20

// Backup writes a copy of the records as they are at one instant to a new
// file, while others read and write. The copy is on the disk, whole, when it
// has its name. It is checked as the format has it: a torn one is taken away, and one
// whose records do not agree is left, with the error.
func (s *DB) Backup(path string) error {
	var disagrees error
	write := func(f *os.File) error {
		s.mu.RLock()
		defer s.mu.RUnlock()
		return s.look(func(tx *bbolt.Tx) error {
			_, err := tx.WriteTo(f)
			return err
		})
	}
	check := func(path string) error {
		err := s.format.Check(path)
		if _, torn := errors.AsType[*Error](err); torn {
			return fmt.Errorf("the copy is not whole and was taken away: %w", err)
		}
		disagrees = err
		return nil
	}
	if err := newFile(path, write, check); err != nil {
		return err
	}
	if disagrees != nil {
		return fmt.Errorf("%s was written, but its records do not agree: %w", path, disagrees)
	}
	return nil
}

// newFile makes the file at path of what write puts into it, if check has
// nothing against it, or leaves nothing. A file that is there already is not
// replaced.
func newFile(path string, write func(*os.File) error, check func(path string) error) error {
	if _, err := os.Lstat(path); err == nil {
		return &fs.PathError{Op: "make", Path: path, Err: fs.ErrExist}
	}
	return replaceFile(path, write, check)
}

// replaceFile does the same to a file that may be there. The partial file is
// locked as long as it grows: one that is not was left by a program that was
// killed.
func replaceFile(path string, write func(*os.File) error, check func(path string) error) (err error) {
	dir, name := filepath.Dir(path), filepath.Base(path)
	if _, err := sweep(dir, func(of string) bool { return of == name }); err != nil {
		return err
	}
	f, err := os.CreateTemp(dir, "."+name+".*") // its mode is 0600
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(f.Name()) // gone already if it has its name
		}
	}()
	err = lock(f, true)
	if err == nil {
		err = write(f)
	}
	if err == nil {
		err = f.Sync()
	}
	if err := errors.Join(err, f.Close()); err != nil {
		return err
	}
	if err := check(f.Name()); err != nil {
		return err
	}
	if err := os.Rename(f.Name(), path); err != nil {
		return err
	}
	return syncDir(path)
}

// Compact writes the file anew without the room of what is gone, so that
// nothing of it can be read from the disk. Others wait meanwhile. It returns
// the file's size before and after, in bytes.
func (s *DB) Compact() (before, after int64, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if before, err = size(s.real); err != nil {
		return 0, 0, err
	}
	if err := s.rewrite(func(*database) error { return nil }); err != nil {
		return before, 0, fmt.Errorf("compact: %w", err)
	}
	after, err = size(s.real)
	return before, after, err
}

// UpdateAside calls change with a copy of the records, which takes their place
// once change returns nil. All it did is there then, in however many updates,
// or nothing. Nobody else has the copy, so each update of it is called once.
// Others wait meanwhile.
func (s *DB) UpdateAside(change func(*DB) error) error {
	s.updates.Add(1)
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.rewrite(func(fresh *database) error {
		return change(&DB{format: s.format, db: fresh, path: fresh.Path(), real: fresh.Path(), broken: make(chan struct{})})
	})
}

// errTried undoes what was only tried.
var errTried = errors.New("only tried")

// TryAside calls change as [DB.UpdateAside] does and undoes all that it did.
func (s *DB) TryAside(change func(*DB) error) error {
	err := s.UpdateAside(func(aside *DB) error {
		if err := change(aside); err != nil {
			return err
		}
		return errTried
	})
	if errors.Is(err, errTried) {
		return nil
	}
	return err
}

// rewrite puts in the place of the file a copy that change has seen.
func (s *DB) rewrite(change func(*database) error) error {
	temporary := s.real + compactExt
	fresh, err := openBolt(temporary, false, func(*os.File) error { return nil })
	if err != nil {
		return err
	}
	err = s.look(func(*bbolt.Tx) error { return bbolt.Compact(fresh.DB, s.db.DB, compactStep) })
	if err == nil {
		err = errors.Join(fresh.Update(noTraces), alike(fresh.file, s.db.file), fresh.remember())
	}
	if err == nil {
		err = s.guard(func() error { return change(fresh) })
	}
	if err == nil {
		err = errors.Join(fresh.Sync(), fresh.remember(), s.atPath(s.db))
	}
	if err != nil {
		return errors.Join(err, fresh.Close(), os.Remove(temporary))
	}
	return s.swap(fresh, temporary)
}

// alike gives a file that is to take the place of another its mode and its
// owner: whoever could open the one can open the other.
func alike(fresh, old *os.File) error {
	info, err := old.Stat()
	if err != nil {
		return err
	}
	if err := sameOwner(fresh, info); err != nil {
		return err
	}
	if made, err := fresh.Stat(); err != nil || made.Mode().Perm() == info.Mode().Perm() {
		return err
	}
	return fresh.Chmod(info.Mode().Perm())
}

// compactExt is what the name of a file that is being compacted ends in.
const compactExt = ".compact"

// removeCompact takes away what a compaction left that was cut short, and
// reports whether there was something. The file that was to be compacted must be
// locked: no compaction is on its way.
func removeCompact(path string) (bool, error) {
	err := os.Remove(path + compactExt)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil, err
}

func size(path string) (int64, error) {
	info, err := os.Stat(path)
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}
