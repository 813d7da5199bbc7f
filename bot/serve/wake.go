package serve

import (
	"context"
	"sync"
	"time"

	"shothand/bot"
	"shothand/bot/chat"
)

// A waker holds when each channel is next to be woken.
type waker struct {
	mu      sync.Mutex
	at      map[string]time.Time
	changed chan struct{} // holds one: the earliest may be another now
}

// set notes when a channel is next to be woken, zero for never.
func (w *waker) set(channel string, at time.Time) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if at.IsZero() {
		delete(w.at, channel)
	} else {
		w.at[channel] = at
	}
	select {
	case w.changed <- struct{}{}:
	default:
	}
}

// sooner has a channel woken at an instant, if it would not be before.
func (w *waker) sooner(channel string, at time.Time) {
	w.mu.Lock()
	old, ok := w.at[channel]
	w.mu.Unlock()
	if !ok || at.Before(old) {
		w.set(channel, at)
	}
}

// all has every channel woken at an instant: the clock was put back, so what was
// reckoned by it before may be far too late.
func (w *waker) all(at time.Time) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for channel := range w.at {
		w.at[channel] = at
	}
}

// take returns the channels whose time has come by now, and the earliest time
// of the others, zero if there is none.
func (w *waker) take(now time.Time) (ready []string, next time.Time) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for channel, at := range w.at {
		switch {
		case !at.After(now):
			ready = append(ready, channel)
			delete(w.at, channel)
		case next.IsZero() || at.Before(next):
			next = at
		}
	}
	return ready, next
}

// longestSleep is how long the clock is trusted: it may be put right meanwhile.
const longestSleep = time.Minute

// wake ticks every bar at once and then whenever something is due in it, until
// stop is called. Without a clock it is the service that ticks.
func (r *Runner) wake(ctx context.Context, deliver func(chat.Message) <-chan struct{}) (stop func()) {
	if !r.wakes() {
		return func() {}
	}
	channels, err := r.Channels()
	if err != nil {
		r.log.Error("wake", "err", err)
	}
	for _, channel := range channels {
		deliver(chat.Message{Kind: chat.Tick, Channel: channel, At: r.clock()})
	}
	ctx, cancel := context.WithCancel(ctx)
	var running sync.WaitGroup
	running.Go(func() {
		var last time.Time
		for {
			now := r.clock().Round(0) // what the wall clock shows: it may be put back
			if now.Before(last) {
				r.waker.all(now)
			}
			last = now
			ready, next := r.waker.take(now)
			for _, channel := range ready {
				deliver(chat.Message{Kind: chat.Tick, Channel: channel, At: now})
			}
			sleep := longestSleep
			if !next.IsZero() {
				sleep = min(sleep, next.Sub(now))
			}
			timer := time.NewTimer(sleep)
			select {
			case <-timer.C:
			case <-r.waker.changed:
			case <-ctx.Done():
			}
			timer.Stop()
			if ctx.Err() != nil {
				return
			}
		}
	})
	return func() { cancel(); running.Wait() }
}

// wakes reports whether bars are woken by a clock.
func (r *Runner) wakes() bool { return r.clock != nil }

// wakeLater notes when a bar is next to be woken.
func (r *Runner) wakeLater(channel string) {
	if !r.wakes() {
		return
	}
	if at, ok := r.Next(channel); ok {
		r.waker.set(channel, at)
	}
}

// tryLater has a bar woken for what could not be sent.
func (r *Runner) tryLater(channel string) {
	r.Unsent(channel)
	if r.wakes() {
		r.waker.sooner(channel, r.clock().Add(bot.ResendEvery))
	}
}
