package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// From main's first instruction on, a backup that is asked for and a terminal
// that goes away kill nothing.
func TestSignalsDoNotKill(t *testing.T) {
	t.Parallel()
	program := build(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	for round := range 10 {
		command, in, out := piped(t, program, db)
		for end := time.Now().Add(10 * time.Second); !ignores(t, command.Process.Pid, syscall.SIGHUP); {
			if time.Now().After(end) {
				t.Fatal("the program does not ignore that its terminal goes away")
			}
		}
		for range 1 + 20*round { // before the records are open, while they are opened, after it
			for _, s := range []syscall.Signal{syscall.SIGUSR1, syscall.SIGHUP} {
				if err := command.Process.Signal(s); err != nil {
					t.Fatal("gone: ", err)
				}
			}
		}
		if _, err := io.WriteString(in, at(round, "@mara 18 36 24 sour\n")); err != nil {
			t.Fatal(err)
		}
		if text, err := bufio.NewReader(out).ReadString('\n'); err != nil {
			t.Fatalf("round %d: %v after %q", round, err, text)
		}
		told(t, command)
	}
}

// ignores reports whether a process ignores a signal.
func ignores(t *testing.T, pid int, s syscall.Signal) bool {
	t.Helper()
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := strings.Cut(string(status), "SigIgn:")
	var mask uint64
	if _, err := fmt.Sscanf(after, "%x", &mask); err != nil {
		t.Fatal(err)
	}
	return mask&(1<<(s-1)) != 0
}
