package main

import (
	"context"
	"net"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"shothand/bot/discord"
	"shothand/bot/discord/fake"
)

// A bubble is a Discord with a time of its own, in which days pass in a moment.
type bubble struct {
	*testing.T
	*fake.Server
	wire *wire
}

// inBubble plays something from an instant on.
func inBubble(t *testing.T, from time.Time, play func(*bubble)) {
	t.Helper()
	o := fakeOptions(t)
	synctest.Test(t, func(t *testing.T) {
		time.Sleep(time.Until(from))
		w := newWire()
		f := fake.Serve(o, w)
		cleanFake(t, f)
		play(&bubble{t, f, w})
	})
}

// join starts a bot on the records in a file.
func (b *bubble) join(db string) *running {
	b.Helper()
	return b.joinWith(db, discord.Timings{}, time.Now)
}

// joinWith starts one with timings and a clock of its own.
func (b *bubble) joinWith(db string, times discord.Timings, clock func() time.Time) *running {
	b.Helper()
	b.wire.mute = make(chan struct{})
	mute := sync.OnceFunc(func() {
		time.Sleep(time.Second) // until calls under way have been answered
		close(b.wire.mute)
	})
	r := startBy(b.T, b.Server, db, discord.Options{Dial: b.wire.dial, Times: times}, clock)
	stop := r.stop
	r.stop = func() { mute(); stop() }
	b.Cleanup(mute) // before the bot is stopped
	return r
}

// A wire joins a service and a fake by connections that never leave the
// process, so that the time of a synctest bubble passes while one is waited for.
type wire struct {
	conns  chan net.Conn
	closed chan struct{}
	mute   chan struct{} // closed when the bot is to hear nothing any more
}

func newWire() *wire {
	return &wire{conns: make(chan net.Conn), closed: make(chan struct{})}
}

func (w *wire) dial(ctx context.Context, _, _ string) (net.Conn, error) {
	here, there := net.Pipe()
	select {
	case w.conns <- there:
		return &muted{Conn: here, mute: w.mute, closed: make(chan struct{})}, nil
	case <-w.closed:
		return nil, net.ErrClosed
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// Accept is for the fake, as are Close and Addr.
func (w *wire) Accept() (net.Conn, error) {
	select {
	case c := <-w.conns:
		return c, nil
	case <-w.closed:
		return nil, net.ErrClosed
	}
}

func (w *wire) Close() error { close(w.closed); return nil }

func (w *wire) Addr() net.Addr { return &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 80} }

// A muted conn gives nothing back once it is muted. discordgo sleeps
// with its lock held while it closes a session, and whatever it reads
// meanwhile waits for that lock: in a bubble both would wait for ever.
type muted struct {
	net.Conn
	mute   chan struct{}
	closed chan struct{}
	once   sync.Once
}

func (c *muted) Read(p []byte) (int, error) {
	n, err := c.Conn.Read(p)
	select {
	case <-c.mute:
		<-c.closed
		return 0, net.ErrClosed
	default:
		return n, err
	}
}

func (c *muted) Close() error {
	c.once.Do(func() { close(c.closed) })
	return c.Conn.Close()
}
