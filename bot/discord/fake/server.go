package fake

import (
	"cmp"
	"context"
	"errors"
	"net"
	"net/http"
	"sync"
	"time"
)

// Options say what kind of Discord it is. The zero value is a friendly one,
// with the guild Harbour Lane in it.
type Options struct {
	// Token is the bot's; "" means "x".
	Token string
	// Empty leaves out Harbour Lane.
	Empty bool
	// Description, if any, is what requests and answers are validated with.
	Description *Description
	// MentionsMustBeOff makes every text sent without an empty
	// allowed_mentions a violation.
	MentionsMustBeOff bool
	// HeartbeatEvery is the interval asked for in Hello; 0 means 41.25 s.
	HeartbeatEvery time.Duration
	// AnswerWithin is the life of an interaction until its first answer; 0
	// means 3 s.
	AnswerWithin time.Duration
	// TokenLife is the life of an interaction's token after that; 0 means 15 min.
	TokenLife time.Duration
	// ForbiddenIntents close the gateway with 4014 when asked for, as when the
	// portal's switch is off.
	ForbiddenIntents int
	// IdentifyEvery is the least time between two identifies, else Op 9; 0
	// lets every one pass. Discord's is 5 s.
	IdentifyEvery time.Duration
	// CallsPerSecond limits each route for real; 0 lets every call pass.
	CallsPerSecond int
}

// A Server is a running fake. Its methods may be called from any goroutine.
type Server struct {
	// URL is the root, without a slash at its end: REST lies under URL/api/v10.
	URL string

	options Options
	http    *http.Server
	routes  http.Handler
	running sync.WaitGroup

	mu      sync.Mutex // guards all below
	state   *State
	changed chan struct{} // closed at the next change
	closed  bool

	breaks   []*Fault
	windows  map[string]*window
	gateway  gatewayFaults
	sessions map[string]*session
	links    map[*link]bool
}

// New starts a fake on a free local port. Like a test server it panics if there is none.
func New(o Options) *Server {
	s, err := Listen(o, "127.0.0.1:0")
	if err != nil {
		panic("fake: " + err.Error())
	}
	return s
}

// Listen starts a fake at addr.
func Listen(o Options, addr string) (*Server, error) {
	listener, err := new(net.ListenConfig).Listen(context.Background(), "tcp", addr)
	if err != nil {
		return nil, err
	}
	return Serve(o, listener), nil
}

// Serve starts a fake behind a listener, which it closes in the end.
func Serve(o Options, listener net.Listener) *Server {
	s := &Server{
		URL:      "http://" + listener.Addr().String(),
		options:  withDefaults(o),
		changed:  make(chan struct{}),
		windows:  map[string]*window{},
		sessions: map[string]*session{},
		links:    map[*link]bool{},
	}
	s.state = newState(s.URL, s.options.Empty)
	s.routes = s.newRoutes()
	s.http = &http.Server{Handler: s, ReadHeaderTimeout: time.Minute}
	s.running.Go(func() {
		if err := s.http.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
			panic("fake: " + err.Error())
		}
	})
	return s
}

func withDefaults(o Options) Options {
	o.Token = cmp.Or(o.Token, "x")
	o.HeartbeatEvery = cmp.Or(o.HeartbeatEvery, 41250*time.Millisecond)
	o.AnswerWithin = cmp.Or(o.AnswerWithin, 3*time.Second)
	o.TokenLife = cmp.Or(o.TokenLife, 15*time.Minute)
	return o
}

// Close cuts every connection and waits until nothing of the fake runs any more.
func (s *Server) Close() {
	s.do(func() {
		s.closed = true
		for l := range s.links {
			l.cut()
		}
	})
	// Close only fails where a connection was already gone.
	_ = s.http.Close()
	s.running.Wait()
}

// do runs f under the lock and wakes those who await a change.
func (s *Server) do(f func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	defer func() {
		close(s.changed)
		s.changed = make(chan struct{})
	}()
	f()
}

// Await returns nil once done says true of the state; it is asked again after
// every change, and must not call the Server. The error is the context's.
func (s *Server) Await(ctx context.Context, done func(*State) bool) error {
	for {
		s.mu.Lock()
		changed, ok := s.changed, done(s.state)
		s.mu.Unlock()
		if ok {
			return nil
		}
		select {
		case <-changed:
		case <-ctx.Done():
			return context.Cause(ctx)
		}
	}
}
