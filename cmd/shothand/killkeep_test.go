package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shothand/store"
	"shothand/store/file"
)

// killedSteps runs steps until n of them were killed, each at a random instant
// of the time that one takes, and calls check after each, with whether it ended
// before it was killed.
func killedSteps(t *testing.T, r *race, n int, next func(i int) step, check func(i int, ended bool)) {
	t.Helper()
	dice := rand.New(rand.NewPCG(2026, 28))
	began := time.Now()
	first := next(0)
	if !r.start(t, first)() {
		t.Fatal("it does not run")
	}
	takes := time.Since(began)
	check(0, true)
	killed, ended := 0, 0
	for i := 1; killed < n; i++ {
		if ended > 20+20*n {
			t.Fatalf("%d of %d ended before they were killed", ended, i)
		}
		s := next(i)
		command := exec.CommandContext(t.Context(), r.program, s.args...)
		command.Stdin = strings.NewReader(s.in)
		if err := command.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(dice.Float64() * float64(takes)))
		_ = command.Process.Kill() // it may have ended
		done := command.Wait() == nil
		if done {
			ended++
		} else {
			killed++
		}
		if err := store.Check(r.db); err != nil {
			t.Fatalf("try %d: %v", i, err)
		}
		if lost := r.lost(t); lost > 0 {
			t.Fatalf("try %d: %d shots are lost", i, lost)
		}
		check(i, done)
	}
	t.Logf("%s: %d kills, %d ended before, one takes %v", first.args[0], killed, ended, takes)
}

// A backup that is killed leaves the file as it is, no copy that is not whole,
// and nothing that the next one does not take away.
func TestKilledBackup(t *testing.T) {
	t.Parallel()
	r := newRace(t)
	dir := backupDir(r.db)
	args := []string{"backup", "-db", r.db, "-keep", "0,0,0"}
	partial := 0
	killedSteps(t, r, kills(t, 5), func(int) step { return step{args: args} }, func(int, bool) {
		backups, err := file.Backups(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range backups {
			if err := store.Check(b.Path); err != nil {
				t.Error(err)
			}
		}
		left, err := filepath.Glob(filepath.Join(dir, ".*"))
		if err != nil || len(left) > 1 {
			t.Errorf("left behind: %v, %v", left, err)
		}
		if partial += len(left); len(backups) > 1 { // names last a second
			for _, b := range backups {
				if err := os.Remove(b.Path); err != nil {
					t.Fatal(err)
				}
			}
		}
	})
	if !r.start(t, step{args: args})() {
		t.Error("no backup after the kills")
	}
	if left, err := filepath.Glob(filepath.Join(dir, ".*")); err != nil || left != nil {
		t.Errorf("left behind: %v, %v", left, err)
	}
	t.Logf("%d partial copies swept", partial)
}

// A compaction that is killed loses nothing and leaves nothing.
func TestKilledCompact(t *testing.T) {
	t.Parallel()
	r := newRace(t)
	next := func(int) step { return step{args: []string{"compact", "-db", r.db}} }
	killedSteps(t, r, kills(t, 5), next, func(int, bool) {
		if left, err := filepath.Glob(r.db + "?*"); err != nil || left != nil { // the check has opened it
			t.Errorf("left behind: %v, %v", left, err)
		}
	})
}

// A person is forgotten when forget is killed, so that no byte tells once the
// file was opened again, or is as before.
func TestKilledForget(t *testing.T) {
	t.Parallel()
	r := newRace(t)
	name := func(i int) string { return fmt.Sprintf("guest-%04d-gone", i) }
	next := func(i int) step {
		instant := r.next()
		line := fmt.Sprintf("%s @%s 18 36 24 sour\n", instant.Format(time.RFC3339), name(i))
		if said, err := call(t, line, "console", "-db", r.db); err != nil {
			t.Fatal(err, said)
		}
		r.acknowledged[instant] = true
		return step{args: []string{"forget", "-yes", "-db", r.db, "-person", name(i)}}
	}
	forgotten := 0
	killedSteps(t, r, kills(t, 5), next, func(i int, ended bool) {
		b, err := os.ReadFile(r.db)
		if err != nil {
			t.Fatal(err)
		}
		known := r.knows(t, name(i))
		if told := bytes.Contains(b, []byte(name(i))); told != known {
			t.Errorf("try %d: known to the records: %t, to the file: %t", i, known, told)
		}
		if ended && known {
			t.Errorf("try %d: still known", i)
		}
		if !ended && !known {
			forgotten++
		}
	})
	t.Logf("%d of those that were killed had forgotten", forgotten)
}

// knows reports whether a person of that name is in the file.
func (r *race) knows(t *testing.T, name string) (found bool) {
	t.Helper()
	reading(t, r.db, func(tx *store.Tx) error {
		bars, err := tx.Bars()
		for _, bar := range bars {
			people, err := tx.People(bar.ID)
			if err != nil {
				return err
			}
			for _, p := range people {
				found = found || p.Name == name
			}
		}
		return err
	})
	return found
}

// An import that is killed has taken all of its rows or none.
func TestKilledImport(t *testing.T) {
	t.Parallel()
	r := newRace(t)
	const rows = 2500 // more than an update takes
	var instants []time.Time
	next := func(int) step {
		var list []string
		instants = nil
		for range rows {
			instant := r.next()
			instants = append(instants, instant)
			list = append(list, fmt.Sprintf("%s,Harbour,sam,18,36,24,sour", instant.Format(time.RFC3339)))
		}
		return step{args: []string{"import", "-db", r.db, "-format", "csv"}, in: table(list...)}
	}
	taken := 0
	killedSteps(t, r, kills(t, 5), next, func(i int, ended bool) {
		if left, err := filepath.Glob(r.db + "?*"); err != nil || left != nil { // the check has opened it
			t.Errorf("left behind: %v, %v", left, err)
		}
		there := map[time.Time]int{}
		for _, e := range shotsSince(t, r.db, instants[0]) {
			there[e.At.UTC()]++
		}
		n := 0
		for _, instant := range instants {
			if there[instant] > 1 {
				t.Errorf("try %d: %v is there %d times", i, instant, there[instant])
			}
			n += there[instant]
		}
		if n != 0 && n != rows || ended && n == 0 {
			t.Errorf("try %d: %d of %d rows, ended %t", i, n, rows, ended)
		}
		if n == rows {
			for _, instant := range instants {
				r.acknowledged[instant] = true
			}
			if !ended {
				taken++
			}
		}
	})
	t.Logf("%d of those that were killed had taken all", taken)
}
