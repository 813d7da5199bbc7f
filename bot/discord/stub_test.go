package discord

import (
	"bytes"
	"context"
	"errors"
	"log/slog"
	"net/url"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"shothand/bot/chat"
	"shothand/bot/discord/fake"
)

// token is the bot's in these tests: one that shows where it leaks.
const token = "secret-token-of-the-test"

// A stub is a bot that answers every text once, from memory.
type stub struct {
	t *testing.T
	f *fake.Server
	d *Discord

	mu      sync.Mutex
	handled []string // ids, in order
	got     []chat.Message
	unread  string
	channel string // of its bar
	form    *chat.Form
	slow    time.Duration // before each answer
	// shotsOnly says that what is no shot is neither kept nor answered.
	shotsOnly bool
	reply     func(chat.Message) []chat.Post // in place of the usual answer
}

func (s *stub) Specs(...string) []chat.Spec {
	return []chat.Spec{
		{Name: "shot", Help: "a shot", Options: []chat.OptionSpec{{Name: "text", Help: "of it"}, {Name: "coffee", Help: "which", Suggests: true}}},
		{Name: "coffee add", Help: "add one", Options: []chat.OptionSpec{{Name: "grinder", Help: "on"}, {Name: "name", Help: "its name", Required: true}}},
		{Name: "coffee edit", Help: "change one", Manage: true},
		{Name: "setup", Help: "a bar", Manage: true, Options: []chat.OptionSpec{{Name: "zone", Help: "its clock", Choices: []string{"UTC"}}}},
		{Name: "help", Help: "helps", Private: true},
	}
}

func (s *stub) Suggest(a chat.Asking) []string { return []string{"Harbour", a.Typed + "?"} }

func (s *stub) Form(m chat.Message) (chat.Form, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.form == nil || m.Command.Name != "shot" || len(m.Command.Options) > 0 {
		return chat.Form{}, false
	}
	return *s.form, true
}

func (s *stub) Channels() ([]string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return []string{s.channel}, nil
}

func (s *stub) Unread(string) (string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.unread, nil
}

func (s *stub) SetUnread(_, id string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.unread = id
	return nil
}

func (s *stub) Threads(string) ([]string, error) { return nil, nil }

func (s *stub) Handled(string) ([]string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.handled), nil
}

// handle keeps a message and answers it, unless it was answered before.
func (s *stub) handle(ctx context.Context, m chat.Message) {
	s.mu.Lock()
	if s.shotsOnly && m.Kind == chat.Text && !strings.HasPrefix(m.Text, "shot") {
		s.mu.Unlock()
		return
	}
	if m.Kind == chat.Text && slices.Contains(s.handled, m.ID) || m.Kind == chat.Tick {
		s.mu.Unlock()
		return
	}
	s.got = append(s.got, m)
	if m.Kind == chat.Text || m.Kind == chat.Called {
		s.handled = append(s.handled, m.ID)
	}
	reply, slow := s.reply, s.slow
	s.mu.Unlock()
	time.Sleep(slow)
	posts := []chat.Post{{Kind: chat.Recorded, Text: "got: " + m.Text + m.Command.Name + m.Press}}
	if reply != nil {
		posts = reply(m)
	}
	if m.Kind == chat.Deleted || m.Kind == chat.Edited {
		posts = nil
	}
	for _, p := range posts {
		p.Channel, p.Thread, p.Cause, p.At = m.Channel, m.Thread, m.ID, m.At
		if _, err := s.d.Send(ctx, p); err != nil && ctx.Err() == nil {
			s.t.Log("send:", err)
		}
	}
}

// replies sets what is answered from now on, nil for the usual.
func (s *stub) replies(reply func(chat.Message) []chat.Post) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.reply = reply
}

// messages returns what was delivered.
func (s *stub) messages(kind chat.Kind) []chat.Message {
	s.mu.Lock()
	defer s.mu.Unlock()
	var list []chat.Message
	for _, m := range s.got {
		if m.Kind == kind {
			list = append(list, m)
		}
	}
	return list
}

// quick are timings for tests.
func quick() Timings {
	return Timings{
		Open: time.Second, Hello: 300 * time.Millisecond, Identify: 20 * time.Millisecond, Backoff: 10 * time.Millisecond,
		BackoffTo: 100 * time.Millisecond, Probe: 20 * time.Millisecond, Stuck: 2 * time.Second, Close: 2 * time.Second,
		Retry: 5 * time.Millisecond, Grace: time.Second, Again: 100 * time.Millisecond, Defer: 200 * time.Millisecond,
		Answer: time.Second, Call: 5 * time.Second, // a busy machine answers late
	}
}

