package store

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// wellUsed returns the bytes of a file with overflowing pages, branch pages,
// free pages, and inline buckets.
func wellUsed(t testing.TB) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "used.db")
	s := reopen(t, path)
	c := harbourLane(t, s)
	for n := range 6 {
		update(t, s, func(tx *Tx) error {
			for m := range 10 {
				at := morning().Add(time.Duration(10*n+m) * time.Minute)
				e := entry(fmt.Sprint("m", 10*n+m), at, shot(c.harbour, c.left))
				if m == 0 {
					e.Raw = strings.Repeat("long ", 2000)
				}
				if _, err := tx.AddEntry(c.bar, e); err != nil {
					return err
				}
			}
			return nil
		})
	}
	closeChecked(t, s)
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func fileWith(t testing.TB, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shothand.db")
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func hash(t testing.TB, path string) [32]byte {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return sha256.Sum256(b)
}

// refused checks that the file is refused for that reason, in one sentence
// that names it, and is not changed by a byte.
func refused(t *testing.T, path string, kind error) {
	t.Helper()
	var before [32]byte
	info, statErr := os.Stat(path)
	regular := statErr == nil && info.Mode().IsRegular()
	if regular {
		before = hash(t, path)
	}
	s, err := Open(path)
	if err == nil {
		_ = s.Close()
		t.Fatalf("opened, want %v", kind)
	}
	if !errors.Is(err, kind) {
		t.Errorf("%v, want %v", err, kind)
	}
	if _, ok := errors.AsType[*file.Error](err); !ok {
		t.Errorf("%v: no file.Error", err)
	}
	if text := err.Error(); !strings.HasPrefix(text, path+" ") || strings.ContainsAny(text, "\n\t") || strings.Contains(text, ". ") {
		t.Errorf("not one sentence that names the file: %q", text)
	}
	if regular && hash(t, path) != before {
		t.Error("the file was changed")
	}
	if _, err := os.Stat(path); statErr != nil && err == nil {
		t.Error("a file was made")
	}
}

// boltFile makes a bbolt file of somebody else.
func boltFile(t *testing.T, options *bbolt.Options, fill func(*bbolt.Tx) error) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "other.db")
	db, err := bbolt.Open(path, 0o600, options)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(db.Update(fill), db.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestRefusedFiles(t *testing.T) {
	bucket := func(name string) func(*bbolt.Tx) error {
		return func(tx *bbolt.Tx) error { _, err := tx.CreateBucket([]byte(name)); return err }
	}
	for _, test := range []struct {
		name string
		kind error
		path func(t *testing.T) string
	}{
		{"text", file.ErrForeign, func(t *testing.T) string { return fileWith(t, []byte("18.1 36.4 24 sour\n")) }},
		{"long text", file.ErrForeign, func(t *testing.T) string { return fileWith(t, []byte(strings.Repeat("sour and thin\n", 5000))) }},
		{"zeros", file.ErrForeign, func(t *testing.T) string { return fileWith(t, make([]byte, 1<<16)) }},
		{"one byte", file.ErrForeign, func(t *testing.T) string { return fileWith(t, []byte{0}) }},
		{"somebody else's bbolt", file.ErrForeign, func(t *testing.T) string { return boltFile(t, nil, bucket("sessions")) }},
		{"a bbolt that bbolt would rewrite", file.ErrForeign, func(t *testing.T) string {
			return boltFile(t, &bbolt.Options{NoFreelistSync: true}, bucket("sessions"))
		}},
		{"a bucket of our name", file.ErrForeign, func(t *testing.T) string { return boltFile(t, nil, bucket("shothand")) }},
		{"newer", file.ErrNewer, func(t *testing.T) string {
			return boltFile(t, nil, func(tx *bbolt.Tx) error { return setVersion(tx, len(migrations())+1) })
		}},
		{"no version", file.ErrCorrupt, func(t *testing.T) string {
			return boltFile(t, nil, func(tx *bbolt.Tx) error { return setVersion(tx, -1) })
		}},
		{"in use", file.ErrLocked, func(t *testing.T) string {
			path := filepath.Join(t.TempDir(), "shothand.db")
			reopen(t, path)
			return path
		}},
		{"directory", file.ErrAccess, func(t *testing.T) string { return t.TempDir() }},
		{"no directory", file.ErrAccess, func(t *testing.T) string { return filepath.Join(t.TempDir(), "none", "shothand.db") }},
		{"below a file", file.ErrAccess, func(t *testing.T) string { return filepath.Join(fileWith(t, []byte("text")), "shothand.db") }},
		{"device", file.ErrAccess, func(*testing.T) string { return os.DevNull }},
	} {
		t.Run(test.name, func(t *testing.T) { refused(t, test.path(t), test.kind) })
	}
}

// A file nobody may read is refused. (The superuser may.)
func TestForbiddenFile(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("the superuser may read everything")
	}
	path := fileWith(t, wellUsed(t))
	if err := os.Chmod(path, 0o400); err != nil {
		t.Fatal(err)
	}
	refused(t, path, file.ErrAccess)
}

