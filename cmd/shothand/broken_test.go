//go:build unix

package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// When its file is cut, overwritten or taken away under it, the program ends
// itself in time with a status and a sentence, whether it is spoken to or not,
// and answers no shot that it cannot keep.
func TestEndsWhenTheFileBreaks(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes a few seconds")
	}
	program := build(t)
	for _, test := range []struct {
		name, says string
		spoil      func(db string) error
	}{
		{"cut to nothing", "cut short or overwritten", func(db string) error { return os.Truncate(db, 0) }},
		{"cut in two", "cut short or overwritten", func(db string) error {
			info, err := os.Stat(db)
			return errors.Join(err, os.Truncate(db, info.Size()/2))
		}},
		{"overwritten with zeros", "cut short or overwritten", func(db string) error { return os.WriteFile(db, make([]byte, 1<<16), 0o600) }},
		{"overwritten with a backup", "cut short or overwritten", func(db string) error {
			b, err := os.ReadFile(db + ".early")
			return errors.Join(err, os.WriteFile(db, b, 0o600))
		}},
		{"moved away", "moved away or replaced", func(db string) error { return os.Rename(db, db+".old") }},
		{"replaced", "moved away or replaced", func(db string) error { return os.Rename(db+".early", db) }},
	} {
		for _, spoken := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s, spoken to %t", test.name, spoken), func(t *testing.T) {
				t.Parallel()
				db := filepath.Join(t.TempDir(), "bar.db")
				if said, err := call(t, at(0, "@mara 18 36 24 sour\n"), "console", "-db", db); err != nil {
					t.Fatal(err, said)
				}
				b, err := os.ReadFile(db)
				if err := errors.Join(err, os.WriteFile(db+".early", b, 0o600)); err != nil {
					t.Fatal(err)
				}
				var errOut bytes.Buffer
				command, in, out := pipedWithErrors(t, program, db, &errOut)
				giveUp := time.AfterFunc(30*time.Second, func() { _ = command.Process.Kill() })
				defer giveUp.Stop()
				lines := bufio.NewReader(out)
				tell := func(n int) string {
					if _, err := io.WriteString(in, at(n, "@mara 18 36 25 sour\n")); err != nil {
						return ""
					}
					answer, err := lines.ReadString('\n')
					if err != nil {
						return ""
					}
					return answer
				}
				for n := 1; n < 5; n++ {
					if answer := tell(n); !strings.Contains(answer, `"advice"`) {
						t.Fatalf("not answered: %s", answer)
					}
				}
				if err := test.spoil(db); err != nil {
					t.Fatal(err)
				}
				broke := time.Now()
				for n := 5; spoken && n < 10; n++ {
					if answer := tell(n); strings.Contains(answer, `"advice"`) {
						t.Errorf("answered: %s", answer)
					}
				}
				endedBroken(t, command, broke, &errOut, test.says)
			})
		}
	}
}

// endedBroken checks that the program ends in time, by itself, in order.
func endedBroken(t *testing.T, command *exec.Cmd, broke time.Time, errOut fmt.Stringer, says string) {
	t.Helper()
	err := command.Wait()
	if exit, ok := errors.AsType[*exec.ExitError](err); !ok || exit.ExitCode() != exitConfig {
		t.Errorf("it ended with %v", err)
	}
	if took := time.Since(broke); took > stopWithin(t) {
		t.Errorf("it took %v to end", took)
	}
	if got := errOut.String(); !strings.Contains(got, "shothand: ") || !strings.Contains(got, says) || strings.Contains(got, "goroutine") {
		t.Errorf("it said %q", got)
	}
}

// On Discord too, while shots come in and a backup is asked for.
func TestEndsOnDiscordWhenTheFileBreaks(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes a few seconds")
	}
	program := build(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	f := newFake(t)
	command := onDiscord(t, program, db, f)
	bind(t, f)
	first := f.Say("dial-in", "mara", "18 36 19 sour", "")
	await(t, f, "the first answer", hasAnswer(first, "dial-in"))
	if err := os.Truncate(db, 0); err != nil {
		t.Fatal(err)
	}
	broke := time.Now()
	said := f.Say("dial-in", "mara", "18 36 20 sour", "")
	if err := command.Process.Signal(syscall.SIGUSR1); err != nil {
		t.Fatal(err)
	}
	giveUp := time.AfterFunc(30*time.Second, func() { _ = command.Process.Kill() })
	defer giveUp.Stop()
	err := command.Wait()
	if exit, ok := errors.AsType[*exec.ExitError](err); !ok || exit.ExitCode() != exitConfig {
		t.Errorf("it ended with %v", err)
	}
	if took := time.Since(broke); took > stopWithin(t) {
		t.Errorf("it took %v to end", took)
	}
	for _, m := range answers(f, said, "dial-in") {
		if strings.Contains(m.Content, "20 s") {
			t.Errorf("answered what is not kept: %+v", m)
		}
	}
	// What was being written when it was cut may be there: that the first answer was sent.
	if b, err := os.ReadFile(db); err != nil || bytes.Contains(b, []byte("18 36 20 sour")) {
		t.Errorf("the shot is in the file, %v", err)
	}
}
