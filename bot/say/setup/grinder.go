package setup

import (
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/say"
)

// Grinder tells of a grinder.
func (l Lang) Grinder(how string, g bar.Grinder) string {
	text := g.Name + l.Colon()
	switch {
	case !(g.Step > 0):
		text += l.Say("no numbers, counted in steps")
	case g.Finer == bar.Higher:
		text += l.Say(say.HigherLabel) + ", " + l.stepText(g)
	case g.Finer == bar.Lower:
		text += l.Say(say.LowerLabel) + ", " + l.stepText(g)
	default:
		text += l.stepText(g) + ", " + l.Say("which way is finer is not known")
	}
	if g.Wraps > 0 {
		text += ", " + l.Say("%s marks to a turn", l.Number(g.Wraps))
	}
	if g.Max > g.Min {
		text += ", " + l.Say("from %s to %s", l.Written(g, g.Min), l.Written(g, g.Max))
	}
	if g.Worth > 0 {
		text += ", " + l.Say("a step is worth about %s s", l.Number(float64(g.Worth)))
	}
	switch g.Doser {
	case bar.ByWeight:
		text += ", " + l.Say("doses by weight")
	case bar.Timed:
		text += ", " + l.Say("doses by a timer")
	case bar.ByHand:
		text += ", " + l.Say("dosed by hand")
	case bar.UnknownDoser:
	}
	if g.Purge > 0 {
		text += ", " + l.Say("purged with %s g", l.Grams(g.Purge))
	}
	if how != "" {
		text = how + ". " + text
	}
	return text + "."
}

// stepText tells how far apart the positions of a dial are.
func (l Lang) stepText(g bar.Grinder) string {
	switch {
	case g.Letters:
		return l.Say("small steps A to %s", string(rune('A'+g.Small-1)))
	case g.Small > 0:
		return l.Say("%d small steps to a big one", g.Small)
	}
	return l.Say("in steps of %s", l.Number(g.Step))
}

// GrinderList lists the grinders, and where their dials stand as far as that is known.
func (l Lang) GrinderList(grinders []bar.Grinder, stands func(bar.Grinder) (bar.Dial, bool)) string {
	if len(grinders) == 0 {
		return l.WhichGrinder(nil)
	}
	return strings.Join(say.Each(grinders, func(g bar.Grinder) string {
		at, known := stands(g)
		if !known || !(g.Step > 0) {
			return l.Grinder("", g)
		}
		return l.Grinder("", g) + " " + l.Say("It stands at %s.", l.Written(g, at))
	}), "\n")
}
