package file

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// backupName is the name of a backup of an instant; names ascend with time.
const (
	backupName = "20060102T150405Z"
	backupExt  = ".db"
)

// A Keep says how many of the last days, weeks and months that have a backup
// keep their last one. The newest few are kept whatever it says.
type Keep struct{ Days, Weeks, Months int }

// newestKept is how many backups are kept whatever their age: one that was
// asked for is not gone because another was asked for on the same day.
const newestKept = 5

// BackupInto writes a backup into dir, which it makes if need be, named by the
// instant, and takes away those that are not to be kept. It returns the file's
// name. As long as a new one has errors, no old one is taken away.
func (s *DB) BackupInto(dir string, at time.Time, keep Keep) (string, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", err
	}
	if _, err := Sweep(dir); err != nil {
		return "", err
	}
	path := filepath.Join(dir, at.UTC().Format(backupName)+backupExt)
	err := s.Backup(path)
	if err != nil && !errors.Is(err, fs.ErrExist) { // one a second is enough
		return path, err
	}
	backups, err := Backups(dir)
	if err != nil {
		return path, err
	}
	for _, old := range keep.spare(backups, at) {
		err = errors.Join(err, os.Remove(old.Path))
	}
	return path, err
}

// spare returns which backups, in order of time, need not be kept at an
// instant. One of a later instant, when the clock was wrong, is left alone and
// stands for none of the others.
func (k Keep) spare(backups []BackupFile, now time.Time) []BackupFile {
	past := slices.DeleteFunc(slices.Clone(backups), func(b BackupFile) bool { return b.At.After(now) })
	slices.Reverse(past)
	kept := map[time.Time]bool{}
	for _, b := range past[:min(newestKept, len(past))] {
		kept[b.At] = true
	}
	newestOfEach(past, k.Days, kept, func(t time.Time) string { return t.Format(time.DateOnly) })
	newestOfEach(past, k.Weeks, kept, func(t time.Time) string { y, w := t.ISOWeek(); return fmt.Sprint(y, " ", w) })
	newestOfEach(past, k.Months, kept, func(t time.Time) string { return t.Format("2006-01") })
	return slices.DeleteFunc(past, func(b BackupFile) bool { return kept[b.At] })
}

// newestOfEach keeps the first, which is the newest, of each of the first so
// many periods.
func newestOfEach(backups []BackupFile, most int, kept map[time.Time]bool, period func(time.Time) string) {
	seen := map[string]bool{}
	for _, b := range backups {
		if p := period(b.At); !seen[p] && len(seen) < most {
			seen[p], kept[b.At] = true, true
		}
	}
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
		if at, ours := backupTime(f.Name()); ours && f.Type().IsRegular() {
			all = append(all, BackupFile{Path: filepath.Join(dir, f.Name()), At: at})
		}
	}
	slices.SortFunc(all, func(a, b BackupFile) int { return a.At.Compare(b.At) })
	return all, err
}

// LastBackup returns the newest backup in dir that was not made after now; its
// time is zero if there is none.
func LastBackup(dir string, now time.Time) (last BackupFile, err error) {
	backups, err := Backups(dir)
	for _, b := range backups {
		if !b.At.After(now) {
			last = b
		}
	}
	return last, err
}

// backupTime reads the name of a backup.
func backupTime(name string) (time.Time, bool) {
	text, ours := strings.CutSuffix(name, backupExt)
	at, err := time.Parse(backupName, text)
	return at, ours && err == nil
}

// Sweep takes away the partial backups in dir that were left by programs that
// were killed, and returns how many there were.
func Sweep(dir string) (int, error) {
	return sweep(dir, func(of string) bool { _, ours := backupTime(of); return ours })
}

// sweep takes away what [newFile] left in dir of files with such names.
func sweep(dir string, ours func(name string) bool) (n int, err error) {
	files, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	for _, f := range files {
		name, partial := partialOf(f.Name())
		if !partial || !ours(name) || !f.Type().IsRegular() {
			continue
		}
		removed, err2 := removeLeft(filepath.Join(dir, f.Name()))
		if err = errors.Join(err, err2); removed {
			n++
		}
	}
	return n, err
}

// partialOf returns of which file one is a part, by its name.
func partialOf(name string) (string, bool) {
	dot := strings.LastIndexByte(name, '.')
	if dot < 1 || name[0] != '.' || dot == len(name)-1 || strings.Trim(name[dot+1:], "0123456789") != "" {
		return "", false
	}
	return name[1:dot], true
}

// removeLeft removes a partial file unless somebody is writing it.
func removeLeft(path string) (bool, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	if err := tryLock(f, true); err != nil {
		return false, f.Close()
	}
	err = os.Remove(path)
	return err == nil, errors.Join(err, f.Close())
}
