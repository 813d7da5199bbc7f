package say

import (
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// A Figure is one of the numbers of a shot that can be put right.
type Figure string

// The figures, by the names that people give them.
const (
	DoseFigure  Figure = "dose"
	YieldFigure Figure = "yield"
	TimeFigure  Figure = "time"
	DialFigure  Figure = "dial"
)

// BackLabel is the button that takes a correction back.
const BackLabel English = "take it back"

// PutBackWhole says that a correction was taken back.
const PutBackWhole English = "Put back as it was."

// CorrectedFrom says what was changed, from what to what.
func (l Lang) CorrectedFrom(changes []string) string {
	return "Corrected: " + strings.Join(changes, ", ") + "."
}

// CoffeeChange says of which coffee a shot was taken to be, and of which it is.
func (l Lang) CoffeeChange(from, to bar.Coffee) string { return from.Name + " → " + to.Name }

// GrinderChange says the same of its grinder.
func (l Lang) GrinderChange(from, to bar.Grinder) string { return from.Name + " → " + to.Name }

// CorrectedOf says the same of a shot that has a newer one below.
func (l Lang) CorrectedOf(shot bar.Entry, by string, changes []string) string {
	return "Corrected " + Clip(by) + "’s shot of " + shot.At.Format("15:04") + ": " + strings.Join(changes, ", ") + "."
}

// FigureChange says of one number what it was and what it is now.
func (l Lang) FigureChange(f Figure, was float64, from bar.Provenance, is float64) string {
	unit := " g"
	if f == TimeFigure {
		unit = " s"
	}
	if from == bar.None {
		return string(f) + " " + l.Number(is) + unit
	}
	return string(f) + " " + l.Number(was) + " → " + l.Number(is) + unit
}

// FigureQuestion asks which of a shot's numbers x is.
func (l Lang) FigureQuestion(list []Figure, x float64) string {
	names := make([]string, len(list))
	for i, f := range list {
		names[i] = string(f)
	}
	last := len(names) - 1
	if last == 0 {
		return l.Number(x) + " is far from what was noted: is that the " + names[0] +
			"? Nothing was changed yet. Tap it, or say it, such as: " + names[0] + " was " + l.Number(x)
	}
	return l.Number(x) + ": is that the " + strings.Join(names[:last], ", the ") + " or the " + names[last] +
		"? Nothing was changed yet. Tap one, or say it, such as: " + names[0] + " was " + l.Number(x)
}

// DialChange says of the dial what it was and what it is now.
func (l Lang) DialChange(g bar.Grinder, was, is bar.Value[bar.Dial]) string {
	if was.From == bar.None {
		return string(DialFigure) + " " + parse.Write(g, is.X)
	}
	return string(DialFigure) + " " + parse.Write(g, was.X) + " → " + parse.Write(g, is.X)
}
