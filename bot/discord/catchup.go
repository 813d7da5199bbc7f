package discord

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"time"
)

const (
	// span is how far back is read in a channel of which the bot holds nothing.
	span = 24 * time.Hour
	// overlap is how far back is read again what a session should have
	// brought: now and then one loses an event.
	overlap = time.Hour
	// readers is how many bars are read at once.
	readers = 4
)

// What was missed is read in two parts. First comes what is new, from where the
// bot stopped to the present, then what became of older messages: edits,
// deletions, and events that the last session lost. Both go page by page, in a
// goroutine of their own, and each page is delivered between live messages. What
// is live waits a moment for the first page, so that the order of time is kept
// where that is all there is; it never waits for more.

// A reach is how far a bar has been read. Only Listen's goroutine uses it.
type reach struct {
	from  uint64 // all up to here was delivered
	whole bool   // and all that came after it
	heard uint64 // the newest that was heard, live or not
	sure  uint64 // all up to here was read by REST
	swept uint64 // how far the last look at older messages came, 0 for to the end
	noted bool   // the bot was told that something is left out

	session int  // the one in which it is or was read
	reading bool // it is being read
	looked  bool // older messages were looked at in this session
	holding bool // live events wait
	held    []event
}

// A stretch is one page of each place of a bar.
type stretch struct {
	session int
	channel string
	found   []found
	gone    []found // deleted
	upTo    uint64  // all up to here is in it, or was before
	after   uint64  // messages beyond are new, unless the bot holds them
	held    map[string]bool
	old     bool // it is from the look at older messages
	last    bool // nothing follows, of new or of old ones
	release bool // no messages: live messages have waited long enough
	failed  bool // no messages: reading ended early
	taken   chan struct{}
}

// A found is a message that was read by REST, and the thread it stands in.
type found struct {
	thread string
	m      wireMessage
}

// catchUpAll begins to read what was missed in every bar of a server, or of
// all.
func (d *Discord) catchUpAll(guild string) error {
	var failed error
	for _, channel := range d.world.boundChannels() {
		c, known := d.world.channel(channel)
		if !known || guild != "" && c.GuildID != guild {
			continue
		}
		failed = errors.Join(failed, d.catchUp(channel))
	}
	return failed
}

// catchUp begins to read what was missed in a bar, unless that was done in this
// session or is being done.
func (d *Discord) catchUp(channel string) error {
	r := d.reachOf(channel)
	if r.session == d.session && (r.reading || r.looked) {
		return nil
	}
	h, err := d.handled(channel)
	if err != nil {
		return err
	}
	if r.from == 0 {
		if err := d.resume(channel, r, h); err != nil {
			return err
		}
	}
	if r.whole {
		r.from = max(r.from, r.heard)
	}
	if r.session != d.session {
		r.held, r.whole, r.looked, r.holding = nil, false, false, true
	}
	r.session, r.reading = d.session, true
	d.lag.set(channel, r)
	since := max(r.sure, min(r.heard, moment(time.Now().Add(-overlap))))
	p := pursuit{d: d, channel: channel, session: d.session, h: h, from: r.from, since: cmp.Or(since, r.from), swept: r.swept, whole: r.whole}
	session := d.sessionCtx
	d.reading.Go(func() { p.run(session) })
	return nil
}

// resume says where a process begins to read a bar.
func (d *Discord) resume(channel string, r *reach, h handled) error {
	left, err := d.o.Desk.Unread(channel)
	if err != nil {
		return err
	}
	r.noted = left != ""
	r.from = cmp.Or(number(left), h.last, moment(time.Now().Add(-span)))
	return nil
}

// reachOf returns how far a bar has been read.
func (d *Discord) reachOf(channel string) *reach {
	r, ok := d.reached[channel]
	if !ok {
		r = &reach{}
		d.reached[channel] = r
	}
	return r
}

// take delivers what is new in a stretch.
func (d *Discord) take(ctx context.Context, p stretch) error {
	defer close(p.taken)
	r := d.reachOf(p.channel)
	if p.session != d.session || r.session != d.session {
		return nil
	}
	switch {
	case p.release:
	case p.failed:
		r.reading = false
	default:
		d.takeIn(p, r)
	}
	d.lag.set(p.channel, r)
	if !r.holding {
		return nil
	}
	return d.release(ctx, p.channel, r)
}

// takeIn delivers a stretch's messages and notes how far it came.
func (d *Discord) takeIn(p stretch, r *reach) {
	for _, f := range p.found {
		r.heard = max(r.heard, number(f.m.ID))
		d.caughtUp(p.channel, f, p.after, p.held)
	}
	for _, f := range p.gone {
		d.gone(p.channel, f.thread, f.m.ID)
	}
	switch {
	case p.old && p.last:
		r.swept, r.reading, r.looked, r.sure = 0, false, true, max(r.sure, r.from)
		d.log.Info("caught up", "channel", p.channel)
	case p.old:
		r.swept = p.upTo
	case p.last:
		r.whole, r.from = true, max(r.from, r.heard)
		d.leave(p.channel, r)
	default:
		r.from = p.upTo
		d.leave(p.channel, r)
	}
}

// release lets live messages go on. What stands before them and was not read
// yet is noted first: a start after them would not look for it.
func (d *Discord) release(ctx context.Context, channel string, r *reach) error {
	d.leave(channel, r)
	if !r.whole {
		d.log.Warn("much to catch up with: live messages go first", "channel", channel, "from", timeOf(itoa(r.from)))
	}
	held := r.held
	r.held, r.holding = nil, false
	var failed error
	for _, e := range held {
		failed = errors.Join(failed, d.handle(ctx, e))
	}
	return failed
}

// leave tells the bot what is left out, if that is something or was.
func (d *Discord) leave(channel string, r *reach) {
	if r.whole && !r.noted {
		return
	}
	id := ""
	if !r.whole {
		id = itoa(r.from)
	}
	if err := d.o.Desk.SetUnread(channel, id); err != nil {
		d.log.Error("what is still to be read cannot be noted", "channel", channel, "err", err)
		return
	}
	r.noted = !r.whole
}

// caughtUp delivers a message that was read, if there is something new in it.
func (d *Discord) caughtUp(channel string, f found, after uint64, held map[string]bool) {
	if !f.m.written(d.ownID()) {
		return
	}
	if number(f.m.ID) > after && !held[idOf(f.thread, f.m.ID)] {
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
	asked := uint64(0) // the last command: people's messages may stand before it unread, so it counts alone
	for _, id := range ids {
		thread, message, isMessage := cutID(id)
		n := number(message)
		if n == 0 {
			continue
		}
		if h.first == 0 || n < h.first {
			h.first = n
		}
		if !isMessage {
			asked = max(asked, n)
			continue
		}
		h.last = max(h.last, n)
		h.ids[id] = true
		h.order = append(h.order, id)
		if thread != "" && !slices.Contains(h.threads, thread) {
			h.threads = append(h.threads, thread)
		}
	}
	h.last = cmp.Or(h.last, asked)
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
