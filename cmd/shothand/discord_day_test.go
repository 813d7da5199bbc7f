package main

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shothand/bot/discord/fake"
)

// The first shot opens the day's thread on a card, which is edited as things
// happen, also after a restart, and never posted again.
func TestDiscordCard(t *testing.T) {
	inBubble(t, time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC), playCard)
}

func playCard(b *bubble) {
	t, f := b.T, b.Server
	db := filepath.Join(t.TempDir(), "bar.db")
	r := b.join(db)
	bind(t, f)
	shot := f.Say("dial-in", "mara", "18 36 28 grind 5 sweet", "")
	await(t, f, "the answer", hasAnswer(shot, "dial-in"))
	await(t, f, "the thread", func(s *fake.State) bool { return len(s.Threads("dial-in")) == 1 })
	card := f.Threads("dial-in")[0].ID // a thread on a post has its id
	says := func(what string) func(*fake.State) bool {
		return func(s *fake.State) bool {
			m, _ := s.Message(card)
			return strings.Contains(m.Content, what)
		}
	}
	await(t, f, "the card", says("dialling"))
	called := f.Say("dial-in", "jo", "house is dialled in", "")
	await(t, f, "the answer to the call", hasAnswer(called, "dial-in"))
	await(t, f, "the card edited", says("dialled in, 18 → 36 g, 28 s, at 5 (jo"))
	r.stop()
	r = b.join(db)
	moved := f.Say("dial-in", "sam", "18 36 29 grind 4.9 sweet", "")
	await(t, f, "the answer after the restart", hasAnswer(moved, "dial-in"))
	await(t, f, "the card after the restart", says("dialling"))
	r.stop()
	if n := len(f.Threads("dial-in")); n != 1 {
		t.Errorf("%d threads", n)
	}
	cards := 0
	for _, m := range f.Posts("dial-in") {
		if strings.Contains(m.Content, "house: ") {
			cards++
		}
	}
	if cards != 1 {
		t.Errorf("%d cards:\n%s", cards, transcript(f, "dial-in"))
	}
}

// What was written in the day's thread while the bot was away is read when it
// comes back, also if nobody had spoken there before, and if the platform has
// put the thread away meanwhile.
func TestDayThreadCaughtUp(t *testing.T) {
	for _, archived := range []bool{false, true} {
		inBubble(t, time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC), func(b *bubble) {
			t, f := b.T, b.Server
			db := filepath.Join(t.TempDir(), "bar.db")
			r := b.join(db)
			bind(t, f)
			f.Say("dial-in", "mara", "18 36 28 grind 5 sweet", "")
			await(t, f, "the thread", func(s *fake.State) bool { return len(s.Threads("dial-in")) == 1 })
			time.Sleep(time.Minute)
			r.stop()
			thread := f.Threads("dial-in")[0].ID
			away := f.Say(thread, "jo", "18 36 30 a bit bitter", "")
			time.Sleep(10 * time.Hour)
			if archived {
				f.Archive(thread, false)
			}
			time.Sleep(10 * time.Hour)
			r = b.join(db)
			await(t, f, "the answer in the thread", hasAnswer(away, thread))
			r.stop()
			if n := len(answers(f, away, thread, "dial-in")); n != 1 {
				t.Errorf("archived %v: %d answers", archived, n)
			}
		})
	}
}
