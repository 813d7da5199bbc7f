package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"time"

	"shothand/bot/discord/fake"
)

// tally counts answers by what they answer, over channels. The caution of the
// day is no answer.
func tally(s interface{ Messages(string) []fake.Message }, channels ...string) map[string]int {
	count := map[string]int{}
	for _, c := range channels {
		for _, m := range s.Messages(c) {
			if m.Author.Bot && m.ReplyTo != "" {
				count[m.ReplyTo]++
			}
		}
	}
	return count
}

// allAnswered waits until every message has an answer, for as long as answers keep
// coming.
func allAnswered(t *testing.T, f *fake.Server, said []string, channels ...string) {
	t.Helper()
	began, before := time.Now(), -1
	for {
		n := len(tally(f, channels...))
		if n >= len(said) {
			return
		}
		if n != before {
			began, before = time.Now(), n
		}
		if time.Since(began) > 90*time.Second { // what fails is tried again after a minute
			t.Fatalf("%d of %d shots are answered", n, len(said))
		}
		time.Sleep(200 * time.Millisecond)
	}
}

// onceEach checks that every message was answered once and stands in the file
// once.
func onceEach(t *testing.T, f *fake.Server, db string, said []string, channels ...string) {
	t.Helper()
	time.Sleep(500 * time.Millisecond) // for what should not come
	count := tally(f, channels...)
	for _, id := range said {
		if count[id] != 1 {
			t.Errorf("message %s has %d answers", id, count[id])
		}
	}
	if len(count) != len(said) {
		t.Errorf("%d messages were answered, %d were said", len(count), len(said))
	}
	inFile := map[string]int{}
	for _, e := range shotsSince(t, db, time.Now().Add(-30*24*time.Hour)) {
		inFile[e.Message]++
	}
	for _, id := range said {
		if inFile[id] != 1 {
			t.Errorf("shot %s is in the file %d times", id, inFile[id])
		}
	}
}

// A watch notes the greatest heap until it is stopped.
func watchHeap() (stop func() uint64) {
	end, most := make(chan struct{}), make(chan uint64)
	go func() {
		var top uint64
		for {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			top = max(top, m.HeapInuse)
			select {
			case <-end:
				most <- top
				return
			case <-time.After(100 * time.Millisecond):
			}
		}
	}()
	return func() uint64 { close(end); return <-most }
}

