package bot

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor/bar"
	"shothand/bot/carry"
	"shothand/bot/chat"
	"shothand/bot/cups"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
	"shothand/store"
)

// A tester talks to a bot, a minute after the last word.
type tester struct {
	*Bot
	t *testing.T
	n int
}

func newTester(t *testing.T) *tester {
	t.Helper()
	return &tester{Bot: newBot(t), t: t}
}

// hear hands the bot a message and checks that every answer is one that a chat
// takes.
func (b *tester) hear(m chat.Message) []turn.Out {
	b.t.Helper()
	b.n++
	m.At = morning().Add(time.Duration(b.n) * time.Minute)
	if m.ID == "" {
		m.ID = fmt.Sprint("m-", b.n)
	}
	if m.From.ID == "" {
		m.From = chat.Person{ID: "mara", Name: "mara"}
	}
	if m.Channel == "" {
		m.Channel = "harbour-lane"
	}
	outs := b.Handle(m)
	for _, out := range outs {
		if n := utf8.RuneCountInString(out.Text); n == 0 || n > 2000 || out.Text == string(say.Trouble) {
			b.t.Errorf("%.200q was answered with %d characters: %.200s", m.Text+m.Press, n, out.Text)
		}
		for _, button := range out.Buttons {
			if len(button.State) > 100 || utf8.RuneCountInString(button.Label) > 80 || button.Label == "" {
				b.t.Errorf("%.200q: button %q %q", m.Text+m.Press, button.Label, button.State)
			}
		}
	}
	return outs
}

// say hands the bot a text of a manager.
func (b *tester) say(text string) string {
	b.t.Helper()
	return texts(b.hear(chat.Message{Manager: true, Text: text}))
}

func texts(outs []turn.Out) string {
	var all []string
	for _, out := range outs {
		all = append(all, out.Text)
	}
	return strings.Join(all, "\n")
}

// buttons returns the states of all buttons of posts.
func buttons(outs []turn.Out) []string {
	var all []string
	for _, out := range outs {
		for _, b := range out.Buttons {
			all = append(all, b.State)
		}
	}
	return all
}

// known is all that a bar has told of itself and its things.
type known struct {
	Bar      bar.Bar
	Coffees  []bar.Coffee
	Grinders []bar.Grinder
	Devices  []bar.Device
}

// known reads it of Harbour Lane.
func (b *tester) known() (k known) {
	b.t.Helper()
	err := b.tools.Store.View(func(tx *store.Tx) (err error) {
		id, _ := tx.BarOf("harbour-lane")
		if k.Bar, err = tx.Bar(id); err != nil {
			return err
		}
		if k.Coffees, err = tx.Coffees(id); err != nil {
			return err
		}
		if k.Grinders, err = tx.Grinders(id); err != nil {
			return err
		}
		k.Devices, err = tx.Devices(id)
		return err
	})
	if err != nil {
		b.t.Fatal(err)
	}
	return k
}

// nasty are names that people should not be able to do harm with.
func nasty() []string {
	return []string{
		"**Harbour**", "||Harbour||", "# Harbour", "[Harbour](https://example.org)", "`Harbour`", "```\nHarbour",
		"@everyone", "@here", "<@1001>", "<@&1001>", "<#1001>", "</setup:1001>",
		`Robert"); DROP TABLE shots; --`, "' OR '1'='1", `"`, `\"`, `x" dose:99 name:"y`,
		"$(rm -rf ~)", "; reboot", "`id`", "../../etc/passwd", "%s%n%d", "{{.}}", "<script>alert(1)</script>", "=1+1", "\x1b[2Jx",
		"\u202eruobraH", "Har\u200bbour", "\u2066Harbour\u2069", "\ufeffHarbour", "H\u0301\u0301\u0301\u0301\u0301\u0301arbour",
		"\u3164", "\u2800\u2800", "\u115f", "\u200b", "Harbour\nTide", "Harbour\r\n> Tide", "\x00", "\xff\xfe", "e\u0301",
		strings.Repeat("x", 10_000), strings.Repeat("\U0001f600", 10_000), strings.Repeat("a ", 5_000), "sour", "18", "choked", "new bag", "/undo",
	}
}

