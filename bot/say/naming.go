package say

import (
	"strings"
	"unicode"
)

// NewName checks the name of a new thing.
func (l Lang) NewName(name string, taken []string) (string, error) {
	name = strings.Join(strings.Fields(strings.Map(visible, name)), " ")
	switch {
	case name == "":
		return "", Error(l.Say(NoName))
	case len([]rune(name)) > MaxName:
		return "", Error(l.Say(LongName))
	case !strings.ContainsFunc(name, func(r rune) bool { return r > '9' }):
		return "", Error(l.Say(NumberName))
	}
	for _, t := range taken {
		if strings.EqualFold(t, name) {
			return "", Error(l.TakenName(t))
		}
	}
	return name, nil
}

// visible drops characters that are not seen, so that no two names look alike.
func visible(r rune) rune {
	if unicode.In(r, unicode.Cf) || unicode.IsControl(r) && !unicode.IsSpace(r) || strings.ContainsRune(blanks, r) {
		return -1
	}
	return r
}

// blanks are letters by their class and nothing to the eye.
const blanks = "\u115F\u1160\u17B4\u17B5\u2800\u3164\uFFA0"

// ShownName is the name of a person or a channel as it is shown: one short line
// that is what it looks like. They are chosen elsewhere, and not all are kind.
func ShownName(name string) string {
	return Clip(strings.Join(strings.Fields(strings.Map(visible, strings.ToValidUTF8(name, "\uFFFD"))), " "))
}
