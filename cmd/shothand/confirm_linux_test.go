package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// What takes something away asks on a terminal, and does it only where yes is
// typed there.
func TestAsksOnATerminal(t *testing.T) {
	t.Parallel()
	program, dir := build(t), t.TempDir()
	db, copied := filepath.Join(dir, "bar.db"), filepath.Join(dir, "copy.db")
	if said, err := call(t, at(0, "@mara 18 36 24 sour\n")+at(3, "@jo 18 36 28 sweet\n"), "console", "-db", db); err != nil {
		t.Fatal(err, said)
	}
	if said, err := call(t, "", "backup", "-db", db, "-to", copied); err != nil {
		t.Fatal(err, said)
	}
	for _, test := range []struct {
		types, says string
		done        bool
		args        []string
	}{
		{"no\n", "nothing was changed", false, []string{"forget", "-db", db, "-person", "mara"}},
		{"\n", "nothing was changed", false, []string{"forget", "-db", db, "-person", "mara"}},
		{"\x04", "nothing was changed", false, []string{"forget", "-db", db, "-person", "mara"}}, // the end of what is typed
		{"yes\n", "mara", true, []string{"forget", "-db", db, "-person", "mara"}},
		{"n\n", "nothing was changed", false, []string{"restore", "-db", db, copied}},
		{"y\n", "holds what", true, []string{"restore", "-db", db, copied}},
	} {
		before := contents(t, []string{db})[0]
		said, err := onTerminal(t, program, test.types, test.args...)
		if (err == nil) != test.done || !strings.Contains(said, "Go on?") || !strings.Contains(said, test.says) {
			t.Errorf("%v, and %q: %v, %q", test.args, test.types, err, said)
		}
		if changed := string(before) != string(contents(t, []string{db})[0]); changed != test.done {
			t.Errorf("%v, and %q: changed %t", test.args, test.types, changed)
		}
	}
}

// onTerminal runs the program on a terminal, types once something is asked, and
// returns what the screen shows.
func onTerminal(t *testing.T, program, types string, args ...string) (shown string, err error) {
	t.Helper()
	tty, screen := aTerminal(t)
	command := exec.CommandContext(t.Context(), program, args...)
	command.Stdin, command.Stdout, command.Stderr = tty, tty, tty
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	all := make(chan string)
	go func() { all <- watch(screen, types) }()
	giveUp := time.AfterFunc(time.Minute, func() { _ = command.Process.Kill() })
	defer giveUp.Stop()
	err = command.Wait()
	if err := tty.Close(); err != nil { // the screen ends with the last who has it
		t.Fatal(err)
	}
	return <-all, err
}

// watch reads a screen to its end, and types once a question stands there.
func watch(screen *os.File, types string) string {
	var shown strings.Builder
	read := make([]byte, 4096)
	for {
		n, err := screen.Read(read)
		shown.Write(read[:n])
		if err != nil { // EIO: nobody has the terminal any more
			return shown.String()
		}
		if types != "" && strings.Contains(shown.String(), "Go on?") {
			if _, err := screen.WriteString(types); err != nil {
				return err.Error()
			}
			types = ""
		}
	}
}
