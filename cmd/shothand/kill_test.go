package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"shothand/store"
)

// kills returns how many times a program is killed: as many as usual, or as
// SHOTHAND_KILLS says.
func kills(t *testing.T, usual int) int {
	t.Helper()
	return ordered(t, "SHOTHAND_KILLS", usual)
}

// Killed at any instant, the file opens, and every shot that was answered is
// in it once. What is posted again is not recorded again.
func TestKilledConsoleLosesNoAnsweredShot(t *testing.T) {
	t.Parallel()
	program := build(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	dice := rand.New(rand.NewPCG(2026, 3))
	var typed []string
	answered := map[string]bool{}
	n := kills(t, 10)
	for range n {
		typed = killed(t, program, db, dice, typed, answered)
		got := inFile(t, db)
		for id := range answered {
			if got[id] != 1 {
				t.Errorf("shot %s was answered and is in the file %d times", id, got[id])
			}
		}
	}
	if len(answered) < n || len(typed) == len(answered) {
		t.Errorf("%d of %d shots were answered: the kills did not fall among the answers", len(answered), len(typed))
	}
	unanswered := len(typed) - len(answered)
	again := open(t, db)
	for _, line := range typed {
		again.say(line)
	}
	again.close()
	got := inFile(t, db)
	if len(got) != len(typed) {
		t.Errorf("the file has %d shots of %d", len(got), len(typed))
	}
	for id, n := range got {
		if n != 1 {
			t.Errorf("shot %s is in the file %d times", id, n)
		}
	}
	t.Logf("%d kills, %d shots in 3 bars, %d answered, %d cut off", n, len(typed), len(answered), unanswered)
}

// piped starts the program as a console between two pipes.
func piped(t *testing.T, program, db string) (command *exec.Cmd, in io.WriteCloser, out io.ReadCloser) {
	t.Helper()
	return pipedWithErrors(t, program, db, nil)
}

// pipedWithErrors does the same and writes what it says of errors to errOut.
func pipedWithErrors(t *testing.T, program, db string, errOut io.Writer) (command *exec.Cmd, in io.WriteCloser, out io.ReadCloser) {
	t.Helper()
	command = exec.CommandContext(t.Context(), program, "console", "-json", "-db", db)
	command.Stderr = errOut
	in, err := command.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	if out, err = command.StdoutPipe(); err != nil {
		t.Fatal(err)
	}
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	return command, in, out
}

// killed pipes shots into the program until it is killed at a random instant,
// and notes those that were answered. It returns all that was typed so far.
func killed(t *testing.T, program, db string, dice *rand.Rand, typed []string, answered map[string]bool) []string {
	t.Helper()
	command, in, out := piped(t, program, db)
	last := 1 + dice.IntN(4) // the kill falls among the answers after this one, on a slow machine too
	answers := bufio.NewReader(out)
	for n := 1; ; n++ {
		asked := time.Now()
		id := fmt.Sprintf("shot-%d", len(typed))
		line := at(len(typed), fmt.Sprintf("@mara #bar%d id:%s 18 %d %d grind %.1f %s", len(typed)%3, id,
			34+dice.IntN(5), 20+dice.IntN(15), 4.5+dice.Float64(), []string{"sour", "balanced", "bitter"}[dice.IntN(3)]))
		typed = append(typed, line)
		if _, err := io.WriteString(in, line+"\n"); err != nil {
			break
		}
		text, err := answers.ReadBytes('\n')
		if err != nil {
			break // an answer cut short is none
		}
		var o object
		if err := json.Unmarshal(text, &o); err != nil {
			t.Fatalf("%v in %s", err, text)
		}
		o.advice(t)
		answered[id] = true
		if n == last {
			instant := time.Duration(2 * dice.Float64() * float64(time.Since(asked)))
			timer := time.AfterFunc(instant, func() { _ = command.Process.Kill() })
			defer timer.Stop()
		}
	}
	if err := command.Wait(); err == nil {
		t.Error("the program ended before it was killed")
	}
	return typed
}

// inFile checks the file and counts the shots in it by their message.
func inFile(t *testing.T, db string) map[string]int {
	t.Helper()
	if err := store.Check(db); err != nil {
		t.Error(err)
	}
	count := map[string]int{}
	for _, e := range shotsSince(t, db, opening.Add(-time.Hour)) {
		count[e.Message]++
	}
	return count
}
