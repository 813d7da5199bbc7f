package console

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"shothand/bot/chat"

	"github.com/google/go-cmp/cmp"
)

// sampleTexts are sentences of the tests' own.
func sampleTexts(string) Texts {
	return Texts{
		Welcome:        "hello",
		Empty:          "nothing came in",
		Private:        "(for you)",
		Edited:         "(changed)",
		BadTime:        func(word string) string { return "no time: " + word },
		BadLineNumber:  func(word string) string { return "no line: " + word },
		AfterNumber:    func(number, rest string) string { return "after " + number + ": " + rest },
		Unread:         "not read",
		NothingToPress: "nothing to press",
		Called:         func(label string) string { return label },
		NoSuchNumber: func(n string, has []string, above string) string {
			return fmt.Sprintf("no %s in %q, above %q", n, has, above)
		},
		ButtonChoices: func(said string, all []string) string {
			return fmt.Sprintf("no %q in %q", said, all)
		},
	}
}

// A fakeBot keeps what is delivered and lets answer say what there is to say.
type fakeBot struct {
	c      *Console
	got    []chat.Message
	answer func(chat.Message)
}

func (f *fakeBot) deliver(m chat.Message) <-chan struct{} {
	f.got = append(f.got, m)
	done := make(chan struct{})
	go func() {
		defer close(done)
		if f.answer != nil {
			f.answer(m)
		}
	}()
	return done
}

// lines returns what came in, ticks apart.
func (f *fakeBot) lines() []chat.Message {
	var all []chat.Message
	for _, m := range f.got {
		if m.Kind != chat.Tick {
			all = append(all, m)
		}
	}
	return all
}

// play pipes input through a console; answer may be nil.
func play(t *testing.T, o Options, input string, answer func(*Console, chat.Message)) (f *fakeBot, out, errOut string) {
	t.Helper()
	var outBuf, errBuf bytes.Buffer
	o.In, o.Out, o.Err, o.Texts = strings.NewReader(input), &outBuf, &errBuf, sampleTexts
	c := New(o)
	f = &fakeBot{c: c}
	if answer != nil {
		f.answer = func(m chat.Message) { answer(c, m) }
	}
	if err := c.Listen(t.Context(), f.deliver); err != nil {
		t.Fatal(err)
	}
	return f, outBuf.String(), errBuf.String()
}

// echo answers every message with its text.
func echo(t *testing.T) func(*Console, chat.Message) {
	return func(c *Console, m chat.Message) {
		if m.Kind != chat.Tick {
			send(t, c, chat.Post{Kind: chat.Info, Channel: m.Channel, Cause: m.ID, Text: m.Text})
		}
	}
}

func send(t *testing.T, c *Console, p chat.Post) string {
	t.Helper()
	id, err := c.Send(context.Background(), p)
	if err != nil {
		t.Error(err)
	}
	return id
}

var postID = regexp.MustCompile(`"post":"[^"]+"`)

// A line of JSON has the promised keys, in their order, and nothing else.
func TestJSONIsExact(t *testing.T) {
	input := "2026-03-02T06:33:00Z @mara #harbour 18 36 24 <sour> & thin\n\n/press 9 x\n2026-03-02T06:34:00.5+01:00 quiet\n"
	_, out, errOut := play(t, Options{JSON: true, FilesDir: t.TempDir()}, input, func(c *Console, m chat.Message) {
		switch {
		case m.Kind == chat.Tick && m.At.Nanosecond() == 0:
			send(t, c, chat.Post{Kind: chat.Reminder, Channel: m.Channel, Text: "open", At: m.At, Due: true})
		case strings.HasPrefix(m.Text, "18"):
			send(t, c, chat.Post{
				Kind: chat.Advice, Channel: m.Channel, Cause: m.ID, Text: m.Text, Private: true,
				Buttons: []chat.Button{{Label: "did it", State: "d"}}, Data: map[string]any{"shot": 3, "unread": []string{}},
			})
		}
	})
	want := `{"line":1,"at":"2026-03-02T06:33:00Z","from":"mara","due":[{"at":"2026-03-02T06:33:00Z","bar":"harbour","kind":"reminder","text":"open","post":"P"}],"replies":[{"kind":"advice","text":"18 36 24 <sour> & thin","buttons":["did it"],"private":true,"post":"P","advice":{"shot":3,"unread":[]}}]}
{"line":2,"at":"2026-03-02T06:33:00Z","from":"me","due":[{"at":"2026-03-02T06:33:00Z","bar":"harbour","kind":"reminder","text":"open","post":"P"}],"replies":[]}
{"line":3,"at":"2026-03-02T06:33:00Z","from":"me","due":[{"at":"2026-03-02T06:33:00Z","bar":"harbour","kind":"reminder","text":"open","post":"P"},{"at":"2026-03-02T06:33:00Z","bar":"bar","kind":"reminder","text":"open","post":"P"}],"replies":[{"kind":"error","text":"no line: 9","post":"P"}]}
{"line":4,"at":"2026-03-02T06:34:00.5+01:00","from":"me","due":[],"replies":[]}
`
	if diff := cmp.Diff(want, postID.ReplaceAllString(out, `"post":"P"`)); diff != "" {
		t.Error(diff)
	}
	if errOut != "" {
		t.Errorf("on Err: %q", errOut)
	}
}