// newFake starts a Discord, held to its description where that is at hand.
func newFake(t *testing.T, o fake.Options) *fake.Server {
	t.Helper()
	o.Token, o.MentionsMustBeOff = token, true
	if file := os.Getenv("DISCORD_OPENAPI"); file != "" {
		description, err := fake.LoadDescription(file)
		if err != nil {
			t.Fatal(err)
		}
		o.Description = description
	}
	f := fake.New(o)
	t.Cleanup(func() {
		for _, v := range f.Violations() {
			t.Error("violation:", v)
		}
		f.Close()
	})
	return f
}

// A logBook keeps what was logged.
type logBook struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *logBook) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *logBook) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// A run is a service that listens.
type run struct {
	*stub
	log  *logBook
	stop func() error // ends it and returns what Listen did
	done chan struct{}
}

// listen starts the service on f, with dial-in as its bar.
func listen(t *testing.T, f *fake.Server, times Timings) *run {
	t.Helper()
	s := &stub{t: t, f: f, channel: f.Channel("dial-in").ID}
	return listenWith(t, s, times)
}

func listenWith(t *testing.T, s *stub, times Timings) *run {
	t.Helper()
	root, err := url.Parse(s.f.URL)
	if err != nil {
		t.Fatal(err)
	}
	book := new(logBook)
	s.d = New(Options{
		Token: token, Root: root, Desk: s, Times: times, Texts: Texts{Nothing: "nothing", Token: errors.New("token refused")},
		Log: slog.New(slog.NewTextHandler(book, &slog.HandlerOptions{Level: slog.LevelDebug})),
	})
	ctx, cancel := context.WithCancel(t.Context())
	done := make(chan struct{})
	var failed error
	go func() {
		defer close(done)
		queue := make(chan func(), 64)
		var worker sync.WaitGroup
		worker.Go(func() {
			for job := range queue {
				job()
			}
		})
		failed = s.d.Listen(ctx, func(m chat.Message) <-chan struct{} {
			ready := make(chan struct{})
			queue <- func() { s.handle(ctx, m); close(ready) }
			return ready
		})
		close(queue)
		worker.Wait()
	}()
	stop := sync.OnceValue(func() error { cancel(); <-done; return failed })
	t.Cleanup(func() {
		if err := stop(); err != nil {
			t.Log("listen:", err)
		}
		if strings.Contains(book.String(), token) {
			t.Error("the token is in the log")
		}
		if t.Failed() {
			t.Log("\n" + book.String())
		}
	})
	return &run{s, book, stop, done}
}

// patience is how long a test waits for what must come: it ends a test that
// hangs, and must not end one on a busy machine.
const patience = time.Minute

// await waits until done says true of the fake.
func (r *run) await(what string, done func(*fake.State) bool) {
	r.t.Helper()
	ctx, cancel := context.WithTimeout(r.t.Context(), patience)
	defer cancel()
	if err := r.f.Await(ctx, done); err != nil {
		r.t.Fatalf("waiting for %s: %v", what, err)
	}
}

// eventually waits until done says true.
func eventually(t *testing.T, what string, done func() bool) {
	t.Helper()
	for end := time.Now().Add(patience); !done(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waiting for %s", what)
		}
	}
}

func (r *run) connected() {
	r.t.Helper()
	r.await("a session", func(s *fake.State) bool { return s.Connections() == 1 })
}

// say lets jo say something and waits for the one answer to it.
func (r *run) say(text string) string {
	r.t.Helper()
	id := r.f.Say("dial-in", "jo", text, "")
	r.answered(id)
	return id
}

func (r *run) answered(id string) {
	r.t.Helper()
	r.await("the answer to "+id, func(s *fake.State) bool { return len(repliesTo(s.Posts("dial-in"), id)) > 0 })
}

func repliesTo(posts []fake.Message, id string) []fake.Message {
	return slices.DeleteFunc(posts, func(m fake.Message) bool { return m.ReplyTo != id })
}

// once checks that each message was delivered and answered once.
func (r *run) once(ids ...string) {
	r.t.Helper()
	time.Sleep(50 * time.Millisecond) // for what should not come
	for _, id := range ids {
		if n := len(repliesTo(r.f.Posts("dial-in"), id)); n != 1 {
			r.t.Errorf("message %s has %d answers", id, n)
		}
		n := 0
		for _, m := range r.messages(chat.Text) {
			if m.ID == id {
				n++
			}
		}
		if n != 1 {
			r.t.Errorf("message %s was delivered %d times", id, n)
		}
	}
}
