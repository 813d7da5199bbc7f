package fake_test

import (
	"bytes"
	"compress/zlib"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"
	"go.uber.org/goleak"

	"shothand/bot/discord/fake"
)

// A wire is a raw gateway client.
type wire struct {
	t       *testing.T
	ws      *websocket.Conn
	session string
	seq     int64
}

// A packet is what the gateway sends.
type packet struct {
	Op int
	T  string
	S  int64
	D  json.RawMessage
}

// testPatience is how long a test waits for what must come.
const testPatience = time.Minute

const allIntents = 1<<0 | 1<<9 | 1<<10 | 1<<15

func dial(t *testing.T, s *fake.Server) *wire {
	t.Helper()
	ws, _, err := websocket.DefaultDialer.DialContext(t.Context(), "ws"+strings.TrimPrefix(s.URL, "http")+"/gateway?v=10&encoding=json", nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { ws.Close() }) //nolint:errcheck // some tests have closed it
	return &wire{t: t, ws: ws}
}

// next reads one packet, or the error of the connection.
func (w *wire) next(within time.Duration) (packet, error) {
	w.t.Helper()
	if err := w.ws.SetReadDeadline(time.Now().Add(within)); err != nil {
		w.t.Fatal(err)
	}
	kind, raw, err := w.ws.ReadMessage()
	if err != nil {
		return packet{}, err
	}
	if kind == websocket.BinaryMessage {
		z, err := zlib.NewReader(bytes.NewReader(raw))
		if err != nil {
			w.t.Fatal(err)
		}
		if raw, err = io.ReadAll(z); err != nil {
			w.t.Fatal(err)
		}
	}
	var p packet
	if err := json.Unmarshal(raw, &p); err != nil {
		w.t.Fatal(err)
	}
	if p.S > 0 {
		w.seq = p.S
	}
	return p, nil
}

// expect reads packets until one has the opcode and, for a dispatch, the name.
func (w *wire) expect(op int, name string) packet {
	w.t.Helper()
	p, err := w.next(testPatience)
	if err != nil {
		w.t.Fatalf("waiting for op %d %s: %v", op, name, err)
	}
	if p.Op != op || p.T != name {
		w.t.Fatalf("got op %d %s, want op %d %s", p.Op, p.T, op, name)
	}
	return p
}

// closed reads until the connection ends and returns the close code, 0 for a cut.
func (w *wire) closed() int {
	w.t.Helper()
	for {
		_, err := w.next(testPatience)
		var closing *websocket.CloseError
		switch {
		case err == nil:
		case errors.As(err, &closing) && closing.Code != websocket.CloseAbnormalClosure:
			return closing.Code
		default:
			return 0
		}
	}
}

func (w *wire) say(op int, d any) {
	w.t.Helper()
	if err := w.ws.WriteJSON(map[string]any{"op": op, "d": d}); err != nil {
		w.t.Fatal(err)
	}
}

func (w *wire) identify(intents int) {
	w.t.Helper()
	w.say(2, map[string]any{"token": "x", "intents": intents, "compress": true, "properties": map[string]string{"os": "linux"}})
}

// ready walks from the dial to the first guild.
func ready(t *testing.T, s *fake.Server, intents int) *wire {
	t.Helper()
	w := dial(t, s)
	w.expect(10, "")
	w.identify(intents)
	var d struct {
		Session string `json:"session_id"`
	}
	if err := json.Unmarshal(w.expect(0, "READY").D, &d); err != nil {
		t.Fatal(err)
	}
	w.session = d.Session
	w.expect(0, "GUILD_CREATE")
	return w
}

// resume takes w's session up on a new connection.
func (w *wire) resume(s *fake.Server) *wire {
	w.t.Helper()
	again := dial(w.t, s)
	again.expect(10, "")
	again.session, again.seq = w.session, w.seq
	again.say(6, map[string]any{"token": "x", "session_id": w.session, "seq": w.seq})
	return again
}

func content(p packet) string {
	var m struct{ Content string }
	_ = json.Unmarshal(p.D, &m) // no content is an answer too
	return m.Content
}

