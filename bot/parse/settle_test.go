package parse

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// settled reads a typed command in both stages.
func settled(text string) (any, error) {
	c, err := Command(text)
	if err == nil {
		c, err = Settle(c)
	}
	return c, err
}

// Of no command is anything passed over: each option once, none that it has
// not, no value that is empty, and words only where it has a use for them.
func TestNothingOfACommandIsPassedOver(t *testing.T) {
	for _, s := range specs() {
		if s.name == shotCommand {
			continue
		}
		refused(t, "/"+s.name+" look:light rubbish:x", UnknownOption, "rubbish", s.takes("look"))
		for _, o := range s.options {
			refused(t, "/"+s.name+" "+o+`:""`, MissingOption, o, true)
			refused(t, "/"+s.name+" "+o+":yes "+o+":no", GivenTwice, o, true)
		}
		if s.free == "" {
			refused(t, "/"+s.name+" 2 all", Surplus, "2 all", true)
			continue
		}
		if s.takes(s.free) {
			refused(t, "/"+s.name+" "+s.free+":yes no", Twice, s.free+`:"yes no"`, true)
		}
		want := command(s.name, s.free, "no more")
		if got, err := settled("/" + s.name + " no more"); err != nil || !cmp.Equal(any(want), got) {
			t.Errorf("/%s with words: %+v %v", s.name, got, err)
		}
	}
}

// refused wants a command refused for one thing.
func refused(t *testing.T, text string, kind MistakeKind, what string, applies bool) {
	t.Helper()
	if !applies {
		return
	}
	_, err := settled(text)
	if m, ok := errors.AsType[Mistake](err); !ok || m.Kind != kind || m.What != what {
		t.Errorf("%s: %#v, want one of kind %d about %q", text, err, kind, what)
	}
}

func TestChoices(t *testing.T) {
	for text, want := range map[string]any{
		"/review more:No pictures:true look:DARK": command("review", "more", "no", "pictures", "yes", "look", "dark"),
		"/review Harbour last week more:yes":      command("review", FreeWords, "Harbour last week", "more", "yes"),
		"/shot 18 36 28 look:black":               command("shot", "", "18 36 28 look:black"),
	} {
		if got, err := settled(text); err != nil || !cmp.Equal(want, got) {
			t.Errorf("%s: %+v %v", text, got, err)
		}
	}
	refused(t, "/coffee show Harbour look:black", BadOption, "look:black", true)
	refused(t, "/review more:perhaps", BadOption, "more:perhaps", true)
	refused(t, "/layers start blind:half", BadOption, "blind:half", true)
}
