package discord

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

// A line is the connection under one session of the gateway. It reads what
// discordgo would, uncompressed, takes the events, and ends the session where
// discordgo would hang or be rude: without a sign of life, told to reconnect,
// or told that its session is invalid.
type line struct {
	times  Timings
	open   dialFunc
	log    *slog.Logger
	event  func(kind string, data json.RawMessage) // takes one event, at once
	mu     sync.Mutex
	conn   net.Conn
	closed bool
	muted  bool
	beat   time.Duration // interval of the heart, 0 before Hello
	told   error         // why the line ended itself
}

// Reasons for which a line ends itself.
var (
	errReconnect = errors.New("told to reconnect")
	errInvalid   = errors.New("told that the session is invalid")
)

// A dialFunc opens a connection.
type dialFunc = func(ctx context.Context, network, addr string) (net.Conn, error)

func newLine(t Timings, open dialFunc, log *slog.Logger, event func(string, json.RawMessage)) *line {
	return &line{times: t, open: open, log: log, event: event}
}

// dialer returns what discordgo opens its socket with.
func (l *line) dialer() *websocket.Dialer {
	return &websocket.Dialer{
		HandshakeTimeout: l.times.Open,
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

func (l *line) dial(ctx context.Context, network, addr string) (net.Conn, error) {
	conn, err := l.open(ctx, network, addr)
	return l.over(conn, err)
}

// over takes conn as the line's.
func (l *line) over(conn net.Conn, err error) (net.Conn, error) {
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

// cut ends the line at once, whatever discordgo does with it.
func (l *line) cut() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.closed = true
	if l.conn != nil {
		_ = l.conn.Close() // nobody is left to tell
	}
}

// why returns the reason for which the line ended itself, or nil.
func (l *line) why() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.told
}

// patience is how long the gateway may be silent: it answers every beat of the
// heart, so half an interval more means that nobody is there.
func (l *line) patience() time.Duration {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.beat == 0 {
		return l.times.Hello
	}
	return l.beat + l.beat/2
}

// end notes why the line ends itself, and returns it.
func (l *line) end(why error) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.told = why
	return why
}

// mute says that nothing that comes in counts any more.
func (l *line) mute() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.muted = true
}

func (l *line) ended() bool {
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
	line *line
}

// Read reads from the connection itself.
func (c patient) Read(p []byte) (int, error) {
	if err := c.SetReadDeadline(time.Now().Add(c.line.patience())); err != nil {
		return 0, err
	}
	return c.Conn.Read(p)
}
