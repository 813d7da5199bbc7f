package line

import (
	"bufio"
	"encoding/binary"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"time"
)

// discordgo decodes all it reads into its own types, and a text that is no
// object, or an object that lacks what it looks into, ends the process there.
// So the line reads whole messages, takes the events to itself, and hands on
// what keeps a session alive.

// maxMessage is how long a message of the gateway may be, in bytes.
const maxMessage = 64 << 20

// Codes of frames, from RFC 6455, 5.2.
const (
	frameMore    = 0
	frameText    = 1
	frameControl = 8 // and above
	frameFinal   = 0x80
)

var (
	errFrame = errors.New("a frame that no server sends")
	errHeart = errors.New("told of no interval for the heart")
)

// A frame is one frame of a websocket.
type frame struct {
	first byte // final or not, and its code
	data  []byte
}

func (f frame) code() byte  { return f.first & 0x0f }
func (f frame) final() bool { return f.first&frameFinal != 0 }

// append adds f to b as it goes over the wire.
func (f frame) append(b []byte) []byte {
	b = append(b, f.first)
	switch n := len(f.data); {
	case n < 126:
		b = append(b, byte(n))
	case n <= 0xffff:
		b = binary.BigEndian.AppendUint16(append(b, 126), uint16(n))
	default:
		b = binary.BigEndian.AppendUint64(append(b, 127), uint64(n))
	}
	return append(b, f.data...)
}

// readFrame reads one frame. A server sends none with a mask.
func readFrame(r io.Reader) (f frame, err error) {
	var head [10]byte
	if _, err := io.ReadFull(r, head[:2]); err != nil {
		return f, err
	}
	n := uint64(head[1])
	switch long := map[byte]int{126: 2, 127: 8}[head[1]]; {
	case long > 0:
		if _, err := io.ReadFull(r, head[10-long:]); err != nil {
			return f, err
		}
		clear(head[2 : 10-long])
		n = binary.BigEndian.Uint64(head[2:])
	case n > 127:
		return f, errFrame
	}
	if n > maxMessage {
		return f, errFrame
	}
	f.first, f.data = head[0], make([]byte, n)
	_, err = io.ReadFull(r, f.data)
	return f, err
}

// A packet is a message of the gateway.
type packet struct {
	Op   *int            `json:"op"`
	Kind string          `json:"t,omitempty"`
	Seq  int64           `json:"s,omitempty"`
	Data json.RawMessage `json:"d,omitempty"`
}

// Codes of packets, from the platform's documentation.
const (
	opEvent     = 0
	opHeartbeat = 1
	opReconnect = 7
	opInvalid   = 9
	opHello     = 10
	opAck       = 11
)

// A reader reads what a server says on a line, and gives what discordgo is to
// see of it.
type reader struct {
	in     *bufio.Reader
	line   *Line
	head   bool  // the answer to the handshake is still being read
	frames bool  // it was such that frames follow
	began  frame // a message of which more frames come
	ready  []byte
}

func newReader(in io.Reader, l *Line) *reader {
	return &reader{in: bufio.NewReader(in), line: l, head: true}
}

// Read waits for something that discordgo is to see.
func (r *reader) Read(p []byte) (int, error) {
	for len(r.ready) == 0 {
		if !r.head && !r.frames {
			return r.in.Read(p)
		}
		var err error
		if r.ready, err = r.next(); err != nil {
			return 0, err
		}
	}
	n := copy(p, r.ready)
	r.ready = r.ready[n:]
	return n, nil
}

// next reads one line of the handshake, or one frame.
func (r *reader) next() ([]byte, error) {
	if r.head {
		text, err := r.in.ReadSlice('\n')
		if strings.HasPrefix(string(text), "HTTP/1.1 101 ") {
			r.frames = true
		}
		r.head = strings.TrimSpace(string(text)) != ""
		return append([]byte(nil), text...), err
	}
	f, err := readFrame(r.in)
	if err != nil {
		return nil, err
	}
	if f.code() >= frameControl {
		return f.append(nil), nil
	}
	if f.code() != frameMore {
		r.began = frame{first: f.first}
	}
	if len(r.began.data)+len(f.data) > maxMessage {
		return nil, errFrame
	}
	r.began.data = append(r.began.data, f.data...)
	if !f.final() {
		return nil, nil
	}
	whole := r.began
	r.began = frame{}
	if whole.code() != frameText {
		r.line.strange(whole.data)
		return nil, nil
	}
	return r.line.hear(whole.data)
}

// hear takes a message and returns what discordgo is to see of it, or an error
// if it ends the line.
func (l *Line) hear(data []byte) ([]byte, error) {
	var p packet
	if err := json.Unmarshal(data, &p); err != nil || p.Op == nil {
		l.strange(data)
		return nil, nil
	}
	if l.ended() {
		return nil, nil
	}
	switch *p.Op {
	case opReconnect:
		return nil, l.end(errReconnect)
	case opInvalid:
		return nil, l.end(errInvalid)
	case opHello:
		if !l.greeted(p.Data) {
			return nil, l.end(errHeart)
		}
	case opEvent:
		l.event(p.Kind, p.Data)
		if p.Data = json.RawMessage("{}"); p.Kind != "READY" {
			p.Kind = "RESUMED" // the number alone counts: it goes out with the heart's next beat
		}
	case opHeartbeat, opAck:
		p.Data = nil
	default:
		return nil, nil
	}
	text, err := json.Marshal(p)
	return frame{frameFinal | frameText, text}.append(nil), err
}

// strange notes a message that is no object of the gateway's.
func (l *Line) strange(data []byte) {
	l.log.Warn("the gateway said what it never should", "bytes", len(data))
}

// greeted notes the interval of the heart.
func (l *Line) greeted(data json.RawMessage) bool {
	var hello struct {
		Interval int64 `json:"heartbeat_interval"`
	}
	err := json.Unmarshal(data, &hello)
	if err != nil || hello.Interval <= 0 || hello.Interval > time.Hour.Milliseconds() {
		return false
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.beat == 0 {
		l.beat = time.Duration(hello.Interval) * time.Millisecond
	}
	return true
}