// Each object is out before the next line is asked for.
func TestJSONIsFlushedPerLine(t *testing.T) {
	in, write := io.Pipe()
	read, out := io.Pipe()
	c := New(Options{In: in, Out: out, JSON: true})
	f := &fakeBot{c: c}
	f.answer = func(m chat.Message) { echo(t)(c, m) }
	ended := make(chan error)
	go func() { ended <- c.Listen(t.Context(), f.deliver) }()
	r := bufio.NewReader(read)
	for n := 1; n <= 3; n++ {
		if _, err := fmt.Fprintf(write, "shot %d\n", n); err != nil {
			t.Fatal(err)
		}
		text, err := r.ReadBytes('\n')
		if err != nil {
			t.Fatal(err)
		}
		var o lineOut
		if err := json.Unmarshal(text, &o); err != nil {
			t.Fatal(err)
		}
		if want := fmt.Sprintf("shot %d", n); o.Line != n || len(o.Replies) != 1 || o.Replies[0].Text != want {
			t.Errorf("line %d: %s", n, text)
		}
	}
	if err := write.Close(); err != nil {
		t.Fatal(err)
	}
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// What cannot be told in JSON is refused, and the line's object stays whole.
func TestUnspeakableDataIsAnError(t *testing.T) {
	_, out, _ := play(t, Options{JSON: true}, "2026-03-02T06:33:00Z x\n", func(c *Console, m chat.Message) {
		if _, err := c.Send(t.Context(), chat.Post{Kind: chat.Advice, Data: math.NaN()}); err == nil {
			t.Error("NaN was sent")
		}
	})
	if want := `{"line":1,"at":"2026-03-02T06:33:00Z","from":"me","due":[],"replies":[]}` + "\n"; out != want {
		t.Errorf("got %s", out)
	}
}

// An edit of a post is a reply with edits in JSON, and said again in text only
// where it says something else.
func TestPostsAreEdited(t *testing.T) {
	answer := func(c *Console, m chat.Message) {
		if m.Kind == chat.Tick {
			return
		}
		id := send(t, c, chat.Post{Kind: chat.Info, Text: "one"})
		for _, text := range []string{"one", "two"} {
			if err := c.Edit(t.Context(), id, chat.Post{Kind: chat.Info, Text: text}); err != nil {
				t.Error(err)
			}
		}
	}
	_, out, _ := play(t, Options{}, "x\n", answer)
	if want := "one\n\n(changed)\ntwo\n"; out != want {
		t.Errorf("text: %q, want %q", out, want)
	}
	_, out, _ = play(t, Options{JSON: true}, "x\n", answer)
	var o lineOut
	if err := json.Unmarshal([]byte(out), &o); err != nil {
		t.Fatal(err)
	}
	id := o.Replies[0].Post
	want := []postOut{{Kind: chat.Info, Text: "one", Post: id}, {Kind: chat.Info, Text: "one", Edits: id}, {Kind: chat.Info, Text: "two", Edits: id}}
	if diff := cmp.Diff(want, o.Replies); diff != "" || id == "" {
		t.Error(diff)
	}
}

// Lines by number: edits and deletions name the message, replies answer it,
// and all of them stay in its bar.
func TestLinesAreReferredToByNumber(t *testing.T) {
	f, out, _ := play(t, Options{Managers: []string{"Jo"}}, strings.Join([]string{
		"2026-03-02T06:33:00Z @mara #tide id:a 18 36 24",
		"",
		"@jo /edit 1 18 36 25",
		"id:r /reply 3 a bit dry",
		"/delete 3",
		"/delete 2",
		"/edit 7 me",
		"/edit 99 x",
		"/edit",
		"/coffee edit name:Tide",
		"/reply 4",
		"/edit 4",
		"/delete 4 5",
	}, "\n"), nil)
	at := time.Date(2026, 3, 2, 6, 33, 0, 0, time.UTC)
	me, jo := chat.Person{ID: "me", Name: "me"}, chat.Person{ID: "jo", Name: "jo"}
	want := []chat.Message{
		{ID: "a", Channel: "tide", From: chat.Person{ID: "mara", Name: "mara"}, At: at, Alone: true, Text: "18 36 24"},
		{ID: "a", Kind: chat.Edited, Channel: "tide", From: jo, Manager: true, Manages: []string{chat.Everywhere}, At: at, Alone: true, Text: "18 36 25"},
		{ID: "r", Channel: "tide", From: me, At: at, Alone: true, ReplyTo: "a", Text: "a bit dry"},
		{ID: "a", Kind: chat.Deleted, Channel: "tide", From: me, At: at, Alone: true},
		{Channel: "bar", From: me, At: at, Alone: true, Text: "/coffee edit name:Tide"},
	}
	got := f.lines()
	if len(got) != len(want) {
		t.Fatalf("%d messages: %+v", len(got), got)
	}
	if got[4].ID == "" {
		t.Error("a message without an id")
	}
	got[4].ID = ""
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if want := "no line: 2\nno line: 7\nno line: 99\nno line: \nafter 4: \nafter 4: \nafter 4: 5\n"; out != want {
		t.Errorf("said %q, want %q", out, want)
	}
}

// A button is pressed by its label, the beginning of it or its number, on the
// newest post that answers a line.
func TestButtonsArePressed(t *testing.T) {
	buttons := map[string][]chat.Button{
		"shot": {{Label: "Did it", State: "did"}, {Label: "still at 5.2", State: "still"}, {Label: "dialled in", State: "dial"}},
		"late": {{Label: "28 s", State: "28"}, {Label: "31 s", State: "31"}},
		"edit": {{Label: "fine", State: "fine"}},
	}
	const before = "#tide id:m shot\nid:n late\n"
	for _, test := range []struct{ line, want string }{
		{"/press 1 did it", "did"},
		{"/press 1 DID", "did"},
		{"/press 1   still  at 5.2", "still"},
		{"/press 1 st", "still"},
		{"/press 1 2", "still"},
		{"/press 1 di", `no "di" in ["Did it" "still at 5.2" "dialled in"]`},
		{"/press 1 4", `no "4" in ["Did it" "still at 5.2" "dialled in"]`},
		{"/press 28 s", "28"},
		{"/press 31", "31"},
		{"/press 2", "31"},
		{"/press", `no "" in ["28 s" "31 s"]`},
		{"/press 7 x", "no line: 7"},
		{"quiet\n/press 3 x", "nothing to press"},
		{"/edit 1 edit\n/press 1 fine", "fine"},
		{"/edit 1 edit\n/press 3 fine", "fine"},
	} {
		f, out, _ := play(t, Options{}, before+test.line, func(c *Console, m chat.Message) {
			if b := buttons[m.Text]; b != nil {
				send(t, c, chat.Post{Kind: chat.Question, Channel: m.Channel, Cause: m.ID, Buttons: b})
			}
		})
		got := f.lines()
		last := got[len(got)-1]
		if last.Kind == chat.Pressed {
			if last.Press != test.want || last.Post == "" {
				t.Errorf("%s: pressed %q of %q, want %q", test.line, last.Press, last.Post, test.want)
			}
			continue
		}
		if !strings.HasSuffix(out, test.want+"\n") {
			t.Errorf("%s: said %q, want %q", test.line, out, test.want)
		}
	}
	_, out, _ := play(t, Options{}, "/press did it", nil)
	if out != "nothing to press\n" {
		t.Errorf("before any post: %q", out)
	}
}

// The clock stands still at the last time told; before it the real one runs.
// Each bar spoken in is told the time before each line.
func TestClockStandsStill(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var out []string
		play(t, Options{}, strings.Join([]string{
			"first",
			"2026-03-02T06:33:00Z #tide second",
			"third",
			"2026-03-01T06:33:00Z back",
			"",
			"2026-13-01T06:33:00Z wrong",
			"2026-03-03T06:33:00Z",
		}, "\n"), func(_ *Console, m chat.Message) {
			out = append(out, fmt.Sprint(m.At.UTC().Format("01-02 15:04 "), m.Channel, " ", m.Kind == chat.Tick, " ", m.Text))
			time.Sleep(time.Hour)
		})
		// A bubble's clock begins at midnight UTC 2000-01-01.
		want := []string{
			"01-01 00:00 bar true ", "01-01 00:00 bar false first",
			"03-02 06:33 bar true ", "03-02 06:33 tide true ", "03-02 06:33 tide false second",
			"03-02 06:33 bar true ", "03-02 06:33 tide true ", "03-02 06:33 bar false third",
			"03-01 06:33 bar true ", "03-01 06:33 tide true ", "03-01 06:33 bar false back",
			"03-01 06:33 bar true ", "03-01 06:33 tide true ",
			"03-01 06:33 bar true ", "03-01 06:33 tide true ",
			"03-03 06:33 bar true ", "03-03 06:33 tide true ",
		}
		if diff := cmp.Diff(want, out); diff != "" {
			t.Error(diff)
		}
	})
}

