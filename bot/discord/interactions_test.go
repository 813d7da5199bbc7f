package discord

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/bot/chat"
	"shothand/bot/discord/fake"
)

func (r *run) commands() {
	r.t.Helper()
	r.await("commands", func(s *fake.State) bool { return len(s.Commands("Harbour Lane")) > 0 })
}

func (r *run) slash(user, name string, options map[string]any) string {
	r.t.Helper()
	id, err := r.f.Slash("dial-in", user, name, options)
	if err != nil {
		r.t.Fatal(err)
	}
	return id
}

// answersTo returns what answered an interaction.
func (r *run) answersTo(id string) []fake.Message {
	return slices.DeleteFunc(r.f.Posts("dial-in"), func(m fake.Message) bool { return m.Interaction != id })
}

// Commands are registered once, and again only when they are others.
func TestCommandsOnlyWhenChanged(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	puts := func() (n int) {
		for _, q := range f.Requests() {
			if q.Method == "PUT" && strings.HasSuffix(q.Path, "/commands") {
				n++
			}
		}
		return n
	}
	for range 2 {
		r := listen(t, f, quick())
		r.connected()
		r.commands()
		r.say("wait")
		eventually(t, "a look at the commands", func() bool {
			return slices.ContainsFunc(f.Requests(), func(q fake.Request) bool { return q.Method == "GET" && strings.HasSuffix(q.Path, "/commands") })
		})
		time.Sleep(100 * time.Millisecond)
		if err := r.stop(); err != nil {
			t.Error(err)
		}
	}
	if n := puts(); n != 1 {
		t.Errorf("registered %d times", n)
	}
	var names []string
	for _, c := range f.Commands("Harbour Lane") {
		names = append(names, c["name"].(string))
	}
	slices.Sort(names)
	if diff := cmp.Diff([]string{"coffee", "help", "setup", "shot"}, names); diff != "" {
		t.Error(diff)
	}
	if _, err := f.Slash("dial-in", "jo", "setup", nil); err == nil {
		t.Error("jo may use /setup")
	}
}

// A command arrives in parts, and its answer is the interaction's.
func TestCommand(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	r.commands()
	id := r.slash("mara", "coffee add", map[string]any{"name": `Har"bour time:9`, "grinder": "left"})
	eventually(t, "the answer", func() bool { return len(r.answersTo(id)) == 1 })
	m := r.messages(chat.Called)[0]
	want := chat.Message{
		ID: "i" + id, Kind: chat.Called, Channel: f.Channel("dial-in").ID, Manager: true, Manages: []string{f.Channel("dial-in").ID}, Alone: true, At: timeOf(id), Title: "dial-in", Locale: "en-US", Home: "en-US",
		From:    chat.Person{ID: f.User("mara").ID, Name: "mara"},
		Command: chat.Command{Name: "coffee add", Options: []chat.Option{{Name: "name", Value: `Har"bour time:9`}, {Name: "grinder", Value: "left"}}},
	}
	if diff := cmp.Diff(want, m); diff != "" {
		t.Error(diff)
	}
	if a := r.answersTo(id)[0]; a.For != "" || a.Content != "got: coffee add" {
		t.Errorf("answer %+v", a)
	}
}

// An answer that takes long is deferred; what is for one alone is shown to one
// alone, deferred or not; and who hears nothing is told so.
func TestAnswersInTime(t *testing.T) {
	for _, slow := range []time.Duration{0, 500 * time.Millisecond} {
		for _, command := range []string{"shot", "help"} {
			for _, private := range []bool{false, true} {
				t.Run(fmt.Sprintf("%s, private %t, after %v", command, private, slow), func(t *testing.T) {
					f := newFake(t, fake.Options{AnswerWithin: 400 * time.Millisecond})
					r := listen(t, f, quick())
					r.mu.Lock()
					r.slow = slow
					r.mu.Unlock()
					r.replies(func(chat.Message) []chat.Post {
						return []chat.Post{{Text: "one", Private: private}, {Text: "two", Private: private}}
					})
					r.connected()
					r.commands()
					id := r.slash("jo", command, nil)
					eventually(t, "the answers", func() bool { return len(f.Posts("dial-in")) == 2 && !f.Posts("dial-in")[0].Thinking })
					posts := f.Posts("dial-in")
					if posts[0].Content != "one" || posts[1].Content != "two" || posts[0].Interaction != id {
						t.Errorf("%+v", posts)
					}
					for _, p := range posts {
						if (p.For != "") != private {
							t.Errorf("shown to %q", p.For)
						}
					}
					r.replies(func(chat.Message) []chat.Post { return nil })
					id = r.slash("jo", command, nil)
					eventually(t, "a word", func() bool { a := r.answersTo(id); return len(a) == 1 && a[0].Content == "nothing" })
					if err := r.stop(); err != nil {
						t.Error(err)
					}
				})
			}
		}
	}
}

