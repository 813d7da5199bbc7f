package line

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"strings"
	"testing"
	"testing/iotest"
	"time"
)

// What a server says comes out in whole messages, however it is cut up.
func TestFrames(t *testing.T) {
	event := `{"op":0,"t":"MESSAGE_CREATE","s":7,"d":{"content":"` + strings.Repeat("é", 40000) + `"}}`
	wire := []byte("HTTP/1.1 101 Switching Protocols\r\nUpgrade: websocket\r\n\r\n")
	head := len(wire)
	wire = frame{0x81, []byte(`{"op":10,"d":{"heartbeat_interval":41250}}`)}.append(wire)
	wire = frame{0x01, []byte(event[:300])}.append(wire) // in three parts, with a ping among them
	wire = frame{0x00, []byte(event[300:70000])}.append(wire)
	wire = frame{0x89, []byte("ping")}.append(wire)
	wire = frame{0x80, []byte(event[70000:])}.append(wire)
	wire = frame{0x81, []byte("null")}.append(wire)
	wire = frame{0x81, []byte(`{"op":11}`)}.append(wire)
	for name, in := range map[string]io.Reader{
		"at once": bytes.NewReader(wire), "byte by byte": iotest.OneByteReader(bytes.NewReader(wire)),
		"with the end": iotest.DataErrReader(bytes.NewReader(wire)),
	} {
		var events []string
		l := New(30*time.Second, 15*time.Second, nil, slog.New(slog.DiscardHandler), func(kind string, data json.RawMessage) {
			events = append(events, kind+" "+string(data))
		})
		got, err := io.ReadAll(newReader(in, l))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		want := append([]byte(nil), wire[:head]...)
		want = frame{0x81, []byte(`{"op":10,"d":{"heartbeat_interval":41250}}`)}.append(want)
		want = frame{0x89, []byte("ping")}.append(want)
		want = frame{0x81, []byte(`{"op":0,"t":"RESUMED","s":7,"d":{}}`)}.append(want)
		want = frame{0x81, []byte(`{"op":11}`)}.append(want)
		if !bytes.Equal(got, want) {
			t.Errorf("%s: discordgo reads\n%.300q, want\n%.300q", name, got, want)
		}
		if len(events) != 1 || events[0] != "MESSAGE_CREATE "+event[strings.Index(event, `{"content`):len(event)-1] {
			t.Errorf("%s: events %.100q", name, events)
		}
		if l.patience() != 61875*time.Millisecond {
			t.Errorf("%s: patience %v", name, l.patience())
		}
	}
}

// What is no frame, or far too long a one, ends the line.
func TestBadFrames(t *testing.T) {
	const ok = "HTTP/1.1 101 Switching Protocols\r\n\r\n"
	for name, c := range map[string]struct {
		wire string
		want error
	}{
		"masked":        {ok + "\x81\x84\x01\x02\x03\x04abcd", errFrame},
		"too long":      {ok + "\x81\x7f\x00\x00\x00\xff\x00\x00\x00\x00", errFrame},
		"cut short":     {ok + "\x81\x05nu", io.ErrUnexpectedEOF},
		"reconnect":     {ok + "\x81\x08{\"op\":7}", errReconnect},
		"invalid":       {ok + "\x81\x08{\"op\":9}", errInvalid},
		"without heart": {ok + "\x81\x09{\"op\":10}", errHeart},
		"not let in":    {"HTTP/1.1 503 no\r\n\r\nplain \x81 text", nil},
	} {
		l := New(30*time.Second, 15*time.Second, nil, slog.New(slog.DiscardHandler), func(string, json.RawMessage) {})
		got, err := io.ReadAll(newReader(strings.NewReader(c.wire), l))
		if !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
		if c.want == nil && string(got) != c.wire {
			t.Errorf("%s: read %q", name, got)
		}
	}
}

// Nothing that comes in panics, and discordgo sees only objects.
func FuzzFrames(f *testing.F) {
	for _, text := range []string{`null`, `{"op":0,"t":"READY","d":null}`, `{"op":10,"d":{"heartbeat_interval":1}}`, `[`} {
		f.Add(frame{0x81, []byte(text)}.append(nil))
	}
	f.Fuzz(func(t *testing.T, wire []byte) {
		l := New(30*time.Second, 15*time.Second, nil, slog.New(slog.DiscardHandler), func(string, json.RawMessage) {})
		in := newReader(bytes.NewReader(wire), l)
		in.head, in.frames = false, true
		out, _ := io.ReadAll(in) // any error ends the line
		for r := bytes.NewReader(out); r.Len() > 0; {
			seen, err := readFrame(r)
			if err != nil {
				t.Fatal(err)
			}
			var p packet
			if seen.code() < frameControl && (json.Unmarshal(seen.data, &p) != nil || p.Op == nil) {
				t.Errorf("discordgo reads %q", seen.data)
			}
		}
	})
}
