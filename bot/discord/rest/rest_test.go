package rest

import (
	"io"
	"log/slog"
	"net/http"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

// A script answers calls one after the other, then with success.
type script struct {
	answers []*http.Response
	calls   int
}

func (s *script) RoundTrip(*http.Request) (*http.Response, error) {
	s.calls++
	if len(s.answers) == 0 {
		return answer(200, "{}", nil), nil
	}
	a := s.answers[0]
	s.answers = s.answers[1:]
	return a, nil
}

func answer(status int, body string, header map[string]string) *http.Response {
	h := http.Header{}
	for k, v := range header {
		h.Set(k, v)
	}
	return &http.Response{StatusCode: status, Header: h, Body: io.NopCloser(strings.NewReader(body))}
}

// A refusal for a limit is waited out for as long as was told, however many
// come; what the edge and a broken server refuse is through within 20 s.
func TestRefusals(t *testing.T) {
	const limited = `{"message":"slow down","retry_after":0.3,"global":false}`
	const page = "<html>cloud</html>"
	times := func(n int, status int, body string, header map[string]string) (list []*http.Response) {
		for range n {
			list = append(list, answer(status, body, header))
		}
		return list
	}
	for name, c := range map[string]struct {
		answers     []*http.Response
		least, most time.Duration
		calls       int
		fails       bool
	}{
		"limited twenty times":        {times(20, 429, limited, map[string]string{"Retry-After": "1"}), 6 * time.Second, 6100 * time.Millisecond, 21, false},
		"limited a thousand times":    {times(1000, 429, limited, nil), 300 * time.Second, 301 * time.Second, 1001, false},
		"limited without a time":      {times(10, 429, `{}`, nil), time.Second, 1100 * time.Millisecond, 11, false},
		"told by the header alone":    {times(3, 429, `{}`, map[string]string{"Retry-After": "2"}), 6 * time.Second, 6100 * time.Millisecond, 4, false},
		"the edge's page, four times": {times(4, 429, page, nil), 7 * time.Second, 7100 * time.Millisecond, 5, false},
		"the edge's page, ten times":  {times(10, 429, page, nil), 19 * time.Second, 19100 * time.Millisecond, 11, false},
		"the edge tells":              {times(2, 429, page, map[string]string{"Retry-After": "3"}), 6 * time.Second, 6100 * time.Millisecond, 3, false},
		"a page with 500":             {times(tries-1, 500, page, nil), time.Second, 20 * time.Second, tries, false},
		"500 for good":                {times(100, 500, page, nil), time.Second, 20 * time.Second, tries, true},
		"limits among failures": {
			slices.Concat(times(3, 500, page, nil), times(30, 429, limited, nil), times(tries-4, 502, page, nil)), 10 * time.Second, 30 * time.Second, tries + 30, false,
		},
	} {
		synctest.Test(t, func(t *testing.T) {
			s := &script{answers: c.answers}
			r := New(Options{
				HTTP: &http.Client{Transport: s}, Secrets: NewRedactor("x"), Log: slog.New(slog.DiscardHandler), Call: 20 * time.Second, Retry: 500 * time.Millisecond,
			})
			began := time.Now()
			err := r.Do(t.Context(), Call{Method: http.MethodGet, Path: "/gateway"}, nil)
			if took := time.Since(began); took < c.least || took > c.most || (err != nil) != c.fails || s.calls != c.calls {
				t.Errorf("%s: %v, %d calls, %v; want %v to %v, %d calls", name, took, s.calls, err, c.least, c.most, c.calls)
			}
		})
	}
}

// Limits are kept by what they depend on, and hold no token.
func TestRoutes(t *testing.T) {
	for path, want := range map[string]string{
		"/channels/12/messages/34":            "GET /channels/12/messages/-",
		"/channels/12/messages?after=5":       "GET /channels/12/messages",
		"/interactions/12/tok/callback":       "GET /interactions/-/-/callback",
		"/webhooks/12/tok/messages/@original": "GET /webhooks/12/-/messages/@original",
		"/applications/12/guilds/34/commands": "GET /applications/12/guilds/-/commands",
		"/channels/12/messages/34/threads":    "GET /channels/12/messages/-/threads",
	} {
		if got := routeOf(Call{Method: "GET", Path: path}); got != want {
			t.Errorf("%s: %s, want %s", path, got, want)
		}
	}
	if d := duration(1e12); d != 0 {
		t.Error(d)
	}
	if d := duration(1e6); d != longestWait {
		t.Error(d)
	}
	if d := seconds("1.5"); d != 1500*time.Millisecond {
		t.Error(d)
	}
}
