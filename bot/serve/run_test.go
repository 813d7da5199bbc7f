package serve

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/bot"
	"shothand/bot/chat"
	"shothand/store"
)

// A tester runs a bot on a fresh file.
type tester struct {
	*Runner
	t     *testing.T
	store *store.Store
}

func newTester(t *testing.T, o bot.Options) *tester {
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
	return &tester{New(bot.New(s, o)), t, s}
}

func morning() time.Time { return time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC) }

// A script is a service that brings messages of several bars at once.
type script struct {
	bars, shots int
	mu          sync.Mutex
	sent        map[string][]string // of each bar, in order
}

func (s *script) Listen(_ context.Context, deliver func(chat.Message) <-chan struct{}) error {
	var bars sync.WaitGroup
	for bar := range s.bars {
		bars.Go(func() {
			var last <-chan struct{}
			for n := range s.shots {
				last = deliver(chat.Message{
					ID: fmt.Sprint(bar, "-", n), Channel: fmt.Sprint("bar ", bar), From: chat.Person{ID: "mara", Name: "mara"},
					At: morning().Add(time.Duration(n) * 3 * time.Minute), Text: fmt.Sprintf("18 36 %d sour", 20+n),
				})
			}
			<-last
		})
	}
	bars.Wait()
	return nil
}

func (s *script) Send(_ context.Context, p chat.Post) (string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.sent[p.Channel] = append(s.sent[p.Channel], p.Cause)
	return "post " + p.Cause, nil
}

func (s *script) Edit(context.Context, string, chat.Post) error { return nil }

// Bars side by side do not disturb each other, and each is answered in order.
func TestBarsSideBySide(t *testing.T) {
	s := &script{bars: 5, shots: 6, sent: map[string][]string{}}
	if err := newTester(t, bot.Options{Open: true}).Run(t.Context(), s); err != nil {
		t.Fatal(err)
	}
	for bar := range s.bars {
		var want []string
		for n := range s.shots {
			want = append(want, fmt.Sprint(bar, "-", n))
		}
		if got := s.sent[fmt.Sprint("bar ", bar)]; strings.Join(got, " ") != strings.Join(want, " ") {
			t.Errorf("bar %d was answered %v, want %v", bar, got, want)
		}
	}
}

// A board is a chat in memory: the posts that stand in it.
type board struct {
	mu      sync.Mutex
	posts   []chat.Post
	edits   int
	listens func(ctx context.Context, deliver func(chat.Message) <-chan struct{}) error
}

func (b *board) Listen(ctx context.Context, deliver func(chat.Message) <-chan struct{}) error {
	return b.listens(ctx, deliver)
}

func (b *board) Send(_ context.Context, p chat.Post) (string, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.posts = append(b.posts, p)
	return p.Cause, nil
}

func (b *board) Edit(context.Context, string, chat.Post) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.edits++
	return nil
}

// With a clock, Run wakes bars in which nobody has spoken since it began, and
// edits a card seconds after, not with, what happens.
func TestRunWakesBars(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		// The fake clock begins at 2000-01-01; the bar lives in 2026.
		start := time.Date(2026, 3, 3, 5, 0, 0, 0, time.UTC)
		began := time.Now()
		clock := func() time.Time { return start.Add(time.Since(began)) }
		b := newTester(t, bot.Options{Open: true, Clock: clock})
		b.setUp(start.Add(-24 * time.Hour))
		service := &board{}
		type seen struct {
			At, Kind string
			Thread   bool
		}
		service.listens = func(ctx context.Context, deliver func(chat.Message) <-chan struct{}) error {
			time.Sleep(2 * time.Hour)
			for i := range 3 {
				<-deliver(chat.Message{ID: clock().String(), Channel: "lane", From: chat.Person{ID: "mara", Name: "mara"}, At: clock(), Text: []string{"18 36 28", "sweet", "/dialled"}[i]})
				time.Sleep(time.Second)
			}
			service.mu.Lock()
			if service.edits != 0 {
				t.Errorf("%d edits at once", service.edits)
			}
			service.mu.Unlock()
			time.Sleep(24 * time.Hour)
			return nil
		}
		if err := b.Run(t.Context(), service); err != nil {
			t.Fatal(err)
		}
		var got []seen
		for _, p := range service.posts {
			if p.Due {
				got = append(got, seen{p.At.Format("2 15:04"), p.Kind.String(), p.Thread != ""})
			}
		}
		want := []seen{{"3 06:30", "reminder", false}, {"3 18:00", "info", true}}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("posts (-want +got):\n%s", diff)
		}
		if service.edits == 0 || service.edits > 3 {
			t.Errorf("the card was edited %d times", service.edits)
		}
	})
}

// setUp makes a bar that is reminded at 06:30 of one coffee.
func (b *tester) setUp(at time.Time) {
	for i, line := range []string{
		"/setup name:Lane zone:Europe/London opens:07:00 remind:06:30 closes:18:00",
		"/coffee add name:Harbour",
	} {
		b.Handle(chat.Message{
			ID: line, Channel: "lane", From: chat.Person{ID: "mara", Name: "mara"}, Manager: true,
			At: at.Add(time.Duration(i) * time.Second), Text: line,
		})
	}
}
