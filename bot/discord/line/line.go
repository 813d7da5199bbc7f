// Package line is the connection under a session of the gateway: it ends where
// discordgo would hang.
package line

import (
	"context"
	"crypto/tls"
	"encoding/json"
	"errors"
	"log/slog"
	"net"
	"sync"
	"time"

	"github.com/gorilla/websocket"
)

// A Line is the connection under one session of the gateway. It reads what
// discordgo would, uncompressed, takes the events, and ends the session where
// discordgo would hang or be rude: without a sign of life, told to reconnect,
// or told that its session is invalid.
type Line struct {
	opening, hello time.Duration
	open           DialFunc
	log            *slog.Logger
	event          func(kind string, data json.RawMessage) // takes one event, at once
	mu             sync.Mutex
	conn           net.Conn
	closed         bool
	muted          bool
	beat           time.Duration // interval of the heart, 0 before Hello
	told           error         // why the line ended itself
}

// Reasons for which a line ends itself.
var (
	errReconnect = errors.New("told to reconnect")
	errInvalid   = errors.New("told that the session is invalid")
)

// A DialFunc opens a connection.
type DialFunc = func(ctx context.Context, network, addr string) (net.Conn, error)

// New returns the connection of a session that is to be opened: its times are for the
// opening, and for a silence before the interval of the heart is known.
func New(opening, hello time.Duration, open DialFunc, log *slog.Logger, event func(string, json.RawMessage)) *Line {
	return &Line{opening: opening, hello: hello, open: open, log: log, event: event}
}

// Dialer returns what discordgo opens its socket with.
func (l *Line) Dialer() *websocket.Dialer {
	return &websocket.Dialer{
		HandshakeTimeout: l.opening,
		NetDialContext:   l.dial,
		NetDialTLSContext: func(ctx context.Context, network, addr string) (net.Conn, error) {
			host, _, err := net.SplitHostPort(addr)
			if err != nil {
				return nil, err
			}
			conn, err := l.open(ctx, network, addr)
			if err != nil {
				return nil, err
			}
			secure := tls.Client(conn, &tls.Config{ServerName: host, MinVersion: tls.VersionTLS12, NextProtos: []string{"http/1.1"}})
			if err := secure.HandshakeContext(ctx); err != nil {
				return nil, errors.Join(err, conn.Close())
			}
			return l.over(secure, nil)
		},
	}
}

func (l *Line) dial(ctx context.Context, network, addr string) (net.Conn, error) {
	conn, err := l.open(ctx, network, addr)
	return l.over(conn, err)
}

// over takes conn as the line's.
func (l *Line) over(conn net.Conn, err error) (net.Conn, error) {
	if err != nil {
		return nil, err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.closed {
		return nil, errors.Join(net.ErrClosed, conn.Close())
	}
	l.conn = conn
	return &lineConn{conn, newReader(patient{conn, l}, l)}, nil
}

// Cut ends the line at once, whatever discordgo does with it.
func (l *Line) Cut() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.closed = true
	if l.conn != nil {
		_ = l.conn.Close() // nobody is left to tell
	}
}

// Why returns the reason for which the line ended itself, or nil.
func (l *Line) Why() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.told
}

// patience is how long the gateway may be silent: it answers every beat of the
// heart, so half an interval more means that nobody is there.
func (l *Line) patience() time.Duration {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.beat == 0 {
		return l.hello
	}
	return l.beat + l.beat/2
}

// end notes why the line ends itself, and returns it.
func (l *Line) end(why error) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.told = why
	return why
}

// Mute says that nothing that comes in counts any more.
func (l *Line) Mute() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.muted = true
}

func (l *Line) ended() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.muted || l.told != nil
}

// A lineConn is the line as discordgo sees it.
type lineConn struct {
	net.Conn
	in *reader
}

// Read reads what discordgo is to see.
func (c *lineConn) Read(p []byte) (int, error) { return c.in.Read(p) }

// A patient reads with a deadline.
type patient struct {
	net.Conn
	line *Line
}

// Read reads from the connection itself.
func (c patient) Read(p []byte) (int, error) {
	if err := c.SetReadDeadline(time.Now().Add(c.line.patience())); err != nil {
		return 0, err
	}
	return c.Conn.Read(p)
}
