package store

import (
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// keepUsual is what a bot keeps.
func keepUsual() Keep { return Keep{Days: 7, Weeks: 4, Months: 6} }

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
	name := at.Format(backupName) + backupExt
	if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// Over half a year of days, what is kept is a week of days, a month of weeks,
// and half a year of months.
func TestBackupsAreKeptByAge(t *testing.T) {
	var backups []BackupFile
	for day := range 200 { // to Thursday, 17 September
		at := morning().AddDate(0, 0, day)
		backups = append(backups, BackupFile{At: at})
		spare := keepUsual().spare(backups, at)
		backups = slices.DeleteFunc(backups, func(b BackupFile) bool { return slices.Contains(spare, b) })
	}
	var got []string
	for _, b := range backups {
		got = append(got, b.At.Format(time.DateOnly))
	}
	want := []string{
		"2026-04-30", "2026-05-31", "2026-06-30", "2026-07-31", "2026-08-30", "2026-08-31", "2026-09-06",
		"2026-09-11", "2026-09-12", "2026-09-13", "2026-09-14", "2026-09-15", "2026-09-16", "2026-09-17",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("kept (-want +got):\n%s", diff)
	}
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
	if want := 7 + newestKept + 1; len(after) != want {
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
		path, err := s.BackupInto(dir, at, Keep{Days: 7})
		if err != nil {
			t.Fatal(err)
		}
		if last, err := LastBackup(dir, at); err != nil || last.Path != path {
			t.Errorf("the last is %s, %v, want %s", last.Path, err, path)
		}
	}
	got := names(t, dir)
	if len(got) != 7+len(later) || !slices.Equal(got[7:], later) {
		t.Errorf("kept: %v", got)
	}
}

// The newest is kept, and nothing but what is old is spare, whatever there is.
func TestSpare(t *testing.T) {
	dice := rand.New(rand.NewPCG(7, 4))
	for range 300 {
		var backups []BackupFile
		for range dice.IntN(60) {
			backups = append(backups, BackupFile{At: morning().Add(time.Duration(dice.Int64N(int64(300 * 24 * time.Hour))))})
		}
		slices.SortFunc(backups, func(a, b BackupFile) int { return a.At.Compare(b.At) })
		now := morning().Add(time.Duration(dice.Int64N(int64(300 * 24 * time.Hour))))
		keep := Keep{dice.IntN(9), dice.IntN(5), dice.IntN(7)}
		spare := keep.spare(backups, now)
		past := slices.DeleteFunc(slices.Clone(backups), func(b BackupFile) bool { return b.At.After(now) })
		for _, b := range spare {
			if b.At.After(now) || b == past[len(past)-1] {
				t.Fatalf("%v is spare at %v", b.At, now)
			}
		}
		if kept := len(past) - len(spare); kept > newestKept+keep.Days+keep.Weeks+keep.Months || kept < min(len(past), newestKept) {
			t.Fatalf("%d of %d kept by %+v", kept, len(past), keep)
		}
	}
}

// What a backup left that was cut short is taken away before the next one, and
// nothing else is, nor one that is being written.
func TestPartialBackupsAreSwept(t *testing.T) {
	s := openTest(t)
	dir := t.TempDir()
	write := func(name string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte("part"), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	for _, name := range []string{
		".20260301T063000Z.db.123", ".20260302T063000Z.db.9", // left
		".notes.1", ".20260301T063000Z.db.x", ".20260301T063000Z.db.", "20260301.db.1", ".mine.db.7", // not ours
	} {
		write(name)
	}
	growing, err := os.Open(write(".20260303T063000Z.db.5"))
	if err != nil {
		t.Fatal(err)
	}
	if err := tryLock(growing, true); err != nil {
		t.Fatal(err)
	}
	if n, err := Sweep(dir); n != 2 || err != nil {
		t.Errorf("%d swept, %v", n, err)
	}
	if err := growing.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := s.BackupInto(dir, morning(), keepUsual()); err != nil {
		t.Fatal(err)
	}
	if err := s.Backup(filepath.Join(dir, "mine.db")); err != nil {
		t.Fatal(err)
	}
	want := []string{".20260301T063000Z.db.", ".20260301T063000Z.db.x", ".notes.1", "20260301.db.1", "20260302T063000Z.db", "mine.db"}
	if diff := cmp.Diff(want, names(t, dir)); diff != "" {
		t.Errorf("left (-want +got):\n%s", diff)
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
		if _, err := s.BackupInto(dir, morning().AddDate(0, 0, day), Keep{}); err != nil {
			t.Fatal(err)
		}
	}
	before := names(t, dir)
	update(t, s, func(tx *Tx) error { return tx.index(1, bucketMessages, textKey("nobody's"), idKey(uint64(99))) })
	path, err := s.BackupInto(dir, morning().AddDate(0, 0, 9), Keep{})
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
