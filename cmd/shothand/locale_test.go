package main

import (
	"path/filepath"
	"strings"
	"testing"

	"shothand/bot/discord/fake"
)

// A bar is answered in its server's language, unless it chose another, and a person
// alone in their own. Commands are described in each language that Discord knows of
// ours, under their English names.
func TestLocalesOnDiscord(t *testing.T) {
	t.Parallel()
	f := newFake(t)
	f.AddUser("Harbour Lane", "kim", false)
	f.Prefer("Harbour Lane", "it")
	f.Speak("jo", "it")
	f.Speak("kim", "pt-BR")
	r := start(t, f, filepath.Join(t.TempDir(), "bar.db"))
	defer r.stop()
	await(t, f, "the commands", func(s *fake.State) bool { return len(s.Commands("Harbour Lane")) > 0 })
	checkDescribed(t, f.Commands("Harbour Lane"))

	sayOrCall(t, f, "mara", "/setup zone:Europe/Rome")
	id := f.Say("dial-in", "jo", "18 36 24 acido", "")
	await(t, f, "the answer", hasAnswer(id))
	for who, want := range map[string]string{"jo": "Scrivi: dose, resa", "kim": "Escreve: dose, rendimento", "mara": "Type a shot: dose, yield"} {
		id, err := f.Slash("dial-in", who, "help", nil)
		if err != nil {
			t.Fatal(err)
		}
		await(t, f, "help", func(s *fake.State) bool { return len(byInteraction(s.Posts("dial-in"), id)) > 0 })
		if got := byInteraction(f.Posts("dial-in"), id)[0].Content; !strings.HasPrefix(got, want) {
			t.Errorf("%s reads %q, want %q", who, got, want)
		}
	}
	for _, m := range f.Posts("dial-in") {
		if m.Interaction == "" && m.Author.Bot && !strings.Contains(m.Content, "Attesi circa") {
			t.Errorf("the bar reads %q", m.Content)
		}
	}
}

// checkDescribed finds a description that is not said in every locale, and a name
// that is.
func checkDescribed(t *testing.T, list []map[string]any) {
	t.Helper()
	for _, o := range list {
		if _, named := o["name_localizations"]; named && o["value"] == nil {
			t.Errorf("%v has another name elsewhere", o["name"])
		}
		said := "description_localizations"
		if o["value"] != nil {
			said = "name_localizations"
		}
		if grouped := strings.HasPrefix(text(o["description"]), text(o["name"])+": "); !grouped {
			in, _ := o[said].(map[string]any)
			for _, locale := range []string{"it", "es-ES", "es-419", "de", "fr", "pt-BR"} {
				if in[locale] == nil {
					t.Errorf("%v lacks %s in %s", o["name"], said, locale)
				}
			}
		}
		for _, inner := range []string{"options", "choices"} {
			checkDescribed(t, objectsIn(o[inner]))
		}
	}
}

func text(v any) string { s, _ := v.(string); return s }

func objectsIn(v any) (list []map[string]any) {
	all, _ := v.([]any)
	for _, one := range all {
		list = append(list, one.(map[string]any))
	}
	return list
}
