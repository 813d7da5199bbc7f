package store

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// A backup holds what stood when it was begun, while others write.
func TestBackupWhileWriting(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	dir := t.TempDir()
	var writers sync.WaitGroup
	for n := range 4 {
		writers.Go(func() {
			for m := range 25 {
				at := morning().Add(time.Duration(25*n+m) * time.Second)
				add(t, s, c.bar, entry(fmt.Sprint("m", n, "-", m), at, shot(c.harbour, c.left)))
			}
		})
	}
	var copies []string
	for n := range 5 {
		path := filepath.Join(dir, fmt.Sprint(n, ".db"))
		if err := s.Backup(path); err != nil {
			t.Fatal(err)
		}
		copies = append(copies, path)
	}
	writers.Wait()
	last := filepath.Join(dir, "last.db")
	if err := s.Backup(last); err != nil {
		t.Fatal(err)
	}
	for _, path := range append(copies, last) {
		if err := Check(path); err != nil {
			t.Error(err)
		}
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("mode %v, %v", info.Mode(), err)
		}
	}
	closeChecked(t, s)
	if diff := cmp.Diff(contents(t, s.Path()), contents(t, last)); diff != "" {
		t.Errorf("the last backup (-file +backup):\n%s", diff)
	}
	if left, err := filepath.Glob(filepath.Join(dir, ".*")); err != nil || left != nil {
		t.Errorf("left behind: %v %v", left, err)
	}
}

