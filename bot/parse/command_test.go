package parse

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"shothand/bot/chat"
)

func called(name string, pairs ...string) chat.Command {
	c := chat.Command{Name: name}
	for i := 0; i < len(pairs); i += 2 {
		c.Options = append(c.Options, chat.Option{Name: pairs[i], Value: pairs[i+1]})
	}
	return c
}

func TestCommand(t *testing.T) {
	for text, want := range map[string]chat.Command{
		`/coffee add name:"Harbour Lane" grinder:left dose:18 yield:36 time:25-31 roasted:2026-03-01`: called("coffee add",
			"name", "Harbour Lane", "grinder", "left", "dose", "18", "yield", "36", "time", "25-31", "roasted", "2026-03-01"),
		"/grinder add name:left finer:lower step:0.1": called("grinder add", "name", "left", "finer", "lower", "step", "0.1"),
		"/setup zone:Europe/Berlin":                   called("setup", "zone", "Europe/Berlin"),
		"/setup order:dose-time-yield":                called("setup", "order", "dose-time-yield"),
		"/dialled coffee:Harbour":                     called("dialled", "coffee", "Harbour"),
		"/undo":                                       called("undo"),
		"  /Today ":                                   called("today"),
		"/why":                                        called("why"),
		"/COFFEE Edit Name:Tide rename:Ebb":           called("coffee edit", "name", "Tide", "rename", "Ebb"),
		"/coffee show Harbour Lane":                   called("coffee show", "", "Harbour Lane"),
		"/coffee show name: Harbour":                  called("coffee show", "name", "Harbour"),
		"/coffee add name:“Harbour Lane” dose:18":     called("coffee add", "name", "Harbour Lane", "dose", "18"),
		"/coffee add name:„Harbour Lane“":             called("coffee add", "name", "Harbour Lane"),
		"/coffee add name:«Harbour Lane»":             called("coffee add", "name", "Harbour Lane"),
		`/coffee add name:"a dose:40 b"`:              called("coffee add", "name", "a dose:40 b"),
		`/coffee add name:"the \"big\" one"`:          called("coffee add", "name", `the "big" one`),
		`/coffee show "name:Harbour"`:                 called("coffee show", "", "name:Harbour"),
		"/shot 18 36 28 sour":                         called("shot", "", "18 36 28 sour"),
		"/shot 18:36  28\" sour":                      called("shot", "", "18:36  28\" sour"),
		"/shot dose:18 yield:36 sour, thin time:28":   called("shot", "dose", "18", "yield", "36", "time", "28", "", "sour, thin"),
		`/shot "dose:18" sour`:                        called("shot", "", `"dose:18" sour`),
		"/shot":                                       called("shot"),
		"/help coffee":                                called("help", "", "coffee"),
		"/coffee\nadd\nname:Tide":                     called("coffee add", "name", "Tide"),
	} {
		got, err := Command(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
		} else if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%q (-want +got):\n%s", text, diff)
		}
		m, err := Message(text, theBar())
		if diff := cmp.Diff(Meaning(Call{Command: want}), m); diff != "" || err != nil {
			t.Errorf("message %q: %v (-want +got):\n%s", text, err, diff)
		}
	}
}

func TestCommandsThatAreNone(t *testing.T) {
	subs := "/coffee add, /coffee edit, /coffee list, /coffee show, /coffee retire"
	for text, want := range map[string]Mistake{
		"/cofee add name:x":              {UnknownCommand, "/cofee", "/coffee", ""},
		"/dialed":                        {UnknownCommand, "/dialed", "/dialled", ""},
		"/crossword":                     {UnknownCommand, "/crossword", "", ""},
		"/shrug":                         {UnknownCommand, "/shrug", "", ""},
		"/coffee":                        {BadOption, "/coffee", subs, ""},
		"/coffee Harbour":                {BadOption, "/coffee Harbour", subs, ""},
		"/coffee show colour:red":        {UnknownOption, "colour", "name, look", ""},
		"/undo name:x":                   {UnknownOption, "name", "", ""},
		"/coffee add name:":              {MissingOption, "name", "", ""},
		"/coffee add name: dose:18":      {MissingOption, "name", "", ""},
		"/coffee add name:a name:b":      {GivenTwice, "name", "", ""},
		`/coffee add name:"Harbour Lane`: {OpenQuote, `"Harbour Lane`, "", ""},
	} {
		checkMistake(t, theBar(), text, want)
	}
}

// A command printed is read as the same command again.
func FuzzCommand(f *testing.F) {
	for _, seed := range []string{`/coffee add name:"Harbour Lane" dose:18`, "/shot 18 36 28\" \"dose:18", "/coffee show \"a:b\" c", "/shot dose:18 x time:28 y", `/coffee add name:„a\"“`, `/shot 00 dose:"""0000`, "/help «\\»"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := Command(text)
		if err != nil {
			if _, ok := errors.AsType[Mistake](err); !ok {
				t.Fatalf("%q: %v is no mistake", text, err)
			}
			return
		}
		printed := FormatCommand(c)
		got, err := Command(printed)
		if diff := cmp.Diff(c, got, cmpopts.EquateEmpty()); (diff != "" || err != nil) && !long(printed) {
			t.Errorf("%q printed as %q: %v\n%s", text, printed, err, diff)
		}
	})
}

// No value can become an option: a command made of parts is read back as
// those parts.
func FuzzOptionsStayInTheirQuotes(f *testing.F) {
	f.Add(`x" dose:40`, "left")
	f.Add(`\`, "”")
	f.Fuzz(func(t *testing.T, name, grinder string) {
		if name == "" || grinder == "" || !valid(name) || !valid(grinder) {
			return
		}
		want := called("coffee add", "name", name, "grinder", grinder)
		got, err := Command(FormatCommand(want))
		if diff := cmp.Diff(want, got); (diff != "" || err != nil) && !long(FormatCommand(want)) {
			t.Errorf("%q: %v\n%s", FormatCommand(want), err, diff)
		}
	})
}

func valid(s string) bool { return strings.ToValidUTF8(s, "") == s }
