package fake

import (
	"fmt"
	"net/http"
	"path"
	"strconv"
	"time"
)

// A Fault spoils REST calls.
type Fault struct {
	// Method and Path choose the calls: "" is any; Path is a pattern of
	// path.Match for what follows /api/vN, as "/channels/*/messages".
	Method, Path string
	// Times is how many calls it spoils: 0 is one, -1 all until [Server.Mend].
	Times int
	// Delay comes before everything else, DelayAnswer after the deed.
	Delay, DelayAnswer time.Duration
	// Status answers in place of the call, which is not done — or is done
	// all the same, AfterServing.
	Status       int
	AfterServing bool
	// Hangup cuts the connection in place of a status.
	Hangup bool
	// Of a 429: RetryAfter; Scope "user" (the default), "shared" or "global";
	// HTML is the edge's page, without JSON or headers.
	RetryAfter time.Duration
	Scope      string
	HTML       bool
	// UnknownComponent puts a component of no known type into the message
	// that a call, done as usual, is answered with.
	UnknownComponent bool
}

// Break spoils calls from now on. Faults are asked in the order they were given.
func (s *Server) Break(list ...Fault) {
	s.do(func() {
		for _, f := range list {
			if f.Times == 0 {
				f.Times = 1
			}
			s.breaks = append(s.breaks, &f)
		}
	})
}

// Mend takes back every fault that is still waiting, of the gateway too.
func (s *Server) Mend() {
	s.do(func() { s.breaks, s.gateway = nil, gatewayFaults{} })
}

func (s *Server) faultFor(c *call) (spoil Fault) {
	s.do(func() {
		for _, f := range s.breaks {
			if f.Times != 0 && f.matches(c) {
				f.Times--
				spoil = *f
				return
			}
		}
	})
	return spoil
}

func (f *Fault) matches(c *call) bool {
	if f.Method != "" && f.Method != c.method {
		return false
	}
	if f.Path == "" {
		return true
	}
	matched, err := path.Match(f.Path, c.path)
	return err == nil && matched
}

// instead tells whether the bot does not get the call's own answer.
func (f Fault) instead() bool { return f.Status != 0 || f.Hangup }

// write answers with the fault's status.
func (f Fault) write(w http.ResponseWriter) {
	switch {
	case f.Hangup:
		panic(http.ErrAbortHandler)
	case f.HTML || f.Status == http.StatusBadGateway:
		w.Header().Set("Content-Type", "text/html")
		w.WriteHeader(f.Status)
		_, _ = fmt.Fprintf(w, "<html><head><title>%d</title></head><body>cloud</body></html>", f.Status)
	case f.Status == http.StatusTooManyRequests:
		f.writeLimit(w)
	default:
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(f.Status)
		_, _ = fmt.Fprintf(w, `{"message": "%d: %s", "code": 0}`, f.Status, http.StatusText(f.Status))
	}
}

// writeLimit is a 429 as documented: a global one has no X-RateLimit-Reset-After.
func (f Fault) writeLimit(w http.ResponseWriter) {
	header, seconds := w.Header(), f.RetryAfter.Seconds()
	header.Set("Retry-After", strconv.Itoa(int(f.RetryAfter.Round(time.Second)/time.Second)))
	scope := f.Scope
	if scope == "" {
		scope = "user"
	}
	header.Set("X-RateLimit-Scope", scope)
	if scope == "global" {
		header.Set("X-RateLimit-Global", "true")
	} else {
		header.Set("X-RateLimit-Limit", "5")
		header.Set("X-RateLimit-Remaining", "0")
		header.Set("X-RateLimit-Reset", epochSeconds(time.Now().Add(f.RetryAfter)))
		header.Set("X-RateLimit-Reset-After", strconv.FormatFloat(seconds, 'f', 3, 64))
		header.Set("X-RateLimit-Bucket", "fault")
	}
	header.Set("Content-Type", "application/json")
	w.WriteHeader(http.StatusTooManyRequests)
	_, _ = w.Write(mustMarshal(object{"message": "You are being rate limited.", "retry_after": seconds, "global": scope == "global", "code": 0}))
}

func epochSeconds(t time.Time) string {
	return strconv.FormatFloat(float64(t.UnixMilli())/1000, 'f', 3, 64)
}

func withUnknownComponent(body any) any {
	o, isObject := body.(object)
	if !isObject || o["components"] == nil {
		return body
	}
	o["components"] = append(append([]object{}, objects(o["components"])...), unknownComponent())
	return o
}

// A window counts a route's calls within a second.
type window struct {
	began time.Time
	calls int
}

// overLimit counts a call, if calls are limited at all.
func (s *Server) overLimit(c *call) bool {
	if s.options.CallsPerSecond == 0 {
		return false
	}
	w := s.windowOf(c)
	w.calls++
	return w.calls > s.options.CallsPerSecond
}

func (s *Server) windowOf(c *call) *window {
	key := c.method + " " + path.Dir(c.path)
	w := s.windows[key]
	if now := time.Now(); w == nil || now.Sub(w.began) >= time.Second {
		w = &window{began: now}
		s.windows[key] = w
	}
	return w
}

// rateHeaders are on every answer. Without a limit they promise plenty.
func (s *Server) rateHeaders(h http.Header, c *call) {
	limit, used := 1000, 1
	reset := time.Now().Add(time.Second)
	if s.options.CallsPerSecond > 0 {
		w := s.windowOf(c)
		limit, used, reset = s.options.CallsPerSecond, w.calls, w.began.Add(time.Second)
	}
	h.Set("X-RateLimit-Limit", strconv.Itoa(limit))
	h.Set("X-RateLimit-Remaining", strconv.Itoa(max(0, limit-used)))
	h.Set("X-RateLimit-Reset", epochSeconds(reset))
	h.Set("X-RateLimit-Reset-After", strconv.FormatFloat(max(0, time.Until(reset).Seconds()), 'f', 3, 64))
	h.Set("X-RateLimit-Bucket", "usual")
}
