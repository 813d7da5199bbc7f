package fake_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"shothand/bot/discord/fake"
)

func TestLimitsAsDocumented(t *testing.T) {
	s := start(t, fake.Options{})
	path := messagesPath(s, "dial-in")
	s.Break(fake.Fault{Method: "POST", Path: "/channels/*/messages", Status: 429, RetryAfter: 1500 * time.Millisecond})
	a := send(t, s, "POST", path, `{"content":"x"}`)
	if a.Status != 429 || a.Header.Get("X-Ratelimit-Reset-After") != "1.500" || a.object(t)["retry_after"] != 1.5 {
		t.Errorf("a route's limit: %+v", a)
	}
	s.Break(fake.Fault{Status: 429, Scope: "global", RetryAfter: 2 * time.Second})
	a = send(t, s, "POST", path, `{"content":"x"}`)
	if a.Header.Get("X-Ratelimit-Global") != "true" || a.Header.Get("Retry-After") != "2" ||
		a.Header.Get("X-Ratelimit-Reset-After") != "" || a.object(t)["global"] != true {
		t.Errorf("the global limit: %+v", a)
	}
	s.Break(fake.Fault{Status: 429, HTML: true})
	if a = send(t, s, "POST", path, `{"content":"x"}`); a.Status != 429 || !strings.HasPrefix(a.Text, "<html>") {
		t.Errorf("the edge: %+v", a)
	}
	if len(s.Posts("dial-in")) != 0 {
		t.Error("a limited call was done")
	}
	post(t, s, "dial-in", `{"content":"x"}`)
	noViolations(t, s)
}

func TestServerFaults(t *testing.T) {
	s := start(t, fake.Options{})
	path := messagesPath(s, "dial-in")
	s.Break(fake.Fault{Method: "POST", Status: 502, AfterServing: true}, fake.Fault{Status: 500, Times: 2})
	for _, want := range []int{502, 500, 500, 200} {
		if a := send(t, s, "POST", path, `{"content":"x"}`); a.Status != want {
			t.Errorf("got %d, want %d", a.Status, want)
		}
	}
	if n := len(s.Posts("dial-in")); n != 2 {
		t.Errorf("%d posts: the one behind the 502 and the last were to be done", n)
	}
	s.Break(fake.Fault{Method: "POST", Hangup: true, AfterServing: true}, fake.Fault{Method: "POST", DelayAnswer: time.Minute})
	for i, patience := range []time.Duration{time.Minute, time.Second} {
		if err := hasty(t, s, path, patience); err == nil {
			t.Errorf("call %d was answered", i)
		}
	}
	// What was cut off and what was late are done all the same.
	await(t, s, func(st *fake.State) bool { return len(st.Posts("dial-in")) == 4 })
	s.Break(fake.Fault{Path: "/users/@me", Status: 503, Times: -1})
	s.Break(fake.Fault{Path: "/gateway", Delay: 100 * time.Millisecond})
	begun := time.Now()
	if a := send(t, s, "GET", "/gateway", ""); a.Status != 200 || time.Since(begun) < 100*time.Millisecond {
		t.Errorf("%d after %s", a.Status, time.Since(begun))
	}
	for range 3 {
		if a := send(t, s, "GET", "/users/@me", ""); a.Status != 503 {
			t.Errorf("got %d", a.Status)
		}
	}
	s.Mend()
	if a := send(t, s, "GET", "/users/@me", ""); a.Status != 200 {
		t.Errorf("got %d", a.Status)
	}
	noViolations(t, s)
}

// hasty posts with little patience, and returns why there was no answer.
func hasty(t *testing.T, s *fake.Server, path string, patience time.Duration) error {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.URL+"/api/v10"+path, strings.NewReader(`{"content":"y"}`))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Authorization", "Bot x")
	r.Header.Set("User-Agent", "DiscordBot (https://example.com, 1)")
	r.Header.Set("Content-Type", "application/json")
	client := http.Client{Timeout: patience}
	response, err := client.Do(r)
	if err == nil {
		err = response.Body.Close()
	}
	return err
}

func TestUnknownComponents(t *testing.T) {
	s := start(t, fake.Options{})
	w := ready(t, s, allIntents)
	s.SayUnknown("dial-in")
	if p := w.expect(0, "MESSAGE_CREATE"); !strings.Contains(string(p.D), `"type":99`) || !strings.Contains(string(p.D), `"bot":true`) {
		t.Errorf("event: %s", p.D)
	}
	s.Break(fake.Fault{Method: "POST", UnknownComponent: true})
	if a := send(t, s, "POST", messagesPath(s, "dial-in"), `{"content":"x"}`); a.Status != 200 || !strings.Contains(a.Text, `"type":99`) {
		t.Errorf("answer: %+v", a)
	}
	if m := s.Posts("dial-in")[0]; len(m.Components) != 0 {
		t.Errorf("it stayed: %+v", m)
	}
	noViolations(t, s)
}

func TestRealLimit(t *testing.T) {
	s := start(t, fake.Options{CallsPerSecond: 2})
	seen := map[int]int{}
	for range 4 {
		seen[send(t, s, "GET", "/users/@me", "").Status]++
	}
	if seen[200] < 2 || seen[429] < 1 {
		t.Errorf("answers: %v", seen)
	}
}

func TestOnlyTheBotIsServed(t *testing.T) {
	s := start(t, fake.Options{Token: "secret"})
	if a := send(t, s, http.MethodGet, "/users/@me", ""); a.Status != 401 {
		t.Errorf("a wrong token: %+v", a)
	}
	if a := send(t, s, http.MethodGet, "/gateway", ""); a.Status != 200 {
		t.Errorf("the gateway's address needs none: %+v", a)
	}
}

func TestStrangersSpeak(t *testing.T) {
	s := start(t, fake.Options{})
	w := ready(t, s, allIntents)
	s.Post(fake.Message{Channel: "dial-in", Author: fake.User{Name: "hook", Bot: true}, Webhook: "17", Content: "18 36 28"})
	if p := w.expect(0, "MESSAGE_CREATE"); !strings.Contains(string(p.D), `"webhook_id":"17"`) {
		t.Errorf("webhook: %s", p.D)
	}
	s.Post(fake.Message{Channel: "dial-in", Author: s.User("jo"), Type: fake.TypeJoin})
	if p := w.expect(0, "MESSAGE_CREATE"); !strings.Contains(string(p.D), `"type":7`) {
		t.Errorf("system: %s", p.D)
	}
}