// Whatever a coffee is called, its name is one line that can be seen, does not
// turn the text around it, and sets nothing but the name.
func TestNamesOfCoffees(t *testing.T) {
	for _, kind := range []chat.Kind{chat.Text, chat.Called} {
		for _, name := range nasty() {
			b := newTester(t)
			m := chat.Message{Manager: true, Kind: kind, Text: "/coffee add name:" + inQuotes(name) + " dose:18"}
			if kind == chat.Called {
				m.Text = ""
				m.Command = chat.Command{Name: "coffee add", Options: []chat.Option{{Name: "name", Value: name}, {Name: "dose", Value: "18"}}}
			}
			b.hear(m)
			b.hear(chat.Message{Text: "18 36 24 sour", ReplyTo: "m-1"})
			b.say("/coffee list")
			b.say("/today")
			b.say("/why more:yes")
			for _, c := range b.known().Coffees {
				checkName(t, name, c.Name)
				if c.Recipe.Dose != 18 {
					t.Errorf("%.80q set the dose to %v", name, c.Recipe.Dose)
				}
			}
		}
	}
}

// inQuotes writes a value as people type it who know of the quotes.
func inQuotes(value string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(value) + `"`
}

// checkName fails unless a name is one line that can be seen.
func checkName(t *testing.T, said, name string) {
	t.Helper()
	name = strings.TrimSuffix(name, "…")
	seen := strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || strings.ContainsRune("\u3164\u2800\u115f\u1160\uffa0", r) || unicode.In(r, unicode.Mn, unicode.Me) {
			return -1
		}
		return r
	}, name)
	if seen == "" || !utf8.ValidString(name) || utf8.RuneCountInString(name) > say.MaxName || strings.ContainsFunc(name, func(r rune) bool {
		return unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp)
	}) {
		t.Errorf("%.80q became the name %.80q", said, name)
	}
}

// The same goes for people, whose names the bot does not choose: they can do
// what they came for, and are shown in one short line.
func TestNamesOfPeople(t *testing.T) {
	for _, name := range nasty() {
		b := newTester(t)
		from := chat.Person{ID: "1001", Name: name}
		b.say("/coffee add name:Harbour")
		b.hear(chat.Message{From: from, Text: "18 36 24 sour"})
		b.hear(chat.Message{From: from, Text: "dialled in"})
		b.hear(chat.Message{From: from, Text: "/forget"})
		b.hear(chat.Message{From: from, Text: "/mention"})
		b.say("/today")
		b.say("/export format:jsonl")
		err := b.tools.Store.View(func(tx *store.Tx) error {
			bar, _ := tx.BarOf("harbour-lane")
			people, err := tx.People(bar)
			for _, p := range people {
				if p.Account == "1001" && p.Name != "" { // somebody
					checkName(t, name, p.Name)
				}
			}
			return err
		})
		if err != nil {
			t.Error(err)
		}
	}
}

