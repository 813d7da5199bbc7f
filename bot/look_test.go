package bot

import (
	"path/filepath"
	"testing"
	"time"

	"shothand/bot/chat"
	"shothand/bot/turn"
	"shothand/store"
)

// A shot, also one that is asked about, is read for with one look at the records and
// written with one change,
// and that its answer was sent is noted with another.
func TestAShotTakesOneLookAndOneChange(t *testing.T) {
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
	say("/coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31")
	say("18 36 22 grind 5.2 sour")
	for _, text := range []string{"18 36 25 grind 5 a bit sour", "18 36 27 purged balanced", "18 36 28 sweet", "18 36 38 practice", "18 36 29", "18 36 29 grind 52"} {
		views, updates := s.Counts()
		outs := say(text)
		v, u := s.Counts()
		if len(outs) == 0 || v-views != 1 || u-updates != 1 {
			t.Errorf("%q: %d looks, %d changes, %v", text, v-views, u-updates, outs)
			continue
		}
		if err := b.noteSent("dial-in", outs[0], "post of "+text); err != nil {
			t.Error(err)
		}
		if _, noted := s.Counts(); noted-u != 1 {
			t.Errorf("%q: that it was sent took %d changes", text, noted-u)
		}
	}
}
