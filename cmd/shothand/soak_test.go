package main

import (
	"flag"
	"math/rand/v2"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"go.uber.org/goleak"

	"shothand/bot/discord/fake"
)

// soakFor is how long the soak runs.
var soakFor = flag.Duration("soak", 0, "how long TestSoak runs: 10m before a release; usually 30s with the race detector and 10s without")

// A fault every few seconds, and traffic all the while: nothing is lost,
// nothing answered twice, nothing left running, and memory stays flat.
func TestSoak(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a while")
	}
	lasts := *soakFor
	if lasts == 0 {
		if lasts = 10 * time.Second; raced {
			lasts = 30 * time.Second
		}
	}
	before := goleak.IgnoreCurrent()
	dice := rand.New(rand.NewPCG(5, 17))
	f := newFake(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	r := start(t, f, db)
	bind(t, f)
	thread := f.StartThread("dial-in", "jo", "monday")
	const messages = "/channels/*/messages"
	faults := []struct {
		name string
		do   func()
	}{
		{"cut", f.CutConnections},
		{"cut in an event", func() { f.NextEvents("MESSAGE_CREATE", fake.Cut) }},
		{"lost and cut", func() {
			f.NextEvents("MESSAGE_CREATE", fake.Lose)
			time.Sleep(200 * time.Millisecond)
			f.CutConnections()
		}},
		{"twice", func() { f.NextEvents("MESSAGE_CREATE", fake.Twice, fake.Twice) }},
		{"late", func() { f.NextEvents("MESSAGE_CREATE", fake.Late) }},
		{"reconnect", f.AskReconnect},
		{"reconnect first", func() { f.NextConnections(fake.Opening{Reconnect: true}); f.CutConnections() }},
		{"invalid", func() { f.InvalidateSessions(false) }},
		{"invalid first", func() { f.NextConnections(fake.Opening{Invalid: true}); f.CutConnections() }},
		{"no hello", func() { f.NextConnections(fake.Opening{NoHello: true}); f.CutConnections() }},
		{"closed", func() { f.CloseConnections(4000) }},
		{"unknown component", func() { f.SayUnknown("dial-in") }},
		{"429", func() {
			f.Break(fake.Fault{Method: "POST", Path: messages, Status: 429, RetryAfter: 300 * time.Millisecond})
		}},
		{"429 global", func() {
			f.Break(fake.Fault{Method: "POST", Path: messages, Status: 429, RetryAfter: 300 * time.Millisecond, Scope: "global"})
		}},
		{"502 after it was done", func() { f.Break(fake.Fault{Method: "POST", Path: messages, Status: 502, AfterServing: true}) }},
		{"503", func() { f.Break(fake.Fault{Method: "POST", Path: messages, Status: 503}) }},
		{"slow", func() { f.Break(fake.Fault{Method: "POST", Path: messages, Delay: time.Second}) }},
		{"unreadable answer", func() { f.Break(fake.Fault{Method: "POST", Path: messages, UnknownComponent: true}) }},
		{"restart", func() { r.stop(); r = start(t, f, db) }},
	}
	places := []string{"dial-in", "dial-in", thread}
	said := map[string]string{} // by the message's id, the shot that stands
	order := []string{}
	var early uint64
	end := time.Now().Add(lasts)
	for n := 0; time.Now().Before(end); n++ {
		text := "18 36 " + strconv.Itoa(22+dice.IntN(9)) + " grind 5." + strconv.Itoa(dice.IntN(10)) + " sour"
		id := f.Say(places[n%3], []string{"jo", "sam"}[n%2], text, "")
		said[id] = text
		order = append(order, id)
		if n%7 == 3 {
			f.Say("dial-in", "mara", "who took the cups?", "")
		}
		if n%5 == 4 {
			back := order[len(order)-3]
			said[back] = said[back] + " thin"
			f.EditMessage(back, said[back])
		}
		if n%2 == 1 {
			fault := faults[dice.IntN(len(faults))]
			t.Log("fault:", fault.name)
			fault.do()
		}
		time.Sleep(time.Duration(1000+dice.IntN(1500)) * time.Millisecond)
		if early == 0 && time.Until(end) < lasts/2 {
			early = heap()
		}
	}
	f.Mend()
	// A tick of the catch-up after the last fault.
	f.CutConnections()
	allAnswered(t, f, order, "dial-in", thread) // not by await, which would hold the fake for as long as counting takes
	if late := heap(); late > early+16<<20 {
		t.Errorf("the heap grew from %d to %d KiB", early>>10, late>>10)
	}
	eventuallyShots(t, r, db, said)
	for _, id := range order {
		if n := len(withoutCaution(answers(f, id, "dial-in", thread))); n != 1 {
			t.Errorf("%q has %d answers: %+v", said[id], n, answers(f, id, "dial-in", thread))
		}
	}
	t.Logf("%d shots, %d sessions, heap %d to %d KiB", len(order), len(f.Identifies()), early>>10, heap()>>10)
	for _, v := range f.Violations() {
		t.Error("violation:", v)
	}
	f.Close()
	goleak.VerifyNone(t, before)
}

func heap() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// eventuallyShots stops the bot and compares the shots in its file with what
// was said, by message.
func eventuallyShots(t *testing.T, r *running, db string, said map[string]string) {
	t.Helper()
	time.Sleep(time.Second) // edits on their way
	r.stop()
	got := map[string]string{}
	for _, e := range shotsSince(t, db, time.Now().Add(-24*time.Hour)) {
		id := e.Message[strings.LastIndexByte(e.Message, '/')+1:]
		if got[id] != "" {
			t.Errorf("%q is there twice", e.Raw)
		}
		got[id] = e.Raw
	}
	for id, text := range said {
		if got[id] != text {
			t.Errorf("message %s: recorded %q, said %q", id, got[id], text)
		}
	}
	if len(got) != len(said) {
		t.Errorf("%d shots are recorded, %d were said", len(got), len(said))
	}
}
