package console

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/bot/chat"
)

// A harbour is what is known at a bar in an example.
type harbour struct{}

func (harbour) Specs(...string) []chat.Spec {
	return []chat.Spec{
		{Name: "coffee show", Options: []chat.OptionSpec{{Name: "name", Suggests: true}, {Name: "look", Choices: []string{"light", "dark"}}}},
		{Name: "coffee list"},
		{Name: "today"},
		{Name: "shot", Options: []chat.OptionSpec{{Name: "taste", Suggests: true}, {Name: "time"}}},
	}
}

func (harbour) Suggest(a chat.Asking) []string {
	if a.At.IsZero() || a.Channel != "bar" && a.Channel != "tide" {
		return nil
	}
	if a.Option == "taste" {
		return []string{"sour", "sweet", "thin"}
	}
	return []string{"Harbour", "Heron Blend", "Quay"}
}

func (harbour) People(channel string) []string {
	if channel == "tide" {
		return []string{"kim"}
	}
	return []string{"mara", "Sam", "a guest"}
}

func TestComplete(t *testing.T) {
	k := completer{known: harbour{}, me: "me", bar: "bar", at: time.Now()}
	for _, test := range []struct{ head, want string }{
		{"@", "@mara @Sam"},
		{"@s", "@Sam"},
		{"#tide @", "@kim"},
		{"h", "help Harbour Heron Blend"},
		{"@sam ha", "Harbour"},
		{"q", "quit Quay"},
		{"18 36 28 s", "sour sweet"},
		{"18 36 28 ", ""},
		{"/", "/edit /delete /press /reply /coffee show /coffee list /today /shot"},
		{"/co", "/coffee show /coffee list"},
		{"/COFFEE S", "/coffee show"},
		{"@mara /coffee show ", "name: look:"},
		{"/coffee show he", "Heron Blend"},
		{"/coffee show name:", `name:Harbour name:"Heron Blend" name:Quay`},
		{"/coffee show name:he", `name:"Heron Blend"`},
		{`/coffee show name:"heron b`, `name:"Heron Blend"`},
		{"/coffee show name:Quay l", "look:"},
		{"/coffee show name:Quay n", ""},
		{"/coffee show look:d", "look:dark"},
		{"/coffee show nobody:d", ""},
		{"/nothing x", ""},
	} {
		from, choices := k.complete(test.head)
		if got := strings.Join(choices, " "); got != test.want {
			t.Errorf("%q: %q, want %q", test.head, got, test.want)
		}
		if from > len(test.head) {
			t.Errorf("%q: begins at %d", test.head, from)
		}
	}
}

// The tab key puts in what is certain, and else shows what there is.
func TestTab(t *testing.T) {
	var out strings.Builder
	c := New(Options{Out: &out, Known: harbour{}})
	for _, test := range []struct {
		line, after string
		line2       string
		shown       string
	}{
		{"@s", "", "@Sam ", ""},
		{"/t", "", "/today ", ""},
		{"/coffee s", " x", "/coffee show x", ""},
		{"/co", "", "/coffee ", ""},
		{"/coffee ", "", "/coffee ", "  /coffee show  /coffee list\n"},
		{"/coffee show l", "", "/coffee show look:", ""},
		{"18 36 28 s", "", "18 36 28 s", "  sour  sweet\n"},
		{"xyz", "", "xyz", ""},
	} {
		out.Reset()
		line, pos, ok := c.onKey(test.line+test.after, len(test.line), '\t')
		if line != test.line2 || !ok || pos > len(line) || out.String() != test.shown {
			t.Errorf("%q: %q at %d, %v, shown %q", test.line, line, pos, ok, out.String())
		}
	}
	if _, _, ok := c.onKey("a", 1, 'b'); ok {
		t.Error("a letter was taken for a tab")
	}
	if _, _, ok := New(Options{}).onKey("a", 1, '\t'); ok {
		t.Error("completed from nothing")
	}
}

func TestCommon(t *testing.T) {
	for _, test := range []struct {
		all  []string
		want string
	}{
		{[]string{"Tide"}, "Tide"},
		{[]string{"tide", "Time"}, "ti"},
		{[]string{"née", "nèe"}, "n"},
		{[]string{"a", "b"}, ""},
	} {
		if got := common(slices.Clone(test.all)); got != test.want {
			t.Errorf("%q: %q", test.all, cmp.Diff(test.want, got))
		}
	}
}
