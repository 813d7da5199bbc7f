package fake_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/bot/discord/fake"
)

// An arrived interaction is what the bot got by the gateway.
type arrived struct {
	ID, Token string
	Type      int
	Data      json.RawMessage
	Member    struct{ Permissions string }
	Message   *struct{ ID string }
}

func (w *wire) interaction() arrived {
	w.t.Helper()
	var i arrived
	for {
		p, err := w.next(testPatience)
		if err != nil {
			w.t.Fatal(err)
		}
		if p.T == "INTERACTION_CREATE" {
			if err := json.Unmarshal(p.D, &i); err != nil {
				w.t.Fatal(err)
			}
			return i
		}
	}
}

func reply(t *testing.T, s *fake.Server, i arrived, body string) answer {
	t.Helper()
	return send(t, s, "POST", "/interactions/"+i.ID+"/"+i.Token+"/callback", body)
}

func use(t *testing.T, s *fake.Server, w *wire, user, name string, options map[string]any) (string, arrived) {
	t.Helper()
	id, err := s.Slash("dial-in", user, name, options)
	if err != nil {
		t.Fatal(err)
	}
	return id, w.interaction()
}

func TestCommandIsAnsweredOnce(t *testing.T) {
	s := start(t, fake.Options{})
	register(t, s)
	w := ready(t, s, allIntents)
	id, i := use(t, s, w, "mara", "coffee add", map[string]any{"name": "Tide", "dose": 18.5})
	if want := `"options":[{"name":"add","options":[{"name":"name","type":3,"value":"Tide"},{"name":"dose","type":10,"value":18.5}],"type":1}]`; !strings.Contains(string(i.Data), want) {
		t.Errorf("data = %s", i.Data)
	}
	if a := send(t, s, "PATCH", "/webhooks/"+s.Bot().ID+"/"+i.Token+"/messages/@original", `{"content":"x"}`); a.code() != 10015 {
		t.Errorf("an edit before the answer: %+v", a)
	}
	if a := reply(t, s, i, `{"type":4,"data":{"content":"Tide is on.","flags":64}}`); a.Status != 204 {
		t.Fatal(a)
	}
	if a := reply(t, s, i, `{"type":4,"data":{"content":"again"}}`); a.code() != 40060 {
		t.Errorf("a second answer: %+v", a)
	}
	stray := arrived{ID: i.ID, Token: "nothing"}
	if a := reply(t, s, stray, `{"type":4,"data":{"content":"x"}}`); a.code() != 10062 {
		t.Errorf("an unknown interaction: %+v", a)
	}
	got, _ := s.Interaction(id)
	m, _ := s.Message(got.Original)
	if m.Content != "Tide is on." || m.For != s.User("mara").ID || !got.Private {
		t.Errorf("answer = %+v to %+v", m, got)
	}
	if a := send(t, s, "GET", messagesPath(s, "dial-in"), ""); a.Text != "[]" {
		t.Errorf("everybody sees %s", a.Text)
	}
	follow := send(t, s, "POST", "/webhooks/"+s.Bot().ID+"/"+i.Token, `{"content":"And more."}`)
	if got, _ := s.Interaction(id); follow.Status != 200 || len(got.Followups) != 1 {
		t.Errorf("follow-up: %+v", follow)
	}
	if a := send(t, s, "DELETE", "/webhooks/"+s.Bot().ID+"/"+i.Token+"/messages/@original", ""); a.Status != 204 {
		t.Error(a)
	}
	noViolations(t, s)
}

func TestDeferredAnswerIsFilledIn(t *testing.T) {
	s := start(t, fake.Options{})
	register(t, s)
	w := ready(t, s, allIntents)
	id, i := use(t, s, w, "jo", "today", nil)
	if a := send(t, s, "POST", "/interactions/"+i.ID+"/"+i.Token+"/callback?with_response=true", `{"type":5}`); a.Status != 200 {
		t.Fatal(a)
	}
	got, _ := s.Interaction(id)
	if m, _ := s.Message(got.Original); !m.Thinking || m.For != "" {
		t.Errorf("deferred: %+v", m)
	}
	path := "/webhooks/" + s.Bot().ID + "/" + i.Token + "/messages/@original"
	if a := send(t, s, "PATCH", path, `{"content":"Harbour."}`); a.Status != 200 {
		t.Fatal(a)
	}
	if a := send(t, s, "GET", path, ""); a.Status != 200 {
		t.Fatal(a)
	}
	if m, _ := s.Message(got.Original); m.Thinking || m.Content != "Harbour." {
		t.Errorf("filled in: %+v", m)
	}
	noViolations(t, s)
}

