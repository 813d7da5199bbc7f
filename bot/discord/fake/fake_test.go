package fake_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"sync"
	"testing"
	"time"

	"shothand/bot/discord/fake"
)

// description loads Discord's description once for all tests; nil without it.
var description = sync.OnceValues(func() (*fake.Description, error) {
	if file := os.Getenv("DISCORD_OPENAPI"); file != "" {
		return fake.LoadDescription(file)
	}
	return nil, nil
})

// start starts a fake that checks all it can. Its violations fail the test,
// unless the test takes them with violations.
func start(t *testing.T, o fake.Options) *fake.Server {
	t.Helper()
	d, err := description()
	if err != nil {
		t.Fatal(err)
	}
	o.Description = d
	if o.AnswerWithin == 0 {
		o.AnswerWithin = time.Minute // a busy machine is no failure
	}
	s := fake.New(o)
	t.Cleanup(s.Close)
	return s
}

// noViolations fails the test if anything was wrong with a request or answer.
func noViolations(t *testing.T, s *fake.Server) {
	t.Helper()
	for _, v := range s.Violations() {
		t.Errorf("violation: %s", v)
	}
}

// needDescription skips a test that only the description can decide.
func needDescription(t *testing.T) {
	t.Helper()
	if os.Getenv("DISCORD_OPENAPI") == "" {
		t.Skip("DISCORD_OPENAPI does not name Discord's description")
	}
}

// An answer is what a REST call came to.
type answer struct {
	Status int
	Header http.Header
	Text   string
}

func (a answer) object(t *testing.T) map[string]any {
	t.Helper()
	var o map[string]any
	if err := json.Unmarshal([]byte(a.Text), &o); err != nil {
		t.Fatalf("answer %d %q: %v", a.Status, a.Text, err)
	}
	return o
}

// code returns the code of an error answer, 0 if there is none.
func (a answer) code() int {
	var o struct{ Code int }
	if json.Unmarshal([]byte(a.Text), &o) != nil {
		return 0
	}
	return o.Code
}

// send makes a REST call as the bot, with a JSON body or none.
func send(t *testing.T, s *fake.Server, method, path, body string) answer {
	t.Helper()
	return sendAs(t, s, method, path, "application/json", []byte(body))
}

func sendAs(t *testing.T, s *fake.Server, method, path, kind string, body []byte) answer {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, s.URL+"/api/v10"+path, bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Authorization", "Bot x")
	r.Header.Set("User-Agent", "DiscordBot (https://example.com, 1)")
	if len(body) > 0 {
		r.Header.Set("Content-Type", kind)
	}
	response, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close() //nolint:errcheck // it was read
	raw, err := io.ReadAll(response.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer{response.StatusCode, response.Header, string(raw)}
}

// await waits until done says true of the fake.
func await(t *testing.T, s *fake.Server, done func(*fake.State) bool) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), testPatience)
	defer cancel()
	if err := s.Await(ctx, done); err != nil {
		t.Fatal(err)
	}
}

// commands are those of the tests.
const commands = `[
 {"name":"today","description":"What is on"},
 {"name":"setup","description":"Set up","default_member_permissions":"16","options":[{"type":3,"name":"zone","description":"The clock","required":true}]},
 {"name":"coffee","description":"Coffees","options":[{"type":1,"name":"add","description":"Add one","options":[
   {"type":3,"name":"name","description":"Its name","required":true,"autocomplete":true},
   {"type":10,"name":"dose","description":"Grams","min_value":5,"max_value":40}]}]}]`

func register(t *testing.T, s *fake.Server) {
	t.Helper()
	path := "/applications/" + s.Bot().ID + "/guilds/" + s.Guild("Harbour Lane") + "/commands"
	if a := send(t, s, "PUT", path, commands); a.Status != http.StatusOK {
		t.Fatalf("commands: %d %s", a.Status, a.Text)
	}
}

func messagesPath(s *fake.Server, channel string) string {
	return "/channels/" + s.Channel(channel).ID + "/messages"
}

// post posts a text and returns the message's id.
func post(t *testing.T, s *fake.Server, channel, body string) string {
	t.Helper()
	a := send(t, s, "POST", messagesPath(s, channel), body)
	if a.Status != http.StatusOK {
		t.Fatalf("post: %d %s", a.Status, a.Text)
	}
	id, _ := a.object(t)["id"].(string)
	return id
}
