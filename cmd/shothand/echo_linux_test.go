package main

import (
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// What is typed while something goes on is not echoed into what is shown of it, and
// is echoed again afterwards.
func TestKeysAreNotEchoedIntoProgress(t *testing.T) {
	tty, screen := aTerminal(t)
	if !echoes(t, tty) {
		t.Fatal("the terminal echoes nothing")
	}
	p := program{out: tty, errOut: tty}
	if err := p.slow("Checking", func(io.Writer) error {
		readUntil(t, screen, "Checking")
		if _, err := io.WriteString(screen, "qwerty\n"); err != nil {
			return err
		}
		if shown := readUntil(t, screen, "Checking"); strings.Contains(shown, "qwerty") {
			t.Errorf("echoed: %q", shown)
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if !echoes(t, tty) {
		t.Error("nothing is echoed afterwards")
	}
}

// A program that is told to stop leaves a terminal that echoes.
func TestEchoIsRestoredWhenToldToStop(t *testing.T) {
	heard := make(chan os.Signal, 1)
	signal.Notify(heard, syscall.SIGTERM) // so that the test goes on
	defer signal.Stop(heard)
	tty, _ := aTerminal(t)
	restore := hush(tty)
	if echoes(t, tty) {
		t.Error("it echoes all the same")
	}
	if err := syscall.Kill(os.Getpid(), syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	<-heard
	for end := time.Now().Add(10 * time.Second); !echoes(t, tty); time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("it does not echo")
		}
	}
	restore()
	if !echoes(t, tty) {
		t.Error("it does not echo in the end")
	}
}

// echoes reports whether a terminal echoes what is typed.
func echoes(t *testing.T, tty *os.File) bool {
	t.Helper()
	how, err := unix.IoctlGetTermios(int(tty.Fd()), unix.TCGETS)
	if err != nil {
		t.Fatal(err)
	}
	return how.Lflag&unix.ECHO != 0
}

// readUntil reads a screen until words are on it.
func readUntil(t *testing.T, screen *os.File, words string) string {
	t.Helper()
	read, shown := make([]byte, 4096), ""
	for !strings.Contains(shown, words) {
		n, err := screen.Read(read)
		if err != nil {
			t.Fatal(err)
		}
		shown += string(read[:n])
	}
	return shown
}
