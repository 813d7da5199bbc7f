package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shothand/advisor/bar"
	"shothand/store"
)

// A large table is taken whole, but for the row that is refused, and once; lines
// of the same bar as well. Neither takes memory for each row. A try says the same
// and takes nothing.
func TestImportOfManyRows(t *testing.T) {
	n := ordered(t, "SHOTHAND_ROWS", 5000)
	dir := t.TempDir()
	db, lines := filepath.Join(dir, "bar.db"), filepath.Join(dir, "bar.jsonl")
	taking := func(in io.Reader, args ...string) string {
		t.Helper()
		var out bytes.Buffer
		var err error
		began := time.Now()
		peak := most(func() { err = run(t.Context(), args, nil, in, &out, &out) })
		if err != nil {
			t.Fatal(err, out.String())
		}
		if !raced && peak > importHeap+uint64(n)*100 { // a row's key in the book is kept
			t.Errorf("%v: %d MiB of heap", args, peak>>20)
		}
		t.Logf("%v: %d MiB of heap at most, %v", args[:2], peak>>20, time.Since(began).Round(time.Millisecond))
		return out.String()
	}
	for _, told := range []struct {
		said string
		args []string
	}{
		{fmt.Sprintf("%d new, 0 known, 1 refused", n), []string{"import", "-dry-run", "-db", db}},
		{fmt.Sprintf("%d new, 0 known, 1 refused", n), []string{"import", "-db", db}},
		{fmt.Sprintf("0 new, %d known, 1 refused", n), []string{"import", "-db", db}},
	} {
		if said := taking(manyRows(n), told.args...); !strings.Contains(said, told.said) || !strings.Contains(said, "line 12: ") {
			t.Errorf("%v: %s", told.args, said)
		}
	}
	if said := taking(nil, "export", "-db", db, lines); !strings.HasPrefix(said, "Wrote "+lines) {
		t.Error(said)
	}
	in, err := os.Open(lines)
	if err != nil {
		t.Fatal(err)
	}
	other := filepath.Join(dir, "other.db")
	taking(in, "import", "-db", other, "-format", "jsonl")
	if err := in.Close(); err != nil {
		t.Error(err)
	}
	for _, file := range []string{db, other} {
		if got := countShots(t, file); got != n {
			t.Errorf("%d shots of %d in %s", got, n, file)
		}
		if err := store.Check(file); err != nil {
			t.Error(err)
		}
	}
	if left, err := filepath.Glob(filepath.Join(dir, "*.compact")); err != nil || left != nil {
		t.Error("left behind:", left, err)
	}
}

// manyRows is a table of so many shots, of four coffees and five people, and one
// row that is none.
func manyRows(n int) io.Reader {
	out, in := io.Pipe()
	go func() {
		_, err := io.WriteString(in, table())
		for i := 0; i < n && err == nil; i++ {
			if i == 9 {
				_, err = io.WriteString(in, "2026-03-02T06:33:00Z,Harbour,sam,a handful,36,24,sour\n")
			}
			if err == nil {
				_, err = fmt.Fprintf(in, "%s,%s,%s,18.%d,36.%d,%d,%s\n",
					opening.Add(time.Duration(i)*time.Minute).Format(time.RFC3339),
					[]string{"Harbour", "Tide", "Heron", "Quay"}[i%4], []string{"mara", "jo", "sam", "kim", "lee"}[i%5], i%10, i%7, 20+i%11, []string{"sour", "\"bitter, thin\"", "good"}[i%3])
			}
		}
		_ = in.CloseWithError(err)
	}()
	return out
}

func countShots(t *testing.T, file string) (n int) {
	t.Helper()
	reading(t, file, func(tx *store.Tx) error {
		bars, err := tx.Bars()
		for _, b := range bars {
			err = tx.EachEntry(b.ID, func(e bar.Entry) error {
				if _, is := e.What.(bar.Shot); is {
					n++
				}
				return nil
			})
		}
		return err
	})
	return n
}
