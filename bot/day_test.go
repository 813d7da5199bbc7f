package bot

import (
	"context"
	"errors"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"shothand/bot/chat"
	"shothand/store"
)

// A board is a chat in memory: the posts that stand in it.
type board struct {
	mu      sync.Mutex
	posts   []chat.Post
	edits   int
	finds   bool                 // what may be there already is looked for, else never sent again
	killed  func(step step) bool // the process dies at this step
	listens func(ctx context.Context, deliver func(chat.Message) <-chan struct{}) error
}

// A step is a moment between what is written down and what is sent.
type step int

const (
	beforeIntent step = iota
	beforeSend
	beforeNoted
	afterwardsKilled
)

var errKilled = errors.New("killed")

func (b *board) Listen(ctx context.Context, deliver func(chat.Message) <-chan struct{}) error {
	return b.listens(ctx, deliver)
}

func (b *board) Send(_ context.Context, p chat.Post) (string, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.killed != nil && b.killed(beforeSend) {
		return "", errKilled
	}
	if p.Again {
		if !b.finds {
			return "again", nil
		}
		for _, old := range b.posts {
			if old.Cause == p.Cause && old.Text == p.Text {
				return old.Cause, nil
			}
		}
	}
	b.posts = append(b.posts, p)
	if b.killed != nil && b.killed(beforeNoted) {
		return "", errKilled
	}
	return p.Cause, nil
}

func (b *board) Edit(_ context.Context, _ string, p chat.Post) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.edits++
	return nil
}

// morningBar makes a file with a bar that is reminded at 06:30 of one coffee.
func morningBar(t *testing.T) (path string, day time.Time) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "bar.db")
	day = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	s, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	b := New(s, Options{Open: true})
	for i, line := range []string{
		"/setup name:Lane zone:Europe/London opens:07:00 remind:06:30 closes:18:00",
		"/coffee add name:Harbour",
	} {
		b.Handle(chat.Message{
			ID: line, Channel: "lane", From: chat.Person{ID: "mara", Name: "mara"}, Manager: true,
			At: day.Add(-time.Hour + time.Duration(i)*time.Second), Text: line,
		})
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path, day
}

// live runs a process over the file: it looks for what is due at each instant.
func live(t *testing.T, path string, service *board, dies step, at ...time.Time) {
	t.Helper()
	s, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	b := New(s, Options{Open: true})
	dead := false
	service.killed = func(now step) bool {
		dead = dead || now == dies
		return dead
	}
	for _, now := range at {
		m := chat.Message{Kind: chat.Tick, Channel: "lane", At: now}
		if dies == beforeIntent {
			break
		}
		for _, out := range b.Handle(m) {
			if err := sendOut(t.Context(), b, service, out); err != nil && !errors.Is(err, errKilled) {
				t.Error(err)
			}
			if dead {
				break
			}
		}
		if dead {
			break
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// Killed at any step between what is written down and what is sent, the
// reminder comes once where the chat can be searched, and at most once where it
// cannot.
func TestReminderUnderKill(t *testing.T) {
	for _, test := range []struct {
		name  string
		finds bool
		dies  step
		want  int
	}{
		{"searched, before the intent", true, beforeIntent, 1},
		{"searched, before it is sent", true, beforeSend, 1},
		{"searched, before it is noted", true, beforeNoted, 1},
		{"searched, after all", true, afterwardsKilled, 1},
		{"console, before the intent", false, beforeIntent, 1},
		{"console, before it is sent", false, beforeSend, 0},
		{"console, before it is noted", false, beforeNoted, 1},
		{"console, after all", false, afterwardsKilled, 1},
	} {
		t.Run(test.name, func(t *testing.T) {
			path, day := morningBar(t)
			at := func(hour, minute int) time.Time {
				return day.Add(time.Duration(hour)*time.Hour + time.Duration(minute)*time.Minute)
			}
			service := &board{finds: test.finds}
			live(t, path, service, test.dies, at(6, 0), at(6, 30))
			live(t, path, service, -1, at(6, 40), at(6, 50), at(6, 20), at(7, 30)) // a clock set back between
			live(t, path, service, -1, at(8, 0))
			if len(service.posts) != test.want {
				t.Errorf("%d posts, want %d: %+v", len(service.posts), test.want, service.posts)
			}
			for _, p := range service.posts {
				if p.Kind != chat.Reminder || p.Opens == "" || !p.Due {
					t.Errorf("post: %+v", p)
				}
			}
		})
	}
}
