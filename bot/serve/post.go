package serve

import (
	"context"
	"errors"
	"sync"
	"time"

	"shothand/bot"
)

// What keeps a post from outside the chat from being taken; it may come again.
var (
	ErrStopped  = errors.New("the bot is not running")
	ErrBusy     = errors.New("too much waits already")
	ErrNotTaken = errors.New("not recorded")
)

// mostPosts is how much may wait in a bar's queue for a post to be put in it
// as well: people go first.
const mostPosts = queueLength / 4

// An inlet is where posts from outside the chat go in while the bot runs.
type inlet struct {
	mu sync.Mutex
	to *running // nil: it does not run
}

func (i *inlet) open(r *running) {
	i.mu.Lock()
	defer i.mu.Unlock()
	i.to = r
}

// put puts a job in its bar's queue if there is room. The queue is not closed
// meanwhile.
func (i *inlet) put(j job) error {
	i.mu.Lock()
	defer i.mu.Unlock()
	if i.to == nil {
		return ErrStopped
	}
	queue := i.to.queue(j.m.Channel)
	if len(queue) >= mostPosts {
		return ErrBusy
	}
	select {
	case queue <- j:
		return nil
	default:
		return ErrBusy
	}
}

// Post takes what a device posts from outside the chat, and waits until it is
// in the book.
func (r *Runner) Post(ctx context.Context, from bot.Sender, text string, at time.Time) (bot.PostAnswer, error) {
	told := make(chan []bot.Out, 1)
	if err := r.inlet.put(job{m: from.Message(text, at), done: make(chan struct{}), told: told}); err != nil {
		return bot.PostAnswer{}, err
	}
	select {
	case outs := <-told:
		a, failed := bot.AnswerOf(outs)
		if failed {
			return a, ErrNotTaken
		}
		return a, nil
	case <-ctx.Done():
		return bot.PostAnswer{}, ctx.Err()
	}
}
