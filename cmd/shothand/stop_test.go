package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"syscall"
	"testing"
	"time"

	"shothand/bot/discord/fake"
)

// stopWithin is how long the program may take to end when it is told to: 5 s,
// and more where more wait for the processors than there are.
func stopWithin(t *testing.T) time.Duration {
	t.Helper()
	text, err := os.ReadFile("/proc/loadavg")
	if err != nil {
		return 5 * time.Second // not Linux
	}
	var load float64
	if _, err := fmt.Sscan(string(text), &load); err != nil {
		t.Fatalf("%v in %s", err, text)
	}
	return time.Duration(5 * float64(time.Second) * max(1, load/float64(runtime.NumCPU())))
}

// told sends SIGTERM to a program and checks that it ends in time and in order.
func told(t *testing.T, command *exec.Cmd) {
	t.Helper()
	began := time.Now()
	if err := command.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- command.Wait() }()
	select {
	case err := <-ended:
		if err != nil {
			t.Errorf("the program ended with %v", err)
		}
	case <-time.After(2 * stopWithin(t)):
		t.Error("the program does not end")
		if err := command.Process.Kill(); err != nil {
			t.Error(err)
		}
		t.Log("killed:", <-ended)
	}
	if took := time.Since(began); took > stopWithin(t) {
		t.Errorf("it took %v to end", took)
	}
}

// Told to stop among shots of several bars, a piped console ends at once, its
// file is whole and holds every shot that was answered.
func TestConsoleToldToStop(t *testing.T) {
	t.Parallel()
	program := build(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	n := 0
	for round := range 5 {
		command, in, out := piped(t, program, db)
		answered := map[string]bool{}
		first := make(chan struct{})
		read := make(chan struct{})
		go func() {
			defer close(read)
			lines := bufio.NewScanner(out)
			for i := 0; lines.Scan(); i++ {
				var o object
				if err := json.Unmarshal(lines.Bytes(), &o); err == nil && len(o.Replies) > 0 {
					answered[fmt.Sprint("shot-", n+o.Line-1)] = true
				}
				if i == round {
					close(first)
				}
			}
		}()
		go func() { // many more than it has time for
			for i := range 2000 {
				line := at(n+i, fmt.Sprintf("@mara #bar%d id:shot-%d 18 36 %d sour\n", i%3, n+i, 20+i%9))
				if _, err := io.WriteString(in, line); err != nil {
					return
				}
			}
		}()
		<-first
		told(t, command)
		<-read
		got := inFile(t, db)
		for id := range answered {
			if got[id] != 1 {
				t.Errorf("shot %s was answered and is in the file %d times", id, got[id])
			}
		}
		if len(answered) <= round || len(answered) >= 2000 {
			t.Errorf("%d shots were answered: the stop did not fall among them", len(answered))
		}
		n += 2000
	}
}

// onDiscord runs the program against a fake.
func onDiscord(t *testing.T, program, db string, f *fake.Server) *exec.Cmd {
	t.Helper()
	before := len(f.Identifies())
	command := exec.CommandContext(t.Context(), program, "-db", db, "-discord-url", f.URL, "-log", "warn")
	command.Env = append(os.Environ(), "DISCORD_TOKEN=x")
	command.Stderr = t.Output()
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	await(t, f, "the bot", func(s *fake.State) bool {
		return s.Connections() == 1 && len(s.Identifies()) > before && len(s.Commands("Harbour Lane")) > 0
	})
	return command
}

// Told to stop while Discord takes no posts, the program ends in time; every
// shot is answered once when it is back.
func TestDiscordToldToStop(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes a few seconds")
	}
	program := build(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	f := newFake(t)
	command := onDiscord(t, program, db, f)
	bind(t, f)
	time.Sleep(200 * time.Millisecond) // a bar is read a moment after it was set up
	said := []string{f.Say("dial-in", "mara", "18 36 19 sour", "")}
	await(t, f, "the first answer", hasAnswer(said[0], "dial-in"))
	f.Break(fake.Fault{Method: "POST", Path: "/channels/*/messages", Status: 503, Times: -1})
	for i := range 20 {
		said = append(said, f.Say("dial-in", "mara", fmt.Sprintf("18 36 %d sour", 20+i%9), ""))
	}
	await(t, f, "a try", func(s *fake.State) bool {
		return slices.ContainsFunc(s.Requests(), func(r fake.Request) bool { return r.Status == 503 })
	})
	told(t, command)
	f.Mend()
	command = onDiscord(t, program, db, f)
	await(t, f, "every answer", func(s *fake.State) bool {
		return !slices.ContainsFunc(said, func(id string) bool { return len(answers(s, id, "dial-in")) == 0 })
	})
	told(t, command)
	checkAnswers(t, f, db, said)
}

// checkAnswers fails unless every message was answered once and is in the file
// once.
func checkAnswers(t *testing.T, f *fake.Server, db string, said []string) {
	t.Helper()
	for _, id := range said {
		list := withoutCaution(answers(f, id, "dial-in"))
		if len(list) != 1 {
			t.Errorf("message %s has %d answers: %+v", id, len(list), list)
		}
	}
	if got := shots(t, db); len(got) != len(said) {
		t.Errorf("%d shots are in the file, want %d", len(got), len(said))
	}
	if out, err := call(t, "", "check", "-db", db); err != nil {
		t.Errorf("%v %s", err, out)
	}
	for _, v := range f.Violations() {
		t.Error("violation:", v)
	}
}

// Killed at any instant on Discord, no shot that came is lost and none is
// answered twice.
func TestKilledOnDiscord(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes a few seconds")
	}
	program := build(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	f := newFake(t)
	command := onDiscord(t, program, db, f)
	bind(t, f)
	var said []string
	n := kills(t, 5)
	for k := range n {
		for range 1 + k%3 {
			said = append(said, f.Say("dial-in", "mara", fmt.Sprintf("18 36 %d sour", 20+len(said)%9), ""))
		}
		// Anywhere from before it has come to after it is answered, and now and
		// then a while in which to catch up.
		time.Sleep(time.Duration(k*7%40) * time.Millisecond)
		if k%4 == 3 {
			time.Sleep(time.Duration(k*37%900) * time.Millisecond)
		}
		if err := command.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		if err := command.Wait(); err == nil {
			t.Error("the program ended before it was killed")
		}
		command = onDiscord(t, program, db, f)
	}
	began, before := time.Now(), 0
	for missing := len(said); missing > 0; missing = unanswered(f, said) {
		if time.Sleep(time.Second); missing != before {
			began, before = time.Now(), missing
		}
		if time.Since(began) > 30*time.Second {
			t.Fatalf("%d of %d shots are not answered\n%s", missing, len(said), transcript(f, "dial-in"))
		}
	}
	told(t, command)
	checkAnswers(t, f, db, said)
	t.Logf("%d kills, %d shots", n, len(said))
}

// unanswered counts the messages without an answer.
func unanswered(f *fake.Server, said []string) (n int) {
	answered := map[string]bool{}
	for _, m := range f.Messages("dial-in") {
		answered[m.ReplyTo] = true
	}
	for _, id := range said {
		if !answered[id] {
			n++
		}
	}
	return n
}
