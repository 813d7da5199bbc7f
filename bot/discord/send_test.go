package discord

import (
	"slices"
	"strings"
	"testing"
	"time"

	"shothand/bot/chat"
	"shothand/bot/discord/fake"
	"shothand/bot/discord/rest"
)

const messages = "/channels/*/messages"

// However a post fails, it is there once in the end.
func TestPostTrouble(t *testing.T) {
	t.Parallel()
	for _, script := range []struct {
		name  string
		fault []fake.Fault
	}{
		{"limited on its route", []fake.Fault{{Method: "POST", Path: messages, Status: 429, RetryAfter: 200 * time.Millisecond}}},
		{"limited globally", []fake.Fault{{Method: "POST", Path: messages, Status: 429, RetryAfter: 200 * time.Millisecond, Scope: "global"}}},
		{"limited for what others share", []fake.Fault{{Method: "POST", Path: messages, Status: 429, RetryAfter: 200 * time.Millisecond, Scope: "shared"}}},
		{"refused and not done", []fake.Fault{{Method: "POST", Path: messages, Status: 503, Times: 2}}},
		{"refused though it was done", []fake.Fault{{Method: "POST", Path: messages, Status: 502, AfterServing: true, Times: 3}}},
		{"slow", []fake.Fault{{Method: "POST", Path: messages, Delay: 1500 * time.Millisecond}}},
		{"done, the answer unreadable", []fake.Fault{{Method: "POST", Path: messages, UnknownComponent: true}}},
	} {
		t.Run(script.name, func(t *testing.T) {
			t.Parallel()
			f := newFake(t, fake.Options{})
			r := listen(t, f, quick())
			r.connected()
			f.Break(script.fault...)
			r.once(r.say("one"), r.say("two"))
		})
	}
}

// While one call is limited globally, no other is made.
func TestGlobalLimitHoldsAll(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	other := f.StartThread("dial-in", "jo", "monday")
	f.Break(fake.Fault{Method: "POST", Path: messages, Status: 429, RetryAfter: 500 * time.Millisecond, Scope: "global"})
	first := f.Say("dial-in", "jo", "one", "")
	eventually(t, "the refusal", func() bool { return strings.Contains(r.log.String(), "status 429") })
	began := time.Now()
	if _, err := r.d.Send(t.Context(), chat.Post{Channel: f.Channel("dial-in").ID, Thread: other, Cause: "x", Text: "elsewhere"}); err != nil {
		t.Fatal(err)
	}
	if d := time.Since(began); d < 300*time.Millisecond {
		t.Errorf("another call was made %v after a global limit", d)
	}
	r.answered(first)
}

// The edge answers with a page: it is no JSON, and every call waits.
func TestEdgeLimit(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	f.Break(fake.Fault{Method: "POST", Path: messages, Status: 429, HTML: true})
	f.Say("dial-in", "jo", "one", "")
	eventually(t, "the refusal", func() bool { return strings.Contains(r.log.String(), "status 429") })
	held := time.Until(r.d.rest.Held())
	if held <= 0 || held > time.Second {
		t.Errorf("calls wait for %v after the edge refused one", held)
	}
}

// A wait ends when the program stops, however long the platform asks for.
func TestStopEndsWaits(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	times := quick()
	times.Grace = 200 * time.Millisecond
	r := listen(t, f, times)
	r.connected()
	f.Break(fake.Fault{Method: "POST", Path: messages, Status: 429, RetryAfter: time.Hour})
	f.Say("dial-in", "jo", "one", "")
	eventually(t, "the refusal", func() bool { return strings.Contains(r.log.String(), "status 429") })
	began := time.Now()
	if err := r.stop(); err != nil {
		t.Error(err)
	}
	if d := time.Since(began); d > 3*time.Second {
		t.Errorf("stopped after %v", d)
	}
}

