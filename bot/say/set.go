package say

import (
	"fmt"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// Labels of buttons: that a dial was the last shot's, and that it was not moved.
const (
	OfShotLabel English = "the last shot was"
	NoLabel     English = "no"
)

// Set says where a dial was put.
func (l Lang) Set(g bar.Grinder, w bar.Told, from bar.Dial, known, left bool) string {
	at := func(x bar.Dial) string { return parse.Write(g, x) }
	switch {
	case left && !known:
		return g.Name + " stays as it was."
	case left:
		return g.Name + " stays " + l.dial(g, w.Dial.X) + ". The next shot has it."
	case w.Dial.From == bar.None:
		return g.Name + ": " + l.turned(w.Turned) + " than at the last shot. The next shot has it."
	case !(g.Step > 0):
		return g.Name + ": " + l.dial(g, w.Dial.X) + ". The next shot has it."
	case !known:
		return g.Name + " " + l.dial(g, w.Dial.X) + ". The next shot has it."
	}
	return g.Name + ": " + at(from) + " → " + at(w.Dial.X) + ". The next shot has it."
}

// turned says how far a dial was turned.
func (l Lang) turned(by float64) string {
	if by < 0 {
		return l.steps(-by) + " coarser"
	}
	return l.steps(by) + " finer"
}

// WhichSetQuestion asks which grinder was set.
func (l Lang) WhichSetQuestion(grinders []bar.Grinder) string {
	return "Which grinder? There is " + l.List(GrinderNames(grinders)) + ". Nothing was noted yet."
}

// FarSetQuestion asks whether a dial was put so far from where it stood.
func (l Lang) FarSetQuestion(g bar.Grinder, from, to bar.Dial) string {
	return g.Name + " stood at " + parse.Write(g, from) + ": is it at " + parse.Write(g, to) + " now? Nothing was noted yet."
}

// PutAt says in a record of the day where a dial was put.
func (l Lang) PutAt(g bar.Grinder, at bar.Dial) string {
	return g.Name + " put at " + parse.Write(g, at)
}

// FarBeside says that a position beside words about a cup was not noted.
func (l Lang) FarBeside(g bar.Grinder, to bar.Dial) string {
	at := parse.Write(g, to)
	return "“" + at + "” is far from where " + g.Name + " stood, so that was not noted. If it is there, say it alone: now at " + at
}

// Stood says where a coffee last stood on its grinder, or nothing.
func (l Lang) Stood(c bar.Coffee, g bar.Grinder, s bar.Shot) string {
	if s.Grinder != g.ID || s.Grind.From == bar.None || !(g.Step > 0) {
		return ""
	}
	return " " + c.Name + " last stood " + strings.TrimSpace(l.dial(g, s.Grind.X)) + "."
}

// StoodIn says where the dial stood in the last shots.
func StoodIn(g bar.Grinder, at bar.Dial, shots int) string {
	if shots == 1 {
		return "Noted: that shot was at " + parse.Write(g, at) + "."
	}
	return fmt.Sprintf("Noted: the last %d shots were at %s.", shots, parse.Write(g, at))
}
