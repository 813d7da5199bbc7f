package bot

import (
	"path/filepath"
	"testing"
	"time"

	"shothand/bot/chat"
	"shothand/bot/turn"
	"shothand/store"
)

// What a message is answered from is read with one look at the records, its
// answer is written with one change, and one more notes that it was sent.
func TestAMessageTakesOneLookAndOneChange(t *testing.T) {
	s, err := store.Open(filepath.Join(t.TempDir(), "bar.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}()
	b := New(s, Options{Open: true})
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	say := func(text string) []turn.Out {
		at = at.Add(4 * time.Minute)
		return b.Handle(chat.Message{
			ID: at.String(), Channel: "dial-in", From: chat.Person{ID: "1", Name: "mara"}, Manager: true, Text: text, At: at,
		})
	}
	say("/grinder add name:left finer:lower step:0.1")
	say("/grinder add name:right step:none")
	say("/coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31")
	say("/coffee add name:Tide grinder:right dose:18 yield:36 time:25-31")
	say("Harbour 18 36 22 grind 5.2 sour")
	for _, text := range []string{
		"Harbour 18 36 25 grind 5 a bit sour", "18 36 27 purged balanced", "18 36 28 sweet", "18 36 38 practice", "18 36 29", "bitter", "18 36 29 grind 52",
		"yes", "18 36 27 sour", "was 26", "/undo", "/undo", // typed answers, corrections and what takes them back
		"new bag, 18 36 26 sour", "/undo", "new bag", "/undo", "/dialled", "/undo", // events, beside a shot and alone
		"Tide 18 36 27 sour", "Tide 18 36 27 grind 3.5 sour", "lower", "/undo", // a dial's first number
		"went to 4.9", "/undo", "18 36 27 sour", "that was Harbour", "18 36 15 choked", "not sour, bitter", "did it",
		"actually 4.8", "actually 4.9", "/undo", "18 36 27", "sour practice",
		"18 36", "/coffee edit Harbour yield:37", "/undo", "/grinder edit left step:0.2", "/undo", "/setup name:Lane", "/undo", // settings, also over a question
	} {
		views, updates := s.Counts()
		outs := say(text)
		v, u := s.Counts()
		if len(outs) == 0 || v-views != 1 || u-updates != 1 {
			t.Errorf("%q: %d looks, %d changes, %.200v", text, v-views, u-updates, outs)
			continue
		}
		if err := b.noteSent("dial-in", outs[0], "post of "+text); err != nil {
			t.Error(err)
		}
		if _, noted := s.Counts(); noted-u > 1 {
			t.Errorf("%q: that it was sent took %d changes", text, noted-u)
		}
	}
}
