package say

import (
	"math"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
)

// A FarOff is a number of a shot that is far from what the bar does.
type FarOff struct {
	Figure  Figure
	X, From float64 // as typed, and the one it is compared with
	Instead float64 // what may have been meant, or 0
}

// Answers to whether a message is a shot.
const (
	ShotYes             = "yes"
	ShotNo              = "no"
	YesLabel    English = "yes"
	NoShotLabel English = "no shot"
)

// StrangerQuestion asks which coffee is meant by a name that is none; near is
// the likely one, or empty.
func (l Lang) StrangerQuestion(p parse.Shot, near string) string {
	if near != "" {
		return "There is no “" + Clip(p.Stranger) + "”. Did you mean " + near + "? I kept the shot."
	}
	return "There is no coffee “" + Clip(p.Stranger) + "” here. Which one was that? I kept the shot. To have it here: " +
		parse.FormatCommand(chat.Command{Name: "coffee add", Options: []chat.Option{{Name: "name", Value: p.Stranger}}})
}

// DoubtQuestion asks whether a message is a shot, and says what was read.
func (l Lang) DoubtQuestion(p parse.Shot, coffee string) string {
	read := l.Trio(parse.Trio{Dose: p.Dose, Yield: p.Yield, Time: p.Time})
	switch {
	case !p.Dose.Said && !p.Yield.Said:
		read = l.Number(p.Time.X) + " s"
	case !p.Dose.Said:
		read = l.Number(p.Yield.X) + " g in " + l.Number(p.Time.X) + " s"
	}
	if coffee != "" {
		read = coffee + ", " + read
	}
	what := p.Doubt
	if p.Stranger != "" {
		what = []string{p.Stranger}
	}
	if p.Count {
		return "Was that a shot: " + read + "? Its numbers go up like a count. I kept it until you say."
	}
	return "Was that a shot: " + read + "? I could not read " + l.asTyped(what) + ". I kept it until you say."
}

// asTyped lists pieces of a message as they were typed.
func (l Lang) asTyped(texts []string) string {
	var all []string
	for _, text := range texts[:min(len(texts), maxUnread)] {
		all = append(all, "“"+Clip(text)+"”")
	}
	return l.List(all)
}

// asideText says which numbers of a message are none of the shot's.
func (l Lang) asideText(texts []string) string {
	return "Read as no number of the shot: " + l.asTyped(texts) + "."
}

// FarQuestion asks whether a number was meant that is far from what the bar
// does.
func (l Lang) FarQuestion(off FarOff) string { return l.far(off) + " I kept the shot." }

// FarEditQuestion asks the same of a message that was edited.
func (l Lang) FarEditQuestion(off FarOff) string {
	return l.far(off) + " The shot stays as it was until you say."
}

// Answers to it.
const (
	LeaveEditLabel English = "leave it"
	LeftAsItWas    English = "The shot stays as it was."
)

func (l Lang) far(off FarOff) string {
	compared := "the recipe has " + l.farUnit(off, off.From)
	switch off.Figure {
	case DialFigure:
		compared = "the last was at " + l.Number(off.From)
	case TimeFigure:
		compared = "it should run about " + l.farUnit(off, math.Round(off.From))
	case DoseFigure, YieldFigure:
	}
	return Upper(string(off.Figure)) + " " + l.farUnit(off, off.X) + "? That is far off: " + compared + "."
}

// RoastedLater refuses a roast date that is still to come.
func (l Lang) RoastedLater(d bar.Day) string {
	return "No coffee is roasted yet that will be on " + string(d) + ". Is that the year? Nothing was changed."
}

// WordName refuses a name that is a word people type.
func (l Lang) WordName(name string) string {
	return "“" + Clip(name) + "” is a word with a meaning here, so shots of it could not be told. Give the coffee another name, such as: name:\"" +
		Clip(name) + " blend\". Nothing was changed."
}

// FarLabel is a button for a number that may be meant.
func (l Lang) FarLabel(off FarOff, x float64) string {
	if x == off.X {
		return l.Say(YesLabel) + ", " + l.farUnit(off, x)
	}
	return l.farUnit(off, x)
}

func (l Lang) farUnit(off FarOff, x float64) string {
	switch off.Figure {
	case DialFigure:
		return l.Number(x)
	case TimeFigure:
		return l.Number(x) + " s"
	case DoseFigure, YieldFigure:
	}
	return l.Number(x) + " g"
}

// Uncalled says why a coffee does not look dialled in by its last shot, or
// nothing if it does.
func (l Lang) Uncalled(c bar.Coffee, s bar.Shot, drifting bool) string {
	recipe := c.RecipeFor(s.Marks)
	x := float64(s.Time.X)
	switch {
	case s.Time.From == bar.None:
		return "its last shot has no time"
	case recipe.High > 0 && (x < float64(recipe.Low) || x > float64(recipe.High)):
		return "its last shot ran " + l.Number(x) + " s, and the window is " + l.Number(float64(recipe.Low)) + "–" + l.Number(float64(recipe.High)) + " s"
	case drifting:
		return "its shots are moving"
	}
	return ""
}

// CallQuestion asks whether a coffee is dialled in all the same.
func (l Lang) CallQuestion(c bar.Coffee, why string) string {
	return c.Name + ", dialled in? " + Upper(why) + ". Say it again if it is; nothing was noted yet."
}

// uncalledNote says beside a shot that its coffee was not called dialled in.
func (l Lang) uncalledNote(why string) string {
	return "Not called dialled in yet: " + why + ". Say it again if it is."
}
