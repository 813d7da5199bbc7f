package fake_test

import (
	"fmt"
	"strings"
	"testing"

	"shothand/bot/discord/fake"
)

// A probe is a request that Discord refuses; described says that only the
// description knows.
type probe struct {
	name, body string
	described  bool
}

func refused(t *testing.T, s *fake.Server, method, path string, probes []probe) {
	t.Helper()
	for _, p := range probes {
		if d, _ := description(); p.described && d == nil {
			t.Logf("%s: not tried, DISCORD_OPENAPI does not name Discord's description", p.name)
			continue
		}
		before := len(s.Violations())
		a := send(t, s, method, path, p.body)
		if a.Status != 400 || len(s.Violations()) == before {
			t.Errorf("%s: %d %s, violations %q", p.name, a.Status, a.Text, s.Violations()[before:])
		}
	}
}

func TestMessagesRefused(t *testing.T) {
	s := start(t, fake.Options{})
	button := `{"type":2,"style":1,"label":"x","custom_id":"%s"}`
	row := func(ids ...string) string {
		var all []string
		for _, id := range ids {
			all = append(all, fmt.Sprintf(button, id))
		}
		return `{"type":1,"components":[` + strings.Join(all, ",") + `]}`
	}
	embed := `{"description":"` + strings.Repeat("a", 3100) + `"}`
	x := func(n int) string { return strings.Repeat("x", n) }
	refused(t, s, "POST", messagesPath(s, "dial-in"), []probe{
		{"nothing to send", `{}`, false},
		{"2001 characters", `{"content":"` + x(2001) + `"}`, false},
		{"4001 characters", `{"content":"` + x(4001) + `"}`, true},
		{"embeds of 6200 together", `{"embeds":[` + embed + `,` + embed + `]}`, false},
		{"a custom_id twice", `{"content":"x","components":[` + row("a") + `,` + row("a") + `]}`, false},
		{"a custom_id of 101", `{"content":"x","components":[` + row(x(101)) + `]}`, false},
		{"6 buttons", `{"content":"x","components":[` + row("a", "b", "c", "d", "e", "f") + `]}`, false},
		{"6 rows", `{"content":"x","components":[` + strings.Join([]string{row("a"), row("b"), row("c"), row("d"), row("e"), row("f")}, ",") + `]}`, false},
		{"content beside components v2", `{"content":"x","flags":32768,"components":[{"type":10,"content":"y"}]}`, false},
		{"a number as content", `{"content":1}`, true},
		{"a title of 257", `{"embeds":[{"title":"` + x(257) + `"}]}`, true},
		{"a field name of 257", `{"embeds":[{"fields":[{"name":"` + x(257) + `","value":"y"}]}]}`, true},
		{"11 embeds", `{"embeds":[` + strings.TrimSuffix(strings.Repeat(`{"title":"x"},`, 11), ",") + `]}`, true},
		{"a nonce of 26", `{"content":"x","nonce":"` + x(26) + `"}`, true},
	})
	if n := len(s.Posts("dial-in")); n != 0 {
		t.Errorf("%d of them were posted", n)
	}
}

func TestCommandsRefused(t *testing.T) {
	s := start(t, fake.Options{})
	option := func(more string) string {
		return `[{"name":"a","description":"b","options":[{"type":3,"name":"c","description":"d"` + more + `}]}]`
	}
	x := func(n int) string { return strings.Repeat("x", n) }
	long := `{"type":3,"name":"c%d","description":"` + x(100) + `","choices":[` + strings.TrimSuffix(strings.Repeat(`{"name":"`+x(100)+`","value":"`+x(100)+`"},`, 25), ",") + `]}`
	refused(t, s, "PUT", "/applications/"+s.Bot().ID+"/commands", []probe{
		{"upper case", `[{"name":"Shot","description":"x"}]`, false},
		{"a space", `[{"name":"a shot","description":"x"}]`, false},
		{"a name twice", `[{"name":"a","description":"x"},{"name":"a","description":"y"}]`, false},
		{"no description", `[{"name":"a"}]`, false},
		{"an option in upper case", strings.Replace(option(""), `"c"`, `"C"`, 1), false},
		{"a required option last", option(`},{"type":3,"name":"e","description":"f","required":true`), false},
		{"an option twice", option(`},{"type":3,"name":"c","description":"f"`), false},
		{"choices and autocomplete", option(`,"autocomplete":true,"choices":[{"name":"x","value":"y"}]`), false},
		{"a subcommand beside an option", option(`},{"type":1,"name":"e","description":"f"`), false},
		{"8000 characters", `[{"name":"a","description":"b","options":[` + fmt.Sprintf(long, 1) + `,` + fmt.Sprintf(long, 2) + `]}]`, false},
		{"an unknown option type", strings.Replace(option(""), `"type":3`, `"type":33`, 1), true},
		{"a description of 101", `[{"name":"a","description":"` + x(101) + `"}]`, false},
		{"26 choices", option(`,"choices":[` + strings.TrimSuffix(strings.Repeat(`{"name":"x","value":"y"},`, 26), ",") + `]`), false},
	})
	if a := send(t, s, "PUT", "/applications/"+s.Bot().ID+"/commands", `[{"name":"kaffee-größe","description":"x","default_member_permissions":"16"}]`); a.Status != 200 {
		t.Errorf("a good one: %+v", a)
	}
}

