package main

import (
	"path/filepath"
	"strings"
	"testing"

	"shothand/bot/discord/fake"
)

// The first shot opens the day's thread on a card, which is edited as things
// happen, also after a restart, and never posted again.
func TestDiscordCard(t *testing.T) {
	if testing.Short() {
		t.Skip("a card is edited seconds after")
	}
	t.Parallel()
	f := newFake(t)
	db := filepath.Join(t.TempDir(), "bar.db")
	r := start(t, f, db)
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
	r = start(t, f, db)
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
