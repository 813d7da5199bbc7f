package fake

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// maxRequest is the largest body Discord takes; maxFile the largest file.
const (
	maxRequest = 25 << 20
	maxFile    = 10 << 20
)

// A call is one REST call being served.
type call struct {
	method, path string    // the path after /api/vN
	version      string    // "v9" or "v10"
	at           time.Time // of its arrival; to check it takes a while
	raw          *http.Request
	query        url.Values
	body         []byte // as JSON; of a multipart body its payload_json
	files        []File
	slots        []int // the n of files[n], one for each of files
}

// An answer is what a call is answered with. A nil body means none.
type answer struct {
	status int
	body   any
}

// A handler serves a call under the server's lock.
type handler func(*Server, *call) (answer, *refusal)

// A refusal is an error answer of Discord's.
type refusal struct {
	status, code int
	message      string
}

func refuse(status, code int, message string) *refusal {
	return &refusal{status: status, code: code, message: message}
}

// inChannel serves a call about a channel, if the bot may see it and do what it
// wants there.
func inChannel(permissions int64, h func(*Server, *call, *Channel) (answer, *refusal)) handler {
	return func(s *Server, c *call) (answer, *refusal) {
		channel, refused := s.channel(c, permissions)
		if refused != nil {
			return answer{}, refused
		}
		return h(s, c, channel)
	}
}

// onMessage serves a call about a message of a channel.
func onMessage(permissions int64, h func(*Server, *call, *Channel, *Message) (answer, *refusal)) handler {
	return inChannel(permissions, func(s *Server, c *call, channel *Channel) (answer, *refusal) {
		m := s.state.message(c.value("message"))
		if m == nil || m.Deleted || m.Channel != channel.ID || m.For != "" {
			return answer{}, unknownMessage()
		}
		return h(s, c, channel, m)
	})
}

// inGuild serves a call about a guild.
func inGuild(h func(*Server, *call, *Guild) (answer, *refusal)) handler {
	return func(s *Server, c *call) (answer, *refusal) {
		if g := s.state.guildByID(c.value("guild")); g != nil {
			return h(s, c, g)
		}
		return answer{}, refuse(http.StatusNotFound, 10004, "Unknown Guild")
	}
}

func invalidForm(why string) *refusal {
	return refuse(http.StatusBadRequest, 50035, "Invalid Form Body: "+why)
}

func ok(body any) (answer, *refusal) { return answer{http.StatusOK, body}, nil }

func noContent() (answer, *refusal) { return answer{status: http.StatusNoContent}, nil }

func (s *Server) newRoutes() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /gateway", s.serveGateway)
	mux.HandleFunc("GET /gateway/", s.serveGateway)
	mux.HandleFunc("GET /attachments/{channel}/{file}/{name}", s.serveFile)
	mux.Handle("/fake/", s.control())
	api := http.NewServeMux()
	for _, table := range []map[string]handler{whoami(), messageRoutes(), threadRoutes(), commandRoutes(), interactionRoutes(), webhookRoutes()} {
		for pattern, h := range table {
			api.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) { s.serve(w, r, h) })
		}
	}
	api.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		s.serve(w, r, func(*Server, *call) (answer, *refusal) {
			return answer{}, refuse(http.StatusNotFound, 0, "404: Not Found")
		})
	})
	for _, version := range []string{"/api/v9", "/api/v10"} {
		mux.Handle(version+"/", http.StripPrefix(version, api))
	}
	return mux
}

// ServeHTTP serves REST, the gateway and the control calls.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if !s.enter() {
		return
	}
	defer s.running.Done()
	s.routes.ServeHTTP(w, r)
}

// enter counts a request in, for Close to wait for; false once it is closing.
func (s *Server) enter() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.closed {
		s.running.Add(1)
	}
	return !s.closed
}

// serve is every REST call's way: read it, let faults have it, check it, do
// it, check the answer.
func (s *Server) serve(w http.ResponseWriter, r *http.Request, h handler) {
	c, refused := readCall(r)
	note := s.note(c)
	fault := s.faultFor(c)
	if !pause(r, fault.Delay) {
		return
	}
	if fault.instead() && !fault.AfterServing {
		s.noteStatus(note, fault.Status)
		fault.write(w)
		return
	}
	a := answer{}
	if refused == nil {
		a, refused = s.perform(c, h)
	}
	if refused != nil {
		a = answer{refused.status, object{"code": refused.code, "message": refused.message}}
	}
	s.checkAnswer(c, a)
	if !pause(r, fault.DelayAnswer) {
		return
	}
	if fault.instead() {
		s.noteStatus(note, fault.Status)
		fault.write(w)
		return
	}
	s.noteStatus(note, a.status)
	if fault.UnknownComponent {
		a.body = withUnknownComponent(a.body)
	}
	s.write(w, c, a)
}

// perform does the deed, if the call is allowed and well formed.
func (s *Server) perform(c *call, h handler) (a answer, refused *refusal) {
	found := s.options.Description.judge(c)
	s.do(func() {
		if refused = s.allowed(c); refused != nil {
			return
		}
		if refused = s.checkRequest(c, found); refused != nil {
			return
		}
		a, refused = h(s, c)
	})
	return a, refused
}

// allowed checks who is calling. Interactions are answered without a token.
func (s *Server) allowed(c *call) *refusal {
	if !regexp.MustCompile(`^DiscordBot \(\S+, \S+\)`).MatchString(c.raw.UserAgent()) {
		s.violate(c, "User-Agent is not DiscordBot (url, version)")
	}
	if s.overLimit(c) {
		return refuse(http.StatusTooManyRequests, 0, "You are being rate limited.")
	}
	if strings.HasPrefix(c.path, "/interactions/") || strings.HasPrefix(c.path, "/webhooks/") || c.path == "/gateway" {
		return nil
	}
	if c.raw.Header.Get("Authorization") != "Bot "+s.options.Token {
		return refuse(http.StatusUnauthorized, 0, "401: Unauthorized")
	}
	return nil
}

