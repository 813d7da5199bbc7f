package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"shothand/store/file"
)

// keepUsual is what a bot keeps.
func keepUsual() file.Keep { return file.Keep{Days: 7, Weeks: 4, Months: 6} }

// names returns the names in a directory.
func names(t *testing.T, dir string) (list []string) {
	t.Helper()
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		list = append(list, f.Name())
	}
	return list
}

// wrote makes the name of a backup of an instant, as if it had been written.
func wrote(t *testing.T, dir string, at time.Time) string {
	t.Helper()
	name := at.UTC().Format("20060102T150405Z") + ".db"
	if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// However many are asked for in one day, the days, weeks and months before it
// keep theirs, the newest is there, and other files stay.
func TestManyBackupsInADay(t *testing.T) {
	s := openTest(t)
	dir := t.TempDir()
	var before []string
	for day := range 8 {
		before = append(before, wrote(t, dir, morning().AddDate(0, 0, day-8)))
	}
	last := ""
	for n := range 14 {
		path, err := s.BackupInto(dir, morning().Add(time.Duration(n)*time.Minute), keepUsual())
		if err != nil {
			t.Fatal(err)
		}
		last = filepath.Base(path)
		if err := os.WriteFile(filepath.Join(dir, "notes.db"), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := s.BackupInto(dir, morning().Add(13*time.Minute), keepUsual()); err != nil { // again in the same second
		t.Fatal(err)
	}
	after := names(t, dir)
	// Of 22 February to 1 March two are neither of the last seven days, which
	// are 24 February to 2 March, nor the last of their week or month.
	for _, name := range append(before[2:], last, "notes.db") {
		if !slices.Contains(after, name) {
			t.Errorf("%s is gone", name)
		}
	}
	if want := 7 + 5 + 1; len(after) != want {
		t.Errorf("%d files, want %d: %v", len(after), want, after)
	}
}

// Whatever the clock says and whatever is to be kept, the backup that was just
// made is kept, and no backup of a later instant is taken away or counts.
func TestBackupsWhenTheClockIsWrong(t *testing.T) {
	s := openTest(t)
	dir := t.TempDir()
	var later []string
	for day := range 20 { // made while the clock was a year ahead
		later = append(later, wrote(t, dir, morning().AddDate(1, 0, day)))
	}
	for day := range 10 {
		at := morning().AddDate(0, 0, day)
		path, err := s.BackupInto(dir, at, file.Keep{Days: 7})
		if err != nil {
			t.Fatal(err)
		}
		if last, err := file.LastBackup(dir, at); err != nil || last.Path != path {
			t.Errorf("the last is %s, %v, want %s", last.Path, err, path)
		}
	}
	got := names(t, dir)
	if len(got) != 7+len(later) || !slices.Equal(got[7:], later) {
		t.Errorf("kept: %v", got)
	}
}

// What a compaction left that was cut short is taken away by whoever opens the
// file next.
func TestPartialCompactionIsSwept(t *testing.T) {
	path := fileWith(t, wellUsed(t))
	if err := os.WriteFile(path+".compact", []byte("mara"), 0o600); err != nil {
		t.Fatal(err)
	}
	s := reopen(t, path)
	if s.Swept() != 1 {
		t.Errorf("%d swept", s.Swept())
	}
	if _, err := os.Stat(path + ".compact"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("left: %v", err)
	}
}

// A backup is checked: one whose records do not agree is left, with an error,
// and no old one goes for it.
func TestBackupIsChecked(t *testing.T) {
	s, err := Open(fileWith(t, wellUsed(t)))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for day := range 8 {
		if _, err := s.BackupInto(dir, morning().AddDate(0, 0, day), file.Keep{}); err != nil {
			t.Fatal(err)
		}
	}
	before := names(t, dir)
	update(t, s, func(tx *Tx) error { return tx.index(1, bucketMessages, textKey("nobody's"), idKey(uint64(99))) })
	path, err := s.BackupInto(dir, morning().AddDate(0, 0, 9), file.Keep{})
	if err == nil || !strings.Contains(err.Error(), "do not agree") {
		t.Errorf("backed up with %v", err)
	}
	if want := append(before, filepath.Base(path)); !slices.Equal(want, names(t, dir)) {
		t.Errorf("there are %v, want %v", names(t, dir), want)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}

// Through a link the file itself is compacted, and the link stays one.
func TestCompactThroughALink(t *testing.T) {
	path := fileWith(t, wellUsed(t))
	link := filepath.Join(t.TempDir(), "link.db")
	if err := os.Symlink(path, link); err != nil {
		t.Fatal(err)
	}
	s := reopen(t, link)
	before := hash(t, path)
	if _, _, err := s.Compact(); err != nil {
		t.Fatal(err)
	}
	add(t, s, 1, entry("", morning(), shot(1, 1)))
	if hash(t, path) == before {
		t.Error("the file is as it was")
	}
	if target, err := os.Readlink(link); err != nil || target != path {
		t.Errorf("the link is %q, %v", target, err)
	}
	if left := names(t, filepath.Dir(link)); len(left) != 1 {
		t.Errorf("left beside the link: %v", left)
	}
}
