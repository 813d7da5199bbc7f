package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// An import that somebody stops takes nothing in, whether it still reads or puts
// rows in already, and says so.
func TestImportStopped(t *testing.T) {
	t.Parallel()
	db := filepath.Join(t.TempDir(), "bar.db")
	played(t, db, "@mara 18 36 28 sour\n")
	before := exported(t, db)
	table := manyShots(20_000)
	for _, left := range []int{len(table) - 4096, 0} {
		ctx, stop := context.WithCancel(t.Context())
		in := &stopsAt{in: strings.NewReader(table), left: left, stop: stop}
		var out strings.Builder
		err := run(ctx, []string{"import", "--db", db, "-"}, nil, in, &out, &out)
		if err == nil || err.Error() != stoppedImportText || exitStatus(err) != exitStopped {
			t.Errorf("%d left: %v, status %d; %s", left, err, exitStatus(err), out.String())
		}
		if after := exported(t, db); after != before {
			t.Errorf("%d left: there is %s", left, after)
		}
	}
}

// A bar that is half made is taken away, so that demo does not open it.
func TestDemoStopped(t *testing.T) {
	t.Parallel()
	db := filepath.Join(t.TempDir(), "demo.db")
	ctx, stop := context.WithCancel(t.Context())
	stop()
	var out strings.Builder
	err := run(ctx, []string{"demo", "--db", db}, nil, strings.NewReader(""), &out, &out)
	if err == nil || err.Error() != stoppedDemoText || exitStatus(err) != exitStopped {
		t.Errorf("%v, status %d; %s", err, exitStatus(err), out.String())
	}
	if _, err := os.Stat(db); !os.IsNotExist(err) {
		t.Errorf("the file: %v", err)
	}
}

// stopsAt is a reader that stops the program once so much is left.
type stopsAt struct {
	in   *strings.Reader
	left int
	stop func()
}

func (s *stopsAt) Read(p []byte) (int, error) {
	n, err := s.in.Read(p[:min(len(p), 512)])
	if s.in.Len() <= s.left {
		s.stop()
	}
	return n, err
}

// manyShots is a table of n shots.
func manyShots(n int) string {
	var b strings.Builder
	b.WriteString("at,coffee,dose_g,yield_g,time_s,taste\n")
	for i := range n {
		at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC).Add(time.Duration(i) * time.Minute)
		fmt.Fprintf(&b, "%s,Harbour,18,36,%d,sour\n", at.Format(time.RFC3339), 22+i%9)
	}
	return b.String()
}

// played puts what is typed into a file.
func played(t *testing.T, db, lines string) {
	t.Helper()
	var out strings.Builder
	if err := run(t.Context(), []string{"console", "--db", db}, nil, strings.NewReader(lines), &out, &out); err != nil {
		t.Fatal(err)
	}
}

// exported is the table of the shots of a file.
func exported(t *testing.T, db string) string {
	t.Helper()
	var out strings.Builder
	if err := run(t.Context(), []string{"export", "--db", db}, nil, nil, &out, &out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// What only reads, or writes beside, does not hold up somebody who wants to stop.
func TestUntilStopped(t *testing.T) {
	t.Parallel()
	ctx, stop := context.WithCancel(t.Context())
	under := make(chan struct{})
	defer close(under)
	p := program{out: io.Discard, errOut: io.Discard}
	err := p.untilStopped(ctx, "Checking", func(io.Writer) error { stop(); <-under; return nil })
	if err == nil || err.Error() != stoppedText || exitStatus(err) != exitStopped {
		t.Errorf("%v, status %d", err, exitStatus(err))
	}
	ended := errors.New("ended by itself")
	if err := p.untilStopped(ctx, "Checking", func(io.Writer) error { return ended }); !errors.Is(err, ended) {
		t.Errorf("what ends by itself says %v", err)
	}
}

// A file that is stopped half written is not left beside the one it was for.
func TestReplaceStopped(t *testing.T) {
	t.Parallel()
	ctx, stop := context.WithCancel(t.Context())
	dir := t.TempDir()
	err := replace(ctx, filepath.Join(dir, "shots.csv"), false, nil, func(w io.Writer) error {
		_, err := io.WriteString(w, "half of it")
		stop()
		for left := []os.DirEntry{nil}; len(left) > 0 && err == nil; { // until it is taken away
			left, err = os.ReadDir(dir)
		}
		return err
	})
	if left, _ := os.ReadDir(dir); err == nil || len(left) > 0 {
		t.Errorf("%v, and %v is left", err, left)
	}
}

// The invented bar stands in its morning whenever it is opened.
func TestDemoOpensInItsMorning(t *testing.T) {
	t.Parallel()
	db := madeDemo(t, 2)
	began := time.Date(2031, 5, 1, 23, 0, 0, 0, time.UTC)
	machine := began
	clock, err := goingOnFrom(db, func() time.Time { return machine })
	if err != nil {
		t.Fatal(err)
	}
	opened := clock()
	if h := opened.Local().Hour(); h < 4 || h > 12 {
		t.Errorf("it opens at %v", opened)
	}
	machine = began.Add(90 * time.Second)
	if on := clock().Sub(opened); on != 90*time.Second {
		t.Errorf("in 90 s it went on by %v", on)
	}
}
