package console

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"shothand/bot/chat"
)

// A picture's name is short, its folder one; old pictures go, and nothing else
// that lies there.
func TestOldPicturesAreCleared(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "bar.db.files")
	c := New(Options{FilesDir: dir})
	send(t, c, chat.Post{Files: []chat.File{{Name: "harbour.png"}, {Name: "shots.csv"}}})
	for _, name := range []string{"mine.png", "x-mine.png"} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	send(t, c, chat.Post{Files: []chat.File{{Name: "young.png"}}})
	for _, name := range []string{"1-harbour.png", "2-shots.csv", "mine.png", "x-mine.png"} {
		old := time.Now().Add(-picturesLast - time.Hour)
		if err := os.Chtimes(filepath.Join(dir, name), old, old); err != nil {
			t.Fatal(err)
		}
	}
	send(t, New(Options{FilesDir: dir}), chat.Post{Files: []chat.File{{Name: "tide.png", Data: []byte("tide")}}})
	left, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range left {
		names = append(names, e.Name())
	}
	if want := []string{"2-shots.csv", "3-young.png", "4-tide.png", "mine.png", "x-mine.png"}; !slices.Equal(names, want) {
		t.Errorf("left %q, want %q", names, want)
	}
}

func TestShortPath(t *testing.T) {
	t.Chdir(t.TempDir())
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		filepath.Join(here, "a.db.files", "1-x.png"): filepath.Join("a.db.files", "1-x.png"),
		"/x/1-x.png":         "/x/1-x.png",
		"a.db.files/1-x.png": "a.db.files/1-x.png",
	} {
		if got := shortPath(path); got != want {
			t.Errorf("%s: %s, want %s", path, got, want)
		}
	}
}
