package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// No command writes over a file that is not its own kind: what stood there
// stands there afterwards, to the byte.
func TestNothingIsWrittenOver(t *testing.T) {
	dir := t.TempDir()
	file := func(name string) string { return filepath.Join(dir, name) }
	for _, db := range []string{file("bar.db"), file("other.db")} {
		if said, err := call(t, at(0, "@mara 18 36 24 sour\n"), "console", "-db", db); err != nil {
			t.Fatal(err, said)
		}
	}
	if err := os.WriteFile(file("page.html"), []byte("<!DOCTYPE html>\n<p>the menu"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(file("other.db"), file("link.html")); err != nil {
		t.Fatal(err)
	}
	ours := file("ours.html")
	if said, err := call(t, "", "report", "-db", file("bar.db"), "-o", ours); err != nil {
		t.Fatal(err, said)
	}
	if info, err := os.Stat(ours); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the page: %v, %v", info.Mode(), err)
	}
	watched := []string{file("bar.db"), file("other.db"), file("page.html"), ours}
	before := contents(t, watched)
	for _, args := range [][]string{
		{"report", "-db", file("bar.db"), "-o", file("bar.db")},
		{"report", "-db", file("bar.db"), "-o", file("other.db")},
		{"report", "-db", file("bar.db"), "-o", file("other.db"), "-force"},
		{"report", "-db", file("bar.db"), "-o", file("link.html")},
		{"report", "-db", file("bar.db"), "-o", file("page.html")},
		{"report", "-db", file("bar.db"), "-o", dir},
		{"report", "-db", file("bar.db"), "-o", ours, "-since", "nonsense"},
		{"report", "-db", file("bar.db"), "-o", ours, "-bar", "nobody"},
		{"report", "-db", file("bar.db"), "-o", file("page.pdf")},
		{"export", "-db", file("bar.db"), file("other.db")},
		{"export", "-db", file("bar.db"), file("shots.xlsx")},
		{"export", "-db", file("bar.db"), "-bar", "nobody"},
		{"import", "-db", file("bar.db"), "-format", "csv", file("other.db")},
		{"import", "-db", file("bar.db"), file("other.db")},
		{"demo", "-db", file("bar.db")},
		{"demo", "-new", "-db", file("bar.db")},
		{"demo", "-new", "-yes", "-db", file("bar.db")},
	} {
		said, err := call(t, "", args...)
		if err == nil {
			t.Errorf("%s is done: %s", strings.Join(args, " "), said)
		}
		for i, now := range contents(t, watched) {
			if !bytes.Equal(now, before[i]) {
				t.Fatalf("%s changed %s", strings.Join(args, " "), watched[i])
			}
		}
	}
	if left, err := filepath.Glob(file(".*")); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
	for _, args := range [][]string{
		{"report", "-db", file("bar.db"), "-o", ours},
		{"report", "-db", file("bar.db"), "-o", file("page.html"), "-force"},
	} {
		if said, err := call(t, "", args...); err != nil {
			t.Errorf("%s: %v %s", strings.Join(args, " "), err, said)
		}
	}
}

func contents(t *testing.T, files []string) (all [][]byte) {
	t.Helper()
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, data)
	}
	return all
}

// The invented bar is made anew only where somebody says so.
func TestDemoAsksBeforeItIsMadeAnew(t *testing.T) {
	db := madeDemo(t, 2)
	before := contents(t, []string{db})[0]
	none := func(string) string { return "" }
	if err := run(t.Context(), []string{"demo", "-new", "-db", db}, none, strings.NewReader(""), io.Discard, io.Discard); err == nil {
		t.Error("it was made anew unasked")
	}
	if now := contents(t, []string{db})[0]; !bytes.Equal(now, before) {
		t.Error("and changed")
	}
}
