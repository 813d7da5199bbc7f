package bot

import (
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"shothand/bot/chat"
	"shothand/bot/say/bycup"
	"shothand/bot/turn"
)

// A tableside is a bot at which a tasting is going on, led by mara.
func tableside(t *testing.T, start string) (*Bot, func(who, text string) []turn.Out) {
	t.Helper()
	b, n := newBot(t), 0
	at := func(who, text string) []turn.Out {
		n++
		return b.Handle(chat.Message{
			ID: strings.Repeat("m", n), Channel: "bar", From: chat.Person{ID: who, Name: who}, Manager: who == "mara",
			At: morning().Add(time.Duration(n) * time.Minute), Text: text,
		})
	}
	at("mara", "/coffee add name:Harbour dose:18 yield:36 time:25-31")
	if outs := at("mara", start); len(outs) == 0 || len(outs[0].Buttons) != 2 {
		t.Fatalf("%q: %+v", start, outs)
	}
	return b, at
}

// pressed is a press of the button with a label under the first of outs.
func pressed(t *testing.T, outs []turn.Out, label string) chat.Message {
	t.Helper()
	for _, button := range outs[0].Buttons {
		if button.Label == label {
			return chat.Message{ID: "p" + label, Kind: chat.Pressed, Channel: "bar", Press: button.State, From: chat.Person{ID: "jo", Name: "jo"}, At: morning().Add(time.Hour)}
		}
	}
	t.Fatalf("no button %q under %+v", label, outs[0].Buttons)
	return chat.Message{}
}

// The button of a tasting opens a form, whose answer only its writer sees.
func TestFormOfATasting(t *testing.T) {
	for _, test := range []struct{ start, fields string }{
		{"/layers start coffee:Harbour", "early middle late whole"},
		{"/layers start coffee:Harbour blind:yes", "a b c order whole"},
	} {
		b, at := tableside(t, "/layers start coffee:Harbour")
		outs := at("mara", test.start)
		f, ok := b.Form(pressed(t, outs, string(bycup.CupsLabel)))
		var fields []string
		for _, x := range f.Fields {
			fields = append(fields, x.Name)
			if len(x.Label) > 45 || len(x.Hint) > 100 {
				t.Errorf("field %+v is too long", x)
			}
		}
		if got := strings.Join(fields, " "); !ok || got != test.fields || f.Command.Name != "layers taste" {
			t.Errorf("%s: %v, %+v", test.start, ok, f)
		}
		if _, ok := b.Form(pressed(t, outs, string(bycup.RevealLabel))); ok {
			t.Error("showing all opens a form")
		}
	}
}

// Until all are in, no post that others see has a word of what was tasted; and
// nothing says before what to expect.
func TestNothingIsGivenAway(t *testing.T) {
	_, at := tableside(t, "/layers start coffee:Harbour tasters:2")
	start := at("mara", "/layers start coffee:Harbour tasters:2")
	for _, word := range []string{"salty", "syrupy", "watery", "flat", "thin", "roasty", "weaker", "stronger"} {
		if slices.Contains(strings.FieldsFunc(start[0].Text, func(r rune) bool { return !unicode.IsLetter(r) }), word) {
			t.Errorf("the start says %q", word)
		}
	}
	outs := at("jo", "early salty / middle flat / late watery")
	for _, out := range outs {
		if !out.Private {
			t.Errorf("others see %q", out.Text)
		}
	}
	if outs = at("sam", "early salty / middle flat / late watery"); len(outs) != 2 || outs[1].Private || !strings.Contains(outs[1].Text, "salty 2×") {
		t.Errorf("all are in: %+v", outs)
	}
}

// After a crash the start and the account are said again, but not what was for
// one taster alone.
func TestTastingAfterACrash(t *testing.T) {
	b, at := tableside(t, "/layers start coffee:Harbour tasters:2")
	at("jo", "early salty / middle flat / late watery")
	texts := func() []string {
		var all []string
		for _, out := range b.Resume("bar") {
			first, _, _ := strings.Cut(out.Text, "\n")
			all = append(all, first)
		}
		return all
	}
	got := strings.Join(texts(), "|")
	if !strings.Contains(got, "Harbour, cup by cup, led by mara.") || strings.Contains(got, "Kept") {
		t.Errorf("resumed with %q", got)
	}
	at("sam", "early salty / middle flat / late watery")
	if got := strings.Join(texts(), "|"); !strings.Contains(got, "By these cups Harbour should end") {
		t.Errorf("resumed with %q", got)
	}
}