// What is sent before any line is due with the first, at a time that is one.
func TestEarlyPostIsDueWithTheFirstLine(t *testing.T) {
	var out bytes.Buffer
	c := New(Options{In: strings.NewReader("x\n"), Out: &out, JSON: true})
	send(t, c, chat.Post{Text: "early"})
	if err := c.Listen(t.Context(), (&fakeBot{c: c}).deliver); err != nil {
		t.Fatal(err)
	}
	var o lineOut
	if err := json.Unmarshal(out.Bytes(), &o); err != nil {
		t.Fatal(err)
	}
	if len(o.Due) != 1 || o.Due[0].Text != "early" || strings.HasPrefix(o.Due[0].At, "0001") {
		t.Errorf("got %s", out.String())
	}
}

// What the clock caused is due, whenever it is sent.
func TestDueIsApartFromReplies(t *testing.T) {
	_, out, _ := play(t, Options{JSON: true}, "2026-03-02T06:33:00Z x\n", func(c *Console, m chat.Message) {
		if m.Kind != chat.Tick {
			send(t, c, chat.Post{Kind: chat.Alert, Channel: "tide", Text: "clock", At: m.At.Add(-time.Minute), Due: true})
			send(t, c, chat.Post{Kind: chat.Recorded, Channel: "bar", Text: "answer"})
			return
		}
		send(t, c, chat.Post{Kind: chat.Info, Channel: "bar", Text: "before"})
	})
	want := `{"line":1,"at":"2026-03-02T06:33:00Z","from":"me","due":[` +
		`{"at":"2026-03-02T06:33:00Z","bar":"bar","kind":"info","text":"before","post":"P"},` +
		`{"at":"2026-03-02T06:32:00Z","bar":"tide","kind":"alert","text":"clock","post":"P"}],` +
		`"replies":[{"kind":"recorded","text":"answer","post":"P"}]}` + "\n"
	if diff := cmp.Diff(want, postID.ReplaceAllString(out, `"post":"P"`)); diff != "" {
		t.Error(diff)
	}
}

