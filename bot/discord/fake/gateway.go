package fake

import (
	"crypto/rand"
	"encoding/json"
	"errors"
	"net"
	"net/http"
	"strings"
	"time"

	"github.com/gorilla/websocket"
)

// Gateway opcodes.
const (
	opDispatch  = 0
	opHeartbeat = 1
	opIdentify  = 2
	opPresence  = 3
	opResume    = 6
	opReconnect = 7
	opInvalid   = 9
	opHello     = 10
	opAck       = 11
)

// Close codes.
const (
	closeUnknown          = 4000
	closeDecode           = 4002
	closeNotAuthenticated = 4003
	closeAuthentication   = 4004
	closeAlready          = 4005
	closeBadSequence      = 4007
	closeRateLimited      = 4008
	closeTimedOut         = 4009
	closeBadShard         = 4010
	closeBadIntents       = 4013
	closeForbidden        = 4014
)

// maxPayload and maxSends are the limits on what a client sends.
const (
	maxPayload = 4096
	maxSends   = 120 // in a minute
)

// maxReplay is how many events a session can be resumed over, at least;
// sessionLife how long it waits for that. Discord tells neither figure.
const (
	maxReplay   = 1000
	sessionLife = 2 * time.Minute
)

// A session outlives its connections, so that it can be resumed.
type session struct {
	id       string
	intents  int
	shard    [2]int
	compress bool
	seq      int64
	sent     []packet // for Resume, the last of them
	held     []packet // delivered late
	link     *link    // nil while nobody is connected
	left     time.Time
}

// A packet is a numbered dispatch.
type packet struct {
	seq  int64
	body []byte
}

// send numbers a dispatch, keeps it for Resume and delivers it as told.
func (x *session) send(name string, data any, how Delivery) {
	x.seq++
	p := packet{seq: x.seq, body: mustMarshal(object{"op": opDispatch, "t": name, "s": x.seq, "d": data})}
	if how == Lose {
		return
	}
	x.sent = lastOf(append(x.sent, p), maxReplay)
	if how == Late {
		x.held = append(x.held, p)
		return
	}
	x.deliver(p, how == Cut)
	if how == Twice {
		x.deliver(p, false)
	}
	for _, late := range x.held {
		x.deliver(late, false)
	}
	x.held = nil
}

// reaches tells whether all that came after seq can be sent again.
func (x *session) reaches(seq int64) bool {
	return len(x.sent) == 0 || x.sent[0].seq <= seq+1 || len(x.sent) < maxReplay
}

func (x *session) deliver(p packet, cut bool) {
	if x.link != nil {
		x.link.push(outgoing{body: p.body, compress: x.compress, cut: cut})
	}
}

// gatewayURL is what GET /gateway tells.
func (s *Server) gatewayURL() string { return "ws" + strings.TrimPrefix(s.URL, "http") + "/gateway" }

// serveGateway is one connection, from the upgrade until it is gone.
func (s *Server) serveGateway(w http.ResponseWriter, r *http.Request) {
	opening := s.nextOpening()
	if !pause(r, opening.Delay) {
		return
	}
	if opening.Refuse != 0 {
		http.Error(w, "no", opening.Refuse)
		return
	}
	upgrader := websocket.Upgrader{CheckOrigin: func(*http.Request) bool { return true }}
	ws, err := upgrader.Upgrade(w, r, nil)
	if err != nil {
		return // the upgrader has answered
	}
	l := newLink(s, ws, opening)
	if !s.admit(l) {
		l.cut()
		return
	}
	s.running.Go(l.write)
	switch {
	case opening.NoHello:
	case opening.Hello != "":
		l.push(outgoing{body: []byte(opening.Hello)})
	default:
		l.pushJSON(object{"op": opHello, "s": nil, "t": nil, "d": object{"heartbeat_interval": s.options.HeartbeatEvery.Milliseconds(), "_trace": []string{}}})
	}
	s.read(l)
	s.part(l)
}

// admit counts a connection in; false if the fake is closing.
func (s *Server) admit(l *link) (ok bool) {
	s.do(func() {
		if ok = !s.closed; ok {
			s.links[l] = true
		}
	})
	return ok
}

// part forgets a connection. A close with 1000 or 1001 by the client ends its session.
func (s *Server) part(l *link) {
	l.cut()
	s.do(func() {
		delete(s.links, l)
		if l.live {
			s.state.open--
		}
		if x := l.session; x != nil && x.link == l {
			x.link, x.left = nil, time.Now()
			if l.farewell {
				delete(s.sessions, x.id)
			}
		}
	})
}

func (s *Server) read(l *link) {
	l.ws.SetReadLimit(1 << 20)
	for {
		// As Discord does, give up on a client that is silent for two beats.
		if err := l.ws.SetReadDeadline(time.Now().Add(2*s.options.HeartbeatEvery + time.Second)); err != nil {
			return
		}
		_, raw, err := l.ws.ReadMessage()
		if err != nil {
			l.farewell = websocket.IsCloseError(err, websocket.CloseNormalClosure, websocket.CloseGoingAway)
			if timeout := net.Error(nil); errors.As(err, &timeout) && timeout.Timeout() {
				l.close(closeTimedOut)
			}
			return
		}
		if code := s.received(l, raw); code != 0 {
			l.pushClose(code)
		}
	}
}

