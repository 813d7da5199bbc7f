package say

import (
	"strings"
	"unicode"

	"shothand/advisor/bar"
)

// Names the bot gives by itself.
const (
	HouseName    English = "house"
	HouseGrinder English = "grinder"
	someone      English = "somebody"
)

// MaxName is how long a name may be, in characters: it has to fit on a button.
const MaxName = 40

// NameOf returns a person's name.
func (l Lang) NameOf(people []bar.Person, id bar.PersonID) string {
	for _, p := range people {
		if p.ID == id && p.Name != "" {
			return p.Name
		}
	}
	return l.Say(someone) // forgotten
}

// Names are the names of coffees.
func Names(coffees []bar.Coffee) []string {
	return Each(coffees, func(c bar.Coffee) string { return c.Name })
}

// GrinderNames are the names of grinders.
func GrinderNames(grinders []bar.Grinder) []string {
	return Each(grinders, func(g bar.Grinder) string { return g.Name })
}

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

// Why a name is none.
const (
	NoName     English = "What is its name? Say it with name:… after the command. Nothing was changed."
	LongName   English = "That name is too long: 40 characters are enough."
	NumberName English = "A name needs a letter, so that it is not taken for a number."
)

// TakenName refuses a name that something has already.
func (l Lang) TakenName(name string) string {
	return l.Say("There is a %s already; nothing was changed. Take another name, or change that one with edit in the place of add.", name)
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

// Clip shortens what somebody typed.
func Clip(s string) string {
	if r := []rune(s); len(r) > MaxName {
		return string(r[:MaxName]) + "…"
	}
	return s
}
