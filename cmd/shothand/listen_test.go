package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"shothand/bot"
	"shothand/store"
)

// The manual's ten lines lead from nothing to a posted shot.
func TestManualPosts(t *testing.T) {
	curl, err := exec.LookPath("curl")
	if err != nil {
		t.Skip("no curl here")
	}
	typed, command := manualLines(t)
	address := freeAddress(t)
	in, keys := io.Pipe()
	var out shown
	ended := make(chan error, 1)
	go func() {
		args := []string{"console", "-db", filepath.Join(t.TempDir(), "bar.db"), "-listen", address}
		ended <- run(t.Context(), args, func(string) string { return "" }, in, &out, &out)
	}()
	for _, line := range typed {
		if _, err := fmt.Fprintln(keys, line); err != nil {
			t.Fatal(err)
		}
	}
	out.await(t, "Devices may post to http://"+address+"/shot")
	secret := out.await(t, "shown this once: ")
	shell := exec.Command("sh", "-c", strings.NewReplacer("curl", curl+" -sS", "127.0.0.1:8398", address).Replace(command))
	shell.Env = append(os.Environ(), "SECRET="+secret)
	answer, err := shell.CombinedOutput()
	if err != nil || !strings.Contains(string(answer), `"recorded":true`) || !strings.Contains(string(answer), "27.4 s, in the window") {
		t.Errorf("%s: %v\n%s", command, err, answer)
	}
	out.await(t, "From scale, nobody's yet.")
	if err := errors.Join(keys.Close(), <-ended); err != nil {
		t.Error(err)
	}
}

// manualLines returns what is typed and what is run in the manual's ten lines.
func manualLines(t *testing.T) (typed []string, command string) {
	t.Helper()
	text, err := os.ReadFile("MANUAL.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, _ := strings.Cut(string(text), "## Devices that post\n")
	section, _, _ = strings.Cut(section, "\n* ")
	lines := 0
	for line := range strings.Lines(section) {
		line, code := strings.CutPrefix(strings.TrimSuffix(line, "\n"), "    ")
		if !code {
			continue
		}
		lines++
		if said, ok := strings.CutPrefix(line, "me> "); ok {
			typed = append(typed, said)
		} else if strings.HasPrefix(line, "curl") || command != "" {
			command += line + "\n"
		}
	}
	if len(typed) == 0 || command == "" || lines > 10 {
		t.Fatalf("%d lines, typed %q, command %q", lines, typed, command)
	}
	return typed, command
}

// freeAddress returns an address at which nothing listens.
func freeAddress(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := l.Close(); err != nil {
			t.Error(err)
		}
	}()
	return l.Addr().String()
}

// A shown is what a program has written so far.
type shown struct {
	mu   sync.Mutex
	text strings.Builder
}

// Write adds to it.
func (s *shown) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(b)
}

// await waits until something stands there, and returns the rest of its line.
func (s *shown) await(t *testing.T, what string) string {
	t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		s.mu.Lock()
		_, rest, ok := strings.Cut(s.text.String(), what)
		s.mu.Unlock()
		if line, _, whole := strings.Cut(rest, "\n"); ok && whole {
			return line
		}
	}
	t.Fatalf("no %q in %q", what, s.text.String())
	return ""
}

// An address at which something listens already is named, with what to do.
func TestListenAtATakenAddress(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = l.Close() }()
	_, err = servePosts(l.Addr().String(), nil, slog.New(slog.DiscardHandler))
	if err == nil || !strings.Contains(err.Error(), l.Addr().String()) || !strings.Contains(err.Error(), "-listen") {
		t.Errorf("%v", err)
	}
}

// A slow is a desk that takes its time.
type slow struct{ begun, end chan struct{} }

func (slow) Admit(string) (bot.Sender, bool) { return bot.Sender{}, true }

func (s slow) Post(context.Context, bot.Sender, string, time.Time) (bot.PostAnswer, error) {
	close(s.begun)
	<-s.end
	return bot.PostAnswer{Recorded: true, Text: "taken"}, nil
}

