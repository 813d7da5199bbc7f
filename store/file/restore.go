package file

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// Restore puts a copy of the backup at from in the place of the file at path,
// which may be absent or damaged. The copy is checked as the format has it before it
// has the name; the backup is only read. It is refused while another process
// has either of them open. What was there before is kept beside it, under the
// name that is returned, "" if nothing was.
func (of Format) Restore(path, from string, at time.Time) (kept string, err error) {
	if err := There(from); err != nil {
		return "", ofBackup(from, err)
	}
	if _, err := inspect(from); err != nil {
		return "", ofBackup(from, err)
	}
	source, err := openLocked(from, os.O_RDONLY, false)
	if err != nil {
		return "", refusal(from, err)
	}
	defer func() { err = errors.Join(err, source.Close()) }()
	old, err := openLocked(path, os.O_RDWR, true)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", refusal(path, err)
	}
	if old == nil {
		return "", of.restoreNew(path, source)
	}
	defer func() { err = errors.Join(err, old.Close()) }()
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return "", unreachable(path, err)
	}
	kept = real + replacedExt + at.UTC().Format("20060102T150405.000Z")
	write := func(f *os.File) error { return errors.Join(copyAll(f, source), alike(f, old)) }
	check := func(copied string) error {
		if err := of.checkCopy(copied, source.Name()); err != nil {
			return err
		}
		return os.Link(real, kept) // so that there is a file at the path at any instant
	}
	if err := replaceFile(real, write, check); err != nil {
		return "", err
	}
	return kept, nil
}

// Restorable returns why [Format.Restore] refuses a backup whatever its records say: it
// is not there, not ours, damaged or in use.
func (of Format) Restorable(from string) error {
	if err := There(from); err != nil {
		return ofBackup(from, err)
	}
	if _, err := inspect(from); err != nil {
		return ofBackup(from, err)
	}
	db, _, err := of.openOurs(from)
	if err != nil {
		return ofBackup(from, err)
	}
	return db.Close()
}

// replacedExt stands before the instant in the name of what was replaced.
const replacedExt = ".replaced-"

// Replaced returns the files that [Format.Restore] has put aside for the one at path.
func Replaced(path string) (list []string, err error) {
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return nil, err
	}
	files, err := os.ReadDir(filepath.Dir(real))
	for _, f := range files {
		if strings.HasPrefix(f.Name(), filepath.Base(real)+replacedExt) {
			list = append(list, filepath.Join(filepath.Dir(real), f.Name()))
		}
	}
	return list, err
}

// restoreNew makes a file where there is none.
func (of Format) restoreNew(path string, source *os.File) error {
	if err := parentExists(path, fs.ErrNotExist); err != nil {
		return err
	}
	return newFile(path, func(f *os.File) error { return copyAll(f, source) },
		func(copied string) error { return of.checkCopy(copied, source.Name()) })
}

func copyAll(to io.Writer, from io.Reader) error {
	_, err := io.Copy(to, from)
	return err
}

// checkCopy checks the copy of a backup, and names the backup in what it finds.
func (of Format) checkCopy(copied, backup string) error {
	err := of.Check(copied)
	if _, refused := errors.AsType[*Error](err); err != nil && !refused {
		return fmt.Errorf("%s has records that do not agree; nothing was changed: %w", backup, err)
	}
	return ofBackup(backup, err)
}

// ofBackup says of a backup what was said of its copy.
func ofBackup(path string, err error) error {
	e, ok := errors.AsType[*Error](err)
	if !ok {
		return err
	}
	return &Error{Path: path, Problem: e.Problem, Kind: e.Kind, Cause: e.Cause, Hint: "nothing was changed: name another backup"}
}
