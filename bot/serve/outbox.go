package serve

import (
	"context"
	"slices"
	"sync"
	"time"

	"shothand/bot"
	"shothand/bot/chat"
)

// How much of one bar may wait to be sent.
const (
	keptWhole = 64   // with their posts; the rest are made anew from the file
	keptAtAll = 4096 // beyond, a reply is sent when the program starts next
)

// A parcel is all that one message caused, on its way out.
type parcel struct {
	m     chat.Message
	outs  []bot.Out
	slim  bool          // the posts were dropped: there were too many
	again bool          // it was refused before: should it be again, the rest waits, too
	done  chan struct{} // closed when it has gone
}

// An outbox holds what one bar is to be sent, in order. To put something in
// never waits: shots are recorded however slow the chat is.
type outbox struct {
	mu      sync.Mutex
	parcels []parcel // the first is being sent
	late    bool     // more wait than are kept whole; it was said
	closed  bool
	ready   chan struct{} // holds one: there may be something to send
	gone    chan struct{} // closed and made anew each time a parcel has gone
}

func newOutbox() *outbox {
	return &outbox{ready: make(chan struct{}, 1), gone: make(chan struct{})}
}

// put adds a parcel. It is false if the outbox is too full even for a slim one.
func (o *outbox) put(p parcel) bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	if len(o.parcels) >= keptAtAll {
		return false
	}
	if len(o.parcels) >= keptWhole {
		p.m = chat.Message{ID: p.m.ID, Channel: p.m.Channel}
		p.outs, p.slim = nil, true
	}
	o.parcels = append(o.parcels, p)
	o.signal()
	return true
}

// lags reports whether more has come to wait than is kept whole, once until all
// has gone.
func (o *outbox) lags() bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	was := o.late
	o.late = len(o.parcels) > keptWhole || was && len(o.parcels) > 1
	return o.late && !was
}

// close says that nothing more will be put in.
func (o *outbox) close() {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.closed = true
	o.signal()
}

func (o *outbox) signal() {
	select {
	case o.ready <- struct{}{}:
	default:
	}
}

// next waits for a parcel. It is false when there will be none.
func (o *outbox) next() (parcel, bool) {
	for {
		o.mu.Lock()
		if len(o.parcels) > 0 {
			defer o.mu.Unlock()
			return o.parcels[0], true
		}
		closed := o.closed
		o.mu.Unlock()
		if closed {
			return parcel{}, false
		}
		<-o.ready
	}
}

// sent takes the first parcel out.
func (o *outbox) sent() {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.parcels = slices.Delete(o.parcels, 0, 1)
	close(o.gone)
	o.gone = make(chan struct{})
}

// waiting reports whether there is something to send, and what is closed when
// some of it has gone.
func (o *outbox) waiting() (yes bool, gone <-chan struct{}) {
	o.mu.Lock()
	defer o.mu.Unlock()
	return len(o.parcels) > 0, o.gone
}

// settle waits until all has been sent, at most for so long.
func (o *outbox) settle(most time.Duration) {
	waiting, gone := o.waiting()
	if !waiting {
		return
	}
	timer := time.NewTimer(most)
	defer timer.Stop()
	for ; waiting; waiting, gone = o.waiting() {
		select {
		case <-gone:
		case <-timer.C:
			return
		}
	}
}

// sendAll sends what is in an outbox until there will be no more. When stopped is
// done, what is left stays in the file as not sent.
func (r *Runner) sendAll(ctx, stopped context.Context, service chat.Service, box *outbox) {
	for p, ok := box.next(); ok; p, ok = box.next() {
		if stopped.Err() == nil {
			r.sendParcel(ctx, service, p)
		}
		box.sent()
		close(p.done)
	}
}

// sendParcel sends what one message caused. The first post of each cause is
// the answer to it, of which the file keeps account.
func (r *Runner) sendParcel(ctx context.Context, service chat.Service, p parcel) {
	if p.slim {
		p.outs = r.LeftBehind(p.m)
	}
	answered := map[string]bool{}
	for _, out := range p.outs {
		first := !answered[out.Cause]
		answered[out.Cause] = true
		out.More = out.More || !first
		if err := r.send(ctx, service, p.m.Channel, out, first); err != nil {
			r.log.Error("send", "cause", out.Cause, "err", err)
			if p.again {
				return
			}
		}
	}
}

// send posts out, or puts it in place of an earlier post, and notes that the
// reply was sent if out is one that is kept.
func (r *Runner) send(ctx context.Context, service chat.Service, channel string, out bot.Out, isReply bool) error {
	if out.Bare {
		if s, ok := service.(chat.Stripper); ok {
			return s.Strip(ctx, channel, out.Edits)
		}
		return nil
	}
	id, err := out.Edits, error(nil)
	answer := doubted{channel, out.Cause, out.At.UnixNano()}
	if _, tried := r.doubt.Load(answer); tried && isReply {
		out.Again = true
	}
	out.Thread = r.Thread(out)
	if id != "" && id != chat.Ticked {
		err = service.Edit(ctx, id, out.Post)
	} else {
		id, err = tickOrSend(ctx, service, out.Post, id == chat.Ticked)
	}
	if err != nil {
		if isReply {
			r.doubt.Store(answer, true)
		}
		if isReply || out.IsDeed() {
			r.tryLater(channel)
		}
		return err
	}
	r.doubt.Delete(answer)
	if isReply {
		r.meter.Sent()
	}
	return r.Sent(channel, out, isReply, id)
}

// A doubted answer failed and may have come through all the same.
type doubted struct {
	channel, cause string
	at             int64
}

// tickOrSend posts p, or puts a tick on what it answers if it says no more than
// that. A tick that was there already goes where more is to be said.
func tickOrSend(ctx context.Context, service chat.Service, p chat.Post, ticked bool) (string, error) {
	ticker, ok := service.(chat.Ticker)
	switch {
	case ok && p.Tick:
		if done, err := ticker.Tick(ctx, p); done || err != nil {
			return chat.Ticked, err
		}
	case ok && ticked:
		if err := ticker.Untick(ctx, p); err != nil {
			return chat.Ticked, err
		}
	}
	return service.Send(ctx, p)
}