// What is under way when the program stops is answered still.
func TestListenStops(t *testing.T) {
	curl, err := exec.LookPath("curl")
	if err != nil {
		t.Skip("no curl here")
	}
	desk := slow{make(chan struct{}), make(chan struct{})}
	address := freeAddress(t)
	stop, err := servePosts(address, desk, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	answered := make(chan string, 1)
	go func() {
		out, _ := exec.Command(curl, "-sS", "--json", `{"time_s": 27}`, "http://"+address+"/shot").CombinedOutput()
		answered <- string(out)
	}()
	<-desk.begun
	stopped := make(chan struct{})
	go func() { stop(); close(stopped) }()
	close(desk.end)
	if got := <-answered; !strings.Contains(got, "taken") {
		t.Errorf("answered %q", got)
	}
	<-stopped
}

// What devices posted is exported with their names, comes in again as it was,
// and outlives its person: it is nobody's then. Imported devices may not post.
func TestDevicesAreCarried(t *testing.T) {
	dir := t.TempDir()
	db, csv := filepath.Join(dir, "bar.db"), filepath.Join(dir, "bar.csv")
	runJSON(t, []string{"-db", db}, []string{
		"2026-03-02T06:20:00Z @mara /setup zone:UTC",
		"2026-03-02T06:20:10Z @mara /grinder add name:left finer:lower step:0.1",
		"2026-03-02T06:20:20Z @mara /coffee add name:Harbour grinder:left",
		"2026-03-02T06:20:30Z @mara /setup device:scale yield:settles-2s",
		"2026-03-02T06:30:00Z device:scale {\"yield_g\": 34, \"time_s\": 27}",
		"2026-03-02T06:30:20Z @jo mine, sour",
		"2026-03-02T06:40:00Z device:scale {\"yield_g\": 35, \"time_s\": 28}",
		"2026-03-02T06:50:00Z @sam 18 36 29 sour",
		"2026-03-02T06:50:20Z device:scale {\"yield_g\": 36, \"time_s\": 29}",
	})
	do := func(args ...string) {
		t.Helper()
		var out strings.Builder
		if err := run(t.Context(), args, func(string) string { return "" }, strings.NewReader(""), &out, &out); err != nil {
			t.Fatal(args, err)
		}
	}
	do("export", "-db", db, csv)
	text, err := os.ReadFile(csv)
	if err != nil || strings.Count(string(text), ",scale,0.6") != 3 || !strings.Contains(string(text), ",jo,") {
		t.Errorf("%v\n%s", err, text)
	}
	other := filepath.Join(dir, "other.db")
	do("import", "-db", other, csv)
	again := filepath.Join(dir, "again.csv")
	do("export", "-db", other, again)
	if got, err := os.ReadFile(again); err != nil || string(got) != string(text) {
		t.Errorf("%v, came out as\n%s\nof\n%s", err, got, text)
	}
	reading(t, other, func(tx *store.Tx) error {
		list, err := tx.Devices(1)
		if len(list) != 1 || list[0].Name != "scale" || !list[0].Retired || list[0].Secret != "" {
			t.Errorf("imported: %+v", list)
		}
		return err
	})
	lines, moved, second := filepath.Join(dir, "bar.jsonl"), filepath.Join(dir, "moved.db"), filepath.Join(dir, "again.jsonl")
	do("export", "-db", db, lines)
	do("import", "-db", moved, lines)
	do("export", "-db", moved, second)
	was, err := os.ReadFile(lines)
	if got, err2 := os.ReadFile(second); err != nil || err2 != nil || string(got) != string(was) {
		t.Errorf("%v, %v, came out as\n%s\nof\n%s", err, err2, got, was)
	}
	do("check", "-db", db)
	do("forget", "-db", db, "-yes", "-person", "jo")
	do("check", "-db", db)
	for _, e := range shotsSince(t, db, time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)) {
		if posted := strings.HasPrefix(e.Raw, "{"); posted && e.Person != 0 || e.Raw == "" {
			t.Errorf("after jo was forgotten: %+v", e)
		}
	}
}

// An address that is open to whoever reaches the computer is called so.
func TestListensText(t *testing.T) {
	for address, open := range map[string]bool{"127.0.0.1:8398": false, "192.168.1.20:8398": false, ":8398": true, "0.0.0.0:8398": true, "[::]:8398": true} {
		if got := listensText(address); strings.Contains(got, "Whoever") != open {
			t.Errorf("%s: %s", address, got)
		}
	}
}
