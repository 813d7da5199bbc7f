package bot

import (
	"context"
	"slices"
	"sync"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/store"
)

// How much of one bar may wait to be sent.
const (
	keptWhole = 64   // with their posts; the rest are made anew from the file
	keptAtAll = 4096 // beyond, a reply is sent when the program starts next
)

// A parcel is all that one message caused, on its way out.
type parcel struct {
	m     chat.Message
	outs  []Out
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
func (b *Bot) sendAll(ctx, stopped context.Context, service chat.Service, box *outbox) {
	for p, ok := box.next(); ok; p, ok = box.next() {
		if stopped.Err() == nil {
			b.sendParcel(ctx, service, p)
		}
		box.sent()
		close(p.done)
	}
}

// sendParcel sends what one message caused. The first post of each cause is
// the answer to it, of which the file keeps account.
func (b *Bot) sendParcel(ctx context.Context, service chat.Service, p parcel) {
	if p.slim {
		p.outs = b.leftBehind(p.m)
	}
	answered := map[string]bool{}
	for _, out := range p.outs {
		first := !answered[out.Cause]
		answered[out.Cause] = true
		out.More = out.More || !first
		if err := b.send(ctx, service, p.m.Channel, out, first); err != nil {
			b.log.Error("send", "cause", out.Cause, "err", err)
			if p.again {
				return
			}
		}
	}
}

// leftBehind makes the answer to a message from how things stand, if one is kept and
// not sent.
func (b *Bot) leftBehind(m chat.Message) []Out {
	t, ok, err := b.looking(chat.Message{Channel: m.Channel})
	if err != nil || !ok {
		return b.unmade(m.ID, err)
	}
	reply, kept, err := b.reply(m.Channel, m.ID)
	if err != nil || !kept || reply.State != store.Pending {
		return b.unmade(m.ID, err)
	}
	out, ok, err := b.late(t, reply)
	if err != nil || !ok {
		return b.unmade(m.ID, err)
	}
	out.Again = false // it was never sent; send knows if another was
	return []Out{out}
}

// unmade says that an answer could not be made, if that is why there is none.
func (b *Bot) unmade(cause string, err error) []Out {
	if err != nil {
		b.log.Warn("an answer cannot be made", "cause", cause, "err", err)
	}
	return nil
}

// send posts out, or puts it in place of an earlier post, and notes that the
// reply was sent if out is one that is kept.
func (b *Bot) send(ctx context.Context, service chat.Service, channel string, out Out, isReply bool) error {
	if out.bare {
		if s, ok := service.(chat.Stripper); ok {
			return s.Strip(ctx, channel, out.Edits)
		}
		return nil
	}
	id, err := out.Edits, error(nil)
	doubt, answer := &b.pulses.get(channel).doubt, out.Cause+" "+out.At.UTC().String()
	if _, tried := doubt.Load(answer); tried && isReply {
		out.Again = true
	}
	if out.inThread {
		out.Thread = b.threadOf(*out.deed)
	}
	if id != "" {
		err = service.Edit(ctx, id, out.Post)
	} else {
		id, err = service.Send(ctx, out.Post)
	}
	if err == nil {
		doubt.Delete(answer)
	}
	if err == nil && isReply {
		b.meter.Sent()
	}
	switch {
	case err != nil:
		if isReply {
			doubt.Store(answer, true)
		}
		if out.deed != nil || isReply {
			b.tryLater(channel)
		}
		return err
	case out.deed == nil && !isReply:
		return nil
	case out.deed != nil:
		return b.done(*out.deed, id)
	}
	return b.noteSent(channel, out, id)
}

// noteSent notes as what a reply was sent. If its message has been edited
// meanwhile, there is another one to be sent.
func (b *Bot) noteSent(channel string, out Out, id string) error {
	var bar bar.ID
	kept := false
	err := b.store.View(func(tx *store.Tx) (err error) {
		if bar, kept = tx.BarOf(channel); kept {
			kept, err = tx.Replied(bar, out.Cause)
		}
		return err
	})
	if err != nil || !kept {
		return err // an answer that is not kept costs no write
	}
	return b.store.Update(func(tx *store.Tx) error {
		reply, kept, err := tx.ReplyOf(bar, out.Cause)
		if err != nil || !kept {
			return err
		}
		if reply.Post = id; reply.At.Equal(out.At) {
			reply.State = store.Sent
		}
		return tx.PutReply(bar, reply)
	})
}

// reply returns the reply that is kept of a cause in a channel.
func (b *Bot) reply(channel, cause string) (r store.Reply, kept bool, err error) {
	err = b.store.View(func(tx *store.Tx) error {
		bar, ok := tx.BarOf(channel)
		if !ok {
			return nil
		}
		r, kept, err = tx.ReplyOf(bar, cause)
		return err
	})
	return r, kept, err
}