// Many shots at once in one channel, with faults among the answers: each is
// recorded once and answered once. SHOTHAND_BURST sets how many.
func TestBurst(t *testing.T) {
	t.Parallel()
	n := ordered(t, "SHOTHAND_BURST", 120)
	f := newFake(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	r := start(t, f, db)
	bind(t, f)
	stopWatch := watchHeap()
	began := time.Now()
	var said []string
	for i := range n {
		said = append(said, f.Say("dial-in", []string{"mara", "jo", "sam"}[i%3], fmt.Sprintf("18 36 %d grind 5.%d sour", 20+i%11, i%10), ""))
		if i%100 == 50 {
			f.Break(fake.Fault{Method: "POST", Path: "/channels/*/messages", Status: 502, AfterServing: true})
		}
	}
	allAnswered(t, f, said, "dial-in")
	took, heap := time.Since(began), stopWatch()
	r.stop()
	onceEach(t, f, db, said, "dial-in")
	t.Logf("%d shots in %v, %d sessions, at most %d MiB of heap with the fake in it", n, took.Round(100*time.Millisecond), len(f.Identifies()), heap>>20)
}

// While Discord takes its time, and fails for longer than calls are tried, each
// shot is still answered once. SHOTHAND_SLOW sets how many.
func TestSlowDiscord(t *testing.T) {
	n := ordered(t, "SHOTHAND_SLOW", 150)
	times := quick()
	times.Call = 150 * time.Millisecond
	inBubble(t, opening, func(b *bubble) {
		t, f := b.T, b.Server
		db := filepath.Join(t.TempDir(), "bar.db")
		r := b.joinWith(db, times, time.Now)
		bind(t, f)
		var said []string
		for i := range n {
			said = append(said, f.Say("dial-in", []string{"mara", "jo", "sam"}[i%3], fmt.Sprintf("18 36 %d grind 5.%d sour", 20+i%11, i%10), ""))
			switch i % 25 {
			case 5: // done, but the bot hears too late, until it gives up
				f.Break(fake.Fault{Method: "POST", Path: "/channels/*/messages", DelayAnswer: 300 * time.Millisecond, Times: 10})
			case 15: // done, but the bot is told that it was not
				f.Break(fake.Fault{Method: "POST", Path: "/channels/*/messages", Status: 500, AfterServing: true, Times: 10})
			}
		}
		allAnswered(t, f, said, "dial-in")
		r.stop()
		onceEach(t, f, db, said, "dial-in")
	})
}

// Ten thousand messages of chatter, drops, and a restart: each shot is answered
// once. SHOTHAND_CHATTER sets how many.
func TestChatter(t *testing.T) {
	t.Parallel()
	n := ordered(t, "SHOTHAND_CHATTER", 1500)
	f := newFake(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	r := start(t, f, db)
	bind(t, f)
	shot := func(who, text string) string { return f.Say("dial-in", who, text, "") }
	talk := func(n int) {
		for i := range n {
			f.Say("dial-in", []string{"jo", "sam"}[i%2], fmt.Sprintf("who took the cups of table %d?", i), "")
		}
	}
	began := time.Now()
	said := []string{shot("mara", "18 36 22 grind 5.2 sour")}
	await(t, f, "the first answer", hasAnswer(said[0]))
	talk(n * 4 / 10)
	f.CutConnections()
	said = append(said, shot("jo", "18 36 23 grind 5.1 sour"))
	await(t, f, "the answer after a drop", hasAnswer(said[1]))
	f.AskReconnect()
	talk(n / 10)
	f.CutConnections()
	said = append(said, shot("sam", "18 36 24 grind 5.0 sour"))
	await(t, f, "the answer after another drop", hasAnswer(said[2]))
	r.stop()
	talk(n * 2 / 10)
	said = append(said, shot("jo", "18 36 25 grind 4.9 balanced"))
	talk(n * 3 / 10)
	r = start(t, f, db)
	said = append(said, shot("mara", "18 36 26 grind 4.9 bitter"))
	allAnswered(t, f, said, "dial-in")
	t.Logf("%d messages of chatter, %d sessions, %v", n, len(f.Identifies()), time.Since(began).Round(100*time.Millisecond))
	r.stop()
	onceEach(t, f, db, said, "dial-in")
}

// Many bars at once: every shot of each is answered once, there.
// SHOTHAND_MANYBARS sets how many.
func TestManyBarsOnDiscord(t *testing.T) {
	t.Parallel()
	n := ordered(t, "SHOTHAND_MANYBARS", 10)
	f := newFake(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	var channels []string
	for i := range n {
		channels = append(channels, f.AddChannel("Harbour Lane", fmt.Sprintf("bar-%d", i)))
	}
	r := start(t, f, db)
	for _, c := range channels {
		if _, err := f.Slash(c, "mara", "setup", map[string]any{"zone": "Europe/Berlin"}); err != nil {
			t.Fatal(err)
		}
		await(t, f, "a bar", func(s *fake.State) bool { return len(s.Posts(c)) == 1 })
	}
	stopWatch := watchHeap()
	began := time.Now()
	said := map[string]string{}
	const each = 5
	for i := range each {
		for k, c := range channels {
			said[f.Say(c, []string{"mara", "jo", "sam"}[(i+k)%3], fmt.Sprintf("18 36 %d grind 5.%d sour", 20+(i+k)%11, i), "")] = c
		}
		if i == each/2 {
			f.CutConnections()
		}
	}
	ids := slices.Sorted(maps.Keys(said))
	allAnswered(t, f, ids, channels...)
	took, heap := time.Since(began), stopWatch()
	r.stop()
	onceEach(t, f, db, ids, channels...)
	for _, c := range channels {
		for _, m := range f.Posts(c) {
			if at, ok := said[m.ReplyTo]; ok && at != c {
				t.Errorf("message %s was answered in another bar", m.ReplyTo)
			}
		}
	}
	t.Logf("%d bars, %d shots in %v, at most %d MiB of heap with the fake in it", n, len(said), took.Round(100*time.Millisecond), heap>>20)
}
