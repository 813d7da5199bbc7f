package say

import (
	"shothand/advisor/bar"
)

// NoCoffee says that no coffee, or more than one, is called so.
func (l Lang) NoCoffee(said string, all []string) string {
	if len(all) == 0 {
		return l.Say("There is no coffee yet.")
	}
	return l.Say("No one coffee is called “%s”. There is %s.", Clip(said), l.List(all)) + l.Meant(said, all)
}

// NoGrinder says that no grinder, or more than one, is called so.
func (l Lang) NoGrinder(said string, all []string) string {
	if len(all) == 0 {
		return l.Say("There is no grinder yet.")
	}
	return l.Say("No one grinder is called “%s”. There is %s.", Clip(said), l.List(all)) + l.Meant(said, all)
}

// RetiredCoffee says that a coffee is not on the bar any more.
func (l Lang) RetiredCoffee(c bar.Coffee) string {
	return l.Say("%s is retired. To have it back, with its history: /coffee add name:%s", c.Name, Quoted(c.Name))
}

// NotPulled says that a coffee has no shot today.
func (l Lang) NotPulled(c bar.Coffee) string { return l.Say("%s has not been pulled today.", c.Name) }

// NoneOf says that somebody has pulled nothing of a coffee today that could be put right.
func (l Lang) NoneOf(c bar.Coffee) string {
	return l.Say("There is no shot of %s of yours today to put right. Nothing was changed.", c.Name)
}

// NoneSuch says that who writes has pulled no shot such as the one they name.
const NoneSuch English = "There is no such shot of yours today. Nothing was changed."

// NoneBy says that somebody else has pulled no such shot today.
func (l Lang) NoneBy(name string) string {
	return l.Say("There is no such shot of %s’s today. Nothing was changed.", name)
}

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
