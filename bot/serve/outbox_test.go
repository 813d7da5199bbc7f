package serve

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"shothand/advisor/bar"
	"shothand/bot"
	"shothand/bot/chat"
	"shothand/store"
)

// A chatter is a service that brings what it is told to and sends as it is
// told to.
type chatter struct {
	listen func(ctx context.Context, deliver func(chat.Message) <-chan struct{})
	send   func(chat.Post) error

	mu    sync.Mutex
	posts map[string][]string // causes, by channel, in order
	edits []string            // ids of edited posts
}

func (c *chatter) Listen(ctx context.Context, deliver func(chat.Message) <-chan struct{}) error {
	c.listen(ctx, deliver)
	return nil
}

func (c *chatter) Send(_ context.Context, p chat.Post) (string, error) {
	if err := c.send(p); err != nil {
		return "", err
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.posts == nil {
		c.posts = map[string][]string{}
	}
	c.posts[p.Channel] = append(c.posts[p.Channel], p.Cause)
	return "post " + p.Cause, nil
}

func (c *chatter) Edit(_ context.Context, id string, _ chat.Post) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.edits = append(c.edits, id)
	return nil
}

func shotOf(channel string, n int) chat.Message {
	return chat.Message{
		ID: fmt.Sprint(channel, "-", n), Channel: channel, From: chat.Person{ID: "mara", Name: "mara"},
		At: morning().Add(time.Duration(n) * time.Minute), Text: fmt.Sprintf("18 36 %d sour", 20+n%9),
	}
}

// booked counts a channel's shots, and its replies that are not known to be
// sent.
func (b *tester) booked(channel string) (shots, pending int) {
	b.t.Helper()
	err := b.store.View(func(tx *store.Tx) error {
		here, ok := tx.BarOf(channel)
		if !ok {
			return nil
		}
		entries, err := tx.Recent(here, morning().Add(-time.Hour))
		if err != nil {
			return err
		}
		shots = 0
		for _, e := range entries {
			if _, ok := e.What.(bar.Shot); ok && !e.Deleted {
				shots++
			}
		}
		replies, err := tx.PendingReplies(here)
		pending = len(replies)
		return err
	})
	if err != nil {
		b.t.Fatal(err)
	}
	return shots, pending
}

// A chat that takes no answer keeps nothing from being recorded, however long
// that lasts. When it takes them again they come in order, each once.
func TestHangingChat(t *testing.T) {
	const n = keptWhole + 40 // so many that the last are made anew
	synctest.Test(t, func(t *testing.T) {
		b := newTester(t, bot.Options{Open: true})
		release := make(chan struct{})
		c := &chatter{send: func(chat.Post) error { <-release; return nil }}
		c.listen = func(_ context.Context, deliver func(chat.Message) <-chan struct{}) {
			var last <-chan struct{}
			for i := range n {
				last = deliver(shotOf("lane", i))
			}
			m := shotOf("lane", 3)
			m.Kind, m.Text, m.At = chat.Edited, "18 36 25 bitter", m.At.Add(30*time.Second)
			mended := deliver(m)
			synctest.Wait()
			time.Sleep(time.Hour)
			if shots, _ := b.booked("lane"); shots != n {
				t.Errorf("%d shots are recorded, want %d", shots, n)
			}
			select {
			case <-last:
				t.Error("said to be sent while it was not")
			default:
			}
			close(release)
			<-last
			<-mended
		}
		if err := b.Run(t.Context(), c); err != nil {
			t.Fatal(err)
		}
		var want []string
		for i := range n {
			want = append(want, fmt.Sprint("lane-", i))
		}
		got := slices.Compact(c.posts["lane"]) // a caution may follow an answer
		if !slices.Equal(got, want) || !slices.Equal(c.edits, []string{"post lane-3"}) {
			t.Errorf("sent in the order %v, then edited %v", got, c.edits)
		}
		if shots, pending := b.booked("lane"); shots != n || pending != 0 {
			t.Errorf("%d shots, %d replies left to be sent", shots, pending)
		}
	})
}

// An answer that is on its way when its message is edited is edited as soon as
// it is there.
func TestEditedWhileBeingSent(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newTester(t, bot.Options{Open: true})
		c := &chatter{send: func(chat.Post) error { time.Sleep(catchUp / 2); return nil }}
		c.listen = func(_ context.Context, deliver func(chat.Message) <-chan struct{}) {
			deliver(shotOf("lane", 1))
			m := shotOf("lane", 1)
			m.Kind, m.Text, m.At = chat.Edited, "18 36 25 bitter", m.At.Add(time.Second)
			<-deliver(m)
		}
		if err := b.Run(t.Context(), c); err != nil {
			t.Fatal(err)
		}
		if len(c.posts["lane"]) != 1 || !slices.Equal(c.edits, []string{"post lane-1"}) {
			t.Errorf("posted %v, edited %v", c.posts, c.edits)
		}
		if _, pending := b.booked("lane"); pending != 0 {
			t.Errorf("%d replies left to be sent", pending)
		}
	})
}

