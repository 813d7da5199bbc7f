package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/bot"
	"shothand/bot/chat"
	"shothand/bot/serve"
	"shothand/store"
)

// A part is a service that brings shots of some bars and keeps what is said.
type part struct {
	bars, shots int
	name        string

	mu   sync.Mutex
	said map[string][]string // by channel, in order
}

func (p *part) Listen(_ context.Context, deliver func(chat.Message) <-chan struct{}) error {
	var all sync.WaitGroup
	for bar := range p.bars {
		all.Go(func() {
			for n := range p.shots {
				<-deliver(p.shot(bar, n))
			}
		})
	}
	all.Wait()
	return nil
}

// shot is the nth shot of a bar, each bar and part with times of its own.
func (p *part) shot(bar, n int) chat.Message {
	return chat.Message{
		ID: fmt.Sprintf("%s-%d-%d", p.name, bar, n), Channel: fmt.Sprintf("%s-bar-%d", p.name, bar),
		From: chat.Person{ID: "mara", Name: "mara"}, At: opening.Add(time.Duration(n) * 3 * time.Minute),
		Text: fmt.Sprintf("18 36 %d grind 5.%d %s", 20+(bar+3*n)%10, n%8, []string{"sour", "a bit sour", "balanced"}[n%3]),
	}
}

func (p *part) Send(_ context.Context, post chat.Post) (string, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.said[post.Channel] = append(p.said[post.Channel], post.Text)
	return "post " + post.Cause, nil
}

func (p *part) Edit(context.Context, string, chat.Post) error { return nil }

// Eight parts of a service run side by side on one machine, each with a file
// of its own. None knows a bar of another. A bar that is moved from one file to
// another is advised there as it would have been at home.
func TestEightShards(t *testing.T) {
	const parts, bars, shots = 8, 4, 8
	dir := t.TempDir()
	file := func(n int) string { return filepath.Join(dir, fmt.Sprintf("part-%d.db", n)) }
	all := make([]*part, parts)
	var running sync.WaitGroup
	for n := range parts {
		all[n] = &part{bars: bars, shots: shots, name: fmt.Sprint("part-", n), said: map[string][]string{}}
		running.Go(func() { playPart(t, file(n), all[n]) })
	}
	running.Wait()
	for n, p := range all {
		if len(p.said) != bars {
			t.Errorf("part %d spoke in %d channels, want %d", n, len(p.said), bars)
		}
		if out, err := call(t, "", "check", "-db", file(n)); err != nil {
			t.Errorf("part %d: %v %s", n, err, out)
		}
		if got := barsIn(t, file(n)); got != bars {
			t.Errorf("part %d has %d bars, want %d", n, got, bars)
		}
	}
	moved := filepath.Join(dir, "moved.jsonl")
	for _, args := range [][]string{
		{"export", "-db", file(0), "-bar", "part-0-bar-2", moved}, {"import", "-db", file(5), moved}, {"check", "-db", file(5)},
	} {
		if out, err := call(t, "", args...); err != nil {
			t.Fatal(args, err, out)
		}
	}
	if got := barsIn(t, file(5)); got != bars+1 {
		t.Errorf("%d bars after the move, want %d", got, bars+1)
	}
	next := all[0].shot(2, shots)
	if diff := cmp.Diff(answerIn(t, file(0), next), answerIn(t, file(5), next)); diff != "" {
		t.Errorf("advised otherwise after the move:\n%s", diff)
	}
}

// playPart runs a part over a file.
func playPart(t *testing.T, path string, p *part) {
	t.Helper()
	records, err := store.Open(path)
	if err != nil {
		t.Error(err)
		return
	}
	if err := serve.New(bot.New(records, bot.Options{Open: true})).Run(t.Context(), p); err != nil {
		t.Error(err)
	}
	if err := records.Close(); err != nil {
		t.Error(err)
	}
}

func barsIn(t *testing.T, path string) (n int) {
	t.Helper()
	reading(t, path, func(tx *store.Tx) error {
		bars, err := tx.Bars()
		n = len(bars)
		return err
	})
	return n
}

// answerIn returns what is said to a message by a bot on a file.
func answerIn(t *testing.T, path string, m chat.Message) (said []string) {
	t.Helper()
	records, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, out := range bot.New(records, bot.Options{Open: true}).Handle(m) {
		said = append(said, out.Text)
	}
	if err := records.Close(); err != nil {
		t.Fatal(err)
	}
	if len(said) == 0 {
		t.Error("nothing was said")
	}
	return said
}

// reading reads the records in a file.
func reading(t *testing.T, path string, read func(*store.Tx) error) {
	t.Helper()
	records, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(records.View(read), records.Close()); err != nil {
		t.Fatal(err)
	}
}
