package discord

import (
	"context"
	"encoding/json"
	"io"
	"net/http"
	"strings"
	"testing"

	"shothand/bot/chat"
)

// nowhere is a network on which everything succeeds and nothing is there.
type nowhere struct{}

func (nowhere) RoundTrip(r *http.Request) (*http.Response, error) {
	if r.Body != nil {
		if _, err := io.Copy(io.Discard, r.Body); err != nil {
			return nil, err
		}
	}
	body := "{}"
	if strings.Contains(r.URL.Path, "/messages") && r.Method == http.MethodGet || strings.Contains(r.URL.Path, "/threads") {
		body = "[]"
	}
	return &http.Response{StatusCode: http.StatusOK, Header: http.Header{}, Body: io.NopCloser(strings.NewReader(body)), Request: r}, nil
}

// kinds are the events of the gateway that are handled.
func kinds() []string {
	return []string{
		"READY", "GUILD_CREATE", "GUILD_DELETE", "GUILD_UPDATE", "GUILD_ROLE_CREATE", "GUILD_ROLE_UPDATE", "GUILD_ROLE_DELETE", "CHANNEL_CREATE",
		"CHANNEL_UPDATE", "CHANNEL_DELETE", "THREAD_CREATE", "THREAD_UPDATE", "THREAD_DELETE", "THREAD_LIST_SYNC", "MESSAGE_CREATE", "MESSAGE_UPDATE",
		"MESSAGE_DELETE", "MESSAGE_DELETE_BULK", "INTERACTION_CREATE", "TYPING_START", "",
	}
}

// seeds are events as they come, one a kind and a few that are odd.
func seeds() []string {
	return []string{
		`{"user":{"id":"9","username":"shothand","bot":true},"application":{"id":"9"},"session_id":"s","resume_gateway_url":"x"}`,
		`{"id":"1","owner_id":"2","roles":[{"id":"1","permissions":"1024"}],"channels":[{"id":"10","type":0,"name":"dial-in"}],"threads":[{"id":"11","type":11,"parent_id":"10"}]}`,
		`{"id":"1","unavailable":true}`, `{"guild_id":"1","role":{"id":"3","permissions":"16"}}`, `{"guild_id":"1","role_id":"3"}`,
		`{"id":"10","guild_id":"1","type":0,"name":"dial-in","permission_overwrites":[{"id":"2","type":1,"allow":"16","deny":"0"}]}`,
		`{"id":"11","guild_id":"1","type":11,"parent_id":"10"}`, `{"guild_id":"1","threads":[{"id":"12","type":11,"parent_id":"10"}]}`,
		`{"id":"100","channel_id":"10","guild_id":"1","author":{"id":"2","username":"mara"},"member":{"roles":["3"]},"content":"18 36 24 sour","type":0}`,
		`{"id":"100","channel_id":"10","author":{"id":"2","username":"mara"},"content":"18 36 25","edited_timestamp":"2026-03-02T06:33:00Z","type":0}`,
		`{"id":"100","channel_id":"10","guild_id":"1"}`, `{"ids":["100","101"],"channel_id":"11"}`,
		`{"id":"200","application_id":"9","type":2,"token":"t","guild_id":"1","channel_id":"10","member":{"permissions":"16","user":{"id":"2","username":"mara"}},"data":{"name":"coffee","options":[{"type":1,"name":"add","options":[{"type":3,"name":"name","value":"Harbour"}]}]}}`,
		`{"id":"201","type":3,"token":"t","guild_id":"1","channel_id":"11","member":{"user":{"id":"2"}},"message":{"id":"150"},"data":{"custom_id":"did:1","component_type":2}}`,
		`{"id":"202","type":4,"token":"t","guild_id":"1","channel_id":"10","member":{"user":{"id":"2"}},"data":{"name":"shot","options":[{"type":3,"name":"coffee","value":"H","focused":true}]}}`,
		`{"id":"203","type":5,"token":"t","guild_id":"1","channel_id":"10","member":{"user":{"id":"2"}},"data":{"custom_id":"shot","components":[{"components":[{"custom_id":"text","value":"18 36 24"}]}]}}`,
		`{"id":"-1","channel_id":"10","author":{},"content":null}`, `{"id":1e99,"channel_id":[]}`, `[]`, `null`, `"x"`, ``, `{"id":"18446744073709551616","channel_id":"10","content":"\u0000"}`,
	}
}

// Whatever an event holds, handling it neither panics nor hangs, and what is
// delivered is of a bar.
func FuzzEvent(f *testing.F) {
	for kind := range kinds() {
		for _, data := range seeds() {
			f.Add(byte(kind), []byte(data))
		}
	}
	f.Fuzz(func(t *testing.T, kind byte, data []byte) {
		s := &stub{channel: "10"}
		d := New(Options{Token: token, Desk: s, Times: quick()})
		d.rest.HTTP = &http.Client{Transport: nowhere{}}
		d.deliver = func(m chat.Message) <-chan struct{} {
			if m.Kind != chat.Called && m.Kind != chat.Pressed && m.Channel != "10" {
				t.Errorf("%s %s: delivered %+v", kinds()[int(kind)%len(kinds())], data, m)
			}
			return nil
		}
		ctx, cancel := context.WithTimeout(t.Context(), patience)
		defer cancel()
		for _, first := range []event{{"READY", json.RawMessage(seeds()[0])}, {"GUILD_CREATE", json.RawMessage(seeds()[1])}} {
			if err := d.handle(ctx, first); err != nil {
				t.Fatal(err)
			}
		}
		for !d.reachOf("10").looked {
			if err := d.take(ctx, <-d.parts); err != nil {
				t.Fatal(err)
			}
		}
		name := kinds()[int(kind)%len(kinds())]
		if name == "INTERACTION_CREATE" {
			var i wireInteraction
			if json.Unmarshal(data, &i) == nil {
				_ = d.interact(ctx, i) // an error is an answer, too
			}
		} else {
			_ = d.handle(ctx, event{name, json.RawMessage(data)})
		}
		d.callers.Wait()
		if ctx.Err() != nil {
			t.Errorf("%s %s: took longer than 10 s", name, data)
		}
		cancel()
		d.reading.Wait()
	})
}