func TestAnswersRefused(t *testing.T) {
	s := start(t, fake.Options{})
	register(t, s)
	w := ready(t, s, allIntents)
	_, i := use(t, s, w, "jo", "today", nil)
	field := `{"type":1,"components":[{"type":4,"custom_id":"f%d","label":"x","style":1}]}`
	var six []string
	for n := range 6 {
		six = append(six, fmt.Sprintf(field, n))
	}
	form := func(title string, fields ...string) string {
		return `{"type":9,"data":{"custom_id":"x","title":"` + title + `","components":[` + strings.Join(fields, ",") + `]}}`
	}
	refused(t, s, "POST", "/interactions/"+i.ID+"/"+i.Token+"/callback", []probe{
		{"a form of 6", form("x", six...), false},
		{"a title of 46", form(strings.Repeat("x", 46), six[0]), false},
		{"an unknown type", `{"type":77}`, false},
		{"an update of no message", `{"type":7,"data":{"content":"x"}}`, false},
		{"choices for a command", `{"type":8,"data":{"choices":[]}}`, false},
		{"a deferral with embeds off", `{"type":5,"data":{"flags":4}}`, false},
		{"2001 characters", `{"type":4,"data":{"content":"` + strings.Repeat("x", 2001) + `"}}`, false},
		{"nothing", `{"type":4,"data":{}}`, false},
	})
}

func TestThreadsRefused(t *testing.T) {
	s := start(t, fake.Options{})
	path := messagesPath(s, "dial-in") + "/" + s.Say("dial-in", "mara", "x", "") + "/threads"
	for _, body := range []string{`{"name":"` + strings.Repeat("x", 101) + `"}`, `{"name":"x","auto_archive_duration":1000}`, `{"name":""}`} {
		if a := send(t, s, "POST", path, body); a.Status != 400 {
			t.Errorf("%s: %+v", body, a)
		}
	}
	if a := send(t, s, "GET", "/channels/nothing/messages", ""); a.Status < 400 {
		t.Errorf("an id that is none: %+v", a)
	}
}

func TestMisspeltFieldsAreSeen(t *testing.T) {
	needDescription(t)
	s := start(t, fake.Options{})
	post(t, s, "dial-in", `{"content":"x","allowed_mention":{"parse":[]},"embeds":[{"titel":"x","title":"y"}],
		"components":[{"type":1,"components":[{"type":2,"style":1,"label":"x","custom_id":"a","dissabled":true}]}]}`)
	for _, want := range []string{"allowed_mention", "embeds[0].titel", "components[0].components[0].dissabled"} {
		if !strings.Contains(strings.Join(s.Violations(), "\n"), "unknown field "+want) {
			t.Errorf("%s was not seen: %q", want, s.Violations())
		}
	}
}

func TestMentionsMustBeOff(t *testing.T) {
	s := start(t, fake.Options{MentionsMustBeOff: true})
	register(t, s)
	w := ready(t, s, allIntents)
	off := `,"allowed_mentions":{"parse":[]}`
	for body, wrong := range map[string]bool{
		`{"content":"x"` + off + `}`:                                               false,
		`{"content":"x"}`:                                                          true,
		`{"content":"x","allowed_mentions":{"parse":null}}`:                        true,
		`{"content":"x","allowed_mentions":{"parse":[],"replied_user":true}}`:      true,
		`{"content":"x","allowed_mentions":{"parse":["users"]}}`:                   true,
		`{"embeds":[{"title":"x"}],"allowed_mentions":{"parse":[],"users":["1"]}}`: true,
	} {
		before := len(s.Violations())
		send(t, s, "POST", messagesPath(s, "dial-in"), body)
		if got := len(s.Violations()) > before; got != wrong {
			t.Errorf("%s: violations %q", body, s.Violations()[before:])
		}
	}
	before := len(s.Violations())
	_, i := use(t, s, w, "jo", "today", nil)
	reply(t, s, i, `{"type":4,"data":{"content":"x"}}`)
	send(t, s, "PATCH", "/webhooks/"+s.Bot().ID+"/"+i.Token+"/messages/@original", `{"content":"y"}`)
	if n := len(s.Violations()) - before; n != 2 {
		t.Errorf("%d violations by an answer and its edit, want 2: %q", n, s.Violations()[before:])
	}
	if strings.Contains(strings.Join(s.Violations(), ""), i.Token) {
		t.Error("a violation shows a token")
	}
}
