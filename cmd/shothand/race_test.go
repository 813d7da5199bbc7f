package main

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"shothand/store"
	"shothand/store/file"
)

// pairs returns how many pairs of programs race: as many as usual, or as
// SHOTHAND_PAIRS says.
func pairs(t *testing.T, usual int) int {
	t.Helper()
	return ordered(t, "SHOTHAND_PAIRS", usual)
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

// A race is a file that programs open at once, and what it must hold: the
// instants of the shots that were acknowledged.
type race struct {
	program, db, dir string
	shots            int
	acknowledged     map[time.Time]bool
	aside            int // that a restore has put aside
}

// newRace makes a file of some size, so that writing it anew takes a while.
func newRace(t *testing.T) *race {
	t.Helper()
	dir := t.TempDir()
	r := &race{program: build(t), db: filepath.Join(dir, "bar.db"), dir: dir, acknowledged: map[time.Time]bool{}}
	var lines []string
	for range 400 {
		lines = append(lines, r.row(t))
	}
	if said, err := call(t, table(lines...), "import", "-db", r.db); err != nil {
		t.Fatal(err, said)
	}
	return r
}

// table is a table of rows.
func table(rows ...string) string {
	return "at,coffee,person,dose_g,yield_g,time_s,taste\n" + strings.Join(rows, "\n") + "\n"
}

// next is the instant of a new shot.
func (r *race) next() time.Time {
	r.shots++
	return opening.Add(time.Duration(r.shots) * time.Minute)
}

// row is a new shot as a row of a table, which counts as acknowledged.
func (r *race) row(t *testing.T) string {
	t.Helper()
	instant := r.next()
	r.acknowledged[instant] = true
	return fmt.Sprintf("%s,Harbour,sam,18,36,%d,sour", instant.Format(time.RFC3339), 20+r.shots%9)
}

// A step is one of the two programs of a pair.
type step struct {
	args []string
	in   string
	shot time.Time // acknowledged when it ends well, if set
}

// rewriter is a program that writes the file anew.
func (r *race) rewriter(t *testing.T, dice *rand.Rand) step {
	t.Helper()
	switch dice.IntN(5) {
	case 0, 1:
		return step{args: []string{"compact", "-db", r.db}}
	case 2:
		backup := filepath.Join(r.dir, "before.db")
		if err := os.Remove(backup); err != nil && !errors.Is(err, os.ErrNotExist) {
			t.Fatal(err)
		}
		if said, err := call(t, "", "backup", "-db", r.db, "-to", backup); err != nil {
			t.Fatal(err, said)
		}
		return step{args: []string{"restore", "-yes", "-db", r.db, backup}}
	}
	instant := r.next()
	line := instant.Format(time.RFC3339) + " @jo 18 36 24 sour\n"
	if said, err := call(t, line, "console", "-db", r.db); err != nil {
		t.Fatal(err, said)
	}
	r.acknowledged[instant] = true
	return step{args: []string{"forget", "-yes", "-db", r.db, "-person", "jo"}}
}

// opener is a program that opens the file.
func (r *race) opener(dice *rand.Rand, n int) step {
	instant := r.next()
	switch dice.IntN(8) {
	case 0:
		return step{args: []string{"backup", "-db", r.db, "-to", filepath.Join(r.dir, fmt.Sprint("copy", n, ".db"))}}
	case 1:
		return step{args: []string{"check", "-db", r.db}}
	case 2:
		return step{args: []string{"export", "-db", r.db}}
	case 3, 4:
		row := fmt.Sprintf("%s,Harbour,sam,18,36,24,sour", instant.Format(time.RFC3339))
		return step{args: []string{"import", "-db", r.db, "-format", "csv"}, in: table(row), shot: instant}
	}
	line := instant.Format(time.RFC3339) + " @mara 18 36 24 sour\n"
	return step{args: []string{"console", "-json", "-db", r.db}, in: line, shot: instant}
}

// start starts a step and returns how it ended, once it has.
func (r *race) start(t *testing.T, s step) (ended func() (ok bool)) {
	t.Helper()
	command := exec.CommandContext(t.Context(), r.program, s.args...)
	command.Stdin = strings.NewReader(s.in)
	var out, errOut bytes.Buffer
	command.Stdout, command.Stderr = &out, &errOut
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	return func() bool {
		err := command.Wait()
		if err != nil && !strings.Contains(errOut.String(), "is in use by another shothand") {
			t.Errorf("%s: %v %s", s.args[0], err, &errOut)
		}
		if s.args[0] == "console" && err == nil && !strings.Contains(out.String(), `"advice"`) {
			t.Errorf("console: no answer in %s", &out)
		}
		if err == nil && !s.shot.IsZero() {
			r.acknowledged[s.shot] = true
		}
		return err == nil
	}
}

// Of two programs that open a file at once while one of them writes it anew,
// each either has the file or is told that it is in use; what either took is in
// the file that the name then means, or in the one that a restore has put aside.
func TestPairsLoseNothing(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes a few seconds")
	}
	r := newRace(t)
	dice := rand.New(rand.NewPCG(2026, 14))
	n := pairs(t, 15)
	both := 0
	for i := range n {
		first, second := r.rewriter(t, dice), r.opener(dice, i)
		if dice.IntN(3) == 0 {
			first, second = second, first
		}
		firstEnded := r.start(t, first)
		time.Sleep(time.Duration(dice.IntN(6_000)) * time.Microsecond)
		secondEnded := r.start(t, second)
		ok1, ok2 := firstEnded(), secondEnded()
		if ok1 && ok2 {
			both++
		}
		r.putAside(t)
		if lost := r.lost(t); lost > 0 {
			t.Errorf("pair %d, %s and %s: %d acknowledged shots are lost", i, first.args[0], second.args[0], lost)
		}
		if err := os.Remove(filepath.Join(r.dir, fmt.Sprint("copy", i, ".db"))); err != nil && !errors.Is(err, os.ErrNotExist) {
			t.Error(err)
		}
	}
	if err := store.Check(r.db); err != nil {
		t.Error(err)
	}
	t.Logf("%d pairs, in %d both had the file, %d shots acknowledged, %d of them put aside by a restore", n, both, len(r.acknowledged)+r.aside, r.aside)
}

// putAside expects no more of the file what is in one that a restore has put
// aside, and removes that.
func (r *race) putAside(t *testing.T) {
	t.Helper()
	aside, err := file.Replaced(r.db)
	if err != nil {
		t.Fatal(err)
	}
	if len(aside) == 0 {
		return
	}
	there := map[time.Time]bool{}
	for _, e := range shotsSince(t, r.db, opening) {
		there[e.At.UTC()] = true
	}
	for _, name := range aside {
		for _, e := range shotsSince(t, name, opening) {
			if instant := e.At.UTC(); !there[instant] {
				delete(r.acknowledged, instant)
				r.aside++
			}
		}
		if err := os.Remove(name); err != nil {
			t.Fatal(err)
		}
	}
}

// lost counts the acknowledged shots that are not in the file.
func (r *race) lost(t *testing.T) int {
	t.Helper()
	missing := len(r.acknowledged)
	for _, e := range shotsSince(t, r.db, opening) {
		if r.acknowledged[e.At.UTC()] {
			missing--
		}
	}
	return missing
}
