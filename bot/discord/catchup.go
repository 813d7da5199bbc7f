package discord

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"net/http"
	"slices"
	"strconv"
	"time"
)

const (
	// span is how far back is read in a channel of which the bot holds nothing.
	span = 24 * time.Hour
	// overlap is how far back is read again what a session should have
	// brought: now and then one loses an event.
	overlap = time.Hour
	// page is how many messages the platform returns at most.
	page = 100
	// manyPages is how many pages are read of one place.
	manyPages = 30
)

// catchUpAll reads what was missed in every bar of a server, or of all.
func (d *Discord) catchUpAll(ctx context.Context, guild string) error {
	for _, channel := range d.world.boundChannels() {
		c, known := d.world.channel(channel)
		if !known || guild != "" && c.GuildID != guild || d.caught[channel] {
			continue
		}
		if err := d.catchUp(ctx, channel); err != nil {
			return fmt.Errorf("catch up in %s: %w", channel, err)
		}
	}
	return nil
}

// A found is a message that was read by REST, and the thread it stands in.
type found struct {
	thread string
	m      wireMessage
}

// A reading is what was read of one channel or thread.
type reading struct {
	thread   string
	from, to uint64 // the numbers between which nothing was left out
	messages []wireMessage
	denied   bool
}

// catchUp delivers what was written, edited and deleted in a bar while nobody
// listened, in the order of time.
func (d *Discord) catchUp(ctx context.Context, channel string) error {
	handled, err := d.handled(channel)
	if err != nil {
		return err
	}
	since := d.since(channel, handled)
	from := since
	if handled.first > 0 {
		from = min(from, handled.first-1)
	}
	var all []found
	var readings []reading
	places, err := d.places(channel, handled)
	if err != nil {
		return err
	}
	for _, thread := range places {
		r, err := d.read(ctx, channel, thread, from)
		if err != nil {
			return err
		}
		readings = append(readings, r)
		for _, m := range r.messages {
			all = append(all, found{thread, m})
		}
	}
	upTo := ^uint64(0) // nothing was left out before
	for _, r := range readings {
		upTo = min(upTo, r.to)
	}
	all = slices.DeleteFunc(all, func(f found) bool { return number(f.m.ID) > upTo })
	slices.SortFunc(all, func(a, b found) int { return cmp.Compare(number(a.m.ID), number(b.m.ID)) })
	for _, f := range all {
		d.caughtUp(channel, f, since, handled)
	}
	if err := d.findDeleted(ctx, channel, readings, handled); err != nil {
		return err
	}
	if n := len(all); n > 0 {
		since = max(since, number(all[n-1].m.ID))
	}
	d.marks[channel] = mark{read: since, heard: max(d.marks[channel].heard, since)}
	d.caught[channel] = upTo == ^uint64(0) // else the rest is read in a while
	d.log.Info("caught up", "channel", channel, "messages", len(all))
	return nil
}

// A mark says how far a channel has come.
type mark struct {
	read  uint64 // all up to here was read by REST
	heard uint64 // the newest that was heard
}

// since returns the number of the message after which all are new, unless they
// were delivered.
func (d *Discord) since(channel string, h handled) uint64 {
	m := d.marks[channel]
	if m.read == 0 { // not yet in this process
		if h.last == 0 {
			return moment(time.Now().Add(-span))
		}
		return h.last
	}
	return max(m.read, min(m.heard, moment(time.Now().Add(-overlap))))
}

// caughtUp delivers a message that was read, if there is something new in it.
func (d *Discord) caughtUp(channel string, f found, since uint64, h handled) {
	if !f.m.written(d.ownID()) {
		return
	}
	if number(f.m.ID) > since && !h.ids[idOf(f.thread, f.m.ID)] {
		d.said(channel, f.thread, f.m)
		return
	}
	if f.m.Edited != nil {
		d.edited(channel, f.thread, f.m)
	}
}

