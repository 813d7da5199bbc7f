package discord

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net/url"
	"testing"
	"time"

	"go.uber.org/goleak"

	"shothand/bot/chat"
	"shothand/bot/discord/fake"
)

// Whatever the gateway does, every message is delivered and answered once, and
// nothing is left running.
func TestGatewayTrouble(t *testing.T) {
	scripts := []struct {
		name    string
		options fake.Options
		trouble func(*run) // between two messages; a third is said meanwhile
	}{
		{"connection cut", fake.Options{}, func(r *run) { r.f.CutConnections() }},
		{"cut in the middle of an event", fake.Options{}, func(r *run) { r.f.NextEvents("MESSAGE_CREATE", fake.Cut) }},
		{"event lost before a cut", fake.Options{}, func(r *run) {
			r.f.NextEvents("MESSAGE_CREATE", fake.Lose)
			time.AfterFunc(100*time.Millisecond, r.f.CutConnections)
		}},
		{"event twice", fake.Options{}, func(r *run) { r.f.NextEvents("MESSAGE_CREATE", fake.Twice) }},
		{"event late", fake.Options{}, func(r *run) { r.f.NextEvents("MESSAGE_CREATE", fake.Late) }},
		{"told to reconnect", fake.Options{}, func(r *run) { r.f.AskReconnect() }},
		{"told to reconnect first of all", fake.Options{}, func(r *run) {
			r.f.NextConnections(fake.Opening{Reconnect: true}, fake.Opening{Reconnect: true})
			r.f.CutConnections()
		}},
		{"session invalid", fake.Options{}, func(r *run) { r.f.InvalidateSessions(false) }},
		{"session invalid but to be resumed", fake.Options{}, func(r *run) { r.f.InvalidateSessions(true) }},
		{"session invalid first of all", fake.Options{}, func(r *run) {
			r.f.NextConnections(fake.Opening{Invalid: true}, fake.Opening{Resumable: true})
			r.f.CutConnections()
		}},
		{"no hello", fake.Options{}, func(r *run) {
			r.f.NextConnections(fake.Opening{NoHello: true})
			r.f.CutConnections()
		}},
		{"no ready", fake.Options{HeartbeatEvery: 200 * time.Millisecond}, func(r *run) {
			r.f.NextConnections(fake.Opening{Silent: true})
			r.f.CutConnections()
		}},
		{"no answer to the heart", fake.Options{HeartbeatEvery: 200 * time.Millisecond}, func(r *run) {
			r.f.StopAcks()
			r.f.NextEvents("MESSAGE_CREATE", fake.Lose)
		}},
		{"asked for its heart", fake.Options{}, func(r *run) { r.f.AskHeartbeat() }},
		{"not let in", fake.Options{}, func(r *run) {
			r.f.NextConnections(fake.Opening{Refuse: 503}, fake.Opening{Refuse: 500})
			r.f.CutConnections()
		}},
		{"closed, not for good", fake.Options{}, func(r *run) { r.f.CloseConnections(4000) }},
		{"closed, session timed out", fake.Options{}, func(r *run) { r.f.CloseConnections(4009) }},
		{"closed, first of all", fake.Options{}, func(r *run) {
			r.f.NextConnections(fake.Opening{Close: 4008})
			r.f.CutConnections()
		}},
		{"gateway not to be found", fake.Options{}, func(r *run) {
			r.f.Break(fake.Fault{Method: "GET", Path: "/gateway", Status: 500, Times: 2})
			r.f.CutConnections()
		}},
		{"a component that nobody knows", fake.Options{}, func(r *run) { r.f.SayUnknown("dial-in") }},
	}
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	t.Run("all", func(t *testing.T) { // they have ended when it returns
		for i, script := range scripts {
			t.Run(script.name, func(t *testing.T) {
				t.Parallel()
				if testing.Short() && i%5 != 0 {
					t.Skip("takes a second or two")
				}
				f := newFake(t, script.options)
				r := listen(t, f, quick())
				r.connected()
				before := r.say("before")
				script.trouble(r)
				during := f.Say("dial-in", "jo", "during", "")
				time.Sleep(50 * time.Millisecond)
				after := f.Say("dial-in", "sam", "after", "")
				r.answered(during)
				r.answered(after)
				r.once(before, during, after)
				if err := r.stop(); err != nil {
					t.Error(err)
				}
			})
		}
	})
}

// A close after which no try helps ends the service with what the bot has to
// say of it.
func TestFatalClose(t *testing.T) {
	t.Parallel()
	for _, code := range []int{4004, 4010, 4011, 4012, 4013, 4014} {
		f := newFake(t, fake.Options{})
		f.NextConnections(fake.Opening{Close: code})
		r := listen(t, f, quick())
		select {
		case <-r.done:
		case <-time.After(patience):
			t.Fatal("still listening after", code)
		}
		err := r.stop()
		if dead, ok := errors.AsType[fatalError](err); !ok || dead.code != code {
			t.Errorf("code %d: %v", code, err)
		}
		if n := len(f.Identifies()); n > 1 {
			t.Errorf("code %d: %d identifications", code, n)
		}
	}
}

