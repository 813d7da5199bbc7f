package bot

import (
	"context"
	"errors"
	"strconv"
	"sync"
	"time"

	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
)

// What keeps a post from outside the chat from being taken; it may come again.
var (
	ErrStopped = errors.New("the bot is not running")
	ErrBusy    = errors.New("too much waits already")

	ErrNotTaken = errors.New("not recorded")
)

// A PostAnswer is what came of a post from outside the chat.
type PostAnswer struct {
	Recorded bool        // the shot is in the book, by this post or by an earlier one
	Repeated bool        // by an earlier one
	Refused  bool        // it cannot be taken, and Text says why; to send it again is of no use
	Text     string      // what was said in the chat, or would be
	Advice   any         // as programs read it, or nil
	Shot     *PostedShot // as it stands in the book, or nil
}

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
func (b *Bot) Post(ctx context.Context, from Sender, text string, at time.Time) (PostAnswer, error) {
	told := make(chan []Out, 1)
	m := chat.Message{
		Kind: chat.Text, Channel: from.channel, Device: true, At: at, Text: text,
		From: chat.Person{ID: outsidePrefix + strconv.FormatUint(from.Device, 10)},
	}
	m.ID = m.From.ID + " " + strconv.FormatInt(at.UnixNano(), 36)
	if err := b.inlet.put(job{m: m, done: make(chan struct{}), told: told}); err != nil {
		return PostAnswer{}, err
	}
	select {
	case outs := <-told:
		a, failed := answerOf(outs)
		if failed {
			return a, ErrNotTaken
		}
		return a, nil
	case <-ctx.Done():
		return PostAnswer{}, ctx.Err()
	}
}

// answerOf makes the answer to a post of what it came to, and whether that was
// nothing through a fault of ours.
func answerOf(outs []Out) (a PostAnswer, failed bool) {
	if len(outs) == 0 { // the device was taken out while its post waited
		return PostAnswer{Refused: true, Text: string(say.NoShotPosted)}, false
	}
	first := outs[0]
	a = PostAnswer{Text: first.Text, Advice: first.Data, Repeated: first.again, Shot: first.shot}
	a.Recorded = first.shot != nil || first.again && first.Kind == chat.Recorded
	if first.err != nil {
		a.Refused = theirs(first.err)
	}
	return a, !a.Refused && first.err != nil
}

// theirs reports whether an error is for whoever sent something, and not for us.
func theirs(err error) bool {
	_, read := errors.AsType[parse.Mistake](err)
	_, said := errors.AsType[mistake](err)
	return read || said
}
