package bot

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/settings"
	"shothand/store"
)

func desk(t *testing.T, o Options) *Bot {
	t.Helper()
	s, err := store.Open(filepath.Join(t.TempDir(), "bar.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	o.Clock = func() time.Time { return time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC) }
	return New(s, o)
}

// Whoever types a command is told of each of its options, within what a
// service can show.
func TestEveryOptionHasHelp(t *testing.T) {
	fits := func(name, help string, said chat.Said) {
		for locale, text := range said {
			if n := len([]rune(text)); n == 0 || n > 100 {
				t.Errorf("/%s in %s: help %q", name, locale, text)
			}
		}
		if help == name || len([]rune(help)) > 100 {
			t.Errorf("/%s: help %q", name, help)
		}
	}
	for _, s := range desk(t, Options{}).Specs(say.Languages()...) {
		fits(s.Name, s.Help, s.Says)
		for _, o := range s.Options {
			fits(s.Name+" "+o.Name, o.Help, o.Says)
			if len(o.Choices) > 25 || len(o.Named) != len(o.Choices) {
				t.Errorf("/%s %s: %d choices, %d named", s.Name, o.Name, len(o.Choices), len(o.Named))
			}
		}
	}
}

// Every command that is listed is known to those who handle them.
func TestEveryCommandRuns(t *testing.T) {
	b := desk(t, Options{Open: true})
	for i, c := range command.All() {
		m := chat.Message{
			ID: fmt.Sprint("run ", i), Kind: chat.Called, Channel: "dial-in", From: chat.Person{ID: "1", Name: "jo"},
			Manager: true, Command: chat.Command{Name: c.Name}, At: time.Date(2026, 3, 2, 7, i, 0, 0, time.UTC),
		}
		outs := b.Handle(m)
		if len(outs) == 0 || strings.Contains(outs[0].Text, "/help lists what there is") || outs[0].Text == string(say.Trouble) {
			t.Errorf("/%s: %v", c.Name, outs)
		}
	}
}

// Every zone that is suggested is one.
func TestZonesExist(t *testing.T) {
	for _, z := range settings.Zones() {
		if err := settings.CheckZone(say.Lang{}, z); err != nil {
			t.Error(z, err)
		}
	}
}

// Coffees, tastes and zones are suggested; a channel that is no bar has none.
func TestSuggest(t *testing.T) {
	b := desk(t, Options{})
	jo := chat.Person{ID: "1", Name: "jo"}
	at := time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC)
	handle := func(m chat.Message) {
		m.Channel, m.From, m.Manager, m.At = "12", jo, true, at
		b.Handle(m)
	}
	handle(chat.Message{ID: "i1", Kind: chat.Called, Title: "dial-in", Command: chat.Command{Name: "setup", Options: []chat.Option{{Name: "zone", Value: "UTC"}}}})
	for i, name := range []string{"Harbour", "Tide", "decaf Harbour"} {
		handle(chat.Message{ID: "i2" + name, Kind: chat.Called, Command: chat.Command{Name: "coffee add", Options: []chat.Option{{Name: "name", Value: name}}}, At: at.Add(time.Duration(i) * time.Second)})
	}
	handle(chat.Message{ID: "77", Text: "tide 18 36 28 sour"})
	for _, test := range []struct {
		channel, command, option, typed string
		want                            []string
	}{
		{"12", "dialled", "coffee", "", []string{"Tide", "Harbour", "decaf Harbour"}},
		{"12", "shot", "coffee", "har", []string{"Harbour", "decaf Harbour"}},
		{"12", "shot", "taste", "thin, so", []string{"thin, sour"}},
		{"12", "setup", "zone", "europe/ber", []string{"Europe/Berlin"}},
		{"12", "shot", "dose", "1", nil},
		{"13", "shot", "coffee", "", nil},
	} {
		got := b.Suggest(chat.Asking{Channel: test.channel, From: jo, Command: chat.Command{Name: test.command}, Option: test.option, Typed: test.typed})
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("/%s %s:%s in %s: %s", test.command, test.option, test.typed, test.channel, diff)
		}
	}
	clockless := New(b.tools.Store, Options{}) // as on the console, where each line has its time
	if got := clockless.Suggest(chat.Asking{Channel: "12", From: jo, Command: chat.Command{Name: "shot"}, Option: "coffee", Typed: "har", At: at}); len(got) != 2 {
		t.Errorf("without a clock %q", got)
	}
	channels, err := b.Channels()
	if err != nil || len(channels) != 1 || channels[0] != "12" {
		t.Errorf("channels %q, %v", channels, err)
	}
	if ids, err := b.Handled("12"); err != nil || !slices.Contains(ids, "77") {
		t.Errorf("handled %q, %v", ids, err)
	}
	if ids, err := b.Handled("13"); err != nil || len(ids) > 0 {
		t.Errorf("handled %q, %v where there is no bar", ids, err)
	}
	for _, c := range []struct{ channel, put, want string }{{"12", "", ""}, {"12", "70", "70"}, {"12", "71", "71"}, {"12", "", ""}, {"13", "5", ""}} {
		if err := b.SetUnread(c.channel, c.put); err != nil {
			t.Error(err)
		}
		if got, err := b.Unread(c.channel); err != nil || got != c.want {
			t.Errorf("unread of %s after %q: %q, %v", c.channel, c.put, got, err)
		}
	}
	if _, ok := b.Form(chat.Message{Kind: chat.Called, Channel: "12", Command: chat.Command{Name: "shot"}}); !ok {
		t.Error("an empty /shot opens no form")
	}
	if _, ok := b.Form(chat.Message{Kind: chat.Called, Channel: "13", Command: chat.Command{Name: "shot"}}); ok {
		t.Error("a form opens where there is no bar")
	}
}

// All help fits a screen of 24 lines, with the prompt, also where it is 44
// columns wide and lines have to be broken.
func TestHelpFitsAScreen(t *testing.T) {
	lines := 0
	for line := range strings.SplitSeq(string(setup.AllHelp), "\n") {
		lines += 1 + len([]rune(line))/44
	}
	if lines > 21 { // and the mark, a blank line and the prompt
		t.Errorf("%d lines", lines)
	}
	for _, topic := range setup.Topics() {
		if topic == "words" { // of a bar
			continue
		}
		if text := setup.In((say.Lang{})).Help(topic); text == "" || strings.Count(text, "\n") > 21 {
			t.Errorf("/help %s: %s", topic, text)
		}
		if text := setup.In((say.Lang{})).Help(topic); topic != "grinder" && strings.Contains(text, "/grinder") {
			t.Errorf("/help %s says more than that: %s", topic, text)
		}
	}
}

// A person who has spoken in a bar is known there, and nowhere else.
func TestPeople(t *testing.T) {
	b := desk(t, Options{Open: true})
	b.Handle(chat.Message{ID: "1", Channel: "bar", From: chat.Person{ID: "mara", Name: "mara"}, Text: "18 36 28 sour", At: b.tools.Clock()})
	if got := b.People("bar"); !slices.Equal(got, []string{"mara"}) {
		t.Errorf("people %q", got)
	}
	if got := b.People("tide"); got != nil {
		t.Errorf("people of no bar: %q", got)
	}
}