// A file cut short anywhere is refused, at the bounds of pages too.
func TestCutFiles(t *testing.T) {
	whole := wellUsed(t)
	need := inUse(t, whole)
	var sizes []int
	for size := page; size < need; size += page {
		sizes = append(sizes, size, size-1, size+1)
	}
	r := rand.New(rand.NewPCG(2, 1))
	for range ordered(t, "SHOTHAND_FLIPS", 20) {
		sizes = append(sizes, 20+r.IntN(need-20))
	}
	t.Logf("%d cuts", len(sizes)+5)
	for _, size := range append(sizes, 20, 79, 80, 81, need-1) {
		t.Run(fmt.Sprint(size), func(t *testing.T) { refused(t, fileWith(t, whole[:size]), file.ErrCorrupt) })
	}
	// What lies beyond the last page in use was never written.
	if err := Check(fileWith(t, whole[:need])); err != nil {
		t.Errorf("cut to its pages in use: %v", err)
	}
}

// page is the size of a page here.
const page = 4096

// inUse returns how many bytes of a file are in use.
func inUse(t *testing.T, b []byte) (bytes int) {
	t.Helper()
	s := reopen(t, fileWith(t, b))
	if size := bolt(t, s).Info().PageSize; size != page {
		t.Skipf("pages of %d bytes", size)
	}
	view(t, s, func(tx *Tx) error { bytes = int(tx.tx.Size()); return nil })
	closeChecked(t, s)
	return bytes
}

// bolt returns what lies under a store.
func bolt(t testing.TB, s *Store) (db *bbolt.DB) {
	t.Helper()
	view(t, s, func(tx *Tx) error { db = tx.tx.DB(); return nil })
	return db
}

// setVersion makes a file one of a version.
func setVersion(tx *bbolt.Tx, version int) error {
	mark, err := tx.CreateBucketIfNotExists([]byte("shothand"))
	if err != nil {
		return err
	}
	return errors.Join(mark.Put([]byte("format"), []byte("shothand records")), mark.Put([]byte("version"), strconv.AppendInt(nil, int64(version), 10)))
}

// A flipped byte is refused, or it lay where nothing is kept: never a fault,
// never another history.
func TestFlippedBytes(t *testing.T) {
	whole := wellUsed(t)
	path := fileWith(t, whole)
	want := contents(t, path)
	r := rand.New(rand.NewPCG(1, 2))
	offsets := []int{0, 8, 10, 12, 16, 20, 24, 32, 48, 56, 64, 72, 4096 + 16, 4096 + 72}
	for page := 2 * 4096; page < len(whole); page += 4096 {
		offsets = append(offsets, page, page+8, page+10, page+20, page+25)
	}
	for range ordered(t, "SHOTHAND_FLIPS", 150) {
		offsets = append(offsets, r.IntN(len(whole)))
	}
	refusals := 0
	for _, offset := range offsets {
		flipped := append([]byte(nil), whole...)
		flipped[offset] ^= byte(1 << r.IntN(8))
		if err := os.WriteFile(path, flipped, 0o600); err != nil {
			t.Fatal(err)
		}
		s, err := Open(path)
		if err != nil {
			refusals++
			if !errors.Is(err, file.ErrCorrupt) && !errors.Is(err, file.ErrForeign) && !errors.Is(err, file.ErrNewer) {
				t.Errorf("byte %d: %v", offset, err)
			}
			if hash(t, path) != sha256.Sum256(flipped) {
				t.Errorf("byte %d: the file was changed", offset)
			}
			continue
		}
		damaged := s.Check()
		if err := s.Close(); err != nil {
			t.Error(err)
		}
		if damaged == nil && contents(t, path) != want {
			t.Errorf("byte %d: opened, with other contents", offset)
		}
	}
	if refusals < len(offsets)/3 {
		t.Errorf("%d of %d refused: the test misses what is in use", refusals, len(offsets))
	}
	t.Logf("%d flips, %d refused at the start, the others harmless or found by Check", len(offsets), refusals)
}

