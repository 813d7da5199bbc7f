package main

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/bot/discord/fake"
	"shothand/bot/parse"
)

// The same three days on Discord tell the same at the same instants as on the
// console: one thread a day, whose card is posted once and then edited, the
// reminders, the closing notes in the thread, and one alert. Time is that of a
// bubble, for the bot's clock, the heartbeats and the platform's ids alike.
func TestThreeDaysOnDiscord(t *testing.T) {
	t.Parallel()
	lines := threeDays(t)
	var onConsole []clockPost
	for _, a := range runJSON(t, []string{"-db", filepath.Join(t.TempDir(), "bar.db")}, lines) {
		for _, d := range a.Due {
			onConsole = append(onConsole, clockPost{d.At, d.Edits != "", d.Text})
		}
	}
	first, _, _ := cutLine(t, lines[0])
	inBubble(t, first.Add(-time.Minute), func(b *bubble) {
		t, f := b.T, b.Server
		r := b.join(filepath.Join(t.TempDir(), "bar.db"))
		for _, line := range lines {
			when, who, text := cutLine(t, line)
			time.Sleep(time.Until(when))
			sayOrCall(t, f, who, text)
		}
		time.Sleep(time.Minute)
		r.stop()

		sent := allSent(t, f)
		t.Log("\n" + threeDaysTranscript(f, sent))
		checkCards(t, f, sent)
		var unasked []clockPost
		alerts := 0
		for _, s := range sent {
			switch {
			case strings.Contains(s.text, "runs slower since"):
				alerts++
			case s.answers:
			default:
				unasked = append(unasked, clockPost{s.at.Format(time.RFC3339), s.edits != "", s.text})
			}
			if strings.HasPrefix(s.text, "Closing.") && s.channel == f.Channel("dial-in").ID {
				t.Errorf("a closing note outside the thread: %+v", s)
			}
		}
		if diff := cmp.Diff(onConsole, unasked); diff != "" {
			t.Errorf("told by the clock (-console +Discord):\n%s", diff)
		}
		if alerts != 1 {
			t.Errorf("%d alerts, want 1", alerts)
		}
	})
}

// A clockPost was posted, or an edit made, without anybody asking.
type clockPost struct {
	At   string
	Edit bool
	Text string
}

// cutLine takes a timed line apart.
func cutLine(t *testing.T, line string) (at time.Time, who, text string) {
	t.Helper()
	stamp, rest, _ := strings.Cut(line, " ")
	at, err := time.Parse(time.RFC3339, stamp)
	if err != nil {
		t.Fatal(err)
	}
	who, text, _ = strings.Cut(strings.TrimPrefix(rest, "@"), " ")
	return at, who, text
}

// sayOrCall types a line as somebody in dial-in would, and awaits its answer.
func sayOrCall(t *testing.T, f *fake.Server, who, text string) {
	t.Helper()
	if !strings.HasPrefix(text, "/") {
		id := f.Say("dial-in", who, text, "")
		await(t, f, "the answer to "+text, hasAnswer(id))
		return
	}
	meaning, err := parse.Message(text, parse.Vocab{})
	if err != nil {
		t.Fatal(err)
	}
	command := meaning.(parse.Call).Command
	options := map[string]any{}
	for _, o := range command.Options {
		options[o.Name] = o.Value
	}
	id, err := f.Slash("dial-in", who, command.Name, options)
	if err != nil {
		t.Fatal(err)
	}
	await(t, f, "the answer to "+text, func(s *fake.State) bool { return len(byInteraction(s.Posts("dial-in"), id)) > 0 })
}

// A sent thing is a message that the bot posted or edited, or the answer to a
// command, as the fake was asked for it.
type sent struct {
	at      time.Time // on the bar's clock
	channel string    // or thread
	edits   string    // id of the message that was edited
	answers bool      // somebody's message or command
	text    string
}

// allSent returns all that the bot sent, in order.
func allSent(t *testing.T, f *fake.Server) (list []sent) {
	t.Helper()
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range f.Requests() {
		var body struct {
			Content   string
			Reference any `json:"message_reference"`
			Data      struct{ Content string }
		}
		if q.Method == "GET" || q.Method == "PUT" || q.Method == "DELETE" || strings.HasSuffix(q.Path, "/threads") {
			continue
		}
		if err := json.Unmarshal([]byte(q.Body), &body); err != nil {
			t.Fatalf("%s %s: %v", q.Method, q.Path, err)
		}
		if q.Method == "PATCH" && body.Content == "" {
			continue // buttons that are over go
		}
		s := sent{at: q.At.In(zone), text: body.Content, answers: body.Reference != nil}
		parts := strings.Split(strings.Trim(q.Path, "/"), "/")
		switch {
		case parts[0] == "interactions":
			s.answers, s.text = true, body.Data.Content
		case q.Method == "PATCH":
			s.edits = parts[3]
			fallthrough
		default:
			s.channel = parts[1]
		}
		list = append(list, s)
	}
	return list
}

// checkCards checks that each day has one thread, on a card that was posted
// once, and edited, but not every moment.
func checkCards(t *testing.T, f *fake.Server, list []sent) {
	t.Helper()
	var names []string
	for _, thread := range f.Threads("dial-in") {
		names = append(names, thread.Name)
		posts := 0
		var edits []time.Time
		for _, s := range list {
			switch {
			case s.edits == thread.ID: // a thread on a message has its id
				edits = append(edits, s.at)
			case s.edits == "" && !s.answers && strings.HasPrefix(s.text, thread.Name):
				posts++
			}
		}
		if posts != 1 || len(edits) == 0 {
			t.Errorf("%s: its card was posted %d times and edited %d times", thread.Name, posts, len(edits))
		}
		for i := range edits[min(1, len(edits)):] {
			if gap := edits[i+1].Sub(edits[i]); gap < 5*time.Second {
				t.Errorf("%s: edited again after %v", thread.Name, gap)
			}
		}
	}
	want := []string{"Harbour Lane · Mon 2 March", "Harbour Lane · Tue 3 March", "Harbour Lane · Wed 4 March"}
	if diff := cmp.Diff(want, names); diff != "" {
		t.Errorf("threads (-want +got):\n%s", diff)
	}
	for _, s := range list {
		if s.edits != "" && !slices.ContainsFunc(f.Threads("dial-in"), func(c fake.Channel) bool { return c.ID == s.edits }) {
			t.Errorf("something besides a card was edited: %+v", s)
		}
	}
}

// threeDaysTranscript tells what was posted and edited, and where.
func threeDaysTranscript(f *fake.Server, list []sent) string {
	var b strings.Builder
	for _, s := range list {
		what := "posted in "
		switch {
		case s.edits != "":
			what = "card edited in "
		case s.answers:
			what = "answered in "
		}
		where := "dial-in"
		if s.channel != "" {
			where = f.Channel(s.channel).Name
		}
		fmt.Fprintf(&b, "%s %s%s\n  %s\n", s.at.Format(time.RFC3339), what, where, strings.ReplaceAll(s.text, "\n", "\n  "))
	}
	return b.String()
}