// A post has its text, buttons, files and thread, and can be edited.
func TestPostAndEdit(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	channel := f.Channel("dial-in").ID
	post := chat.Post{
		Kind: chat.Info, Channel: channel, Cause: "morning", Text: "*Tide* @everyone <@1> https://a.example", Opens: "Monday",
		Buttons: []chat.Button{{Label: "did it", State: "d 1"}, {Label: strings.Repeat("long ", 40), State: "s 1"}, {Label: "twice", State: "d 1"}},
		Files:   []chat.File{{Name: "tide day.png", Alt: "a line that falls", Data: []byte("png")}},
	}
	id, err := r.d.Send(t.Context(), post)
	if err != nil {
		t.Fatal(err)
	}
	m, _ := f.Message(id)
	if want := `\*Tide\* \@everyone \<\@1\> https\://a.example`; m.Content != want {
		t.Errorf("content %q, want %q", m.Content, want)
	}
	if len(m.Pings) > 0 {
		t.Error("pings", m.Pings)
	}
	if b := m.Buttons(); len(b) != 2 || b[0].CustomID != "d 1" || len([]rune(b[1].Label)) > maxLabel {
		t.Errorf("buttons %+v", b)
	}
	if len(m.Files) != 1 || m.Files[0].Description != "a line that falls" || string(m.Files[0].Data) != "png" {
		t.Errorf("files %+v", m.Files)
	}
	threads := f.Threads("dial-in")
	if len(threads) != 1 || threads[0].ID != id || threads[0].Name != "Monday" {
		t.Errorf("threads %+v", threads)
	}
	inThread, err := r.d.Send(t.Context(), chat.Post{Channel: channel, Thread: id, Cause: "card", Text: "the day"})
	if err != nil {
		t.Fatal(err)
	}
	if err := r.d.Edit(t.Context(), id, chat.Post{Channel: channel, Text: "changed"}); err != nil {
		t.Fatal(err)
	}
	if m, _ := f.Message(id); m.Content != "changed" || len(m.Buttons()) > 0 || len(m.Files) > 0 {
		t.Errorf("edited: %+v", m)
	}
	f.Archive(id, false)
	if err := r.d.Edit(t.Context(), inThread, chat.Post{Channel: channel, Thread: id, Text: "the day, put away"}); err != nil {
		t.Fatal(err)
	}
	posts := slices.DeleteFunc(f.Posts(id), func(m fake.Message) bool { return m.Type != fake.TypeText })
	if len(posts) != 1 || posts[0].Content != "the day, put away" {
		t.Errorf("in the thread: %+v", posts)
	}
	f.DeleteMessage(id)
	if err := r.d.Edit(t.Context(), id, chat.Post{Channel: channel, Text: "again"}); err != nil {
		t.Error("a post that was deleted:", err)
	}
	f.Archive(id, true)
	again, err := r.d.Send(t.Context(), chat.Post{Channel: channel, Thread: id, Cause: "late", Text: "the thread is closed"})
	if err != nil {
		t.Fatal(err)
	}
	if m, _ := f.Message(again); m.Channel != channel {
		t.Errorf("posted in %s", m.Channel)
	}
}

// A post that may be there already is found: by the message it answers, or by
// what it says. Sent twice at once, it is there once.
func TestAgain(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	id := r.say("one")
	old := repliesTo(f.Posts("dial-in"), id)[0].ID
	p := chat.Post{Kind: chat.Recorded, Channel: f.Channel("dial-in").ID, Cause: id, Text: "said otherwise", Again: true, At: time.Now()}
	if got, err := r.d.Send(t.Context(), p); err != nil || got != old {
		t.Errorf("found %q, %v; it is %q", got, err, old)
	}
	p.Cause, p.Text, p.Again = "rem-2026-03-02", "Good morning", false
	first, err := r.d.Send(t.Context(), p)
	if err != nil {
		t.Fatal(err)
	}
	if same, err := r.d.Send(t.Context(), p); err != nil || same != first {
		t.Errorf("sent again: %q, %v; it is %q", same, err, first)
	}
	p.Again = true
	if same, err := r.d.Send(t.Context(), p); err != nil || same != first {
		t.Errorf("found %q, %v; it is %q", same, err, first)
	}
	r.once(id)
}

// A long text comes in pieces, each within the limit.
func TestLongPost(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	var lines []string
	for range 60 {
		lines = append(lines, strings.Repeat("harbour ", 10)+"*")
	}
	id, err := r.d.Send(t.Context(), chat.Post{Channel: f.Channel("dial-in").ID, Cause: "x", Text: strings.Join(lines, "\n")})
	if err != nil {
		t.Fatal(err)
	}
	posts := f.Posts("dial-in")
	if len(posts) != 3 || posts[2].ID != id {
		t.Fatalf("%d posts, the last is %s", len(posts), id)
	}
	var all []string
	for _, p := range posts {
		all = append(all, p.Content)
	}
	if got := strings.ReplaceAll(strings.Join(all, "\n"), `\*`, "*"); got != strings.Join(lines, "\n") {
		t.Error("the pieces are not the text")
	}
}

// Nothing is pinged by an edit either, and a token stays out of errors.
func TestErrorsHoldNoToken(t *testing.T) {
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	f.Close()
	_, err := r.d.Send(t.Context(), chat.Post{Channel: "1", Cause: "x", Text: "y"})
	if err == nil || strings.Contains(err.Error(), token) {
		t.Error(err)
	}
	clean := rest.NewRedactor(token)
	for _, s := range []string{
		"Post \"https://discord.com/api/v10/interactions/12/abcDEF_-/callback\": EOF",
		"Patch \"https://discord.com/api/v10/webhooks/12/abcDEF_-/messages/@original\": EOF",
		"{\"token\": \"abcDEF_-\"} " + token,
	} {
		if got := clean.Clean(s); strings.Contains(got, "abcDEF") || strings.Contains(got, token) {
			t.Errorf("%s", got)
		}
	}
}