// While a person thinks, time is told each minute.
func TestTimeRunsInATypedSession(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		in, write := io.Pipe()
		c := New(Options{})
		f := &fakeBot{c: c}
		s := &session{c: c, deliver: f.deliver, typed: true, me: "me", bar: "bar"}
		ended := make(chan error)
		go func() { ended <- s.run(t.Context(), newLines(in)) }()
		time.Sleep(3*time.Minute + time.Second)
		synctest.Wait()
		if n := len(f.got); n != 4 || !f.got[3].At.Equal(f.got[0].At.Add(3*time.Minute)) {
			t.Errorf("ticks: %+v", f.got)
		}
		if err := write.Close(); err != nil {
			t.Error(err)
		}
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
}

// Posts of one line stand together, longer ones apart; nothing in them can
// steer the terminal.
func TestPostsAsText(t *testing.T) {
	dir := t.TempDir() + "/pictures"
	_, out, _ := play(t, Options{FilesDir: dir}, "x\n", func(c *Console, m chat.Message) {
		if m.Kind == chat.Tick {
			return
		}
		send(t, c, chat.Post{Text: "short"})
		send(t, c, chat.Post{Text: "private", Private: true})
		send(t, c, chat.Post{Text: "a\x1b[31m\r\u009b\u202eb\nc", Buttons: []chat.Button{{Label: "did it"}, {Label: "still at 5.2\a"}}})
		send(t, c, chat.Post{Text: "picture", Files: []chat.File{{Name: "../tide day.png", Data: []byte("png")}}})
	})
	out = regexp.MustCompile(regexp.QuoteMeta(dir)).ReplaceAllString(out, "D")
	want := "short\n(for you) private\n\na[31mb\nc\n   [did it]  [still at 5.2]\n\npicture\n   D/1-..-tide-day.png\n"
	if diff := cmp.Diff(want, out); diff != "" {
		t.Error(diff)
	}
	files, err := os.ReadDir(dir)
	if err != nil || len(files) != 1 {
		t.Errorf("files: %v, %v", files, err)
	}
}