// Callbacks fail as other calls do; the answer is there once all the same.
func TestAnswerTrouble(t *testing.T) {
	t.Parallel()
	for _, fault := range []fake.Fault{
		{Path: "/interactions/*/*/callback", Status: 502, AfterServing: true},
		{Path: "/interactions/*/*/callback", Status: 500},
		{Path: "/interactions/*/*/callback", UnknownComponent: true},
		{Path: "/interactions/*/*/callback", Status: 429, RetryAfter: 100 * time.Millisecond},
		{Path: "/interactions/*/*/callback", Status: 404, Times: -1},
	} {
		t.Run(fmt.Sprintf("%+v", fault), func(t *testing.T) {
			t.Parallel()
			f := newFake(t, fake.Options{})
			r := listen(t, f, quick())
			r.connected()
			r.commands()
			f.Break(fault)
			r.slash("jo", "shot", map[string]any{"text": "18 36 28"})
			r.await("the answer", func(s *fake.State) bool { return len(s.Posts("dial-in")) > 0 })
			time.Sleep(50 * time.Millisecond)
			if n := len(f.Posts("dial-in")); n != 1 {
				t.Errorf("%d answers", n)
			}
			if err := r.stop(); err != nil {
				t.Error(err)
			}
		})
	}
}

// However late the platform says what it did, one command has one answer: the
// first answer and "thinking" count where they stand.
func TestSlowCallback(t *testing.T) {
	t.Parallel()
	for name, slow := range map[string]time.Duration{"the answer": 0, "thinking": 500 * time.Millisecond} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			f := newFake(t, fake.Options{})
			s := &stub{t: t, f: f, channel: f.Channel("dial-in").ID, slow: slow}
			times := quick()
			// Long enough that a busy machine has done the deed by then; it would be
			// asked for in vain otherwise, and come after the answer.
			times.Call, times.Answer = 3*time.Second, 3*time.Second
			r := listenWith(t, s, times)
			r.connected()
			r.commands()
			f.Break(fake.Fault{Path: "/interactions/*/*/callback", DelayAnswer: 4 * time.Second})
			r.slash("jo", "shot", map[string]any{"text": "18 36 28"})
			r.await("the answer", func(s *fake.State) bool {
				posts := s.Posts("dial-in")
				return len(posts) > 0 && strings.HasPrefix(posts[len(posts)-1].Content, "got: ")
			})
			time.Sleep(50 * time.Millisecond)
			if posts := f.Posts("dial-in"); len(posts) != 1 || posts[0].Thinking {
				t.Errorf("%+v", posts)
			}
		})
	}
}

// A press carries its state, takes the buttons away, and keeps them where it
// was not taken.
func TestPress(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	button := []chat.Button{{Label: "did it", State: "d 1"}, {Label: "still", State: "s 1"}}
	id, err := r.d.Send(t.Context(), chat.Post{Channel: f.Channel("dial-in").ID, Cause: "x", Text: "Finer", Buttons: button})
	if err != nil {
		t.Fatal(err)
	}
	r.replies(func(chat.Message) []chat.Post { return []chat.Post{{Text: "not you", Private: true}} })
	if _, err := f.Press(id, "d 1", "sam"); err != nil {
		t.Fatal(err)
	}
	eventually(t, "the refusal", func() bool { return len(f.Posts("dial-in")) == 2 })
	if p := f.Posts("dial-in")[1]; p.For != f.User("sam").ID || p.Content != "not you" {
		t.Errorf("%+v", p)
	}
	time.Sleep(50 * time.Millisecond)
	if m, _ := f.Message(id); len(m.Buttons()) != 2 {
		t.Error("the buttons went away with a press that was not taken")
	}
	r.replies(nil)
	press, err := f.Press(id, "d 1", "jo")
	if err != nil {
		t.Fatal(err)
	}
	r.await("the buttons to go", func(s *fake.State) bool { m, _ := s.Message(id); return len(m.Buttons()) == 0 })
	if m, _ := f.Message(id); m.Content != "Finer" {
		t.Errorf("the text became %q", m.Content)
	}
	got := r.messages(chat.Pressed)[1]
	if got.Press != "d 1" || got.Post != id || got.ID != "i"+press {
		t.Errorf("%+v", got)
	}
	r.await("the answer", func(s *fake.State) bool { return len(s.Posts("dial-in")) == 3 })
}

// What is typed gets suggestions.
func TestSuggest(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	r.commands()
	id, err := f.Autocomplete("dial-in", "jo", "shot", map[string]any{"coffee": "ha"}, "coffee")
	if err != nil {
		t.Fatal(err)
	}
	r.await("choices", func(s *fake.State) bool { i, _ := s.Interaction(id); return len(i.Choices) == 2 })
}

// A form opens for a command that says nothing, and what is filled in arrives
// as the command.
func TestForm(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.mu.Lock()
	r.form = &chat.Form{Title: "A shot", Command: chat.Command{Name: "shot", Options: []chat.Option{{Name: "coffee", Value: "Harbour"}}}, Fields: []chat.Field{
		{Name: "time", Label: "Time, s", Hint: "24"}, {Name: "taste", Label: "How it tasted", Long: true},
	}}
	r.mu.Unlock()
	r.connected()
	r.commands()
	id := r.slash("jo", "shot", nil)
	r.await("the form", func(s *fake.State) bool { i, _ := s.Interaction(id); return i.Form != nil })
	done, err := f.SubmitModal(id, map[string]string{"time": "24"})
	if err != nil {
		t.Fatal(err)
	}
	eventually(t, "the answer", func() bool { return len(r.answersTo(done)) == 1 })
	want := chat.Command{Name: "shot", Options: []chat.Option{{Name: "coffee", Value: "Harbour"}, {Name: "time", Value: "24"}}}
	if diff := cmp.Diff(want, r.messages(chat.Called)[0].Command); diff != "" {
		t.Error(diff)
	}
}
