package discord

import (
	"context"
	"crypto/tls"
	"errors"
	"net"
	"regexp"
	"strconv"
	"sync"
	"time"

	"github.com/gorilla/websocket"
)

// A line is the connection under one session of the gateway. It sees what
// discordgo reads, uncompressed, and ends the session where discordgo would
// hang or be rude: without a sign of life, told to reconnect, or told that its
// session is invalid.
type line struct {
	times  Timings
	open   dialFunc
	words  *regexp.Regexp
	mu     sync.Mutex
	conn   net.Conn
	closed bool
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

func newLine(t Timings, open dialFunc) *line {
	// In what people write a quotation mark stands behind a backslash, so
	// these are the gateway's own words.
	return &line{times: t, open: open, words: regexp.MustCompile(`"(op|heartbeat_interval)":\s*([0-9]+)`)}
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
	return &lineConn{conn, l}, nil
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

// hear looks at what came in, and returns an error if it ends the line.
func (l *line) hear(data []byte) error {
	for _, m := range l.words.FindAllSubmatch(data, -1) {
		n, err := strconv.Atoi(string(m[2]))
		if err != nil {
			continue
		}
		l.mu.Lock()
		switch {
		case string(m[1]) == "heartbeat_interval" && l.beat == 0:
			l.beat = time.Duration(n) * time.Millisecond
		case string(m[1]) == "op" && n == 7:
			l.told = errReconnect
		case string(m[1]) == "op" && n == 9:
			l.told = errInvalid
		}
		told := l.told
		l.mu.Unlock()
		if told != nil {
			return told
		}
	}
	return nil
}

// A lineConn is the line as discordgo sees it.
type lineConn struct {
	net.Conn
	line *line
}

// Read reads with a deadline.
func (c *lineConn) Read(p []byte) (int, error) {
	if err := c.SetReadDeadline(time.Now().Add(c.line.patience())); err != nil {
		return 0, err
	}
	n, err := c.Conn.Read(p)
	if told := c.line.hear(p[:n]); told != nil {
		return 0, told
	}
	return n, err
}