// A stop in the middle of an opening leaves nothing behind: discordgo, which
// says goodbye for a second, is waited for.
func TestStopWhileOpening(t *testing.T) {
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	f := fake.New(fake.Options{Token: token})
	defer f.Close()
	root, err := url.Parse(f.URL)
	if err != nil {
		t.Fatal(err)
	}
	d := New(Options{Token: token, Root: root, Desk: &stub{}, Times: quick(), Log: slog.New(slog.DiscardHandler)})
	defer d.rest.HTTP.CloseIdleConnections()
	ctx, cancel := context.WithCancel(t.Context())
	d.gate.event = func(kind string, _ json.RawMessage) {
		if kind == "READY" {
			cancel()
		}
	}
	if err := d.gate.run(ctx); err != nil {
		t.Error(err)
	}
	if n := len(f.Identifies()); n != 1 {
		t.Errorf("%d sessions were opened", n)
	}
}

// A token that is refused ends the service before the gateway is asked.
func TestTokenRefused(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	f.Break(fake.Fault{Status: 401, Times: -1})
	r := listen(t, f, quick())
	<-r.done
	if err := r.stop(); err == nil || err.Error() != "token refused" {
		t.Error(err)
	}
	f.Mend()
}

// Sessions are opened no sooner than the platform allows.
func TestIdentifySpacing(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	times := quick()
	times.Identify = 300 * time.Millisecond
	r := listen(t, f, times)
	r.connected()
	for range 3 {
		n := len(f.Identifies())
		f.InvalidateSessions(false)
		r.await("another session", func(s *fake.State) bool { return len(s.Identifies()) > n && s.Connections() == 1 })
	}
	at := f.Identifies()
	for i := 1; i < len(at); i++ {
		if d := at[i].Sub(at[i-1]); d < 290*time.Millisecond {
			t.Errorf("session %d came after %v", i, d)
		}
	}
}

// Edits and deletions are delivered, live and after an outage, once each.
func TestEditsAndDeletions(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	a, b, c := r.say("one"), r.say("two"), r.say("three")
	f.EditMessage(a, "one!")
	eventually(t, "the edit", func() bool { return len(r.messages(chat.Edited)) == 1 })
	f.DeleteMessage(b)
	eventually(t, "the deletion", func() bool { return len(r.messages(chat.Deleted)) == 1 })
	f.NextConnections(fake.Opening{Refuse: 503}, fake.Opening{Refuse: 503})
	f.CutConnections()
	f.EditMessage(a, "one?")
	f.DeleteMessage(c)
	r.connected()
	eventually(t, "the edit meanwhile", func() bool { return len(r.messages(chat.Edited)) == 2 })
	eventually(t, "the deletion meanwhile", func() bool { return len(r.messages(chat.Deleted)) == 2 })
	if got := r.messages(chat.Edited)[1]; got.ID != a || got.Text != "one?" {
		t.Errorf("edited: %+v", got)
	}
	if got := r.messages(chat.Deleted); got[0].ID != b || got[1].ID != c {
		t.Errorf("deleted: %+v", got)
	}
	r.once(a)
}

// What is not a person's text in a bar stays unread.
func TestIgnored(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	f.Say("general", "jo", "not a bar", "")
	f.Say(f.StartThread("general", "jo", "elsewhere"), "jo", "not a bar's thread", "")
	f.Post(fake.Message{Channel: "dial-in", Author: fake.User{Name: "gadget", Bot: true}, Content: "18 36 28"})
	f.Post(fake.Message{Channel: "dial-in", Author: f.User("jo"), Type: fake.TypePin})
	f.Post(fake.Message{Channel: "dial-in", Author: f.User("jo"), Type: fake.TypeThreadCreated, Content: "monday"})
	f.SayUnknown("dial-in")
	last := r.say("read")
	r.once(last)
	if got := r.messages(chat.Text); len(got) != 1 {
		t.Errorf("delivered: %+v", got)
	}
}

// What was written before a channel was a bar stays unread, also where the
// command that made it one overtakes it.
func TestWrittenBeforeTheBar(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	s := &stub{t: t, f: f, reply: func(m chat.Message) []chat.Post { return []chat.Post{{Kind: chat.Recorded, Text: "got"}} }}
	r := listenWith(t, s, quick())
	r.commands()
	before := f.Say("dial-in", "jo", "18 36 22 before anybody asked", "")
	s.mu.Lock()
	s.channel = f.Channel("dial-in").ID
	s.mu.Unlock()
	r.slash("mara", "setup", map[string]any{"zone": "UTC"})
	r.await("the answer to the command", func(s *fake.State) bool { return len(s.Posts("dial-in")) == 1 })
	late := fmt.Sprintf(`{"id":%q,"channel_id":%q,"content":"18 36 22 before anybody asked","author":{"id":"7","username":"jo"}}`, before, s.channel)
	r.d.queue.put("MESSAGE_CREATE", []byte(late))
	r.once(r.say("read"))
	if got := r.messages(chat.Text); len(got) != 1 {
		t.Errorf("delivered: %+v", got)
	}
}

// What a webhook posts comes with its id and its name, as no person's: the bot
// knows which of them a lead has allowed.
func TestWebhook(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	id := f.Post(fake.Message{Channel: "dial-in", Author: fake.User{ID: "17", Name: "scale", Bot: true}, Webhook: "17", Content: "18 36 28"})
	r.once(id, r.say("read"))
	got := r.messages(chat.Text)
	if len(got) != 2 || !got[0].Device || got[0].Manager || got[0].From != (chat.Person{ID: "17", Name: "scale"}) || got[0].Text != "18 36 28" {
		t.Errorf("delivered: %+v", got)
	}
}

// A panic in the handling of an event does not end the service.
func TestPanicIsSurvived(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	r.d.safely("test", func() error { panic("on purpose") })
	r.once(r.say("still there"))
}
