package discord

import (
	"cmp"
	"context"
	"encoding/json"
	"log/slog"
	"net/http"
	"slices"
	"strconv"
	"sync"
	"time"

	"shothand/bot/discord/rest"
)

// page is how many messages the platform returns at most.
const page = 100

// A pursuit reads what was missed in a bar, in one session.
type pursuit struct {
	d       *Discord
	channel string
	session int
	h       handled
	from    uint64 // all beyond is new
	since   uint64 // of older messages, those beyond may not have been delivered
	swept   uint64 // where the last look at older messages was broken off, or 0
	whole   bool   // there are only older ones to look at
}

// run reads until the present is reached and all is looked at, or until the
// session ends.
func (p pursuit) run(ctx context.Context) {
	late := time.AfterFunc(p.d.times.Hold, func() { p.hand(ctx, stretch{release: true}) })
	defer late.Stop()
	if !p.all(ctx) {
		p.hand(ctx, stretch{failed: true})
	}
}

// all reads what is new, then what is old.
func (p pursuit) all(ctx context.Context) bool {
	select {
	case p.d.slotsToRead <- struct{}{}:
		defer func() { <-p.d.slotsToRead }()
	case <-ctx.Done():
		return false
	}
	places, err := p.d.places(p.channel, p.h)
	if err != nil {
		p.d.log.Error("catch up", "channel", p.channel, "err", err)
		return false
	}
	if !p.whole && !p.read(ctx, places, p.from, ^uint64(0), stretch{after: p.from}) {
		return false
	}
	low := p.since
	if p.h.first > 0 {
		low = min(low, p.h.first-1)
	}
	high := max(p.from, p.h.last)
	old := stretch{after: p.since, old: true}
	if low < p.swept && p.swept < high { // on from where it was broken off, then the rest
		return p.read(ctx, places, p.swept, high, old) && p.read(ctx, places, low, p.swept, old.ends())
	}
	return p.read(ctx, places, low, high, old.ends())
}

// ends returns p with the mark that nothing of its sort follows.
func (p stretch) ends() stretch {
	p.last = true
	return p
}

// read hands over what stands between two numbers, page by page.
func (p pursuit) read(ctx context.Context, places []string, from, to uint64, like stretch) bool {
	ends := like.last || !like.old
	for {
		got := like
		got.last = false
		var err error
		if got.found, got.upTo, err = p.d.round(ctx, p.channel, places, from, to); err == nil && like.old {
			got.gone, err = p.deleted(ctx, got.found, from, min(got.upTo, to))
		}
		if err != nil {
			if ctx.Err() == nil {
				p.d.log.Warn("catch up", "channel", p.channel, "err", err)
			}
			return false
		}
		over := got.upTo >= to
		got.last = over && ends
		if !p.hand(ctx, got) {
			return false
		}
		if over {
			return true
		}
		from = got.upTo
	}
}

// hand hands a stretch over and waits until it was delivered.
func (p pursuit) hand(ctx context.Context, got stretch) bool {
	got.session, got.channel, got.held, got.taken = p.session, p.channel, p.h.ids, make(chan struct{})
	select {
	case p.d.parts <- got:
	case <-ctx.Done():
		return false
	}
	select {
	case <-got.taken:
		return ctx.Err() == nil
	case <-ctx.Done():
		return false
	}
}

// round reads one page of each place, from a number on. It returns what stands
// there up to a number up to which nothing is left out, in the order of time;
// that is the highest there is when the present has been reached.
func (d *Discord) round(ctx context.Context, channel string, places []string, from, to uint64) ([]found, uint64, error) {
	upTo := ^uint64(0)
	var all []found
	for _, thread := range places {
		messages, err := d.page(ctx, channel, thread, from)
		if err != nil {
			return nil, from, err
		}
		for _, m := range messages {
			all = append(all, found{thread, m})
		}
		if len(messages) >= page {
			upTo = min(upTo, newest(messages))
		}
	}
	if upTo <= from { // nothing has a number: not even an odd answer may hold this up
		upTo = ^uint64(0)
	}
	all = slices.DeleteFunc(all, func(f found) bool { return number(f.m.ID) > min(upTo, to) })
	slices.SortFunc(all, func(a, b found) int { return cmp.Compare(number(a.m.ID), number(b.m.ID)) })
	return all, upTo, nil
}

func newest(messages []wireMessage) (n uint64) {
	for _, m := range messages {
		n = max(n, number(m.ID))
	}
	return n
}

// page reads the messages of one place that follow a number. A place that is
// gone, or may not be read, has none.
func (d *Discord) page(ctx context.Context, channel, thread string, after uint64) ([]wireMessage, error) {
	var got []json.RawMessage
	path := "/channels/" + cmp.Or(thread, channel) + "/messages?limit=" + strconv.Itoa(page) + "&after=" + itoa(after)
	err := d.rest.Do(ctx, rest.Call{Method: http.MethodGet, Path: path}, &got)
	if s := rest.Status(err); s == http.StatusForbidden || s == http.StatusNotFound {
		level := slog.LevelWarn
		if thread != "" && s == http.StatusNotFound {
			level = slog.LevelInfo // it is gone, or was never opened
		}
		d.log.Log(ctx, level, "place cannot be read", "channel", channel, "thread", thread, "err", err)
		return nil, nil
	}
	messages := make([]wireMessage, len(got))
	for i, data := range got {
		if err := json.Unmarshal(data, &messages[i]); err != nil { // one that is odd hides no other
			d.log.Warn("message cannot be read", "channel", channel, "err", err)
		}
	}
	return messages, err
}

// deleted returns what the bot holds between two numbers and the platform no
// longer has.
func (p pursuit) deleted(ctx context.Context, there []found, from, to uint64) (gone []found, err error) {
	seen := map[string]bool{}
	for _, f := range there {
		seen[idOf(f.thread, f.m.ID)] = true
	}
	for _, id := range p.h.order {
		thread, message, _ := cutID(id)
		if n := number(message); seen[id] || n <= from || n > to {
			continue
		}
		path := "/channels/" + cmp.Or(thread, p.channel) + "/messages/" + message
		err := p.d.rest.Do(ctx, rest.Call{Method: http.MethodGet, Path: path}, nil)
		switch {
		case rest.Refused(err, rest.UnknownMessage):
			gone = append(gone, found{thread, wireMessage{ID: message}})
		case err != nil && rest.Status(err) == 0:
			return gone, err
		}
	}
	return gone, nil
}

func itoa(n uint64) string { return strconv.FormatUint(n, 10) }

// A lag is which bars have not been read up to the present, and from when on.
type lag struct {
	mu   sync.Mutex
	from map[string]uint64
}

func (l *lag) set(channel string, r *reach) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if delete(l.from, channel); !r.whole {
		l.from[channel] = r.from
	}
}

// Behind returns how many bars have not been read up to the present since the
// last interruption, and from when on the one that is the furthest behind has
// not: for whoever watches the program.
func (d *Discord) Behind() (bars int, since time.Time) {
	d.lag.mu.Lock()
	defer d.lag.mu.Unlock()
	for _, n := range d.lag.from {
		if at := timeOf(itoa(n)); since.IsZero() || at.Before(since) {
			since = at
		}
	}
	return len(d.lag.from), since
}
