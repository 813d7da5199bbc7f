package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"

	"shothand/bot/booktest"
	"shothand/bot/say"
	"shothand/store"
)

// The README's morning, typed and answered in each language: the book holds the
// same of it as of the English one.
func TestMorningInEveryLanguage(t *testing.T) {
	t.Parallel()
	page, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	english := filepath.Join(t.TempDir(), "bar.db")
	play(t, english, nil, strings.Split(string(page), "```\n")[1])
	want := bookOf(t, english)
	if len(want) < 6 {
		t.Fatalf("the README's morning: %q", want)
	}
	for _, code := range say.Languages()[1:] {
		t.Run(code, func(t *testing.T) {
			file := filepath.Join("../../testdata/languages", code, "morning.txtar")
			archive, err := txtar.ParseFile(file)
			if err != nil {
				t.Fatal(err)
			}
			db := filepath.Join(t.TempDir(), "bar.db")
			archive.Files[0].Data = play(t, db, nil, string(archive.Files[0].Data))
			checkSpoken(t, string(archive.Files[0].Data), foreignTo(t, code))
			golden(t, file, txtar.Format(archive))
			if diff := cmp.Diff(want, bookOf(t, db)); diff != "" {
				t.Errorf("the book (-english +%s):\n%s", code, diff)
			}
		})
	}
}

// bookOf is what the book of the first bar holds of the morning, a line an entry.
func bookOf(t *testing.T, db string) (lines []string) {
	t.Helper()
	s, err := store.Open(db)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	err = s.View(func(tx *store.Tx) error {
		bars, err := tx.Bars()
		if err != nil {
			return err
		}
		held, err := booktest.Lines(tx, bars[0].ID, time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC))
		for _, l := range held {
			if !strings.Contains(l.Text, "setting") {
				lines = append(lines, l.Text)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return lines
}
