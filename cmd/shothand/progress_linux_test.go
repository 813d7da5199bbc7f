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

// Help breaks between words, at the width of the terminal, and at 80 columns
// elsewhere.
func TestHelpFitsTheTerminal(t *testing.T) {
	for _, c := range append(bareRoot().Commands(), bareRoot()) {
		args := append(strings.Fields(c.CommandPath())[1:], "-h")
		for _, width := range []uint16{44, 60, 100} {
			heldToWidth(t, args, strings.ReplaceAll(onATerminal(t, width, args), "\r\n", "\n"), int(width))
		}
		said, err := call(t, "", args...)
		if err != nil {
			t.Fatal(err)
		}
		heldToWidth(t, args, said, 80)
	}
}

func heldToWidth(t *testing.T, args []string, said string, width int) {
	t.Helper()
	if !strings.Contains(said, "--help") {
		t.Errorf("%s: no help: %q", args, said)
	}
	for line := range strings.SplitSeq(said, "\n") {
		if n := len([]rune(line)); n > width {
			t.Errorf("%s: %d columns: %s", args, n, line)
		}
	}
}

// onATerminal returns what a terminal of so many columns shows of a run.
func onATerminal(t *testing.T, columns uint16, args []string) string {
	t.Helper()
	tty, screen := aTerminal(t)
	if err := unix.IoctlSetWinsize(int(tty.Fd()), unix.TIOCSWINSZ, &unix.Winsize{Row: 40, Col: columns}); err != nil {
		t.Fatal(err)
	}
	read := make(chan string)
	go func() {
		text, _ := io.ReadAll(screen) // ends in an error, once nobody has the terminal
		read <- string(text)
	}()
	if err := run(t.Context(), args, nil, tty, tty, tty); err != nil {
		t.Fatal(err)
	}
	if err := tty.Close(); err != nil {
		t.Fatal(err)
	}
	return <-read
}