// A member without the right to manage the channel changes no setting: by no
// command, typed, edited into a message or called, and not by taking back what
// a manager has done.
func TestMembersChangeNoSetting(t *testing.T) {
	values := map[string]string{
		"name": "Harbour", "zone": "Asia/Tokyo", "order": "dose-time-yield", "ends": "button", "clock": "drip", "opens": "05:00",
		"closes": "06:00", "days": "sun", "remind": "04:30", "levers": "grind", "dose": "17", "yield": "30", "time": "20-22", "roasted": "2026-02-01",
		"roast": "dark", "aim": "rich", "for": "milk", "basket": "15-25", "preinfusion": "4", "price": "24", "currency": "EUR", "language": "it", "rename": "Other", "finer": "higher", "step": "2",
		"min": "1", "max": "20", "worth": "3", "doser": "timer", "purge": "4", "small": "5", "wraps": "10", "format": "jsonl", "grinder": "right", "word": "gribbly", "means": "sour",
		"device": "scale", "lag": "1 s", "secret": "new", "allow": "no",
	}
	jo := chat.Person{ID: "jo", Name: "jo"}
	b := newTester(t)
	for _, line := range []string{
		"/grinder add name:left finer:lower step:0.1", "/grinder add name:right finer:lower step:0.1",
		"/coffee add name:Harbour grinder:left", "harbour 18 36 24 grind 5.2 sour", "/setup device:scale",
	} {
		b.say(line)
	}
	before := b.known()
	managed := 0
	for _, spec := range b.Specs() {
		if !spec.Manage {
			continue
		}
		managed++
		lines := []chat.Command{{Name: spec.Name}}
		for _, o := range spec.Options {
			value, ok := values[o.Name]
			if !ok {
				t.Errorf("/%s %s: this test has no value for it", spec.Name, o.Name)
			}
			line := chat.Command{Name: spec.Name, Options: []chat.Option{{Name: o.Name, Value: value}}}
			if o.Name != "name" && spec.Name != "setup" && spec.Name != "export" {
				thing := "Harbour"
				if spec.Name == "grinder edit" {
					thing = "left"
				}
				line.Options = append(line.Options, chat.Option{Name: "name", Value: thing})
			}
			lines = append(lines, line)
		}
		for _, c := range lines {
			var text strings.Builder
			text.WriteString("/" + c.Name)
			for _, o := range c.Options {
				text.WriteString(" " + o.Name + ":" + o.Value)
			}
			for _, m := range []chat.Message{
				{Text: text.String()},
				{Text: strings.ToUpper(text.String()[:3]) + text.String()[3:]},
				{Kind: chat.Called, Command: c},
				{Kind: chat.Called, Command: c, Text: text.String()},
				{Kind: chat.Edited, ID: fmt.Sprint("chatter-", b.n), Text: text.String()},
			} {
				m.From = jo
				if got := texts(b.hear(m)); got != string(say.NotManager) {
					t.Errorf("%s (%d): %q", text.String(), m.Kind, got)
				}
			}
			shot := b.hear(chat.Message{From: jo, ID: fmt.Sprint("shot-", b.n), Text: "harbour 18 36 24 grind 5.2 sour"})
			b.hear(chat.Message{From: jo, Kind: chat.Edited, ID: shot[0].Cause, Text: text.String()})
			b.hear(chat.Message{From: jo, Text: "/undo"})
			if diff := cmp.Diff(before, b.known()); diff != "" {
				t.Fatalf("%s changed\n%s", text.String(), diff)
			}
		}
	}
	if managed < 5 {
		t.Errorf("%d commands need the right to manage, want 5 at least", managed)
	}
}

// Which way a dial goes can be tapped by anybody while nobody knows. Once it is
// known it is a setting as any other.
func TestMembersTurnNoDialRound(t *testing.T) {
	b := newTester(t)
	b.say("/grinder add name:left step:0.1")
	b.say("/coffee add name:Harbour")
	asked := b.hear(chat.Message{Text: "18 36 24 grind 5.2 sour"})
	i := slices.IndexFunc(buttons(asked), func(s string) bool { return strings.HasPrefix(s, turn.PressFiner+":") })
	if i < 0 {
		t.Fatalf("nobody was asked which way the dial goes: %v", buttons(asked))
	}
	entry := strings.TrimSuffix(strings.TrimSuffix(buttons(asked)[i], ":lower"), ":higher")
	jo := chat.Person{ID: "jo", Name: "jo"}
	for _, press := range []struct {
		who     chat.Person
		manager bool
		state   string
		want    bar.Direction
	}{
		{jo, false, ":lower", bar.Lower},
		{jo, false, ":higher", bar.Lower},
		{jo, true, ":higher", bar.Higher},
	} {
		b.hear(chat.Message{Kind: chat.Pressed, From: press.who, Manager: press.manager, Press: entry + press.state})
		if got := b.known().Grinders[0].Finer; got != press.want {
			t.Errorf("%+v: the dial is finer to the %d, want %d", press, got, press.want)
		}
	}
}

// twoBars returns a bot that knows two bars. The one has more of everything, so
// that every id of the other is one of its as well, and not the other way round.
func twoBars(t *testing.T) (b *tester, states []string) {
	b = newTester(t)
	for _, line := range []string{
		"/setup name:Quayside", "/grinder add name:Secretmill finer:lower step:0.1", "/coffee add name:Secretbean", "/coffee add name:Secretroast",
		"secretbean 18 36 24 grind 5.2 sour", "18 36 40 choked", "secretroast 18 36 28", "new bag secretbean", "dialled in secretbean",
		"/layers start coffee:Secretbean tasters:2", "early 12 g sour", "18.5 36 27 unheardof",
	} {
		states = append(states, buttons(b.hear(chat.Message{
			Channel: "quayside", From: chat.Person{ID: "secretsam", Name: "secretsam"}, Manager: true, Text: line,
		}))...)
	}
	b.say("/coffee add name:Harbour")
	b.say("18 36 24 grind 5.2 sour")
	return b, states
}

