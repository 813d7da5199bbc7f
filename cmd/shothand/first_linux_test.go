package main

import (
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/sys/unix"
)

// prompts finds what stands before a line that somebody types.
var prompts = regexp.MustCompile(`(?m)^[a-z]+( #[a-z]+)?( \(\d+ [A-Z][a-z]+ \d\d:\d\d\))?> `)

// What people typed who had read nothing is typed again, in a terminal as wide as
// theirs, and answered as the recording shows: it is what they saw on the screen.
func TestConversationsAtFirst(t *testing.T) {
	for file, columns := range map[string]uint16{"44.txt": 44, "44-stranger.txt": 44, "100.txt": 100, "44-nothing-read.txt": 44, "100-nothing-read.txt": 100, "44-ten-minutes.txt": 44, "100-ten-minutes.txt": 100} {
		t.Run(file, func(t *testing.T) {
			name, err := filepath.Abs(filepath.Join("../../testdata/first", file))
			if err != nil {
				t.Fatal(err)
			}
			old, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			head, shown, _ := strings.Cut(string(old), "\n\n")
			var typed []string
			for line := range strings.SplitSeq(shown, "\n") {
				if prompt := prompts.FindString(line); prompt != "" {
					typed = append(typed, line[len(prompt):])
				}
			}
			t.Chdir(t.TempDir())
			got := head + "\n\n" + typing(t, columns, typed)
			if *update {
				if err := os.WriteFile(name, []byte(got), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			if diff := cmp.Diff(string(old), got); diff != "" && !*update {
				t.Errorf("said otherwise (-was +is):\n%s", diff)
			}
			for line := range strings.SplitSeq(got[len(head):], "\n") {
				if n := len([]rune(line)); n > int(columns) && !prompts.MatchString(line) {
					t.Errorf("%d columns: %s", n, line)
				}
			}
		})
	}
}

// typing starts the program in a terminal of so many columns, types lines, each
// once the one before is answered, and returns what the screen shows.
func typing(t *testing.T, columns uint16, lines []string) string {
	t.Helper()
	tty, far := aTerminal(t)
	if err := unix.IoctlSetWinsize(int(tty.Fd()), unix.TIOCSWINSZ, &unix.Winsize{Row: 40, Col: columns}); err != nil {
		t.Fatal(err)
	}
	var now atomic.Int64
	now.Store(opening.UnixNano())
	ended := make(chan error, 1)
	go func() {
		dumb := func(name string) string { return map[string]string{"TERM": "dumb"}[name] } // no line editor: what is typed stands as it was
		p := program{getenv: dumb, in: tty, out: tty, errOut: tty, now: func() time.Time { return time.Unix(0, now.Load()).UTC() }}
		ended <- p.run(t.Context(), []string{"console", "-db", "bar.db"})
	}()
	pieces := make(chan string)
	go func() {
		defer close(pieces)
		for b := make([]byte, 4096); ; {
			n, err := far.Read(b)
			if err != nil {
				return
			}
			pieces <- string(b[:n])
		}
	}()
	shown, seen := "", 0
	asked := func() bool {
		last := shown[max(seen, strings.LastIndexByte(shown, '\n')+1):]
		return len(shown) > seen && prompts.FindString(last) == last && last != ""
	}
	for _, line := range append(lines, "") {
		for late := time.After(time.Minute); !asked(); {
			select {
			case piece := <-pieces:
				shown += strings.ReplaceAll(piece, "\r", "")
			case <-late:
				t.Fatalf("no prompt after\n%s", shown)
			case err := <-ended:
				if err := errors.Join(err, tty.Close()); err != nil || line != "" {
					t.Errorf("it ended before %q with %v", line, err)
				}
				for piece := range pieces {
					shown += strings.ReplaceAll(piece, "\r", "")
				}
				return shown
			}
		}
		seen = len(shown)
		now.Add(int64(6 * time.Second)) // as fast as they typed
		if _, err := far.WriteString(line + "\n"); err != nil {
			t.Fatal(err)
		}
	}
	t.Fatalf("it has not ended\n%s", shown)
	return ""
}