func TestGatewayWalk(t *testing.T) {
	s := start(t, fake.Options{})
	w := ready(t, s, allIntents)
	w.say(1, w.seq)
	w.expect(11, "")
	id := s.Say("dial-in", "mara", "18.1 36.4 24 sour", "")
	if p := w.expect(0, "MESSAGE_CREATE"); content(p) != "18.1 36.4 24 sour" || !strings.Contains(string(p.D), `"guild_id"`) {
		t.Errorf("message: %s", p.D)
	}
	s.EditMessage(id, "18.1 36.4 25 sour")
	w.expect(0, "MESSAGE_UPDATE")
	s.CutConnections()
	if code := w.closed(); code != 0 {
		t.Errorf("a cut has close code %d", code)
	}
	s.DeleteMessage(id)
	s.Say("dial-in", "jo", "while away", "")
	again := w.resume(s)
	again.expect(0, "MESSAGE_DELETE")
	again.expect(0, "MESSAGE_CREATE")
	again.expect(0, "RESUMED")
	if s.Resumes() != 1 || len(s.Identifies()) != 1 {
		t.Errorf("%d resumes, %d identifies", s.Resumes(), len(s.Identifies()))
	}
}

func TestContentNeedsItsIntent(t *testing.T) {
	s := start(t, fake.Options{})
	w := ready(t, s, 1<<0|1<<9)
	s.Say("dial-in", "mara", "18 36 28", "")
	if p := w.expect(0, "MESSAGE_CREATE"); content(p) != "" {
		t.Errorf("without the intent: %s", p.D)
	}
	s.Say("dial-in", "mara", "<@"+s.Bot().ID+"> 18 36 28", "")
	if p := w.expect(0, "MESSAGE_CREATE"); content(p) == "" {
		t.Error("a mention hides its content")
	}
	post(t, s, "dial-in", `{"content":"Finer."}`)
	if p := w.expect(0, "MESSAGE_CREATE"); content(p) != "Finer." {
		t.Error("the bot's own content is hidden")
	}
}

func TestGatewayRefuses(t *testing.T) {
	s := start(t, fake.Options{ForbiddenIntents: 1 << 15})
	properties := map[string]string{}
	for _, row := range []struct {
		name string
		op   int
		d    any
		want int
	}{
		{"a wrong token", 2, map[string]any{"token": "y", "intents": 1, "properties": properties}, 4004},
		{"the content intent, not switched on", 2, map[string]any{"token": "x", "intents": 1 << 15, "properties": properties}, 4014},
		{"unknown intents", 2, map[string]any{"token": "x", "intents": 1 << 40, "properties": properties}, 4013},
		{"a bad shard", 2, map[string]any{"token": "x", "intents": 1, "shard": []int{2, 2}, "properties": properties}, 4010},
		{"presence before identify", 3, map[string]any{}, 4003},
		{"an unknown opcode", 77, nil, 4001},
		{"a long payload", 1, strings.Repeat("x", 5000), 4002},
	} {
		w := dial(t, s)
		w.expect(10, "")
		w.say(row.op, row.d)
		if code := w.closed(); code != row.want {
			t.Errorf("%s closes with %d, want %d", row.name, code, row.want)
		}
	}
}

func TestShards(t *testing.T) {
	s := start(t, fake.Options{})
	id := s.Guild("Harbour Lane")
	for shard := range 2 {
		w := dial(t, s)
		w.expect(10, "")
		w.say(2, map[string]any{"token": "x", "intents": 1, "shard": []int{shard, 2}, "properties": map[string]string{}})
		if p := w.expect(0, "READY"); strings.Contains(string(p.D), id) != (int(snowflake(t, id)>>22%2) == shard) {
			t.Errorf("shard %d: %s", shard, p.D)
		}
	}
}

func snowflake(t *testing.T, id string) (n uint64) {
	t.Helper()
	if err := json.Unmarshal([]byte(id), &n); err != nil {
		t.Fatal(err)
	}
	return n
}

