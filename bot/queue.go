package bot

import (
	"context"
	"fmt"
	"sync"

	"shothand/advisor"
	"shothand/bot/chat"
	"shothand/store"
)

// queueLength is how many messages of one bar may wait. A service that brings
// more waits itself.
const queueLength = 64

// Run answers what service brings until it has no more or ctx is done. Each
// bar has a queue and a goroutine of its own: bars do not wait for each other,
// and one bar's messages keep their order.
func (b *Bot) Run(ctx context.Context, service chat.Service) error {
	var (
		bars   sync.WaitGroup
		mu     sync.Mutex
		queues = map[string]chan job{}
	)
	deliver := func(m chat.Message) <-chan struct{} {
		mu.Lock()
		queue, ok := queues[m.Channel]
		if !ok {
			queue = make(chan job, queueLength)
			queues[m.Channel] = queue
			bars.Go(func() { b.serve(ctx, service, queue) })
		}
		mu.Unlock()
		j := job{m: m, done: make(chan struct{})}
		queue <- j
		return j.done
	}
	if err := b.resend(func(channel string) {
		queue := make(chan job, queueLength)
		queues[channel] = queue
		bars.Go(func() { b.serve(ctx, service, queue) })
		queue <- job{m: chat.Message{Channel: channel}, done: make(chan struct{}), late: true}
	}); err != nil {
		b.log.Error("resend", "err", err)
	}
	stop := b.wake(ctx, deliver)
	err := service.Listen(ctx, deliver)
	stop()
	mu.Lock()
	for _, queue := range queues {
		close(queue)
	}
	mu.Unlock()
	bars.Wait()
	return err
}

// A job is a message in a queue.
type job struct {
	m    chat.Message
	done chan struct{} // closed when all it caused has been sent
	late bool          // no message: what was not sent in time is sent
}

// resend starts the sending of what may not have been sent, in each channel
// with such replies.
func (b *Bot) resend(start func(channel string)) error {
	if !b.resent {
		return nil
	}
	channels, err := b.pendingChannels()
	for _, channel := range channels {
		start(channel)
	}
	return err
}

// serve answers the messages of one bar, in order. What is in the queue when
// the service stops is still recorded.
func (b *Bot) serve(ctx context.Context, service chat.Service, queue <-chan job) {
	for j := range queue {
		handle := b.Handle
		if j.late {
			handle = func(m chat.Message) []Out { return b.resume(m.Channel) }
		}
		for _, out := range b.safely(handle, j.m) {
			if err := b.send(ctx, service, j.m, out); err != nil {
				b.log.Error("send", "cause", out.Cause, "err", err)
			}
		}
		close(j.done)
		b.wakeLater(j.m.Channel)
	}
}

// safely handles m, proof against a bug: one message must not take the others
// down.
func (b *Bot) safely(handle func(chat.Message) []Out, m chat.Message) (outs []Out) {
	defer func() {
		if p := recover(); p != nil {
			outs = []Out{{Post: b.trouble(m, fmt.Errorf("panic: %v", p))}}
		}
	}()
	return handle(m)
}

// send posts out, or puts it in place of an earlier post, and notes that the
// reply was sent if one is kept.
func (b *Bot) send(ctx context.Context, service chat.Service, m chat.Message, out Out) error {
	id, err := out.Edits, error(nil)
	if out.inThread {
		out.Thread = b.threadOf(*out.deed)
	}
	if id != "" {
		err = service.Edit(ctx, id, out.Post)
	} else {
		id, err = service.Send(ctx, out.Post)
	}
	if err != nil {
		if out.deed != nil {
			b.pulses.get(m.Channel).unsent = true
		}
		return err
	}
	if out.deed != nil {
		return b.done(*out.deed, id)
	}
	bar, reply, kept, err := b.reply(m.Channel, out.Cause)
	if err != nil || !kept {
		return err // an answer that is not kept costs no write
	}
	reply.State, reply.Post = store.Sent, id
	return b.store.Update(func(tx *store.Tx) error { return tx.PutReply(bar, reply) })
}

// reply returns the reply that is kept of a cause in a channel. Only the bar's
// own queue changes it.
func (b *Bot) reply(channel, cause string) (bar advisor.BarID, r store.Reply, kept bool, err error) {
	err = b.store.View(func(tx *store.Tx) error {
		id, ok := tx.BarOf(channel)
		if !ok {
			return nil
		}
		bar = id
		r, kept, err = tx.ReplyOf(bar, cause)
		return err
	})
	return bar, r, kept, err
}
