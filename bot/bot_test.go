package bot

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// newBot returns a bot on a fresh file.
func newBot(t testing.TB) *Bot {
	t.Helper()
	s, err := store.Open(filepath.Join(t.TempDir(), "bar.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return New(s, Options{Open: true})
}

func morning() time.Time { return time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC) }

// Whatever is typed, the bot does not stumble, and what it says fits into one
// message of a chat.
func TestAnythingIsAnswered(t *testing.T) {
	pieces := []string{
		"18", "36", "24", "0", "1e300", "NaN", "-5", "5,2", "2.3.5", "sour", "not sour", "choked", "grind", "still", "was", "that was",
		"decaf", "/coffee add", "/grinder edit", "/setup", "/why more:yes", "/undo", "/today", "/dialled", "name:\"Har\u200bbour\"",
		"name:", "dose:18", "finer:lower", "step:1e300", "zone:../../etc", "@everyone", "*", "\u202e", "\x00\x1b[2J", "1:2", "tds 9",
		"new bag", "re-zeroed", "practice", "in", "out", "s", "\n", "\"", "☕", strings.Repeat("x", 3000),
	}
	b := newBot(t)
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		bar := fmt.Sprint("bar ", n)
		for range 4 {
			n++
			text := strings.Join(rapid.SliceOfN(rapid.OneOf(rapid.SampledFrom(pieces), rapid.String()), 0, 6).Draw(t, "text"), " ")
			m := chat.Message{
				ID: fmt.Sprint(n), Channel: bar, From: chat.Person{ID: "mara", Name: "mara"}, Manager: true,
				At: morning().Add(time.Duration(n) * 3 * time.Minute), Text: text,
			}
			if rapid.Bool().Draw(t, "edited") {
				m.ID, m.Kind = fmt.Sprint(n-1), chat.Edited
			}
			for _, out := range b.Handle(m) {
				checkPost(t, text, out)
			}
		}
	})
}

// checkPost fails unless a post is one that a chat takes.
func checkPost(t *rapid.T, text string, out turn.Out) {
	if out.Text == string(say.Trouble) || out.Text == "" {
		t.Fatalf("%q was answered %q", text, out.Text)
	}
	if n := utf8.RuneCountInString(out.Text); n > 2000 {
		t.Fatalf("%q: an answer of %d characters", text, n)
	}
	for _, button := range out.Buttons {
		if len(button.State) > 100 || utf8.RuneCountInString(button.Label) > 80 {
			t.Fatalf("%q: button %q %q", text, button.Label, button.State)
		}
	}
}

// sendOut sends an answer and notes it, as whoever runs a bot does.
func sendOut(ctx context.Context, b *Bot, service chat.Service, out turn.Out) (err error) {
	out.Thread = b.Thread(out)
	id := out.Edits
	if id != "" {
		err = service.Edit(ctx, id, out.Post)
	} else {
		id, err = service.Send(ctx, out.Post)
	}
	if err != nil {
		return err
	}
	return b.Sent(out.Channel, out, true, id)
}

// Once a post is out, or an edit of it, no reply is left to be sent.
func TestNothingIsLeftPending(t *testing.T) {
	b := newBot(t)
	s := &board{finds: true}
	for i, m := range []chat.Message{
		{ID: "1", Kind: chat.Text, Text: "18 36 24 sour"},
		{ID: "1", Kind: chat.Edited, Text: "18 36 26 sour"},
		{ID: "2", Kind: chat.Text, Text: "/today"},
	} {
		m.Channel, m.From, m.At = "bar", chat.Person{ID: "mara", Name: "mara"}, morning().Add(time.Duration(i)*time.Minute)
		for _, out := range b.Handle(m) {
			if err := sendOut(t.Context(), b, s, out); err != nil {
				t.Fatal(err)
			}
		}
	}
	err := b.tools.Store.View(func(tx *store.Tx) error {
		bar, _ := tx.BarOf("bar")
		pending, err := tx.PendingReplies(bar)
		if len(pending) > 0 {
			t.Errorf("still to be sent: %+v", pending)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}

// A bar's message is answered once, however often it is delivered.
func TestDeliveredTwice(t *testing.T) {
	b := newBot(t)
	m := chat.Message{ID: "1", Channel: "bar", From: chat.Person{ID: "mara", Name: "mara"}, At: morning(), Text: "18 36 24 sour"}
	if n := len(b.Handle(m)); n != 1 {
		t.Fatalf("%d posts, want 1", n)
	}
	if n := len(b.Handle(m)); n != 0 {
		t.Errorf("%d posts the second time, want none", n)
	}
}

// A channel that nobody set up is not read where it has to be.
func TestClosedBarIsNotRead(t *testing.T) {
	b := newBot(t)
	b.open = false
	m := chat.Message{ID: "1", Channel: "elsewhere", From: chat.Person{ID: "mara", Name: "mara"}, At: morning(), Text: "18 36 24 sour"}
	if n := len(b.Handle(m)); n != 0 {
		t.Errorf("%d posts, want none", n)
	}
}

// The first shot of a bar may be an edit of what was asked about: its coffee is made
// then.
func TestFirstShotByAnEdit(t *testing.T) {
	b := newBot(t)
	m := chat.Message{ID: "1", Channel: "bar", From: chat.Person{ID: "mara", Name: "mara"}, Manager: true, At: morning(), Text: "18 36"}
	b.Handle(m)
	m.Kind, m.Text = chat.Edited, "choked"
	outs := b.Handle(m)
	if len(outs) == 0 || !strings.Contains(outs[0].Text, "first shot: 18 → 36 g, choked") {
		t.Errorf("%+v", outs)
	}
}