// A bar sees nothing of another: not by name, by id, by a button, by what a
// service asks while people type, or by an export.
func TestBarsDoNotSeeEachOther(t *testing.T) {
	b, states := twoBars(t)
	if len(states) < 5 {
		t.Fatalf("only the buttons %v", states)
	}
	before := exported(t, b, "quayside")
	secret := func(what, said string) {
		t.Helper()
		low := strings.ToLower(said)
		if strings.Contains(low, "secret") || strings.Contains(low, "quayside") || strings.Contains(low, "unheardof") {
			t.Errorf("%s was answered %s", what, said)
		}
	}
	for _, spec := range b.Specs() {
		if spec.Name == "coffee add" || spec.Name == "grinder add" { // anybody may call a thing of their own so
			continue
		}
		for _, o := range append(spec.Options, chat.OptionSpec{}) {
			if o.Name == "rename" || spec.Name == "setup" && (o.Name == "name" || o.Name == "device") {
				continue
			}
			for _, value := range []string{"Secretbean", "1", "2", "3", "quayside", "#quayside", "csv", "jsonl"} {
				m := chat.Message{Kind: chat.Called, Manager: true, Command: chat.Command{Name: spec.Name, Options: []chat.Option{{Name: o.Name, Value: value}}}}
				outs := b.hear(m)
				// What somebody typed may be said back to them.
				secret(fmt.Sprint(spec.Name, " ", o.Name, ":", value), strings.ReplaceAll(texts(outs), value, ""))
				for _, out := range outs {
					data, err := json.Marshal(out.Data)
					if err != nil {
						t.Error(err)
					}
					secret(spec.Name, string(data))
				}
			}
			for _, typed := range []string{"", "s", "secret", "quay"} {
				got := b.Suggest(chat.Asking{Channel: "harbour-lane", Command: chat.Command{Name: spec.Name}, Option: o.Name, Typed: typed})
				secret("what may follow "+typed, strings.Join(got, " "))
			}
			b.hear(chat.Message{Text: "/undo"})
		}
	}
	for _, state := range states {
		m := chat.Message{Kind: chat.Pressed, Press: state}
		secret(state, texts(b.hear(m)))
		if f, ok := b.Form(m); ok {
			secret(state, fmt.Sprintf("%+v", f))
		}
	}
	for _, text := range []string{"secretbean 18 36 25", "that was secretbean", "new bag secretbean", "why secretbean", "dialled in secretbean"} {
		secret(text, strings.ReplaceAll(texts(b.hear(chat.Message{Text: text})), "secretbean", ""))
	}
	for _, id := range []string{"m-5", "m-6", "m-9"} { // what the other bar wrote
		b.hear(chat.Message{Kind: chat.Edited, ID: id, Text: "18 36 99"})
		b.hear(chat.Message{Kind: chat.Deleted, ID: id})
		secret("an answer to "+id, texts(b.hear(chat.Message{ReplyTo: id, Text: "bitter"})))
	}
	if after := exported(t, b, "quayside"); after != before {
		t.Errorf("the other bar was changed:\n%s", cmp.Diff(before, after))
	}
}

// exported returns all that a bar has.
func exported(t *testing.T, b *tester, channel string) string {
	t.Helper()
	var all strings.Builder
	err := b.tools.Store.View(func(tx *store.Tx) error {
		all.Reset()
		bar, _ := tx.BarOf(channel)
		return carry.Export(tx, bar, carry.JSONL, &all)
	})
	if err != nil {
		t.Fatal(err)
	}
	return all.String()
}