// Input that says nothing is answered with a hint, on Err.
func TestEmptyInput(t *testing.T) {
	for _, input := range []string{"", "\n", " \r\n\n"} {
		for _, js := range []bool{false, true} {
			f, out, errOut := play(t, Options{JSON: js}, input, nil)
			if errOut != "nothing came in\n" || len(f.got) != 0 {
				t.Errorf("%q: on Err %q, delivered %v", input, errOut, f.got)
			}
			if n := strings.Count(out, "\n"); js && n != strings.Count(input, "\n") || !js && n != 0 {
				t.Errorf("%q: on Out %q", input, out)
			}
		}
	}
}

// A read that blocks holds nobody up, and posts that come before or after all
// lines neither panic nor hang.
func TestListenEndsWithItsContext(t *testing.T) {
	for _, js := range []bool{false, true} {
		in, _ := io.Pipe()
		c := New(Options{In: in, JSON: js})
		send(t, c, chat.Post{Text: "early"})
		ctx, cancel := context.WithTimeout(t.Context(), 10*time.Millisecond)
		if err := c.Listen(ctx, (&fakeBot{c: c}).deliver); err != nil {
			t.Error(err)
		}
		cancel()
		_, err := c.Send(t.Context(), chat.Post{Text: "late"})
		if js != errors.Is(err, errEnded) {
			t.Errorf("late post, JSON %v: %v", js, err)
		}
	}
}

// A bot that never answers does not hold Listen past its context either, and
// no object claims that it had nothing to say.
func TestListenEndsAmidAnAnswer(t *testing.T) {
	var out bytes.Buffer
	c := New(Options{In: strings.NewReader("a\nb\n"), Out: &out, JSON: true})
	ctx, cancel := context.WithCancel(t.Context())
	err := c.Listen(ctx, func(m chat.Message) <-chan struct{} {
		if m.Kind != chat.Tick {
			cancel()
			return make(chan struct{})
		}
		return nil
	})
	if err != nil || out.Len() != 0 {
		t.Errorf("%v, %q", err, out.String())
	}
}

// A reader that went away is told to the bot and ends the session.
func TestBrokenOutputIsAnError(t *testing.T) {
	for _, js := range []bool{false, true} {
		r, w := io.Pipe()
		if err := r.Close(); err != nil {
			t.Fatal(err)
		}
		c := New(Options{In: strings.NewReader("a\nb\n"), Out: w, JSON: js})
		f := &fakeBot{c: c}
		f.answer = func(m chat.Message) {
			if _, err := c.Send(context.Background(), chat.Post{Text: "x"}); !js && err == nil {
				t.Error("written into the void")
			}
		}
		if err := c.Listen(t.Context(), f.deliver); !errors.Is(err, io.ErrClosedPipe) {
			t.Errorf("JSON %v: %v", js, err)
		}
		if n := len(f.lines()); n != 1 {
			t.Errorf("JSON %v: went on for %d lines", js, n)
		}
	}
}

// Ids differ, also within a moment.
func TestIDsAreNew(t *testing.T) {
	seen := map[string]bool{}
	for range 10_000 {
		if id := newID(); seen[id] {
			t.Fatalf("%s came twice", id)
		} else {
			seen[id] = true
		}
	}
}
