package say

import (
	"strings"

	"shothand/advisor/bar"
)

// Labels of buttons: that a dial was the last shot's, and that it was not moved.
const (
	OfShotLabel English = "the last shot was"
	NoLabel     English = "no"
)

// Set says where a dial was put.
func (l Lang) Set(g bar.Grinder, w bar.Told, from bar.Dial, known, left bool) string {
	where := ""
	switch {
	case left && !known:
		return l.Say("%s stays as it was.", g.Name)
	case left:
		where = l.Say("%s stays %s.", g.Name, l.dial(g, w.Dial.X))
	case w.Dial.From == bar.None:
		where = l.Say("%s: %s than at the last shot.", g.Name, l.turned(w.Turned))
	case !(g.Step > 0):
		where = g.Name + l.Colon() + l.dial(g, w.Dial.X) + "."
	case !known:
		where = g.Name + " " + l.dial(g, w.Dial.X) + "."
	default:
		where = g.Name + l.Colon() + l.Written(g, from) + " → " + l.Written(g, w.Dial.X) + "."
	}
	return where + " " + l.Say("The next shot has it.")
}

// Stands says where a dial stands, as far as that is known, and who put it there.
func (l Lang) Stands(g bar.Grinder, at bar.Dial, known bool, moved bar.Told, put Happening, today bool) string {
	switch {
	case !known && moved.Turned != 0:
		return l.Say("%s: %s than at the last shot.", g.Name, l.turned(moved.Turned))
	case !known:
		return l.Say("It is not known where %s stands.", g.Name)
	case moved.Event == 0:
		return l.Say("%s is %s, as at the last shot.", g.Name, l.dial(g, at))
	case !today:
		return l.Say("%s is %s (put there by %s).", g.Name, l.dial(g, at), put.Who)
	}
	return l.Say("%s is %s (put there %s by %s).", g.Name, l.dial(g, at), l.Clock(put.At), put.Who)
}

// turned says how far a dial was turned.
func (l Lang) turned(by float64) string {
	if by < 0 {
		return l.Say("%s coarser", l.steps(-by))
	}
	return l.Say("%s finer", l.steps(by))
}

// farMove asks whether a dial was moved so far.
func (l Lang) farMove(typed string) string { return l.Say("“%s”, so far in one go?", Clip(typed)) }

// SetInstead says of a setting in place of which one it stands.
func (l Lang) SetInstead(g bar.Grinder, old bar.Told, text string) string {
	if old.Dial.From == bar.None {
		return text
	}
	return l.Say("Not %s.", l.Written(g, old.Dial.X)) + " " + text
}

// PutAt says in a record of the day where a dial was put.
func (l Lang) PutAt(g bar.Grinder, at bar.Dial) string {
	return l.Say("%s put at %s", g.Name, l.Written(g, at))
}

// FarBeside says that a position beside words about a cup was not noted.
func (l Lang) FarBeside(g bar.Grinder, to bar.Dial) string {
	return l.Say("“%s” is far from where %s stood, so that was not noted. If it is there, say it alone: now at %[1]s", l.Written(g, to), g.Name)
}

// Stood says where a coffee last stood on its grinder, or nothing.
func (l Lang) Stood(c bar.Coffee, g bar.Grinder, s bar.Shot) string {
	if s.Grinder != g.ID || s.Grind.From == bar.None || !(g.Step > 0) {
		return ""
	}
	return " " + l.Say("%s last stood %s.", c.Name, l.dial(g, s.Grind.X))
}

// StoodIn says where the dial stood in the last shots.
func (l Lang) StoodIn(g bar.Grinder, at bar.Dial, shots int) string {
	if !(g.Step > 0) {
		return l.Say("Noted for %s.", l.Count(shots, "shot"))
	}
	if shots == 1 {
		return l.Say("Noted: that shot was at %s.", l.Written(g, at))
	}
	return l.Say("Noted: the last %d shots were at %s.", shots, l.Written(g, at))
}

// OneCup says that words of two cups at once are to be said of each.
func (l Lang) OneCup(coffees []string, words []bar.Word) string {
	example := []string{coffees[0]}
	for _, w := range words {
		example = append(example, l.WordText(w))
	}
	return l.Say("Both? Two shots stand, and I take the words of one at a time, such as: %s. Nothing was noted.", Clip(strings.Join(example, " ")))
}