// Buttons come back with whatever state somebody sends: nonsense, an entry of
// another kind or of none, one that was taken out, and the same again. None of
// it changes a setting, and a press that is repeated changes nothing more.
func TestForgedPresses(t *testing.T) {
	verbs := []string{
		turn.PressDid, turn.PressStill, turn.PressDialled, turn.PressTaste, turn.PressCoffee, turn.PressOrder, turn.PressFiner, cups.PressCups, cups.PressReveal, cups.PressPair, cups.PressBetter,
		cups.PressMove, cups.PressLeave, pressForget, "", "DID", "drop", "\x00", strings.Repeat("did", 10_000),
	}
	numbers := []string{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12", "99", "-1", "18446744073709551615", "18446744073709551616", "1e3", "x", "", "0x1"}
	args := []string{"", ":", ":1", ":99", ":lower", ":sour", ":X", ":better", ":typed", ":better:99", ":better:2", ":18446744073709551615", ":../..", ":@everyone", ":" + strings.Repeat("x", 10_000)}
	b := newTester(t)
	for _, line := range []string{
		"/grinder add name:left finer:lower step:0.1", "/coffee add name:Harbour", "/coffee add name:Tide", "harbour 18 36 24 grind 5.2 sour",
		"bitter", "18 24 36 sour", "new bag harbour", "/layers start coffee:Harbour tasters:2", "early 12 g sour", "tide 18 36 30",
	} {
		b.say(line)
	}
	b.say("/undo")
	before := b.known()
	jo := chat.Person{ID: "jo", Name: "jo"}
	for _, verb := range verbs {
		for _, number := range numbers {
			for _, arg := range args {
				m := chat.Message{Kind: chat.Pressed, From: jo, Press: verb + ":" + number + arg}
				outs := b.hear(m)
				if len(outs) == 0 {
					continue
				}
				m.ID = outs[0].Cause
				if !outs[0].Private && verb != cups.PressReveal && verb != turn.PressTaste && verb != cups.PressBetter {
					continue
				}
				b.hear(m)
			}
		}
	}
	b.hear(chat.Message{Kind: chat.Pressed, From: jo, Press: ""})
	if diff := cmp.Diff(before, b.known()); diff != "" {
		t.Errorf("presses changed\n%s", diff)
	}
	if err := b.tools.Store.Check(); err != nil {
		t.Error(err)
	}
}

// The same press brought again is one press.
func TestPressBroughtAgain(t *testing.T) {
	b := newTester(t)
	b.say("/grinder add name:left finer:lower step:0.1")
	b.say("/coffee add name:Harbour")
	said := b.hear(chat.Message{Text: "18 36 28 grind 5.2"})
	for i, state := range buttons(said) {
		m := chat.Message{Kind: chat.Pressed, ID: fmt.Sprint("press-", i), Press: state}
		if len(b.hear(m)) == 0 && i == 0 {
			t.Errorf("%s was not answered", state)
		}
		before := exported(t, b, "harbour-lane")
		if again := b.hear(m); len(again) > 0 {
			t.Errorf("%s was answered again: %s", state, texts(again))
		}
		if after := exported(t, b, "harbour-lane"); after != before {
			t.Errorf("%s again changed\n%s", state, cmp.Diff(before, after))
		}
	}
}

// Nobody is written into the book again by pressing to be forgotten, and the
// file is not written anew for somebody it does not know.
func TestForgottenOnce(t *testing.T) {
	b := newTester(t)
	jo := chat.Person{ID: "jo", Name: "Josephine"}
	b.hear(chat.Message{From: jo, Text: "18 36 24 sour"})
	for range 2 {
		if got := texts(b.hear(chat.Message{From: jo, Kind: chat.Pressed, Press: pressForget})); got != string(setup.Forgotten) {
			t.Errorf("answered %q", got)
		}
		err := b.tools.Store.View(func(tx *store.Tx) error {
			bar, _ := tx.BarOf("harbour-lane")
			people, err := tx.People(bar)
			if len(people) != 1 || people[0].Account == "jo" {
				t.Errorf("the bar knows %+v", people)
			}
			return err
		})
		if err != nil {
			t.Error(err)
		}
	}
}

// What somebody else's file has under a name cannot be reached through the
// name of an export.
func TestExportIsNamedSafely(t *testing.T) {
	for _, name := range nasty() {
		b := newTester(t)
		b.hear(chat.Message{Manager: true, Title: name, Text: "18 36 24 sour"})
		b.hear(chat.Message{Manager: true, Kind: chat.Called, Command: chat.Command{Name: "setup", Options: []chat.Option{{Name: "name", Value: name}}}})
		for _, out := range b.hear(chat.Message{Manager: true, Text: "/export"}) {
			for _, f := range out.Files {
				if f.Name != filepath.Base(f.Name) || len(f.Name) > 200 || strings.ContainsFunc(f.Name, func(r rune) bool {
					return unicode.IsControl(r) || strings.ContainsRune(`"'\/<>|;$`+"`", r)
				}) {
					t.Errorf("%.80q: the file is called %.80q", name, f.Name)
				}
			}
		}
	}
}