// A command is what a client sends.
type command struct {
	Op int             `json:"op"`
	D  json.RawMessage `json:"d"`
}

// received handles one packet and returns the code to close with, or 0.
func (s *Server) received(l *link, raw []byte) (code int) {
	var c command
	if len(raw) > maxPayload || json.Unmarshal(raw, &c) != nil {
		return closeDecode
	}
	s.do(func() { code = s.obey(l, c) })
	return code
}

func (s *Server) obey(l *link, c command) int {
	if l.tooMany(time.Now()) {
		return closeRateLimited
	}
	switch c.Op {
	case opHeartbeat:
		l.beats++
		if !l.unheard {
			l.pushJSON(object{"op": opAck})
		}
	case opIdentify:
		return s.identify(l, c.D)
	case opResume:
		return s.resume(l, c.D)
	case opPresence:
		if l.session == nil {
			return closeNotAuthenticated
		}
	default:
		return closeUnknown + 1 // 4001, unknown opcode
	}
	return 0
}

type identifyData struct {
	Token      string         `json:"token"`
	Intents    *int           `json:"intents"`
	Shard      *[2]int        `json:"shard"`
	Compress   bool           `json:"compress"`
	Properties map[string]any `json:"properties"`
}

func (s *Server) identify(l *link, raw json.RawMessage) int {
	var d identifyData
	if json.Unmarshal(raw, &d) != nil {
		return closeDecode
	}
	now := time.Now()
	soon := s.tooSoon(now)
	s.state.identifies = append(s.state.identifies, now)
	switch {
	case l.session != nil:
		return closeAlready
	case strings.TrimPrefix(d.Token, "Bot ") != s.options.Token:
		return closeAuthentication
	case d.Intents == nil || *d.Intents&^intentsKnown != 0:
		return closeBadIntents
	case *d.Intents&s.options.ForbiddenIntents != 0:
		return closeForbidden
	case d.Shard != nil && (d.Shard[0] < 0 || d.Shard[0] >= d.Shard[1]):
		return closeBadShard
	case d.Properties == nil:
		return closeDecode
	}
	if done, code := s.misbehave(l); done {
		return code
	}
	if soon {
		l.pushJSON(object{"op": opInvalid, "d": false})
		return 0
	}
	s.begin(l, d)
	return 0
}

func (s *Server) tooSoon(now time.Time) bool {
	past := s.state.identifies
	return s.options.IdentifyEvery > 0 && len(past) > 0 && now.Sub(past[len(past)-1]) < s.options.IdentifyEvery
}

// begin makes the session: READY, then the guilds of its shard.
func (s *Server) begin(l *link, d identifyData) {
	x := &session{id: rand.Text(), intents: *d.Intents, compress: d.Compress, link: l}
	if d.Shard != nil {
		x.shard = *d.Shard
	}
	s.sessions[x.id] = x
	l.session, l.live = x, true
	s.state.open++
	x.send("READY", s.readyJSON(x), Deliver)
	if x.intents&intentGuilds == 0 {
		return
	}
	for _, g := range s.state.guilds {
		if shards(g.ID, x.shard) {
			x.send("GUILD_CREATE", s.state.guildCreateJSON(g), Deliver)
		}
	}
}

func (s *Server) readyJSON(x *session) object {
	guilds := []object{}
	for _, g := range s.state.guilds {
		if shards(g.ID, x.shard) {
			guilds = append(guilds, object{"id": g.ID, "unavailable": true})
		}
	}
	user := userJSON(s.state.Bot)
	user["email"], user["mfa_enabled"], user["verified"] = nil, true, true
	ready := object{
		"v": 10, "user": user, "guilds": guilds, "session_id": x.id, "resume_gateway_url": s.gatewayURL(),
		"application": object{"id": s.state.Bot.ID, "flags": 0}, "private_channels": []object{}, "relationships": []object{},
		"user_settings": object{}, "presences": []object{}, "_trace": []string{},
	}
	if x.shard[1] > 0 {
		ready["shard"] = x.shard
	}
	return ready
}

type resumeData struct {
	Token   string `json:"token"`
	Session string `json:"session_id"`
	Seq     int64  `json:"seq"`
}

// resume takes a session up again: what was missed, then RESUMED.
func (s *Server) resume(l *link, raw json.RawMessage) int {
	var d resumeData
	if json.Unmarshal(raw, &d) != nil {
		return closeDecode
	}
	if strings.TrimPrefix(d.Token, "Bot ") != s.options.Token {
		return closeAuthentication
	}
	if done, code := s.misbehave(l); done {
		return code
	}
	x := s.sessions[d.Session]
	switch {
	case x == nil, !x.reaches(d.Seq):
		l.pushJSON(object{"op": opInvalid, "d": false})
		return 0
	case d.Seq > x.seq:
		return closeBadSequence
	}
	if old := x.link; old != nil {
		old.session = nil
		old.pushClose(closeTimedOut)
	}
	x.link, l.session, l.live = l, x, true
	s.state.open++
	s.state.resumes++
	for _, p := range x.sent {
		if p.seq > d.Seq {
			x.deliver(p, false)
		}
	}
	x.held = nil
	x.send("RESUMED", object{"_trace": []string{}}, Deliver)
	return 0
}
