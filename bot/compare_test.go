package bot

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// Bars stand beside each other for whoever may manage them, and nobody hears of
// one that is not known to be theirs.
func TestReviewOfBars(t *testing.T) {
	s, err := store.Open(filepath.Join(t.TempDir(), "bars.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}()
	b, n := New(s, Options{Open: true}), 0
	at := time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC)
	hear := func(m chat.Message) turn.Out {
		n++
		m.ID, m.At, m.From = fmt.Sprint("m", n), at.Add(time.Duration(n)*time.Minute), chat.Person{ID: "mara", Name: "mara"}
		out := b.Handle(m)
		if len(out) == 0 {
			t.Fatalf("no answer to %q", m.Text)
		}
		return out[len(out)-1]
	}
	for _, channel := range []string{"lane", "quay", "dock"} {
		for _, line := range []string{"/setup name:The" + channel, "/coffee add name:Heron", "18 36 28 balanced"} {
			hear(chat.Message{Channel: channel, Manager: true, Text: line})
		}
	}
	for _, test := range []struct {
		manager bool
		manages []string
		here    string
		not     string
	}{
		{true, []string{"quay"}, "Thelane Thequay", "Thedock"},
		{true, nil, "Thelane", "Thequay Thedock"},
		{true, []string{chat.Everywhere}, "Thelane Thequay Thedock", ""},
		{false, []string{"quay"}, "", "Thelane Thequay Thedock"},
	} {
		got := hear(chat.Message{Channel: "lane", Manager: test.manager, Manages: test.manages, Text: "/review bars"})
		for name := range strings.FieldsSeq(test.here) {
			if !strings.Contains(got.Text, name+": 1 shot") {
				t.Errorf("manages %v: no %s in %q", test.manages, name, got.Text)
			}
		}
		for name := range strings.FieldsSeq(test.not) {
			if strings.Contains(got.Text, name) {
				t.Errorf("manages %v: %s is in %q", test.manages, name, got.Text)
			}
		}
		if !got.Private {
			t.Errorf("everybody hears %q", got.Text)
		}
		if !test.manager && got.Text != string(say.NotManager) {
			t.Errorf("whoever manages nothing hears %q", got.Text)
		}
	}
}
