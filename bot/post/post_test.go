package post_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/gorillamux"

	"shothand/bot"
	"shothand/bot/chat"
	"shothand/bot/post"
	"shothand/bot/serve"
	"shothand/store"
)

// A quiet service keeps what is posted to itself.
type quiet struct {
	ready chan func(chat.Message) <-chan struct{}
}

func (q quiet) Listen(ctx context.Context, deliver func(chat.Message) <-chan struct{}) error {
	q.ready <- deliver
	<-ctx.Done()
	return nil
}

func (q quiet) Send(context.Context, chat.Post) (string, error) { return "", nil }
func (q quiet) Edit(context.Context, string, chat.Post) error   { return nil }

// A room is a bar with a device that may post, and what answers it.
type room struct {
	t       *testing.T
	now     time.Time
	server  http.Handler
	secret  string
	router  routers.Router
	options *openapi3filter.Options
}

func open(t *testing.T) *room {
	t.Helper()
	s, err := store.Open(t.TempDir() + "/bar.db")
	if err != nil {
		t.Fatal(err)
	}
	b := serve.New(bot.New(s, bot.Options{Open: true}))
	r := &room{t: t, now: time.Date(2026, 3, 2, 6, 33, 0, 0, time.UTC)}
	for _, line := range []string{"/grinder add name:left finer:lower step:0.1", "/coffee add name:Harbour grinder:left", "/setup device:scale", "/setup device:timer"} {
		outs := b.Handle(chat.Message{ID: line, Channel: "bar", From: chat.Person{ID: "mara", Name: "mara"}, Manager: true, Alone: true, At: r.now, Text: line})
		if _, rest, ok := strings.Cut(outs[0].Text, "shown this once: "); ok {
			r.secret, _, _ = strings.Cut(rest, "\n")
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	q, ended := quiet{make(chan func(chat.Message) <-chan struct{}, 1)}, make(chan error, 1)
	go func() { ended <- b.Run(ctx, q) }()
	<-q.ready
	t.Cleanup(func() {
		cancel()
		if err := errors.Join(<-ended, s.Close()); err != nil {
			t.Error(err)
		}
	})
	r.server = post.New(b, slog.New(slog.DiscardHandler), func() time.Time { return r.now })
	doc, err := openapi3.NewLoader().LoadFromFile("openapi.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if err := doc.Validate(t.Context()); err != nil {
		t.Fatal(err)
	}
	if r.router, err = gorillamux.NewRouter(doc); err != nil {
		t.Fatal(err)
	}
	r.options = &openapi3filter.Options{AuthenticationFunc: openapi3filter.NoopAuthenticationFunc, IncludeResponseStatus: true}
	return r
}

// An answer is what a device is told.
type answer struct {
	status             int
	Recorded, Repeated bool
	Text, Error        string
	Advice             map[string]any
	Shot               *bot.PostedShot
}

// post sends a body with a secret. The answer is held to the description, and
// what the description forbids must be refused.
func (r *room) post(secret, body string) answer {
	r.t.Helper()
	ask := httptest.NewRequest(http.MethodPost, "/shot", strings.NewReader(body))
	ask.Header.Set("Authorization", "Bearer "+secret)
	ask.Header.Set("Content-Type", "application/json")
	route, params, err := r.router.FindRoute(ask)
	if err != nil {
		r.t.Fatal(err)
	}
	in := &openapi3filter.RequestValidationInput{Request: ask, PathParams: params, Route: route, Options: r.options}
	forbidden := openapi3filter.ValidateRequest(r.t.Context(), in)
	ask.Body = io.NopCloser(strings.NewReader(body))
	w := httptest.NewRecorder()
	r.server.ServeHTTP(w, ask)
	out := &openapi3filter.ResponseValidationInput{
		RequestValidationInput: in, Status: w.Code, Header: w.Header(), Body: io.NopCloser(bytes.NewReader(w.Body.Bytes())), Options: r.options,
	}
	if err := openapi3filter.ValidateResponse(r.t.Context(), out); err != nil {
		r.t.Errorf("%s was answered %d %s: %v", body, w.Code, w.Body, err)
	}
	if forbidden != nil && w.Code < 400 {
		r.t.Errorf("%s was answered %d, and the description forbids it: %v", body, w.Code, forbidden)
	}
	a := answer{status: w.Code}
	if err := json.Unmarshal(w.Body.Bytes(), &a); err != nil {
		r.t.Errorf("%s: %v", w.Body, err)
	}
	if (w.Code == http.StatusTooManyRequests || w.Code == http.StatusServiceUnavailable) && w.Header().Get("Retry-After") == "" {
		r.t.Error("no Retry-After")
	}
	return a
}

// What is taken, what is asked about, what is refused, and with what sentence.
func TestShot(t *testing.T) {
	r := open(t)
	for _, test := range []struct {
		body string
		want int
		says string
	}{
		{`{"time_s": 27.4}`, 200, "27.4 s, in the window"},
		{`{"dose_g": 18, "yield_g": 36.2, "time_s": 27, "first_drip_s": 6, "coffee": "harb", "at": "2026-03-02T07:32:00+01:00", "key": "a"}`, 200, "Harbour"},
		{`{"dose_g": null, "time_s": 29, "coffee": null, "at": null, "key": null}`, 200, "29 s"},
		{`{"time_s": 28, "coffee": "Heron"}`, 202, "no coffee “Heron”"},
		{`{"time_s": 2.5, "yield_g": 4}`, 202, "4 g"},
		{`{"time_s": 30.5` + strings.Repeat(" ", 4000) + `}`, 200, "30.5 s"},
		{`{"time_s": 27, "time_s": 28}`, 400, "each field once"},
		{`{"Time_S": 27}`, 400, "Time_S"},
		{`{"time_s": 27, "first_drip_s": 28}`, 400, "first_drip_s ≤ time_s"},
		{`{"time_s": 27, "coffee": "**\u202ekeel"}`, 202, "no coffee “**keel”"},
		{`{}`, 400, "time_s is the one field"},
		{`[]`, 400, "no shot"},
		{`27.4`, 400, ""},
		{``, 400, "no JSON"},
		{`{"time_s": 27.4`, 400, "no JSON"},
		{`{"time_s": "27.4"}`, 400, "time_s string"},
		{`{"time_s": 27.4, "weight": 36}`, 400, "weight"},
		{`{"time_s": 0}`, 400, "No shot has"},
		{`{"time_s": 1e999}`, 400, ""},
		{`{"time_s": 27.4, "yield_g": 400}`, 400, "yield"},
		{`{"time_s": 27.4, "at": "yesterday"}`, 400, "yesterday"},
		{`{"time_s": 27.4, "at": "2026-03-02T07:36:00Z"}`, 400, "still to come"},
		{`{"time_s": 27.4, "at": "2026-02-27T06:36:00Z"}`, 400, "two days"},
		{`{"time_s": 27.4, "key": "` + strings.Repeat("k", 201) + `"}`, 400, "200 bytes"},
		{`{"time_s": 27.4, "key": "` + strings.Repeat("k", 5000) + `"}`, 413, "4,096"},
		{`{"time_s": 27.4} {"time_s": 27.4}`, 400, ""},
		{"\xff\xfe", 400, ""},
	} {
		a := r.post(r.secret, test.body)
		if a.status != test.want || !strings.Contains(a.Text+a.Error, test.says) {
			t.Errorf("%.60s: %d %+v, want %d, %q", test.body, a.status, a, test.want, test.says)
		}
		if a.Recorded != (test.want == 200) || (test.want == 200) != (a.Advice["coffee"] == "Harbour") {
			t.Errorf("%.60s: %+v", test.body, a)
		}
		r.now = r.now.Add(20 * time.Second)
	}
}

// A repeated post is one shot: by its key and its numbers if it ended within some
// hours of the other, by its time, or within some seconds.
func TestRepeated(t *testing.T) {
	r := open(t)
	again := func(body string, after time.Duration, want bool) {
		t.Helper()
		r.now = r.now.Add(after)
		if a := r.post(r.secret, body); a.status != 200 || a.Repeated != want || !a.Recorded || a.Advice == nil {
			t.Errorf("%s after %v: %+v", body, after, a)
		}
	}
	again(`{"time_s": 27.4, "key": "a"}`, 0, false)
	again(`{"time_s": 27.4, "key": "a"}`, time.Second, true)
	again(`{"time_s": 27.4, "key": "a"}`, 6*time.Hour, true)
	again(`{"time_s": 27.4, "key": "a", "coffee": "Harbour"}`, time.Second, false)
	again(`{"time_s": 27.5, "key": "a"}`, time.Second, false) // its counter has started again
	again(`{"time_s": 27.5, "key": "a"}`, time.Second, true)
	again(`{"time_s": 27.5, "key": "a"}`, 12*time.Hour, false)
	again(`{"time_s": 27.5, "key": "b"}`, time.Second, false)
	again(`{"time_s": 28, "at": "2026-03-03T00:30:00Z"}`, time.Minute, false)
	again(`{"time_s": 28, "at": "2026-03-03T01:30:00+01:00"}`, time.Hour, true)
	again(`{"time_s": 28, "at": "2026-03-03T00:30:00Z", "key": "c"}`, time.Minute, false)
	again(`{"time_s": 28, "at": "2026-03-03T00:30:00Z", "key": "c"}`, 25*time.Hour, true)
	again(`{"time_s": 28}`, time.Minute, false)
	again(`{"time_s": 28}`, 4*time.Second, true)
	again(`{"time_s": 28}`, time.Minute, false)
}

// Of each post it is told which shot the answer is about: a late one, and one
// that comes again, are not the one that the advice is on.
func TestWhichShot(t *testing.T) {
	r := open(t)
	at := func(seconds int) string { return r.now.Add(time.Duration(seconds) * time.Second).Format(time.RFC3339) }
	late := at(60)
	for _, c := range []struct {
		body   string
		newest bool
		says   string
	}{
		{`{"time_s": 27.4, "key": "a"}`, true, "From timer, nobody's yet. Tap"},
		{`{"time_s": 22, "key": "b"}`, true, "22 s is short"},
		{`{"time_s": 27.4, "key": "a"}`, false, "on the record already: Harbour of 06:34, 18 → 36 g, 27.4 s"},
		{`{"time_s": 40, "key": "c", "at": "` + late + `"}`, false, "From timer, nobody's yet: Harbour of 06:34, 18 → 36 g, 40 s"},
		{`{"time_s": 41, "key": "d", "at": "` + at(-900) + `"}`, false, "too long ago"},
	} {
		r.now = r.now.Add(time.Minute)
		a := r.post(r.secret, c.body)
		if a.status != 200 || a.Shot == nil || a.Shot.Newest != c.newest || !strings.Contains(a.Text, c.says) {
			t.Errorf("%s: %+v, shot %+v", c.body, a, a.Shot)
		}
		if before, _, _ := strings.Cut(a.Text, "on the newest shot:"); !c.newest && strings.Contains(before, "22 s is short") {
			t.Errorf("%s: is told of another shot: %s", c.body, a.Text)
		}
	}
}

// A secret that is none opens nothing, and neither does one that was taken back;
// whoever tries many is put off, while the device with its own is not.
func TestSecrets(t *testing.T) {
	r := open(t)
	body := `{"time_s": 27.4}`
	refused := 0
	for _, secret := range []string{"", "x", "1", "1.2", "1.2.", "9.9.9", r.secret[:len(r.secret)-1], r.secret + "A", strings.ToUpper(r.secret), "1.1" + r.secret[3:]} {
		if a := r.post(secret, body); a.status != 401 || !strings.Contains(a.Error, "No device") {
			t.Errorf("%q: %+v", secret, a)
		}
		refused++
	}
	for range 40 {
		if r.post("1.2.guess", body).status == 429 {
			refused++
		}
	}
	if refused < 35 {
		t.Errorf("%d refused", refused)
	}
	if a := r.post(r.secret, body); a.status != 200 {
		t.Errorf("the device itself: %+v", a)
	}
}

// A device that posts too much is told to wait, and loses nothing by it.
func TestTooMuch(t *testing.T) {
	r := open(t)
	taken, put := 0, 0
	for i := range 200 {
		body := `{"time_s": 27.4, "key": "` + string(rune('a'+i%26)) + string(rune('a'+i/26)) + `"}`
		for {
			a := r.post(r.secret, body)
			if a.status == 200 && !a.Repeated {
				taken++
				break
			}
			if a.status != 429 {
				t.Fatalf("%s: %+v", body, a)
			}
			put++
			r.now = r.now.Add(time.Second)
		}
	}
	if taken != 200 || put < 100 {
		t.Errorf("%d taken, %d put off", taken, put)
	}
}

// The description is served as it ships.
func TestDescription(t *testing.T) {
	r := open(t)
	w := httptest.NewRecorder()
	r.server.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/openapi.yaml", nil))
	ships, err := os.ReadFile("openapi.yaml")
	if err != nil || w.Code != 200 || !bytes.Equal(w.Body.Bytes(), ships) {
		t.Errorf("%d, %d bytes", w.Code, w.Body.Len())
	}
	for _, c := range []struct {
		method, path string
		want         int
	}{{http.MethodGet, "/shot", 405}, {http.MethodPost, "/", 404}, {http.MethodGet, "/metrics", 404}} {
		w := httptest.NewRecorder()
		r.server.ServeHTTP(w, httptest.NewRequest(c.method, c.path, nil))
		var told struct{ Error string }
		if err := json.Unmarshal(w.Body.Bytes(), &told); w.Code != c.want || err != nil || !strings.Contains(told.Error, "POST") {
			t.Errorf("%s %s: %d %s %v", c.method, c.path, w.Code, w.Body, err)
		}
	}
}

// While the bot does not run, nothing is taken and nothing lost: the device is
// told to come again.
func TestStopped(t *testing.T) {
	r := open(t)
	r.server = post.New(stopped{}, slog.New(slog.DiscardHandler), func() time.Time { return r.now })
	if a := r.post(r.secret, `{"time_s": 27.4}`); a.status != 503 {
		t.Errorf("%+v", a)
	}
}

type stopped struct{}

func (stopped) Admit(string) (bot.Sender, bool) { return bot.Sender{}, true }

func (stopped) Post(context.Context, bot.Sender, string, time.Time) (bot.PostAnswer, error) {
	return bot.PostAnswer{}, serve.ErrStopped
}