// When the program is to stop while the chat hangs, it stops in less than 5 s.
// What was delivered is recorded, what could not be sent is known to be unsent.
func TestStopWhileHanging(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newTester(t, bot.Options{Open: true})
		ctx, stop := context.WithCancel(t.Context())
		release := make(chan struct{})
		c := &chatter{send: func(chat.Post) error { <-release; return errors.New("too late") }}
		c.listen = func(ctx context.Context, deliver func(chat.Message) <-chan struct{}) {
			for i := range 30 {
				deliver(shotOf("lane", i))
			}
			stop()
			<-ctx.Done()
		}
		began := time.Now()
		if err := b.Run(ctx, c); err != nil {
			t.Fatal(err)
		}
		if took := time.Since(began); took >= 5*time.Second {
			t.Errorf("it took %v to stop", took)
		}
		if shots, pending := b.booked("lane"); shots != 30 || pending != 30 {
			t.Errorf("%d shots are recorded, %d replies known to be unsent, want 30 and 30", shots, pending)
		}
		close(release)
		synctest.Wait()
	})
}

// Several bars at once on a chat that is slow and often fails: every shot is
// recorded once, and what is sent is in order.
func TestUnreliableChat(t *testing.T) {
	const bars, shots = 8, 25
	b := newTester(t, bot.Options{Open: true})
	var mu sync.Mutex
	n, failed, answered := 0, map[string]int{}, map[string]bool{}
	c := &chatter{send: func(p chat.Post) error {
		mu.Lock()
		n++
		fails, slow := n%3 == 0, time.Duration(n%4)*time.Millisecond
		if fails && !answered[p.Cause] { // what comes after the answer, a caution, is not kept
			failed[p.Channel]++
		}
		answered[p.Cause] = true
		mu.Unlock()
		time.Sleep(slow)
		if fails {
			return errors.New("out of order")
		}
		return nil
	}}
	c.listen = func(_ context.Context, deliver func(chat.Message) <-chan struct{}) {
		var all sync.WaitGroup
		for bar := range bars {
			all.Go(func() {
				var last <-chan struct{}
				for i := range shots {
					m := shotOf(fmt.Sprint("lane", bar), i)
					last = deliver(m)
					if i%5 == 0 {
						deliver(m) // a service may bring a message twice
					}
				}
				<-last
			})
		}
		all.Wait()
	}
	if err := b.Run(t.Context(), c); err != nil {
		t.Fatal(err)
	}
	for bar := range bars {
		channel := fmt.Sprint("lane", bar)
		recorded, pending := b.booked(channel)
		if recorded != shots || pending != failed[channel] || len(c.posts[channel]) < shots-failed[channel] {
			t.Errorf("%s: %d shots, %d sent, %d failed, %d known to be unsent", channel, recorded, len(c.posts[channel]), failed[channel], pending)
		}
		inOrder := func(a, b string) int { return cmp.Or(len(a)-len(b), strings.Compare(a, b)) } // of numbers
		if !slices.IsSortedFunc(c.posts[channel], inOrder) {
			t.Errorf("%s: sent in the order %v", channel, c.posts[channel])
		}
	}
	if err := b.store.Check(); err != nil {
		t.Error(err)
	}
}

// What a chat has refused is tried again while the bot runs, once it is well,
// and comes once.
func TestRefusedIsTriedAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newTester(t, bot.Options{Open: true, Resend: true, Clock: time.Now})
		well := time.Now().Add(5 * time.Minute)
		c := &chatter{send: func(chat.Post) error {
			if time.Now().Before(well) {
				return errors.New("out of order")
			}
			return nil
		}}
		c.listen = func(_ context.Context, deliver func(chat.Message) <-chan struct{}) {
			for i := range 3 {
				m := shotOf("lane", i)
				m.At = time.Now()
				<-deliver(m)
				time.Sleep(20 * time.Second)
			}
			time.Sleep(10 * time.Minute)
		}
		if err := b.Run(t.Context(), c); err != nil {
			t.Fatal(err)
		}
		if want := []string{"lane-0", "lane-1", "lane-2"}; !slices.Equal(c.posts["lane"], want) {
			t.Errorf("sent %v, want %v", c.posts["lane"], want)
		}
	})
}
