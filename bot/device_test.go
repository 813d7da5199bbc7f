package bot

import (
	"regexp"
	"strings"
	"testing"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/store"
)

// post lets a webhook post in a channel.
func (b *tester) post(channel, hook, name, text string) string {
	b.t.Helper()
	return texts(b.hear(chat.Message{Channel: channel, Device: true, From: chat.Person{ID: hook, Name: name}, Text: text}))
}

// command lets mara call a command whose answer is hers alone, and returns the
// secret in it, if there is one.
func (b *tester) command(line string) string {
	b.t.Helper()
	said := texts(b.hear(chat.Message{Manager: true, Alone: true, Text: line}))
	return regexp.MustCompile(`\d+\.\d+\.[0-9a-f]{64}`).FindString(said)
}

// A device that was allowed by its name is held to the webhook that first posts
// so; another of that name, a person of that name and what it posts elsewhere
// stay unread.
func TestDeviceIsPinned(t *testing.T) {
	b := newTester(t)
	b.say("/coffee add name:Harbour")
	b.hear(chat.Message{Channel: "quay", Manager: true, Text: "/coffee add name:Tide"})
	if got := b.post("harbour-lane", "17", "scale", "18 36 27"); got != "" {
		t.Errorf("not allowed yet: %q", got)
	}
	b.command("/setup device:scale")
	for _, c := range []struct {
		channel, hook, name string
		read                bool
	}{
		{"harbour-lane", "17", "Scale", true},
		{"harbour-lane", "18", "scale", false},
		{"harbour-lane", "17", "renamed", true},
		{"quay", "17", "scale", false},
		{"nowhere", "17", "scale", false},
		{"harbour-lane", "19", "feed", false},
	} {
		if got := b.post(c.channel, c.hook, c.name, "18 36 27"); (got != "") != c.read {
			t.Errorf("%+v: %q", c, got)
		}
	}
	for _, text := range []string{"/undo", "/setup zone:UTC", "hello", "new bag", "was 5.1", "sour", "mine"} {
		if got := b.post("harbour-lane", "17", "scale", text); got != "" {
			t.Errorf("%q of a device was answered %q", text, got)
		}
	}
	shot := b.hear(chat.Message{From: chat.Person{ID: "scale", Name: "scale"}, Text: "18 36 29 sour"})
	if len(shot) != 1 || strings.Contains(shot[0].Text, "nobody's") {
		t.Errorf("a person called scale: %q", texts(shot))
	}
}

// A secret is shown where nobody else reads it, opens its own bar alone, and
// once it was taken back nothing brings it again.
func TestDeviceSecrets(t *testing.T) {
	b := newTester(t)
	b.say("/coffee add name:Harbour")
	if got := b.say("/setup device:timer"); strings.Contains(got, "shown this once") || !strings.Contains(got, "shown to you alone") {
		t.Errorf("where all read it: %q", got)
	}
	if got := b.say("/setup device:timer secret:new"); !strings.Contains(got, "shown to you alone") {
		t.Errorf("where all read it: %q", got)
	}
	admitted := func(secret string, want bool, when string) {
		t.Helper()
		from, ok := b.Admit(secret)
		if ok != want || ok && from.channel != "harbour-lane" {
			t.Errorf("%s: %+v, %v", when, from, ok)
		}
	}
	first := b.command("/setup device:timer secret:new")
	admitted(first, true, "new")
	second := b.command("/setup device:timer secret:new")
	admitted(first, false, "after another")
	admitted(second, true, "the other")
	b.command("/setup device:timer lag:1s")
	admitted(second, true, "after a change")
	b.command("/undo")
	admitted(second, true, "after its undo")
	b.command("/setup device:timer secret:none")
	admitted(second, false, "taken back")
	b.command("/undo")
	admitted(second, false, "after the undo of that")
	third := b.command("/setup device:timer secret:new")
	b.command("/setup device:timer allow:no")
	admitted(third, false, "not allowed")
	b.command("/undo")
	admitted(third, false, "allowed again by an undo")
	fourth := b.command("/setup device:scale")
	admitted(fourth, true, "of another device")
	admitted(strings.Replace(fourth, ".2.", ".1.", 1), false, "for the other device")
	b.command("/undo")
	admitted(fourth, false, "of a device that was taken out")
	kept := exported(t, b, "harbour-lane")
	if regexp.MustCompile(`[0-9a-f]{64}`).MatchString(strings.Join(regexp.MustCompile(`"(raw|device|to_device)":[^,]*`).FindAllString(kept, -1), "")) {
		t.Error("an entry holds a secret")
	}
	if strings.Contains(kept, first) || strings.Contains(kept, fourth) {
		t.Error("a secret is kept as it was shown")
	}
}

// A person's words go with the shot that they mean: the tap makes it theirs, and
// whoever tastes after that is the second.
func TestDeviceShotIsTastedByWhoTasted(t *testing.T) {
	b := newTester(t)
	b.say("/coffee add name:Harbour")
	b.command("/setup device:scale")
	outs := b.hear(chat.Message{Device: true, From: chat.Person{ID: "17", Name: "scale"}, Text: "18 36 27"})
	taps := buttons(outs)
	if len(taps) != 4 {
		t.Fatalf("%d taps", len(taps))
	}
	for i, who := range []string{"jo", "sam"} {
		b.hear(chat.Message{Kind: chat.Pressed, From: chat.Person{ID: who, Name: who}, Press: taps[i]})
	}
	err := b.tools.Store.View(func(tx *store.Tx) error {
		people, err := tx.People(1)
		if err != nil {
			return err
		}
		var said []string
		err = tx.EachEntry(1, func(e bar.Entry) error {
			switch w := e.What.(type) {
			case bar.Shot:
				said = append(said, "shot "+say.Lang{}.NameOf(people, e.Person))
			case bar.Words:
				said = append(said, say.Lang{}.NameOf(people, e.Person)+" "+w.Words[0].Term)
			case bar.Told, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
			}
			return nil
		})
		if got := strings.Join(said, ", "); got != "shot jo, jo sour, sam bitter" {
			t.Error(got)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}