// A backup never takes the place of a file, and one that fails leaves none.
func TestBackupRefused(t *testing.T) {
	s := openTest(t)
	path := filepath.Join(t.TempDir(), "there.db")
	if err := os.WriteFile(path, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := s.Backup(path); !errors.Is(err, fs.ErrExist) {
		t.Errorf("over a file: %v", err)
	}
	if b, err := os.ReadFile(path); err != nil || string(b) != "mine" {
		t.Errorf("the file is %q, %v", b, err)
	}
	if err := s.Backup(filepath.Join(t.TempDir(), "no", "such.db")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("into no directory: %v", err)
	}
}

// Compaction keeps every record and goes on counting where it was, while
// others read and write.
func TestCompact(t *testing.T) {
	s := reopen(t, fileWith(t, wellUsed(t)))
	var bars []bar.Bar
	view(t, s, func(tx *Tx) (err error) {
		bars, err = tx.Bars()
		return err
	})
	was := add(t, s, bars[0].ID, entry("before", morning(), shot(1, 1)))
	var others sync.WaitGroup
	for n := range 20 {
		others.Go(func() {
			add(t, s, bars[0].ID, entry(fmt.Sprint("during", n), morning(), shot(1, 1)))
			view(t, s, func(tx *Tx) error {
				_, err := tx.Entry(bars[0].ID, was.ID)
				return err
			})
		})
	}
	if _, _, err := s.Compact(); err != nil {
		t.Fatal(err)
	}
	others.Wait()
	before, after, err := s.Compact()
	if err != nil || after > before {
		t.Errorf("from %d to %d bytes, %v", before, after, err)
	}
	next := add(t, s, bars[0].ID, entry("after", morning(), shot(1, 1)))
	if want := was.ID + 21; next.ID != want {
		t.Errorf("the next entry is %d, want %d", next.ID, want)
	}
	if _, err := os.Stat(s.Path() + ".compact"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("left behind: %v", err)
	}
	if _, err := Open(s.Path()); !errors.Is(err, file.ErrLocked) {
		t.Errorf("a second process: %v", err)
	}
}

// What is done aside is there as a whole or not at all, in however many updates,
// and others go on in the new file.
func TestUpdateAside(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shothand.db")
	s := reopen(t, path)
	b := harbourLane(t, s).bar
	entries := func(s *Store) (n int) {
		view(t, s, func(tx *Tx) error { return tx.EachEntry(b, func(bar.Entry) error { n++; return nil }) })
		return n
	}
	three := func(err error) func(*Store) error {
		return func(aside *Store) error {
			for n := range 3 {
				add(t, aside, b, entry(fmt.Sprint(n), morning(), shot(1, 1)))
			}
			if n := entries(aside); n < 3 {
				t.Errorf("%d entries aside", n)
			}
			return err
		}
	}
	refused := errors.New("refused")
	for _, test := range []struct {
		do   func(func(*Store) error) error
		with error
		want int
	}{{s.UpdateAside, refused, 0}, {s.TryAside, nil, 0}, {s.TryAside, refused, 0}, {s.UpdateAside, nil, 3}} {
		if err := test.do(three(test.with)); !errors.Is(err, test.with) {
			t.Errorf("%v, want %v", err, test.with)
		}
		if n := entries(s); n != test.want {
			t.Errorf("%d entries, want %d", n, test.want)
		}
		if left, err := filepath.Glob(path + "?*"); err != nil || left != nil {
			t.Error("left behind:", left, err)
		}
	}
	if err := s.UpdateAside(func(*Store) error { panic("aside") }); err == nil || s.Err() != nil {
		t.Error(err, s.Err())
	}
	add(t, s, b, entry("after", morning(), shot(1, 1)))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if n := entries(reopen(t, path)); n != 4 {
		t.Errorf("%d entries after it was opened again", n)
	}
}

// A forgotten person is in no byte of the file once it was opened again, if it
// was not compacted.
func TestForgetCutShort(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shothand.db")
	s := reopen(t, path)
	c := harbourLane(t, s)
	own := entry("18 36 28 sour, mara", morning(), shot(c.harbour, c.left))
	own.Person, own.Message = c.mara, "m1"
	add(t, s, c.bar, own)
	update(t, s, func(tx *Tx) error {
		_, err := tx.Forget(c.bar, "1001")
		return err
	})
	closeChecked(t, s)
	for range 2 { // the second time there is nothing to do
		s = reopen(t, path)
		view(t, s, func(tx *Tx) error {
			if tx.tx.Bucket([]byte("shothand")).Get([]byte("traces")) != nil {
				t.Error("traces are left")
			}
			return nil
		})
		closeChecked(t, s)
		b, err := os.ReadFile(path)
		if err != nil || bytes.Contains(bytes.ToLower(b), []byte("mara")) {
			t.Errorf("mara is still in the file, %v", err)
		}
	}
}

// A forgotten person is in no byte of the file after it was compacted. Their
// shots stay.
func TestForget(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	update(t, s, func(tx *Tx) error {
		_, err := tx.PersonOf(c.bar, "1002", "jo")
		return err
	})
	own := entry("18 36 28 sour", morning(), shot(c.harbour, c.left))
	own.Person, own.Message = c.mara, "m1"
	own = add(t, s, c.bar, own)
	other := entry("mara's, Maraschino and MARA, 18 36 29", morning(), shot(c.harbour, c.left))
	other.Person, other.Message = 2, "m2"
	unread := other.What.(bar.Shot)
	unread.Unread = []string{"mara", "maraschino"}
	other.What = unread
	other = add(t, s, c.bar, other)
	update(t, s, func(tx *Tx) error {
		known, err := tx.Forget(c.bar, "1001")
		if !known {
			t.Error("mara is not known")
		}
		return err
	})
	update(t, s, func(tx *Tx) error {
		known, err := tx.Forget(c.bar, "1001")
		if known {
			t.Error("mara is still known")
		}
		return err
	})
	if _, _, err := s.Compact(); err != nil {
		t.Fatal(err)
	}
	view(t, s, func(tx *Tx) error {
		first, err1 := tx.Entry(c.bar, own.ID)
		second, err2 := tx.Entry(c.bar, other.ID)
		if diff := cmp.Diff(own.What, first.What); diff != "" || first.Person != c.mara {
			t.Errorf("mara's shot (-want +got):\n%s", diff)
		}
		if want := "–'s, Maraschino and –, 18 36 29"; second.Raw != want {
			t.Errorf("%q, want %q", second.Raw, want)
		}
		if diff := cmp.Diff([]string{"maraschino"}, second.What.(bar.Shot).Unread); diff != "" {
			t.Errorf("unread (-want +got):\n%s", diff)
		}
		return errors.Join(err1, err2)
	})
	closeChecked(t, s)
	b, err := os.ReadFile(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	b = bytes.ReplaceAll(bytes.ToLower(b), []byte("maraschino"), nil)
	for _, trace := range []string{"mara", "1001", "28 sour"} {
		if bytes.Contains(b, []byte(trace)) {
			t.Errorf("%q is still in the file", trace)
		}
	}
}
