package file

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"go.etcd.io/bbolt"
)

// ours is a format of one bucket.
func ours() Format {
	return Format{
		Migrations: []Migration{{1, "a bucket", func(tx *bbolt.Tx) error {
			_, err := tx.CreateBucket([]byte("ours"))
			return err
		}}},
		Check: func(string) error { return nil },
	}
}

func openTest(t *testing.T) *DB {
	t.Helper()
	s, err := ours().Open(filepath.Join(t.TempDir(), "shothand.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() }) // once more where it was closed
	return s
}

func morning() time.Time { return time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC) }

// What comes while a commit is on its way shares the next. One that fails, or
// panics, is undone and told so, alone.
func TestCommitsAreShared(t *testing.T) {
	const many = 60
	s := openTest(t)
	commits := func() (id int) {
		_ = s.View(func(tx *bbolt.Tx) error { id = tx.ID(); return nil })
		return id
	}
	before := commits()
	errBad := errors.New("bad")
	begun, wait := make(chan struct{}), make(chan struct{})
	var all sync.WaitGroup
	all.Go(func() { // holds up the others until all are there
		held := sync.OnceFunc(func() { close(begun); <-wait })
		if err := s.Update(func(*bbolt.Tx) error { held(); return nil }); err != nil {
			t.Error(err)
		}
	})
	<-begun
	errs := make([]error, many)
	for n := range many {
		all.Go(func() {
			errs[n] = s.Update(func(tx *bbolt.Tx) error {
				err := tx.Bucket([]byte("ours")).Put(fmt.Append(nil, "m", n), []byte("x"))
				switch n % 20 {
				case 7:
					return errBad
				case 8:
					panic("worse")
				}
				return err
			})
		})
	}
	for waiting := 0; waiting < many; {
		s.queue.mu.Lock()
		waiting = len(s.queue.waiting)
		s.queue.mu.Unlock()
	}
	close(wait)
	all.Wait()
	for n, err := range errs {
		kept := false
		err2 := s.View(func(tx *bbolt.Tx) error {
			kept = tx.Bucket([]byte("ours")).Get(fmt.Append(nil, "m", n)) != nil
			return nil
		})
		if err2 != nil {
			t.Error(err2)
		}
		switch bad := n%20 == 7 || n%20 == 8; {
		case n%20 == 7 && !errors.Is(err, errBad), n%20 == 8 && (err == nil || errors.Is(err, ErrNotSaved)), !bad && err != nil:
			t.Errorf("%d: %v", n, err)
		case kept == bad:
			t.Errorf("%d: kept: %v", n, kept)
		}
	}
	if n := commits() - before; n > 3 {
		t.Errorf("%d commits for %d updates", n, many+1)
	}
}

// Over half a year of days, what is kept is a week of days, a month of weeks,
// and half a year of months.
func TestBackupsAreKeptByAge(t *testing.T) {
	var backups []BackupFile
	for day := range 200 { // to Thursday, 17 September
		at := morning().AddDate(0, 0, day)
		backups = append(backups, BackupFile{At: at})
		spare := Keep{Days: 7, Weeks: 4, Months: 6}.spare(backups, at)
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
	if _, err := s.BackupInto(dir, morning(), Keep{Days: 7, Weeks: 4, Months: 6}); err != nil {
		t.Fatal(err)
	}
	if err := s.Backup(filepath.Join(dir, "mine.db")); err != nil {
		t.Fatal(err)
	}
	want := []string{".20260301T063000Z.db.", ".20260301T063000Z.db.x", ".notes.1", "20260301.db.1", "20260302T063000Z.db", "mine.db"}
	files, err := os.ReadDir(dir)
	var got []string
	for _, f := range files {
		got = append(got, f.Name())
	}
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("left (-want +got):\n%s", diff)
	}
}

// Whoever waits for a file that is written anew meanwhile gets the new one.
func TestLockedIsWhatThePathMeans(t *testing.T) {
	s := openTest(t)
	waiting := make(chan struct{})
	opened := make(chan *database)
	go func() {
		defer close(opened)
		close(waiting)
		db, err := openBolt(s.Path(), false, func(*os.File) error { return nil })
		if err != nil {
			t.Error(err)
			return
		}
		opened <- db
	}()
	<-waiting
	time.Sleep(50 * time.Millisecond) // it waits for the lock by now
	if _, _, err := s.Compact(); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	db := <-opened
	if db == nil {
		t.Fatal("not opened")
	}
	want, err := os.Stat(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(func(tx *bbolt.Tx) error {
		_, err := tx.CreateBucket([]byte("mine"))
		return err
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	got, err := os.Stat(s.Path())
	if err != nil || !os.SameFile(want, got) {
		t.Errorf("another file is at the path, %v", err)
	}
	again, err := bbolt.Open(s.Path(), 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	err = again.View(func(tx *bbolt.Tx) error {
		if tx.Bucket([]byte("mine")) == nil {
			t.Error("what was written is not in the file")
		}
		return nil
	})
	if err := errors.Join(err, again.Close()); err != nil {
		t.Error(err)
	}
}
