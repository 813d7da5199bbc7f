package main

import (
	"context"
	"log/slog"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"

	"shothand/advisor/bar"
	"shothand/bot"
	"shothand/bot/chat"
	"shothand/bot/console"
	"shothand/bot/serve"
	"shothand/store"
)

// A listener plays working days of the invented crew, with fifty shots in service,
// and counts what everybody in the channel is shown.
type listener struct {
	*rehearsal
	days          int
	posts, silent int
	kinds         map[chat.PostKind]int
}

// Send counts what a channel shows.
func (l *listener) Send(ctx context.Context, p chat.Post) (string, error) {
	if !p.Private {
		l.posts++
		l.kinds[p.Kind]++
		if p.Quiet() {
			l.silent++
		}
	}
	return l.rehearsal.Send(ctx, p)
}

// Listen plays the days.
func (l *listener) Listen(_ context.Context, deliver func(chat.Message) <-chan struct{}) error {
	l.deliver = func(m chat.Message) <-chan struct{} {
		done := deliver(m)
		<-done
		return deliver(chat.Message{Kind: chat.Tick, Channel: console.DefaultBar, At: m.At.Add(10 * time.Second)})
	}
	counters := l.counters()
	days := workdays(l.now, l.days)
	l.open(days[0], counters)
	l.posts, l.silent, l.kinds = 0, 0, map[chat.PostKind]int{}
	for i, day := range days {
		pulled := make([]setting, len(counters))
		for k, c := range counters {
			l.at = day.Add(time.Duration(k) * 20 * time.Minute)
			l.morning(i, 1, c)
			pulled[k] = setting{dial: c.dial, dose: 18, yield: c.yield}
		}
		l.at = day.Add(70 * time.Minute)
		for n := range 25 {
			for k, c := range counters {
				l.at = l.at.Add(8 * time.Minute)
				l.serve(c, &pulled[k], opener(n))
			}
		}
		<-deliver(chat.Message{Kind: chat.Tick, Channel: console.DefaultBar, At: day.Add(12 * time.Hour)})
	}
	return nil
}

// serve pulls a shot in service, one in three of them tasted. What is advised is
// done, and a coffee that was not dialled in before is called when it is.
func (l *listener) serve(c *counter, s *setting, who string) {
	l.shot(c, *s, who, l.dice.Float64() < 0.3)
	s.purged = l.advice.Purge
	switch to := l.advice.Change.To; l.advice.Change.Lever {
	case bar.Grind.String():
		s.dial = to
	case bar.Yield.String():
		s.yield = to
	case bar.Dose.String():
		s.dose = to
	case bar.Keep.String():
		if l.advice.State == "dialling" {
			l.say(who, "/dialled coffee:"+c.name)
			l.say(who, "yes") // where it was asked because of the window
		}
	}
	c.dial = s.dial
}

// A ticking listener takes ticks as Discord does.
type ticking struct {
	*listener
	ticks int
}

// Tick counts a reaction.
func (l *ticking) Tick(ctx context.Context, p chat.Post) (bool, error) {
	l.ticks++
	_, err := l.rehearsal.Send(ctx, p)
	return true, err
}

// Untick is never asked for: nobody edits.
func (l *ticking) Untick(context.Context, chat.Post) error { return nil }

// How many posts a channel shows for each shot of a working week. With the command
// in testdata/VERIFIED.md it prints them.
func TestPostsAShot(t *testing.T) {
	t.Parallel()
	play := func(service chat.Service) int {
		records, err := store.Open(filepath.Join(t.TempDir(), "bar.db"))
		if err != nil {
			t.Fatal(err)
		}
		b := bot.New(records, bot.Options{Log: slog.New(slog.DiscardHandler), Open: true})
		if err := serve.New(b).Run(t.Context(), service); err != nil {
			t.Fatal(err)
		}
		shots := 0
		err = records.View(func(tx *store.Tx) error {
			id, _ := tx.BarOf(console.DefaultBar)
			entries, err := tx.Recent(id, time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC))
			for _, e := range entries {
				if _, ok := e.What.(bar.Shot); ok {
					shots++
				}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return shots
	}
	newListener := func() *listener {
		now := time.Date(2026, 3, 7, 19, 0, 0, 0, time.UTC)
		return &listener{rehearsal: &rehearsal{now: now, dice: rand.New(rand.NewPCG(1, 1))}, days: 5, kinds: map[chat.PostKind]int{}}
	}
	plain, marked := newListener(), &ticking{listener: newListener()}
	shots := play(plain)
	if again := play(marked); again != shots || shots < 250 {
		t.Fatalf("%d shots, then %d", shots, again)
	}
	before, after := float64(plain.posts)/float64(shots), float64(marked.posts)/float64(shots)
	t.Logf("%d shots: %.2f posts a shot where a tick is a post %v, %.2f where it is a reaction %v, %d of those silent",
		shots, before, plain.kinds, after, marked.kinds, marked.silent)
	if marked.posts+marked.ticks != plain.posts {
		t.Errorf("%d posts and %d ticks, %d posts without ticks", marked.posts, marked.ticks, plain.posts)
	}
	if after > 0.3 {
		t.Errorf("%.2f posts a shot", after)
	}
}
