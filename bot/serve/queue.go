package serve

import (
	"context"
	"fmt"
	"log/slog"
	"slices"
	"sync"
	"time"

	"shothand/bot"
	"shothand/bot/chat"
)

// queueLength is how many messages of one bar may wait. A service that brings
// more waits itself.
const queueLength = 64

// Times of a queue.
const (
	// farewell is how long sending goes on once the program is to stop. What is
	// not sent by then stays in the file as not sent.
	farewell = 3 * time.Second
	// catchUp is how long a message that is about an earlier answer waits for
	// that to be sent.
	catchUp = 2 * time.Second
)

// A Runner runs a bot: it brings it messages, and sends what they cause.
type Runner struct {
	*bot.Bot
	log    *slog.Logger
	meter  bot.Meter
	clock  func() time.Time // nil: the service ticks
	resent bool             // what was perhaps not sent is sent again
	waker  waker
	inlet  inlet
	doubt  sync.Map // by [doubted]
}

// New returns a runner of a bot.
func New(b *bot.Bot) *Runner {
	o := b.Options()
	return &Runner{
		Bot: b, log: o.Log, meter: o.Meter, clock: o.Clock, resent: o.Resend,
		waker: waker{at: map[string]time.Time{}, changed: make(chan struct{}, 1)},
	}
}

// Run answers what service brings until it has no more or ctx is done. Each
// bar has a queue and a goroutine of its own: bars do not wait for each other,
// and one bar's messages keep their order. What they cause is sent by another
// goroutine, in order: no bar waits for the chat to take its answers.
func (r *Runner) Run(ctx context.Context, service chat.Service) error {
	at := &running{Runner: r, ctx: ctx, service: service, queues: map[string]chan job{}}
	var cancel context.CancelFunc
	at.stopped, cancel = context.WithCancel(context.WithoutCancel(ctx))
	defer cancel()
	defer context.AfterFunc(ctx, func() { time.AfterFunc(farewell, cancel) })()
	if err := r.resend(func(channel string) {
		at.queue(channel) <- job{m: chat.Message{Channel: channel}, done: make(chan struct{}), late: true}
	}); err != nil {
		r.log.Error("resend", "err", err)
	}
	r.inlet.open(at)
	stop := r.wake(ctx, at.deliver)
	err := service.Listen(ctx, at.deliver)
	stop()
	r.inlet.open(nil)
	at.finish()
	return err
}

// running is what Run shares with its goroutines.
type running struct {
	*Runner
	ctx, stopped context.Context // the second ends when nothing more is to be sent
	service      chat.Service

	recording, sending sync.WaitGroup
	mu                 sync.Mutex
	queues             map[string]chan job
}

// queue returns the queue of a channel, made when it is first asked for.
func (r *running) queue(channel string) chan<- job {
	r.mu.Lock()
	defer r.mu.Unlock()
	queue, ok := r.queues[channel]
	if !ok {
		queue = make(chan job, queueLength)
		r.queues[channel] = queue
		box := newOutbox()
		r.recording.Go(func() { r.serve(queue, box) })
		r.sending.Go(func() { r.sendAll(r.ctx, r.stopped, r.service, box) })
	}
	return queue
}

// deliver puts a message in its bar's queue, and waits while that is full.
func (r *running) deliver(m chat.Message) <-chan struct{} {
	j := job{m: m, done: make(chan struct{})}
	r.queue(m.Channel) <- j
	return j.done
}

// finish records what is still in the queues, and sends what can be sent in
// time. A service that never returns does not keep the program from ending.
func (r *running) finish() {
	r.mu.Lock()
	for _, queue := range r.queues {
		close(queue)
	}
	r.mu.Unlock()
	r.recording.Wait()
	sent := make(chan struct{})
	go func() {
		r.sending.Wait()
		close(sent)
	}()
	select {
	case <-sent:
	case <-r.stopped.Done():
		r.log.Warn("stopped before everything was sent")
	}
}

// A job is a message in a queue.
type job struct {
	m    chat.Message
	done chan struct{}    // closed when all it caused has been sent
	late bool             // no message: what was not sent in time is sent
	told chan<- []bot.Out // is given what came of it, or nil; never waited for
}

// resend starts the sending of what may not have been sent, in each channel
// with such replies.
func (r *Runner) resend(start func(channel string)) error {
	if !r.resent {
		return nil
	}
	channels, err := r.PendingChannels()
	for _, channel := range channels {
		start(channel)
	}
	return err
}

// serve answers the messages of one bar, in order. What is in the queue when
// the service stops is still recorded.
func (r *running) serve(queue <-chan job, box *outbox) {
	defer box.close()
	for j := range queue {
		if !r.postponed(j, box) {
			r.record(j, box)
			r.wakeLater(j.m.Channel)
		}
	}
}

// postponed puts off what is due while something is still on its way: whether
// that was sent is not known yet.
func (r *running) postponed(j job, box *outbox) bool {
	waiting, _ := box.waiting()
	if j.m.Kind != chat.Tick || !waiting {
		return false
	}
	r.tryLater(j.m.Channel)
	close(j.done)
	return true
}

// record handles a message and has sent what it caused.
func (r *running) record(j job, box *outbox) {
	switch j.m.Kind {
	case chat.Edited, chat.Deleted, chat.Pressed:
		box.settle(catchUp)
	case chat.Text:
		if j.m.ReplyTo != "" {
			box.settle(catchUp)
		}
	case chat.Called, chat.Tick:
	}
	again := j.late || j.m.Kind == chat.Tick && r.resent && r.HasUnsent(j.m.Channel)
	outs := r.observed(func(m chat.Message) (outs []bot.Out) {
		if again {
			outs = r.Resume(m.Channel)
		}
		if !j.late {
			outs = append(outs, r.Handle(m)...)
		}
		return outs
	}, j)
	if j.told != nil {
		j.told <- slices.Clone(outs)
	}
	outs = slices.DeleteFunc(outs, func(o bot.Out) bool { return o.Unsaid })
	if len(outs) == 0 {
		if waiting, _ := box.waiting(); !waiting {
			close(j.done)
			return
		}
	}
	if !box.put(parcel{m: j.m, outs: outs, again: again, done: j.done}) {
		r.log.Error("the chat takes no answers", "message", j.m.ID)
		close(j.done)
	}
	if box.lags() {
		r.log.Warn("answers wait for the chat to take them", "bar", r.NumberOf(j.m.Channel), "waiting", keptWhole)
	}
}

// safely handles m, proof against a bug: one message must not take the others
// down.
func (r *Runner) safely(handle func(chat.Message) []bot.Out, m chat.Message) (outs []bot.Out) {
	defer func() {
		if p := recover(); p != nil {
			outs = []bot.Out{r.Failed(m, fmt.Errorf("panic: %v", p))}
		}
	}()
	return handle(m)
}
