package file

import (
	"errors"
	"io/fs"
	"os"
	"time"

	berrors "go.etcd.io/bbolt/errors"
)

const (
	// lockWait is how long to wait for another process to let go of the file.
	lockWait = 500 * time.Millisecond
	// lockEvery is how long to wait between two tries.
	lockEvery = 10 * time.Millisecond
)

// openLocked opens the file at path and locks it, as the one that writes or as
// one of those that read. Whoever had it may have put another file in its
// place meanwhile, as [DB.Compact] does; then that one is opened: what is
// locked is what the path means.
func openLocked(path string, flag int, exclusive bool) (*os.File, error) {
	for {
		f, err := os.OpenFile(path, flag, fileMode)
		if err != nil {
			return nil, err
		}
		same := false
		if err = lock(f, exclusive); err == nil {
			same, err = isAt(f, path)
		}
		if same && err == nil {
			return f, nil
		}
		if err := errors.Join(err, f.Close()); err != nil {
			return nil, err
		}
	}
}

// lock takes the lock of a file that is open, the same that bbolt takes: it
// belongs to the open file, so taking it twice is taking it once.
func lock(f *os.File, exclusive bool) error {
	for waited := time.Duration(0); ; waited += lockEvery {
		err := tryLock(f, exclusive)
		switch {
		case err == nil:
			return nil
		case !isBusy(err):
			return &os.PathError{Op: "lock", Path: f.Name(), Err: err}
		case waited >= lockWait:
			return berrors.ErrTimeout
		}
		time.Sleep(lockEvery)
	}
}

// isAt reports whether the open file is the one at path.
func isAt(f *os.File, path string) (bool, error) {
	open, err := f.Stat()
	if err != nil {
		return false, err
	}
	there, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil && os.SameFile(open, there), err
}
