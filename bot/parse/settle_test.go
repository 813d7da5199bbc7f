package parse

import (
	"errors"
	"testing"

	"shothand/bot/command"

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
	for _, s := range command.All() {
		if s.Name == shotCommand {
			continue
		}
		refused(t, "/"+s.Name+" look:light rubbish:x", UnknownOption, "rubbish", s.Takes("look"))
		for _, o := range s.Names() {
			refused(t, "/"+s.Name+" "+o+`:""`, MissingOption, o, true)
			refused(t, "/"+s.Name+" "+o+":yes "+o+":no", GivenTwice, o, true)
		}
		if s.Free == "" {
			refused(t, "/"+s.Name+" 2 all", Surplus, "2 all", true)
			continue
		}
		if s.Takes(s.Free) {
			refused(t, "/"+s.Name+" "+s.Free+":yes no", Twice, s.Free+`:"yes no"`, true)
		}
		want := called(s.Name, s.Free, "no more")
		if got, err := settled("/" + s.Name + " no more"); err != nil || !cmp.Equal(any(want), got) {
			t.Errorf("/%s with words: %+v %v", s.Name, got, err)
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
		"/review more:No pictures:true look:DARK": called("review", "more", "no", "pictures", "yes", "look", "dark"),
		"/review Harbour last week more:yes":      called("review", command.FreeWords, "Harbour last week", "more", "yes"),
		"/shot 18 36 28 look:black":               called("shot", "", "18 36 28 look:black"),
	} {
		if got, err := settled(text); err != nil || !cmp.Equal(want, got) {
			t.Errorf("%s: %+v %v", text, got, err)
		}
	}
	refused(t, "/coffee show Harbour look:black", BadOption, "look:black", true)
	refused(t, "/review more:perhaps", BadOption, "more:perhaps", true)
	refused(t, "/layers start blind:half", BadOption, "blind:half", true)
}
