package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shothand/store"
	"shothand/store/file"
)

// What takes something away is not done where nobody can be asked, unless -yes
// says so.
func TestNothingIsTakenAwayUnasked(t *testing.T) {
	db := filepath.Join(t.TempDir(), "bar.db")
	if said, err := call(t, at(0, "@mara 18 36 24 sour\n"), "console", "-db", db); err != nil {
		t.Fatal(err, said)
	}
	copied := filepath.Join(filepath.Dir(db), "copy.db")
	if said, err := call(t, "", "backup", "-db", db, "-to", copied); err != nil {
		t.Fatal(err, said)
	}
	demo := madeDemo(t, 2)
	for _, args := range [][]string{
		{"forget", "-db", db, "-person", "mara"},
		{"restore", "-db", db, copied},
		{"demo", "-new", "-db", demo},
	} {
		before := contents(t, []string{db, demo})
		said, err := call(t, "yes\n", args...)
		if err == nil || !strings.Contains(err.Error(), "Say --yes") {
			t.Errorf("%s: %q, %v", args[0], said, err)
		}
		for i, now := range contents(t, []string{db, demo}) {
			if !bytes.Equal(now, before[i]) {
				t.Errorf("%s changed a file", args[0])
			}
		}
	}
	if left, err := file.Replaced(db); err != nil || len(left) > 0 {
		t.Errorf("put aside: %v, %v", left, err)
	}
}

// On a terminal only yes is a yes.
func TestOnlyYesIsYes(t *testing.T) {
	for said, yes := range map[string]bool{"yes\n": true, "Y\n": true, " yes": true, "no\n": false, "\n": false, "": false, "yes please\n": false} {
		var asked bytes.Buffer
		err := askYes(strings.NewReader(said), &asked, forgetDeed("mara", "bar.db"))
		if (err == nil) != yes {
			t.Errorf("%q: %v", said, err)
		}
		if !strings.HasPrefix(asked.String(), `this takes "mara" out of every bar of bar.db for good. Go on?`) {
			t.Errorf("asked: %q", &asked)
		}
	}
}

// An invented bar that somebody has open is not taken away under them.
func TestDemoIsNotTakenFromSomebody(t *testing.T) {
	db := madeDemo(t, 2)
	s, err := store.Open(db)
	if err != nil {
		t.Fatal(err)
	}
	if said, err := call(t, "", "demo", "-new", "-yes", "-db", db); !errors.Is(err, file.ErrLocked) {
		t.Errorf("%q, %v", said, err)
	}
	if err := takeAway(db); !errors.Is(err, file.ErrLocked) {
		t.Errorf("taken away: %v", err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := takeAway(db); err != nil {
		t.Error(err)
	}
	if _, err := os.Stat(db); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("it is there: %v", err)
	}
}

// Through a link the invented bar that it leads to is made anew, and the link
// stays.
func TestDemoAnewThroughALink(t *testing.T) {
	db := madeDemo(t, 2)
	link := filepath.Join(t.TempDir(), "link.db")
	if err := os.Symlink(db, link); err != nil {
		t.Skip(err)
	}
	if err := takeAway(link); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Lstat(link); err != nil {
		t.Errorf("the link: %v", err)
	}
	if _, err := os.Stat(db); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the old bar is there: %v", err)
	}
	if err := makeDemo(t.Context(), link, rehearse(demoSeed, opening, 1, func() {})); err != nil {
		t.Fatal(err)
	}
	if said, err := call(t, "", "check", "-db", db); err != nil {
		t.Errorf("the new bar: %s %v", said, err)
	}
}

// What holds no shot is refused in a sentence, and no file is made or changed.
func TestImportOfNoShots(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string { return written(t, filepath.Join(dir, name), text) }
	accounts := "root:x:0:0:root:/root:/bin/sh\nmara:x:1000:1000::/home/mara:/bin/sh\n"
	db := filepath.Join(dir, "bar.db")
	if said, err := call(t, at(0, "@mara 18 36 24 sour\n"), "console", "-db", db); err != nil {
		t.Fatal(err, said)
	}
	before := contents(t, []string{db})[0]
	for _, test := range []struct{ name, says string }{
		{file("accounts", accounts), "1 row was read and none is a shot"},
		{file("accounts.jsonl", accounts), "line 1 is no JSON"},
		{file("other.jsonl", "{\"kind\":\"menu\"}\n"), "line 1 is not the beginning of a bar"},
		{file("empty.csv", ""), "reads as no table"},
		{file("empty.jsonl", ""), "no line was read"},
		{file("header.csv", "at,dose_g,yield_g,time_s\n"), "no row was read"},
		{file("wild.csv", "at,dose_g,yield_g,time_s\n2026-03-02T06:33:00Z,18,900,24\n"), "1 row was read and none is a shot"},
		{file("words.csv", "at,words_of,coffee,taste\n2026-03-02T06:33:00Z,2026-03-02T06:30:00Z,Harbour,sour\n"), "1 row was read and none is a shot"},
		{file("cut.jsonl", `{"kind":"bar","record":{"channel":"x","na`), "line 1 is no JSON"},
	} {
		for _, to := range []string{db, filepath.Join(dir, "new.db")} {
			said, err := call(t, "", "import", "-db", to, test.name)
			if err == nil || !strings.Contains(err.Error(), test.says) || !strings.Contains(err.Error(), "othing was changed") || !strings.HasPrefix(err.Error(), test.name) {
				t.Errorf("%s: %q, %v", filepath.Base(test.name), said, err)
			}
		}
	}
	if now := contents(t, []string{db})[0]; !bytes.Equal(now, before) {
		t.Error("the records are changed")
	}
}

// An export that fails leaves what was there, and nothing beside it.
func TestExportFails(t *testing.T) {
	dir := t.TempDir()
	db, out := filepath.Join(dir, "bar.db"), filepath.Join(dir, "shots.csv")
	if said, err := call(t, at(0, "@mara 18 36 24 sour\n"), "console", "-db", db); err != nil {
		t.Fatal(err, said)
	}
	failed := func(w io.Writer) error {
		_, err := io.WriteString(w, "at,words_of\n")
		return errors.Join(err, errors.New("no room"))
	}
	if err := replace(t.Context(), out, false, nil, failed); err == nil {
		t.Error("no error")
	}
	for _, args := range [][]string{{"-bar", "nobody", out}, {"-format", "xlsx", out}} {
		if said, err := call(t, "", append([]string{"export", "-db", db}, args...)...); err == nil {
			t.Errorf("%v: %s", args, said)
		}
	}
	if left, err := filepath.Glob(filepath.Join(dir, "*shots*")); err != nil || len(left) > 0 {
		t.Errorf("left: %v, %v", left, err)
	}
	for _, args := range [][]string{{out}, {"-force", out}} {
		if said, err := call(t, "", append([]string{"export", "-db", db}, args...)...); err != nil {
			t.Errorf("%v: %s %v", args, said, err)
		}
	}
}