// A handled is what the bot holds of a bar.
type handled struct {
	ids         map[string]bool
	order       []string
	threads     []string
	first, last uint64 // numbers of the oldest and the newest, 0 for none
}

func (d *Discord) handled(channel string) (handled, error) {
	h := handled{ids: map[string]bool{}}
	ids, err := d.o.Desk.Handled(channel)
	if err != nil {
		return h, err
	}
	for _, id := range ids {
		thread, message, isMessage := cutID(id)
		n := number(message)
		if n == 0 {
			continue
		}
		h.last = max(h.last, n)
		if h.first == 0 || n < h.first {
			h.first = n
		}
		if !isMessage {
			continue
		}
		h.ids[id] = true
		h.order = append(h.order, id)
		if thread != "" && !slices.Contains(h.threads, thread) {
			h.threads = append(h.threads, thread)
		}
	}
	return h, nil
}

// places returns where people may have written: the channel, as "", and its
// threads. The platform tells of those alone that it has not put away.
func (d *Discord) places(channel string, h handled) ([]string, error) {
	opened, err := d.o.Desk.Threads(channel)
	list := []string{""}
	for _, t := range slices.Concat(h.threads, opened, d.world.threadsOf(channel)) {
		if number(t) > 0 && !slices.Contains(list, t) {
			list = append(list, t)
		}
	}
	return list, err
}

// read reads the messages of one place after a number. A place that is gone,
// or may not be read, has none.
func (d *Discord) read(ctx context.Context, channel, thread string, from uint64) (reading, error) {
	r := reading{thread: thread, from: from, to: from}
	where := cmp.Or(thread, channel)
	for range manyPages {
		var got []json.RawMessage
		path := "/channels/" + where + "/messages?limit=" + strconv.Itoa(page) + "&after=" + strconv.FormatUint(r.to, 10)
		err := d.rest.do(ctx, call{method: http.MethodGet, path: path}, &got)
		if s := status(err); s == http.StatusForbidden || s == http.StatusNotFound {
			level := slog.LevelError
			if thread != "" && s == http.StatusNotFound {
				level = slog.LevelInfo // it is gone, or was never opened
			}
			d.log.Log(ctx, level, "place cannot be read", "channel", channel, "thread", thread, "err", err)
			r.denied, r.to = true, ^uint64(0)
			return r, nil
		}
		if err != nil {
			return r, err
		}
		for _, data := range got {
			var m wireMessage
			if err := json.Unmarshal(data, &m); err != nil { // one that is odd hides no other
				d.log.Warn("message cannot be read", "channel", channel, "err", err)
			}
			r.to = max(r.to, number(m.ID))
			r.messages = append(r.messages, m)
		}
		if len(got) < page {
			r.to = ^uint64(0)
			return r, nil
		}
	}
	d.log.Warn("many messages to read", "channel", channel, "thread", thread)
	return r, nil
}

// findDeleted delivers the deletion of what the bot holds and the platform no
// longer has.
func (d *Discord) findDeleted(ctx context.Context, channel string, readings []reading, h handled) error {
	there := map[string]bool{}
	for _, r := range readings {
		for _, m := range r.messages {
			there[idOf(r.thread, m.ID)] = true
		}
	}
	for _, id := range h.order {
		thread, message, _ := cutID(id)
		n := number(message)
		i := slices.IndexFunc(readings, func(r reading) bool { return r.thread == thread })
		if there[id] || i < 0 || readings[i].denied || n <= readings[i].from || n > readings[i].to {
			continue
		}
		path := "/channels/" + cmp.Or(thread, channel) + "/messages/" + message
		err := d.rest.do(ctx, call{method: http.MethodGet, path: path}, nil)
		switch {
		case refused(err, unknownMessage):
			d.gone(channel, thread, message)
		case err != nil && status(err) == 0:
			return err
		}
	}
	return nil
}