// ordered returns the number in a variable of the environment, or usual.
func ordered(t *testing.T, variable string, usual int) int {
	t.Helper()
	said := os.Getenv(variable)
	if said == "" {
		return usual
	}
	n, err := strconv.Atoi(said)
	if err != nil || n < 1 {
		t.Fatalf("%s=%s is no number of times", variable, said)
	}
	return n
}

// contents returns all that a file holds, as text.
func contents(t testing.TB, path string) string {
	t.Helper()
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	if err := errors.Join(db.View(func(tx *bbolt.Tx) error { return dump(&text, tx) }), db.Close()); err != nil {
		t.Fatal(err)
	}
	return text.String()
}

// An absent, an empty and a barely begun file are made, for the owner alone.
func TestNewFiles(t *testing.T) {
	begun := boltFile(t, nil, func(*bbolt.Tx) error { return nil })
	absent := filepath.Join(t.TempDir(), "shothand.db")
	for _, path := range []string{absent, fileWith(t, nil), begun} {
		s := reopen(t, path)
		harbourLane(t, s)
	}
	info, err := os.Stat(absent)
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
}

// Check says of an empty file that it holds nothing, and leaves it so.
func TestCheckOfEmptyFile(t *testing.T) {
	path := fileWith(t, nil)
	if err := Check(path); !errors.Is(err, file.ErrCorrupt) || !strings.Contains(err.Error(), "is empty") {
		t.Errorf("%v, want ErrCorrupt", err)
	}
	if info, err := os.Stat(path); err != nil || info.Size() != 0 {
		t.Errorf("it was changed: %v", err)
	}
}

// Check does not make a file.
func TestCheckOfAbsentFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shothand.db")
	if err := Check(path); !errors.Is(err, file.ErrAccess) {
		t.Errorf("%v, want ErrAccess", err)
	}
	if _, err := os.Stat(path); !errors.Is(err, os.ErrNotExist) {
		t.Error("a file was made")
	}
}

// Check finds what the indexes and the records do not agree on.
func TestCheckFinds(t *testing.T) {
	for _, test := range []struct {
		name  string
		spoil func(tx *Tx, c counter) error
	}{
		{"index key of no record", func(tx *Tx, c counter) error {
			return tx.index(c.bar, bucketByCoffee, ownedKey(c.harbour, 5, 99), []byte(kindShot.String()))
		}},
		{"record without index key", func(tx *Tx, c counter) error {
			at, _ := instantOf(morning())
			return tx.drop(c.bar, bucketByCoffee, ownedKey(c.harbour, at, 1))
		}},
		{"message of no entry", func(tx *Tx, c counter) error {
			return tx.index(c.bar, bucketMessages, textKey("m9"), idKey(bar.EntryID(9)))
		}},
		{"shot of no coffee", func(tx *Tx, c counter) error { return tx.drop(c.bar, bucketCoffees, idKey(c.harbour)) }},
		{"shot by no grinder", func(tx *Tx, c counter) error { return tx.drop(c.bar, bucketGrinders, idKey(c.left)) }},
		{"unreadable record", func(tx *Tx, c counter) error {
			return tx.index(c.bar, bucketCoffees, idKey(c.tide), []byte(`{"name":"Tide"} 00000000`))
		}},
		{"account of nobody", func(tx *Tx, c counter) error {
			return tx.index(c.bar, bucketAccounts, textKey("7"), idKey(bar.PersonID(7)))
		}},
		{"bar without channel", func(tx *Tx, _ counter) error {
			return tx.tx.Bucket([]byte(bucketChannels)).Delete(textKey("harbour-lane"))
		}},
		{"seen at no time", func(tx *Tx, c counter) error { return tx.index(c.bar, bucketSeen, textKey("m"), nil) }},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := openTest(t)
			c := harbourLane(t, s)
			add(t, s, c.bar, entry("m1", morning(), shot(c.harbour, c.left)))
			if err := s.Check(); err != nil {
				t.Fatal(err)
			}
			update(t, s, func(tx *Tx) error { return test.spoil(tx, c) })
			if err := s.Check(); err == nil {
				t.Error("nothing found")
			}
			if err := bolt(t, s).Close(); err != nil { // not to be checked again
				t.Error(err)
			}
		})
	}
}

