package fake

import "time"

// A Delivery is how an event reaches the bot.
type Delivery int

// Deliver is the usual. Lose never sends it, not even after a resume. Twice
// sends it twice, Late after the event that follows, and Cut sends half of it
// and cuts the connection; a resume brings it then.
const (
	Deliver Delivery = iota
	Lose
	Twice
	Late
	Cut
)

// An Opening is what happens to one new gateway connection. The zero value is
// as it should be.
type Opening struct {
	Delay   time.Duration // before the upgrade
	Refuse  int           // answer the upgrade with this HTTP status
	NoHello bool          // stay silent from the start
	Hello   string        // say this in place of Hello
	// One of these comes first after Identify or Resume, and nothing else:
	Reconnect bool // Op 7
	Invalid   bool // Op 9, d:false
	Resumable bool // Op 9, d:true
	Silent    bool // no answer at all
	Close     int  // this close code
}

type gatewayFaults struct {
	openings   []Opening
	deliveries []delivery
}

type delivery struct {
	event string
	how   Delivery
}

// NextConnections says what happens to the next connections, one each; those
// after them are as they should be again.
func (s *Server) NextConnections(list ...Opening) {
	s.do(func() { s.gateway.openings = append(s.gateway.openings, list...) })
}

func (s *Server) nextOpening() (o Opening) {
	s.do(func() {
		if len(s.gateway.openings) > 0 {
			o, s.gateway.openings = s.gateway.openings[0], s.gateway.openings[1:]
		}
	})
	return o
}

// misbehave answers an Identify or Resume as the opening says, once. done says
// that nothing more is to be done for it.
func (s *Server) misbehave(l *link) (done bool, code int) {
	o := l.opening
	l.opening = Opening{}
	switch {
	case o.Reconnect:
		l.pushJSON(object{"op": opReconnect, "d": nil})
	case o.Invalid, o.Resumable:
		l.pushJSON(object{"op": opInvalid, "d": o.Resumable})
	case o.Silent:
	case o.Close != 0:
		return true, o.Close
	default:
		return false, 0
	}
	return true, 0
}

// NextEvents says how the next events of a name ("" is any) are delivered, one
// each: NextEvents("MESSAGE_CREATE", fake.Lose, fake.Twice).
func (s *Server) NextEvents(name string, how ...Delivery) {
	s.do(func() {
		for _, h := range how {
			s.gateway.deliveries = append(s.gateway.deliveries, delivery{name, h})
		}
	})
}

func (g *gatewayFaults) deliveryOf(name string) Delivery {
	for i, d := range g.deliveries {
		if d.event == "" || d.event == name {
			g.deliveries = append(g.deliveries[:i:i], g.deliveries[i+1:]...)
			return d.how
		}
	}
	return Deliver
}

// StopAcks leaves the heartbeats of every connection of now unanswered.
func (s *Server) StopAcks() { s.everyLink(func(l *link) { l.unheard = true }) }

// CutConnections cuts every gateway connection without a close frame.
func (s *Server) CutConnections() { s.everyLink((*link).cut) }

// CloseConnections closes every gateway connection with a code.
func (s *Server) CloseConnections(code int) { s.everyLink(func(l *link) { l.pushClose(code) }) }

// AskReconnect sends Op 7 on every connection.
func (s *Server) AskReconnect() { s.sendAll(object{"op": opReconnect, "d": nil}) }

// AskHeartbeat sends Op 1 on every connection.
func (s *Server) AskHeartbeat() { s.sendAll(object{"op": opHeartbeat, "d": nil}) }

// SayRaw sends a text on every connection, whatever it is.
func (s *Server) SayRaw(text string) {
	s.everyLink(func(l *link) { l.push(outgoing{body: []byte(text)}) })
}

// SayBinary sends bytes on every connection, which nobody has asked for.
func (s *Server) SayBinary(data []byte) {
	s.everyLink(func(l *link) { l.push(outgoing{body: data, binary: true}) })
}

// InvalidateSessions sends Op 9 on every connection; those that are not
// resumable are forgotten.
func (s *Server) InvalidateSessions(resumable bool) {
	s.everyLink(func(l *link) {
		if x := l.session; x != nil {
			s.leave(l, x)
			if !resumable {
				delete(s.sessions, x.id)
			}
		}
		l.pushJSON(object{"op": opInvalid, "d": resumable})
	})
}

// leave parts a connection from its session, which may be resumed elsewhere.
func (s *Server) leave(l *link, x *session) {
	x.link, x.left = nil, time.Now()
	l.session, l.live = nil, false
	s.state.open--
}

func (s *Server) sendAll(o object) { s.everyLink(func(l *link) { l.pushJSON(o) }) }

func (s *Server) everyLink(f func(*link)) {
	s.do(func() {
		for l := range s.links {
			f(l)
		}
	})
}
