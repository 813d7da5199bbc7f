package say

import (
	"strings"

	"shothand/advisor/bar"
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

// Figure names a number of a shot.
func (l Lang) Figure(f Figure) string {
	switch f {
	case DoseFigure:
		return l.Say("dose")
	case YieldFigure:
		return l.Say("yield")
	case TimeFigure:
		return l.Say("time")
	case DialFigure:
		return l.Say("dial")
	}
	return string(f)
}

// BackLabel is the button that takes a correction back.
const BackLabel English = "take it back"

// ThatQuestion asks of which coffee a shot is.
const ThatQuestion English = "Which coffee was that shot? Nothing was changed yet."

// MineLabel is the answer that it is how the writer tastes it.
const MineLabel English = "mine"

// HeardFrom says whose words were noted that somebody else has told.
func (l Lang) HeardFrom(name string) string { return l.Say("Noted as %s’s taste.", Clip(name)) }

// StandsSo says that a correction changes nothing.
func (l Lang) StandsSo(what []string) string {
	return l.Say("That is how I have it: %s.", strings.Join(what, ", "))
}

// PutBackWhole says that a correction was taken back.
const PutBackWhole English = "Put back as it was."

// CorrectedFrom says what was changed, from what to what.
func (l Lang) CorrectedFrom(changes []string) string {
	return l.Say("Corrected: %s.", strings.Join(changes, ", "))
}

// CoffeeChange says of which coffee a shot was taken to be, and of which it is.
func (l Lang) CoffeeChange(from, to bar.Coffee) string { return from.Name + " → " + to.Name }

// GrinderChange says the same of its grinder.
func (l Lang) GrinderChange(from, to bar.Grinder) string { return from.Name + " → " + to.Name }

// CorrectedOf says the same of a shot that has a newer one below.
func (l Lang) CorrectedOf(shot bar.Entry, by string, changes []string) string {
	return l.Say("Corrected %s’s shot of %s: %s.", Clip(by), l.Clock(shot.At), strings.Join(changes, ", "))
}

// WhichLabel is the button of one of them.
func (l Lang) WhichLabel(e bar.Entry, s bar.Shot, coffee bar.Coffee) string {
	label := coffee.Name + " " + l.Clock(e.At) + ", " + l.Number(float64(s.Yield.X)) + " g"
	if s.Time.From != bar.None {
		label += ", " + l.Took(s)
	}
	return Clip(label)
}

// RecipeLabel is the button that makes a shot's dose and yield the recipe.
func (l Lang) RecipeLabel(s bar.Shot) string {
	return l.Say("new recipe: %s → %s g", l.Number(float64(s.Dose.X)), l.Number(float64(s.Yield.X)))
}

// FigureChange says of one number what it was and what it is now.
func (l Lang) FigureChange(f Figure, was float64, from bar.Provenance, is float64) string {
	unit := " g"
	if f == TimeFigure {
		unit = " s"
	}
	if from == bar.None || from == bar.Assumed && f == TimeFigure || was == is {
		return l.Figure(f) + " " + l.Number(is) + unit
	}
	return l.Figure(f) + " " + l.Number(was) + " → " + l.Number(is) + unit
}

// DialChange says of the dial what it was and what it is now.
func (l Lang) DialChange(g bar.Grinder, was, is bar.Value[bar.Dial]) string {
	if was.From == bar.None || was.X == is.X {
		return l.Figure(DialFigure) + " " + l.Written(g, is.X)
	}
	return l.Figure(DialFigure) + " " + l.Written(g, was.X) + " → " + l.Written(g, is.X)
}
