package fake_test

import (
	"bytes"
	"encoding/json"
	"net/http"
	"testing"

	"shothand/bot/discord/fake"
)

// control calls /fake/name and decodes what it says.
func control(t *testing.T, s *fake.Server, method, name, body string, into any) (status int) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, s.URL+"/fake/"+name, bytes.NewReader([]byte(body)))
	if err != nil {
		t.Fatal(err)
	}
	response, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close() //nolint:errcheck // it was read
	if err := json.NewDecoder(response.Body).Decode(into); err != nil {
		t.Fatal(err)
	}
	return response.StatusCode
}

func TestControl(t *testing.T) {
	s := start(t, fake.Options{})
	register(t, s)
	w := ready(t, s, allIntents)
	var said struct {
		ID    string
		Posts []struct{ Text string }
	}
	go func() {
		if _, err := w.next(testPatience); err == nil {
			s.Post(fake.Message{Channel: "dial-in", Author: s.Bot(), Content: "Finer."})
		}
	}()
	control(t, s, "POST", "say", `{"channel":"dial-in","user":"mara","text":"18 36 24 sour","wait":5}`, &said)
	if len(said.Posts) != 1 || said.Posts[0].Text != "Finer." {
		t.Errorf("said: %+v", said)
	}
	var done map[string]any
	control(t, s, "POST", "edit", `{"message":"`+said.ID+`","text":"18 36 25 sour"}`, &done)
	var list []struct {
		ID, From, Text string
		Edited         bool
	}
	control(t, s, "GET", "messages?channel=dial-in", "", &list)
	if len(list) != 2 || list[0].From != "mara" || list[0].Text != "18 36 25 sour" || !list[0].Edited {
		t.Errorf("messages: %+v", list)
	}
	control(t, s, "POST", "delete", `{"message":"`+said.ID+`"}`, &done)
	if m, _ := s.Message(said.ID); !m.Deleted {
		t.Error("it was not deleted")
	}
	for name, body := range map[string]string{
		"say": `{"channel":"nowhere","user":"mara"}`, "edit": `{"message":"1"}`, "slash": `{"channel":"dial-in","user":"mara","name":"nothing"}`,
		"press": `{"message":"1","user":"jo"}`, "modal": `{}`, "user": `not JSON`,
	} {
		var wrong struct{ Error string }
		if status := control(t, s, "POST", name, body, &wrong); status != 400 || wrong.Error == "" {
			t.Errorf("%s %s: %d %q", name, body, status, wrong.Error)
		}
	}
	control(t, s, "POST", "break", `{"faults":[{"Path":"/users/@me","Status":503}]}`, &done)
	if a := send(t, s, "GET", "/users/@me", ""); a.Status != 503 {
		t.Errorf("broken: %d", a.Status)
	}
	control(t, s, "POST", "drop", "", &done)
	await(t, s, func(st *fake.State) bool { return st.Connections() == 0 })
}