// violate notes what was wrong with a call.
func (s *Server) violate(c *call, format string, args ...any) {
	s.state.violations = append(s.state.violations, c.method+" "+hideToken(c.path)+": "+fmt.Sprintf(format, args...))
}

// hideToken leaves the token of an interaction out of what is read.
func hideToken(path string) string {
	return regexp.MustCompile(`^(/interactions/\d+|/webhooks/\d+)/[^/]+`).ReplaceAllString(path, "$1/TOKEN")
}

// maxNotes is how many requests are remembered.
const maxNotes = 5000

func (s *Server) note(c *call) *Request {
	note := &Request{At: time.Now(), Method: c.method, Path: c.path, Body: string(c.body)}
	s.do(func() { s.state.requests = lastOf(append(s.state.requests, note), maxNotes) })
	return note
}

func (s *Server) noteStatus(note *Request, status int) { s.do(func() { note.Status = status }) }

// lastOf keeps about n of a list that grows at its end: it cuts once that is
// worth the copy.
func lastOf[T any](list []T, n int) []T {
	if len(list) < 2*n {
		return list
	}
	return slices.Clone(list[len(list)-n:])
}

// pause waits, unless the client gives up first.
func pause(r *http.Request, d time.Duration) bool {
	if d == 0 {
		return true
	}
	select {
	case <-time.After(d):
		return true
	case <-r.Context().Done():
		return false
	}
}

func (s *Server) write(w http.ResponseWriter, c *call, a answer) {
	s.mu.Lock()
	s.rateHeaders(w.Header(), c)
	s.mu.Unlock()
	if a.body == nil {
		w.WriteHeader(a.status)
		return
	}
	if a.status == http.StatusTooManyRequests {
		a.body = object{"message": "You are being rate limited.", "retry_after": 1.0, "global": false, "code": 0}
		w.Header().Set("Retry-After", "1")
		w.Header().Set("X-RateLimit-Scope", "user")
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(a.status)
	_, _ = w.Write(mustMarshal(a.body)) // a client that went away needs no answer
}

// readCall reads the body, taking a multipart one apart.
func readCall(r *http.Request) (*call, *refusal) {
	c := &call{at: time.Now(), method: r.Method, path: r.URL.Path, version: version(r), raw: r, query: r.URL.Query()}
	body, err := io.ReadAll(io.LimitReader(r.Body, maxRequest+1))
	if err != nil {
		return c, refuse(http.StatusBadRequest, 0, "400: Bad Request")
	}
	if len(body) > maxRequest {
		return c, refuse(http.StatusRequestEntityTooLarge, 40005, "Request entity too large")
	}
	kind, parameters, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if len(body) > 0 && err != nil {
		return c, refuse(http.StatusUnsupportedMediaType, 0, "415: Unsupported Media Type")
	}
	if kind != "multipart/form-data" {
		c.body = body
		return c, c.mustBeJSON()
	}
	if err := c.readParts(multipart.NewReader(bytes.NewReader(body), parameters["boundary"])); err != nil {
		return c, refuse(http.StatusBadRequest, 50035, "Invalid Form Body: "+err.Error())
	}
	return c, c.mustBeJSON()
}

// version returns the N of /api/vN, which the routes have cut off.
func version(r *http.Request) string {
	v, _, _ := strings.Cut(strings.TrimPrefix(r.RequestURI, "/api/"), "/")
	return v
}

func (c *call) mustBeJSON() *refusal {
	if len(c.body) > 0 && !json.Valid(c.body) {
		return refuse(http.StatusBadRequest, 50109, "The request body contains invalid JSON.")
	}
	return nil
}

func (c *call) readParts(parts *multipart.Reader) error {
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		data, err := io.ReadAll(part)
		if err != nil {
			return err
		}
		if part.FormName() == "payload_json" {
			c.body = data
			continue
		}
		slot, err := fileSlot(part.FormName())
		if err != nil {
			return err
		}
		if len(data) > maxFile {
			return fmt.Errorf("%s is larger than 10 MiB", part.FormName())
		}
		c.slots = append(c.slots, slot)
		c.files = append(c.files, File{Name: part.FileName(), Type: part.Header.Get("Content-Type"), Data: data})
	}
}

// fileSlot reads the n of files[n].
func fileSlot(name string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSuffix(strings.TrimPrefix(name, "files["), "]"))
	if err != nil || name != fmt.Sprintf("files[%d]", n) {
		return 0, fmt.Errorf("part %q is neither payload_json nor files[n]", name)
	}
	return n, nil
}

// object returns the body; an empty object if there is none.
func (c *call) object() object {
	o := object{}
	_ = json.Unmarshal(c.body, &o) // readCall has seen that it is JSON; of another kind it is as good as empty
	return o
}

// value returns a part of the path by its name in the route.
func (c *call) value(name string) string { return c.raw.PathValue(name) }

// limit returns ?limit=, within Discord's bounds.
func (c *call) limit(usual int) int {
	n, err := strconv.Atoi(c.query.Get("limit"))
	if err != nil {
		return usual
	}
	return max(1, min(n, 100))
}

func (s *Server) serveFile(w http.ResponseWriter, r *http.Request) {
	var found *File
	s.do(func() {
		for _, m := range s.state.messages {
			for i := range m.Files {
				if m.Files[i].ID == r.PathValue("file") {
					found = &m.Files[i]
				}
			}
		}
	})
	if found == nil {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", found.Type)
	_, _ = w.Write(found.Data) // a client that went away needs no file
}
