package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"time"
)

// long is how much each of these tests reads.
const long = 200 << 20

// importHeap is how much an import may take, whatever it reads.
const importHeap = 64 << 20

// endless is so much of one line.
func endless() io.Reader { return io.LimitReader(letters{}, long) }

type letters struct{}

func (letters) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 'x'
	}
	return len(p), nil
}

// most runs do and returns how many bytes of heap were in use at most, above
// those before, with little garbage among them.
func most(do func()) uint64 {
	defer debug.SetGCPercent(debug.SetGCPercent(20))
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	before, peak := m.HeapAlloc, m.HeapAlloc
	done := make(chan struct{})
	go func() { do(); close(done) }()
	for {
		select {
		case <-done:
			return peak - before
		case <-time.After(10 * time.Millisecond):
			runtime.ReadMemStats(&m)
			peak = max(peak, m.HeapAlloc)
		}
	}
}

// A line that never ends takes no memory. It is refused by its number; of a
// table the rows around it are taken, of lines of records nothing is.
func TestImportOfALongLine(t *testing.T) {
	if raced {
		t.Skip("one goroutine that reads, and a heap that the race detector makes larger")
	}
	rows := func(from, n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "%s,Harbour,mara,18,36,24,sour\n", opening.Add(time.Duration(from+i)*time.Minute).Format(time.RFC3339))
		}
		return b.String()
	}
	noShots := ordered(t, "SHOTHAND_ROWS", 5000) * 50
	for _, test := range []struct {
		name, format string
		in           io.Reader
		says         string
		taken        bool
	}{
		{"a cell", "csv", io.MultiReader(strings.NewReader(table(rows(0, 5))), endless(), strings.NewReader("\n"+rows(5, 5))), "line 8: a line longer than 1 MiB", true},
		{"a quote", "csv", io.MultiReader(strings.NewReader(table(rows(0, 5))+"\""), endless(), strings.NewReader("\n"+rows(5, 5))), "line 8: a line longer than 1 MiB", true},
		{"no line", "csv", endless(), "reads as no table", false},
		{"rows that are no shots", "csv", io.MultiReader(strings.NewReader(table()), lines(noShots)), strconv.Itoa(noShots/len(noShot)) + " rows were read and none is a shot", false},
		{"cells", "csv", io.MultiReader(strings.NewReader(table(rows(0, 10))+"2026-03-02T06:33:00Z,"), times(200, strings.Repeat("y", 900<<10)+"\n")), "200 refused", true},
		{"a row over lines", "csv", strings.NewReader(table(rows(0, 5)) + "\"" + strings.Repeat("sour and thin\n", 80_000)), "the row on line 8 goes on for more than 1 MiB", false},
		{"a record", "jsonl", io.MultiReader(strings.NewReader("{\"kind\":\"bar\",\"record\":{}}\n{\"kind\":\""), endless()), "line 2 is longer than 1 MiB", false},
		{"a quote over lines", "csv", io.MultiReader(strings.NewReader(table(rows(0, 5))+"\""), lines(long)), "the row on line 8 goes on", false},
	} {
		t.Run(test.name, func(t *testing.T) {
			db := filepath.Join(t.TempDir(), "bar.db")
			var out bytes.Buffer
			var err error
			peak := most(func() {
				err = run(t.Context(), []string{"import", "-db", db, "-format", test.format}, nil, test.in, &out, &out)
			})
			if peak > importHeap {
				t.Errorf("%d MiB of heap", peak>>20)
			}
			said := out.String()
			if err != nil {
				said += err.Error()
			}
			if (err == nil) != test.taken || !strings.Contains(said, test.says) {
				t.Errorf("%v: %.600s", err, said)
			}
			if test.taken && !strings.Contains(said, "10 new, 0 known, ") {
				t.Error(said)
			}
			t.Logf("%d MiB of heap at most", peak>>20)
		})
	}
}

// noShot is a line that is no shot.
const noShot = "sour and thin\n"

// lines is so many bytes of short lines.
func lines(n int) io.Reader { return times(n/len(noShot), noShot) }

// times is a text so many times, which nothing holds at once: what is held lets the
// heap grow by a share of it.
func times(n int, text string) io.Reader {
	return io.LimitReader(&repeated{text: text}, int64(n*len(text)))
}

type repeated struct {
	text string
	at   int
}

func (r *repeated) Read(p []byte) (int, error) {
	n := copy(p, r.text[r.at:])
	r.at = (r.at + n) % len(r.text)
	return n, nil
}
