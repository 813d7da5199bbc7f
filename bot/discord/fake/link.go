package fake

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"sync"
	"time"

	"github.com/gorilla/websocket"
)

// compressFrom is the size from which payloads are compressed for a client
// that asks for it; it must understand both.
const compressFrom = 512

// A link is one gateway connection. Its queue has a lock of its own, so that
// nobody waits for a slow client.
type link struct {
	server  *Server
	ws      *websocket.Conn
	opening Opening

	// Guarded by the server's lock.
	session *session
	live    bool // has had READY or RESUMED
	beats   int
	unheard bool // its heartbeats are not answered
	sends   []time.Time

	farewell bool // the client closed with 1000 or 1001; used by the reader alone

	mu    sync.Mutex
	queue []outgoing
	wake  chan struct{}
	gone  chan struct{}
	once  sync.Once
}

// An outgoing frame.
type outgoing struct {
	body     []byte
	compress bool
	binary   bool // as it is
	cut      bool // send half, then cut the connection
	code     int  // close with it instead
}

func newLink(s *Server, ws *websocket.Conn, o Opening) *link {
	return &link{server: s, ws: ws, opening: o, wake: make(chan struct{}, 1), gone: make(chan struct{})}
}

func (l *link) push(o outgoing) {
	l.mu.Lock()
	l.queue = append(l.queue, o)
	l.mu.Unlock()
	select {
	case l.wake <- struct{}{}:
	default:
	}
}

func (l *link) pushJSON(o object) { l.push(outgoing{body: mustMarshal(o)}) }

func (l *link) pushClose(code int) { l.push(outgoing{code: code}) }

// cut ends the connection without a word.
func (l *link) cut() {
	l.once.Do(func() {
		close(l.gone)
		_ = l.ws.NetConn().Close() // it is thrown away
	})
}

// write sends what is queued until the connection is gone.
func (l *link) write() {
	for {
		select {
		case <-l.gone:
			return
		case <-l.wake:
		}
		l.mu.Lock()
		queue := l.queue
		l.queue = nil
		l.mu.Unlock()
		for _, o := range queue {
			if !l.writeOne(o) {
				l.cut()
				return
			}
		}
	}
}

// writeOne tells whether there is more to come.
func (l *link) writeOne(o outgoing) bool {
	switch {
	case o.code != 0:
		l.close(o.code)
		return false
	case o.cut:
		_, _ = l.ws.NetConn().Write(halfFrame(o.body)) // the connection ends here
		return false
	case o.binary:
		return l.ws.WriteMessage(websocket.BinaryMessage, o.body) == nil
	case o.compress && len(o.body) >= compressFrom:
		return l.ws.WriteMessage(websocket.BinaryMessage, deflate(o.body)) == nil
	}
	return l.ws.WriteMessage(websocket.TextMessage, o.body) == nil
}

// close says the code and gives the client a moment to read it.
func (l *link) close(code int) {
	soon := time.Now().Add(time.Second)
	if l.ws.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(code, ""), soon) != nil {
		return
	}
	select {
	case <-l.gone:
	case <-time.After(100 * time.Millisecond):
	}
}

// halfFrame is the header of a whole text frame and half of its payload (RFC 6455, 5.2).
func halfFrame(body []byte) []byte {
	frame := []byte{0x81, 127}
	frame = binary.BigEndian.AppendUint64(frame, uint64(len(body)))
	return append(frame, body[:len(body)/2]...)
}

func deflate(body []byte) []byte {
	var out bytes.Buffer
	z := zlib.NewWriter(&out)
	_, _ = z.Write(body) // a bytes.Buffer takes everything
	_ = z.Close()
	return out.Bytes()
}

// tooMany counts one send at now and tells whether a minute held too many.
func (l *link) tooMany(now time.Time) bool {
	l.sends = append(l.sends, now)
	for now.Sub(l.sends[0]) > time.Minute {
		l.sends = l.sends[1:]
	}
	return len(l.sends) > maxSends
}
