package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// aTerminal returns a terminal, and its far side, on which a person looks.
func aTerminal(t *testing.T) (tty, screen *os.File) {
	t.Helper()
	screen, err := os.OpenFile("/dev/ptmx", os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skip(err)
	}
	t.Cleanup(func() { _ = screen.Close() })
	if err := unix.IoctlSetPointerInt(int(screen.Fd()), unix.TIOCSPTLCK, 0); err != nil {
		t.Skip(err)
	}
	n, err := unix.IoctlGetInt(int(screen.Fd()), unix.TIOCGPTN)
	if err != nil {
		t.Skip(err)
	}
	tty, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skip(err)
	}
	return tty, screen
}

// What takes long is shown on a terminal, and is gone before anything is said;
// what is quick is not shown.
func TestProgressIsShownOnATerminal(t *testing.T) {
	tty, screen := aTerminal(t)
	p := program{out: tty, errOut: tty}
	if err := p.slow("Checking", func(out io.Writer) error {
		_, err := io.WriteString(out, "quick\n")
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if err := p.slow("Checking", func(out io.Writer) error {
		read := make([]byte, 4096)
		for seen := ""; !strings.Contains(seen, "Checking"); { // until it is shown
			n, err := screen.Read(read)
			if err != nil {
				return err
			}
			if seen += string(read[:n]); strings.Contains(seen, "Checking") && !strings.HasPrefix(seen, "quick\r\n") {
				t.Errorf("shown before what was quick: %q", seen)
			}
		}
		_, err := io.WriteString(out, "whole\n")
		return err
	}); err != nil {
		t.Fatal(err)
	}
	read := make([]byte, 1<<16)
	n, err := screen.Read(read)
	for err == nil && !bytes.Contains(read[:n], []byte("whole")) {
		var more int
		more, err = screen.Read(read[n:])
		n += more
	}
	shown, _, _ := strings.Cut(string(read[:n]), "whole")
	if line := shown[strings.LastIndexByte(shown, '\r')+1:]; line != "" {
		t.Errorf("said after %q", line)
	}
}

// In a pipe nothing is shown, however long it takes.
func TestNoProgressInAPipe(t *testing.T) {
	var out, errOut bytes.Buffer
	err := program{out: &out, errOut: &errOut}.slow("Checking", func(out io.Writer) error {
		time.Sleep(slowAfter + 300*time.Millisecond)
		_, err := io.WriteString(out, "whole\n")
		return err
	})
	if err != nil || out.String() != "whole\n" || errOut.Len() > 0 {
		t.Errorf("%v, %q, %q", err, &out, &errOut)
	}
}

// Help breaks between words, at the width of the terminal.
func TestHelpFitsTheTerminal(t *testing.T) {
	tty, screen := aTerminal(t)
	if err := unix.IoctlSetWinsize(int(tty.Fd()), unix.TIOCSWINSZ, &unix.Winsize{Row: 40, Col: 60}); err != nil {
		t.Fatal(err)
	}
	read := make(chan string)
	go func() {
		text, _ := io.ReadAll(screen) // ends in an error, once nobody has the terminal
		read <- string(text)
	}()
	if err := run(t.Context(), []string{"import", "-h"}, nil, tty, tty, tty); err != nil {
		t.Fatal(err)
	}
	if err := tty.Close(); err != nil {
		t.Fatal(err)
	}
	said := <-read
	if !strings.Contains(said, "--dry-run") {
		t.Errorf("no help: %q", said)
	}
	for line := range strings.SplitSeq(said, "\r\n") {
		if len([]rune(line)) > 60 {
			t.Errorf("%d columns: %s", len([]rune(line)), line)
		}
	}
}
