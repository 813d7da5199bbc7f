package main

import (
	"context"
	"net"
	"sync"
)

// A wire joins a service and a fake by connections that never leave the
// process, so that the time of a synctest bubble passes while one is waited for.
type wire struct {
	conns  chan net.Conn
	closed chan struct{}
	mute   chan struct{} // closed when nothing is heard through it any more
}

func newWire() *wire {
	return &wire{make(chan net.Conn), make(chan struct{}), make(chan struct{})}
}

func (w *wire) dial(ctx context.Context, _, _ string) (net.Conn, error) {
	here, there := net.Pipe()
	select {
	case w.conns <- there:
		return &muted{here, w, make(chan struct{}), sync.Once{}}, nil
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

// A muted conn gives nothing back after the wire was muted. discordgo sleeps
// with its lock held while it closes a session, and whatever it reads
// meanwhile waits for that lock: in a bubble both would wait for ever.
type muted struct {
	net.Conn
	wire   *wire
	closed chan struct{}
	once   sync.Once
}

func (c *muted) Read(p []byte) (int, error) {
	n, err := c.Conn.Read(p)
	select {
	case <-c.wire.mute:
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