// A file that is cut while it is open is an error to its readers, not the end
// of the process.
func TestCutWhileOpen(t *testing.T) {
	path := fileWith(t, wellUsed(t))
	s, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(path, 2*4096); err != nil {
		t.Fatal(err)
	}
	err = s.View(func(tx *Tx) error {
		_, err := tx.Recent(1, morning())
		return err
	})
	if err == nil {
		t.Error("read what is not there")
	}
	if err := s.Close(); !errors.Is(err, file.ErrCorrupt) {
		t.Errorf("closed with %v", err)
	}
}

// A file that is changed from outside while it is open takes nothing more, and
// nothing waits for it. What was done to it is not undone.
func TestBrokenWhileOpen(t *testing.T) {
	whole := wellUsed(t)
	need := inUse(t, whole)
	for _, test := range []struct {
		name  string
		spoil func(path string) error
	}{
		{"cut to nothing", func(path string) error { return os.Truncate(path, 0) }},
		{"cut to its first pages", func(path string) error { return os.Truncate(path, 2*4096) }},
		{"cut by a page", func(path string) error { return os.Truncate(path, int64(need-page)) }},
		{"overwritten with zeros", func(path string) error { return os.WriteFile(path, make([]byte, len(whole)), 0o600) }},
		{"overwritten with an older copy", func(path string) error { return os.WriteFile(path, whole, 0o600) }},
		{"overwritten but for the first pages", func(path string) error {
			b := append(append([]byte(nil), whole[:2*4096]...), make([]byte, len(whole)-2*4096)...)
			return os.WriteFile(path, b, 0o600)
		}},
		{"moved away", func(path string) error { return os.Rename(path, path+".old") }},
		{"replaced", func(path string) error {
			return errors.Join(os.WriteFile(path+".new", whole, 0o600), os.Rename(path+".new", path))
		}},
	} {
		t.Run(test.name, func(t *testing.T) {
			s, err := Open(fileWith(t, whole))
			if err != nil {
				t.Fatal(err)
			}
			grow := func(tx *Tx) error {
				_, err := tx.AddEntry(1, entry("", morning(), bar.Held{}))
				return err
			}
			if err := errors.Join(s.Update(grow), s.Look()); err != nil {
				t.Fatal(err)
			}
			if err := test.spoil(s.Path()); err != nil {
				t.Fatal(err)
			}
			before, statErr := os.ReadFile(s.Path())
			for range 3 {
				if err := s.Update(grow); !errors.Is(err, file.ErrCorrupt) {
					t.Errorf("updated: %v", err)
				}
			}
			if err := s.View(func(*Tx) error { return nil }); !errors.Is(err, file.ErrCorrupt) {
				t.Errorf("read: %v", err)
			}
			for what, err := range map[string]error{
				"looked": s.Look(), "checked": s.Check(), "backed up": s.Backup(s.Path() + ".backup"), "closed": s.Close(),
			} {
				if !errors.Is(err, file.ErrCorrupt) {
					t.Errorf("%s: %v", what, err)
				}
			}
			select {
			case <-s.Broken():
			default:
				t.Error("not known to be broken")
			}
			if after, err := os.ReadFile(s.Path()); statErr == nil && (err != nil || !bytes.Equal(before, after)) {
				t.Errorf("the file was changed, %v", err)
			}
		})
	}
}
