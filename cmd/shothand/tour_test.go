package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// What the tour for developers names is there: each file, each package; and each
// package is named in its table.
func TestTourNamesWhatThereIs(t *testing.T) {
	tour := regexp.MustCompile("(?s)```diff\n.*?```").ReplaceAllString(theTour(t), "")
	roots := []string{"", "bot/discord"}
	for _, path := range regexp.MustCompile(`\b[a-z]+(?:/[a-z]+)*/[a-z_]+\.(?:go|yml|txt|tsv|yaml)\b`).FindAllString(tour, -1) {
		if !isThere(roots, path) {
			t.Errorf("the tour names %s, which is not there", path)
		}
	}
	table := rows(tour)
	for _, dir := range packages(t) {
		if !strings.Contains(table, "`"+dir+"`") {
			t.Errorf("the tour's table lacks %s", dir)
		}
	}
	for _, name := range regexp.MustCompile("`((?:advisor|bot|store|cmd)[a-z/]*)`").FindAllStringSubmatch(table, -1) {
		if _, err := os.Stat(filepath.Join("../..", name[1])); err != nil {
			t.Errorf("the tour's table has %s, which is not there", name[1])
		}
	}
}

// theTour is what the tour for developers says.
func theTour(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The table's numbers of lines are near what is there: within a tenth and a
// hundred lines.
func TestTourCountsLines(t *testing.T) {
	counted := 0
	for row := range strings.Lines(rows(theTour(t))) {
		cells := strings.Split(row, "|")
		said, err := strconv.Atoi(strings.ReplaceAll(strings.TrimSpace(cells[2]), ",", ""))
		if err != nil {
			continue // the head
		}
		lines := 0
		for _, name := range regexp.MustCompile("`([a-z/]+)`").FindAllStringSubmatch(cells[1], -1) {
			lines += linesIn(t, name[1])
			counted++
		}
		if off := max(said-lines, lines-said); off > lines/10+100 {
			t.Errorf("the tour says %d lines of %s, which has %d", said, strings.TrimSpace(cells[1]), lines)
		}
	}
	if want := len(packages(t)); counted != want {
		t.Errorf("the tour counts %d packages of %d", counted, want)
	}
}

// linesIn counts the lines of a package without its tests.
func linesIn(t *testing.T, dir string) (n int) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("../..", dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		n += strings.Count(string(text), "\n")
	}
	return n
}

func isThere(roots []string, path string) bool {
	for _, root := range roots {
		if _, err := os.Stat(filepath.Join("../..", root, path)); err == nil {
			return true
		}
	}
	return false
}

// rows returns the lines of a text that are rows of a table.
func rows(text string) string {
	var rows []string
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "|") {
			rows = append(rows, line)
		}
	}
	return strings.Join(rows, "")
}

// packages returns the folders that hold code.
func packages(t *testing.T) (dirs []string) {
	t.Helper()
	seen := map[string]bool{}
	err := fs.WalkDir(os.DirFS("../.."), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		dir := filepath.ToSlash(filepath.Dir(path))
		switch strings.Split(dir, "/")[0] {
		case "advisor", "bot", "store", "cmd":
			if !seen[dir] {
				seen[dir] = true
				dirs = append(dirs, dir)
			}
		}
		return nil
	})
	if err != nil || len(dirs) < 20 {
		t.Fatalf("%d packages found: %v", len(dirs), err)
	}
	return dirs
}