func TestOpenings(t *testing.T) {
	s := start(t, fake.Options{})
	first := ready(t, s, allIntents)
	s.NextConnections(fake.Opening{Refuse: 503}, fake.Opening{NoHello: true}, fake.Opening{Reconnect: true},
		fake.Opening{Invalid: true}, fake.Opening{Resumable: true}, fake.Opening{Silent: true}, fake.Opening{Close: 4000})
	if _, r, err := websocket.DefaultDialer.DialContext(t.Context(), "ws"+s.URL[4:]+"/gateway", nil); err == nil || r.StatusCode != http.StatusServiceUnavailable {
		t.Errorf("refused: %v", err)
	}
	if _, err := dial(t, s).next(200 * time.Millisecond); err == nil {
		t.Error("it said Hello")
	}
	first.resume(s).expect(7, "")
	if p := first.resume(s).expect(9, ""); string(p.D) != "false" {
		t.Errorf("Op 9 %s", p.D)
	}
	if p := first.resume(s).expect(9, ""); string(p.D) != "true" {
		t.Errorf("Op 9 %s", p.D)
	}
	if p, err := first.resume(s).next(200 * time.Millisecond); err == nil {
		t.Errorf("it answered %+v", p)
	}
	if code := first.resume(s).closed(); code != 4000 {
		t.Errorf("closed with %d", code)
	}
	first.resume(s).expect(0, "RESUMED")
}

func TestDeliveries(t *testing.T) {
	s := start(t, fake.Options{})
	w := ready(t, s, allIntents)
	say := func(text string) { s.Say("dial-in", "mara", text, "") }
	s.NextEvents("MESSAGE_CREATE", fake.Deliver, fake.Lose, fake.Twice, fake.Late, fake.Deliver, fake.Cut)
	for _, text := range []string{"a", "lost", "b", "late", "c", "cut"} {
		say(text)
	}
	for _, want := range []string{"a", "b", "b", "c", "late"} {
		if p := w.expect(0, "MESSAGE_CREATE"); content(p) != want {
			t.Errorf("got %q, want %q", content(p), want)
		}
	}
	if code := w.closed(); code != 0 {
		t.Errorf("the cut has close code %d", code)
	}
	again := w.resume(s)
	for p := again.expect(0, "MESSAGE_CREATE"); content(p) != "cut"; {
		p = again.expect(0, "MESSAGE_CREATE")
	}
	again.expect(0, "RESUMED")
}

func TestGatewayOrders(t *testing.T) {
	s := start(t, fake.Options{HeartbeatEvery: time.Second})
	w := ready(t, s, allIntents)
	s.AskHeartbeat()
	w.expect(1, "")
	s.StopAcks()
	w.say(1, w.seq)
	s.AskReconnect()
	w.expect(7, "") // and no Op 11 before it
	s.InvalidateSessions(false)
	w.expect(9, "")
	if p := w.resume(s).expect(9, ""); string(p.D) != "false" {
		t.Errorf("resuming what was invalidated: Op 9 %s", p.D)
	}
	w = ready(t, s, allIntents)
	s.CloseConnections(4009)
	if code := w.closed(); code != 4009 {
		t.Errorf("closed with %d", code)
	}
	w = ready(t, s, allIntents)
	if err := w.ws.WriteMessage(websocket.CloseMessage, websocket.FormatCloseMessage(1000, "")); err != nil {
		t.Fatal(err)
	}
	await(t, s, func(st *fake.State) bool { return st.Connections() == 0 })
	if p := w.resume(s).expect(9, ""); string(p.D) != "false" {
		t.Errorf("after a close with 1000: Op 9 %s", p.D)
	}
}

func TestSilentClientIsTimedOut(t *testing.T) {
	t.Parallel()
	s := start(t, fake.Options{HeartbeatEvery: 50 * time.Millisecond})
	if code := ready(t, s, allIntents).closed(); code != 4009 {
		t.Errorf("closed with %d", code)
	}
}

func TestIdentifySpacing(t *testing.T) {
	s := start(t, fake.Options{IdentifyEvery: time.Minute})
	ready(t, s, allIntents)
	w := dial(t, s)
	w.expect(10, "")
	w.identify(allIntents)
	w.expect(9, "")
}

func TestCloseLeavesNothing(t *testing.T) {
	before := goleak.IgnoreCurrent()
	s := fake.New(fake.Options{})
	wires := []*wire{ready(t, s, allIntents), ready(t, s, allIntents).resume(s)}
	s.Break(fake.Fault{Delay: time.Hour})
	called := make(chan error)
	go func() { called <- hasty(t, s, messagesPath(s, "dial-in"), time.Minute) }()
	await(t, s, func(st *fake.State) bool { return len(st.Requests()) == 1 })
	s.Close()
	if err := <-called; err == nil {
		t.Error("the call that hung was answered")
	}
	for _, w := range wires {
		w.closed()
	}
	http.DefaultClient.CloseIdleConnections()
	goleak.VerifyNone(t, before)
}
