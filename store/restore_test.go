package store

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// A backup takes the place of a file that is whole, damaged or absent, also
// through a link; what was there is kept, with its mode; the backup is as it was.
func TestRestore(t *testing.T) {
	whole := wellUsed(t)
	for _, test := range []struct {
		name string
		old  []byte // nil: there is none
		link bool
	}{
		{"over a whole file", whole, false},
		{"over a damaged one", whole[:5000], false},
		{"over somebody else's", []byte("mine"), false},
		{"through a link", whole, true},
		{"where there is none", nil, false},
	} {
		t.Run(test.name, func(t *testing.T) {
			backup := fileWith(t, whole)
			if err := os.Chmod(backup, 0o400); err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(t.TempDir(), "bar.db")
			if test.old != nil {
				if err := errors.Join(os.WriteFile(path, test.old, 0o600), os.Chmod(path, 0o640)); err != nil {
					t.Fatal(err)
				}
			}
			name := path
			if test.link {
				name = filepath.Join(t.TempDir(), "link.db")
				if err := os.Symlink(path, name); err != nil {
					t.Fatal(err)
				}
			}
			before := hash(t, backup)
			kept, err := Restore(name, backup, morning())
			if err != nil {
				t.Fatal(err)
			}
			if err := Check(name); err != nil || contents(t, path) != contents(t, backup) {
				t.Errorf("the file: %v", err)
			}
			if hash(t, backup) != before {
				t.Error("the backup was changed")
			}
			if test.old == nil {
				if kept != "" || len(names(t, filepath.Dir(path))) != 1 {
					t.Errorf("kept %q", kept)
				}
				return
			}
			if b, err := os.ReadFile(kept); err != nil || !bytes.Equal(b, test.old) {
				t.Errorf("kept %q, %v", kept, err)
			}
			if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
				t.Errorf("mode %v, %v", info.Mode(), err)
			}
			if got := names(t, filepath.Dir(path)); len(got) != 2 {
				t.Errorf("there are %v", got)
			}
		})
	}
}

// What cannot be restored changes nothing and says why.
func TestRestoreRefused(t *testing.T) {
	whole := wellUsed(t)
	inUse := func(t *testing.T) string { return reopen(t, fileWith(t, whole)).Path() }
	same := fileWith(t, whole)
	there := func(b []byte) func(*testing.T) string { return func(t *testing.T) string { return fileWith(t, b) } }
	for _, test := range []struct {
		name       string
		path, from func(*testing.T) string
		kind       error
		says       string
	}{
		{"in use", inUse, there(whole), file.ErrLocked, "in use"},
		{"from a file in use", there(whole), inUse, file.ErrLocked, "in use"},
		{"from a cut one", there(whole), there(whole[:len(whole)/2]), file.ErrCorrupt, "name another backup"},
		{"from nothing", there(whole), there(nil), file.ErrCorrupt, "name another backup"},
		{"from text", there(whole), there([]byte("text")), file.ErrForeign, "name another backup"},
		{"from none", there(whole), func(t *testing.T) string { return filepath.Join(t.TempDir(), "none.db") }, file.ErrAccess, "is not there"},
		{"from a directory", there(whole), func(t *testing.T) string { return t.TempDir() }, file.ErrAccess, "name another backup"},
		{"from a device", there(whole), func(*testing.T) string { return os.DevNull }, file.ErrAccess, "name another backup"},
		{"from itself", func(*testing.T) string { return same }, func(*testing.T) string { return same }, file.ErrLocked, "in use"},
		{"into a directory", func(t *testing.T) string { return t.TempDir() }, there(whole), file.ErrAccess, "directory"},
		{"below none", func(t *testing.T) string { return filepath.Join(t.TempDir(), "none", "bar.db") }, there(whole), file.ErrAccess, "directory that does not exist"},
	} {
		t.Run(test.name, func(t *testing.T) {
			path, from := test.path(t), test.from(t)
			before, _ := os.ReadFile(path)
			_, err := Restore(path, from, morning())
			if !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
				t.Errorf("%v, want %v that says %q", err, test.kind, test.says)
			}
			after, _ := os.ReadFile(path)
			if !bytes.Equal(before, after) {
				t.Error("the file was changed")
			}
			if info, err := os.Stat(path); err == nil && !info.IsDir() && len(names(t, filepath.Dir(path))) != 1 {
				t.Errorf("left: %v", names(t, filepath.Dir(path)))
			}
		})
	}
}

// A compaction leaves the file to whom it was.
func TestCompactKeepsModeAndOwner(t *testing.T) {
	path := fileWith(t, wellUsed(t))
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	root := os.Getuid() == 0
	if root {
		if err := os.Chown(path, 1234, 1235); err != nil {
			t.Fatal(err)
		}
	}
	s := reopen(t, path)
	if _, _, err := s.Compact(); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(path)
	if err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
	if uid, gid := ownerOf(info); root && (uid != 1234 || gid != 1235) {
		t.Errorf("owned by %d:%d", uid, gid)
	}
	view(t, s, func(tx *Tx) error {
		_, err := tx.Bar(bar.ID(1))
		return err
	})
	if _, err := os.Stat(path + ".compact"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("left: %v", err)
	}
}