func TestInteractionsDie(t *testing.T) {
	t.Parallel()
	s := start(t, fake.Options{AnswerWithin: time.Second, TokenLife: 1500 * time.Millisecond})
	register(t, s)
	w := ready(t, s, allIntents)
	id, i := use(t, s, w, "jo", "today", nil)
	time.Sleep(1010 * time.Millisecond)
	if a := reply(t, s, i, `{"type":4,"data":{"content":"late"}}`); a.code() != 10062 {
		t.Errorf("too late: %+v", a)
	}
	if got, _ := s.Interaction(id); !got.Late || len(s.Posts("dial-in")) != 0 {
		t.Errorf("late: %+v", got)
	}
	_, i = use(t, s, w, "jo", "today", nil)
	if a := reply(t, s, i, `{"type":4,"data":{"content":"in time"}}`); a.Status != 204 {
		t.Fatal(a)
	}
	time.Sleep(1510 * time.Millisecond)
	if a := send(t, s, "POST", "/webhooks/"+s.Bot().ID+"/"+i.Token, `{"content":"x"}`); a.code() != 50027 {
		t.Errorf("after its life: %+v", a)
	}
}

func TestButtons(t *testing.T) {
	s := start(t, fake.Options{})
	w := ready(t, s, allIntents)
	row := func(disabled string) string {
		return `[{"type":1,"components":[{"type":2,"style":1,"label":"did it","custom_id":"did","disabled":` + disabled + `}]}]`
	}
	message := post(t, s, "dial-in", `{"content":"Finer.","components":`+row("false")+`}`)
	if _, err := s.Press(message, "nothing", "jo"); err == nil {
		t.Error("a button that is not there was pressed")
	}
	if _, err := s.Press(message, "did", "jo"); err != nil {
		t.Fatal(err)
	}
	i := w.interaction()
	if i.Message == nil || i.Message.ID != message || i.Type != 3 {
		t.Errorf("press = %+v", i)
	}
	if a := reply(t, s, i, `{"type":7,"data":{"content":"Done.","components":`+row("true")+`}}`); a.Status != 204 {
		t.Fatal(a)
	}
	if m, _ := s.Message(message); m.Content != "Done." || !m.Buttons()[0].Disabled {
		t.Errorf("after the press: %+v", m)
	}
	if _, err := s.Press(message, "did", "sam"); err == nil {
		t.Error("a disabled button was pressed")
	}
	noViolations(t, s)
}

func TestAutocompleteAndForm(t *testing.T) {
	s := start(t, fake.Options{})
	register(t, s)
	w := ready(t, s, allIntents)
	id, err := s.Autocomplete("dial-in", "jo", "coffee add", map[string]any{"name": "ti"}, "name")
	if err != nil {
		t.Fatal(err)
	}
	if a := reply(t, s, w.interaction(), `{"type":8,"data":{"choices":[{"name":"Tide","value":"Tide"}]}}`); a.Status != 204 {
		t.Fatal(a)
	}
	got, _ := s.Interaction(id)
	if diff := cmp.Diff([]map[string]any{{"name": "Tide", "value": "Tide"}}, got.Choices); diff != "" {
		t.Error(diff)
	}
	opener, i := use(t, s, w, "jo", "today", nil)
	form := `{"type":9,"data":{"custom_id":"shot-1","title":"A shot","components":[
		{"type":1,"components":[{"type":4,"custom_id":"dose","label":"Dose","style":1}]},
		{"type":18,"label":"Taste","component":{"type":4,"custom_id":"taste","style":2,"required":false}}]}}`
	if a := reply(t, s, i, form); a.Status != 204 {
		t.Fatal(a)
	}
	if _, err := s.SubmitModal(opener, nil); err == nil {
		t.Error("a form without what it requires was sent")
	}
	if _, err := s.SubmitModal(opener, map[string]string{"dose": "18.1", "taste": "sour"}); err != nil {
		t.Fatal(err)
	}
	i = w.interaction()
	want := `{"components":[{"components":[{"custom_id":"dose","id":2,"type":4,"value":"18.1"}],"id":1,"type":1},` +
		`{"component":{"custom_id":"taste","id":4,"type":4,"value":"sour"},"id":3,"type":18}],"custom_id":"shot-1"}`
	if string(i.Data) != want {
		t.Errorf("submitted\n%s\nwant\n%s", i.Data, want)
	}
	if a := reply(t, s, i, `{"type":9,"data":{"custom_id":"x","title":"x","components":[]}}`); a.Status != 400 {
		t.Errorf("a form answered with a form: %+v", a)
	}
}

func TestClientRefusesCommands(t *testing.T) {
	s := start(t, fake.Options{})
	register(t, s)
	for name, options := range map[string]map[string]any{
		"nothing":    nil,
		"coffee":     nil,
		"coffee eat": nil,
		"coffee add": {"name": "Tide", "dose": 50.0},
		"today":      {"when": "now"},
		"setup":      {"zone": "Europe/Berlin"}, // jo manages nothing
	} {
		if _, err := s.Slash("dial-in", "jo", name, options); err == nil {
			t.Errorf("jo could send /%s %v", name, options)
		}
	}
	if _, err := s.Slash("dial-in", "mara", "setup", map[string]any{"zone": "Europe/Berlin"}); err != nil {
		t.Error(err)
	}
	if a := send(t, s, http.MethodGet, "/applications/"+s.Bot().ID+"/guilds/1/commands", ""); a.code() != 50001 {
		t.Errorf("another guild's commands: %+v", a)
	}
}
