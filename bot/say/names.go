package say

import (
	"shothand/advisor/bar"
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

// NotPulled says that a coffee has no shot today.
func (l Lang) NotPulled(c bar.Coffee) string { return l.Say("%s has not been pulled today.", c.Name) }

// WhichCoffee asks for the coffee's name.
func (l Lang) WhichCoffee(coffees []bar.Coffee) string {
	if len(coffees) == 0 {
		return l.Say("There is no coffee yet. Post a shot, or add one: /coffee add name:Harbour dose:18 yield:36 time:25-31")
	}
	return l.Say("Which coffee? There is %s.", l.List(Names(coffees)))
}

// WhichGrinder asks for the grinder's name.
func (l Lang) WhichGrinder(grinders []bar.Grinder) string {
	if len(grinders) == 0 {
		return l.Say("There is no grinder yet. Add one: /grinder add name:left finer:lower step:0.1")
	}
	return l.Say("Which grinder? There is %s.", l.List(GrinderNames(grinders)))
}

// NoCoffee says that no coffee, or more than one, is called so.
func (l Lang) NoCoffee(said string, all []string) string {
	if len(all) == 0 {
		return l.Say("There is no coffee yet.")
	}
	return l.Say("No one coffee is called “%s”. There is %s.", Clip(said), l.List(all)) + l.Meant(said, all)
}

// RetiredCoffee says that a coffee is not on the bar any more.
func (l Lang) RetiredCoffee(c bar.Coffee) string {
	return l.Say("%s is retired. To have it back, with its history: /coffee add name:%s", c.Name, Quoted(c.Name))
}

// NoGrinder says that no grinder, or more than one, is called so.
func (l Lang) NoGrinder(said string, all []string) string {
	if len(all) == 0 {
		return l.Say("There is no grinder yet.")
	}
	return l.Say("No one grinder is called “%s”. There is %s.", Clip(said), l.List(all)) + l.Meant(said, all)
}

// Clip shortens what somebody typed.
func Clip(s string) string {
	if r := []rune(s); len(r) > MaxName {
		return string(r[:MaxName]) + "…"
	}
	return s
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
