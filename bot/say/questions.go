package say

import (
	"math"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// A FarOff is a number of a shot that is far from what the bar does.
type FarOff struct {
	Figure  Figure
	X, From float64 // as typed, and the one it is compared with
	Instead float64 // what may have been meant, or 0
	Volume  bool    // X was said as a volume
	Typed   string  // of a dial without numbers: the move, as typed
}

// Answers to whether a message is a shot.
const (
	ShotYes              = "yes"
	ShotNo               = "no"
	ShotNameless         = "nameless" // it is one, and what was asked about is no name
	YesLabel     English = "yes"
	NoShotLabel  English = "no shot"
	AddItLabel   English = "add it"
)

// StrangerQuestion asks which coffee is meant by a name that is none; near is
// the likely one, or empty.
func (l Lang) StrangerQuestion(p parse.Shot, near string) string {
	if near != "" {
		return l.Say("There is no “%s”. Did you mean %s? I kept the shot.", Clip(p.Stranger), near)
	}
	return l.Say("There is no coffee “%s” here. Which one was that, or is it new? I kept the shot.", Clip(p.Stranger))
}

// NameQuestion asks whether what could not be read is the name of a bar's first coffee.
func (l Lang) NameQuestion(p parse.Shot) string {
	return l.Say("Is “%s” the name of the coffee? I kept the shot.", Clip(p.Stranger))
}

// RetiredQuestion asks whether a coffee that is not on the bar is on it again.
func (l Lang) RetiredQuestion(name string) string {
	return l.Say("%s is retired. Put it back on the bar, or which one was that? I kept the shot.", Clip(name))
}

// PutItBackLabel puts a retired coffee on the bar again.
const PutItBackLabel English = "put it back"

// DoubtQuestion asks whether a message is a shot, and says what was read.
func (l Lang) DoubtQuestion(p parse.Shot, coffee string) string {
	read := l.Trio(parse.Trio{Dose: p.Dose, Yield: p.Yield, Time: p.Time})
	switch {
	case p.Same && !p.Dose.Said && !p.Yield.Said && !p.Time.Said:
		return l.Say("Was that another shot, the same again, in a time that was not said? I kept it until you say.")
	case p.Time.Said && p.Dose.Said && !p.Yield.Said:
		read = l.Say("%s g in, %s s", l.Number(p.Dose.X), l.Number(p.Time.X))
	case !p.Time.Said:
		read = l.Say("%s → %s g", l.Number(p.Dose.X), l.Number(p.Yield.X))
	case !p.Dose.Said && !p.Yield.Said:
		read = l.Say("%s s", l.Number(p.Time.X))
	case !p.Dose.Said:
		read = l.Say("%s g in %s s", l.Number(p.Yield.X), l.Number(p.Time.X))
	}
	if coffee != "" {
		read = coffee + ", " + read
	}
	switch {
	case p.Count:
		return l.Say("Was that a shot: %s? Its numbers go up like a count. I kept it until you say.", read)
	case p.Half || len(p.Doubt) == 0:
		return l.Say("Was that a shot: %s? I kept it until you say.", read)
	}
	return l.Say("Was that a shot: %s? I could not read %s. I kept it until you say.", read, l.asTyped(p.Doubt))
}

// SeveralQuestion asks whether a message tells several shots.
func (l Lang) SeveralQuestion(shots []string) string {
	return l.Say("Were those %d shots: %s? I kept the message until you say.", len(shots), l.asTyped(shots))
}

// PieceKept says that a dose or a yield is kept that was said before its shot.
func (l Lang) PieceKept(p parse.Shot) string {
	if p.Dose.Said {
		return l.Say("Kept for the next shot: %s g in. Say the rest once it is pulled, such as: 38 out, 28 s", l.Number(p.Dose.X))
	}
	return l.Say("Kept for the next shot: %s g out. Say the rest, such as: 18 in, 28 s", l.Number(p.Yield.X))
}

// Answers to whether a message is of the shot before.
const (
	LastOneLabel English = "the last one"
	NewShotLabel English = "new shot"
)

// ReferQuestion asks whether a message is of the shot before or of a new one.
func (l Lang) ReferQuestion(last bar.Shot) string {
	read := l.Say("%s → %s g", l.Number(float64(last.Dose.X)), l.Number(float64(last.Yield.X)))
	if last.Time.From != bar.None {
		read += ", " + l.Took(last)
	}
	return l.Say("Is that of the last shot (%s), or of a new one? I kept it until you say.", read)
}

// NotThatQuestion asks what a number was, if not the far one.
const NotThatQuestion English = "What was it, then? Type the number. I kept the shot."

// OthersQuestion asks whether somebody puts right what another has pulled.
func (l Lang) OthersQuestion(name string, coffee bar.Coffee, e bar.Entry, changes []string) string {
	return l.Say("Of %s’s shot (%s, %s)? It would be: %s. Nothing was changed yet.", name, coffee.Name, l.Clock(e.At), strings.Join(changes, ", "))
}

// PullerQuestion asks whether what one person has told was pulled by another.
func (l Lang) PullerQuestion(name string, coffee bar.Coffee, e bar.Entry, by string) string {
	return l.Say("Was %s’s shot (%s, %s) pulled by %s? Nothing was changed yet.", name, coffee.Name, l.Clock(e.At), by)
}

// OutQuestion asks whether a shot that somebody else has told is to be none.
func (l Lang) OutQuestion(name string, coffee bar.Coffee, e bar.Entry) string {
	return l.Say("Take out %s’s shot (%s, %s)? Nothing was changed yet.", name, coffee.Name, l.Clock(e.At))
}

// Waits says of a message that was asked about that nobody has answered.
func (l Lang) Waits(e bar.Entry, by string) string {
	return l.Say("Asked and not answered: “%s” (%s, %s)", Clip(e.Raw), by, l.Clock(e.At))
}

// asTyped lists pieces of a message as they were typed.
func (l Lang) asTyped(texts []string) string {
	return l.List(Each(texts[:min(len(texts), maxUnread)], func(text string) string { return l.Say("“%s”", Clip(text)) }))
}

// asideText says which numbers of a message are none of the shot's.
func (l Lang) asideText(texts []string) string {
	return l.Say("Read as no number of the shot: %s.", l.asTyped(texts))
}

// FarQuestion asks whether a number was meant that is far from what the bar
// does.
func (l Lang) FarQuestion(off FarOff) string { return l.far(off) + " " + l.Say("I kept the shot.") }

// FarEditQuestion asks the same of a message that was edited.
func (l Lang) FarEditQuestion(off FarOff) string {
	return l.far(off) + " " + l.Say("The shot stays as it was until you say.")
}

// Answers to it.
const (
	LeaveEditLabel English = "leave it"
	LeftAsItWas    English = "The shot stays as it was."
)

func (l Lang) far(off FarOff) string {
	if off.Typed != "" {
		return l.farMove(off.Typed)
	}
	what := Upper(l.Figure(off.Figure)) + " " + l.farUnit(off, off.X)
	switch off.Figure {
	case DialFigure:
		return l.Say("%s? That is far off: the last was at %s.", what, l.Number(off.From))
	case TimeFigure:
		return l.Say("%s? That is far off: it should run about %s.", what, l.farUnit(off, math.Round(off.From)))
	case DoseFigure, YieldFigure:
	}
	return l.Say("%s? That is far off: the recipe has %s.", what, l.farUnit(off, off.From))
}

// RoastedLater refuses a roast date that is still to come.
func (l Lang) RoastedLater(d bar.Day) string {
	return l.Say("No coffee is roasted yet that will be on %s. Is that the year? Nothing was changed.", string(d))
}

// WordName refuses a name that is a word people type.
func (l Lang) WordName(name string) string {
	return l.Say("“%s” is a word with a meaning here, so shots of it could not be told. Give the coffee another name, such as: name:\"%[1]s blend\". Nothing was changed.", Clip(name))
}

// FarLabel is a button for a number that may be meant.
func (l Lang) FarLabel(off FarOff, x float64) string {
	if off.Typed != "" {
		return l.Say(YesLabel)
	}
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
	if off.Volume && x == off.X {
		return l.Number(x) + " ml"
	}
	return l.Number(x) + " g"
}

// CoffeeQuestion asks which coffee a shot was of.
func (l Lang) CoffeeQuestion(coffees []bar.Coffee) string {
	return l.Say("Which coffee was that: %s? I kept the shot.", l.AnyOf(Names(coffees)))
}

// OrderQuestion asks in which order the numbers stand.
func (l Lang) OrderQuestion(p parse.Shot) string {
	return l.Say("Did you mean %s? As typed it reads %s. I kept the shot.",
		l.Trio(p.Better), l.Trio(parse.Trio{Dose: p.Dose, Yield: p.Yield, Time: p.Time}))
}

// WhoseTasteQuestion asks whose taste it is that somebody told of a person who is not
// known here; near is who may be meant, or empty.
func (l Lang) WhoseTasteQuestion(name, near string) string {
	if near != "" {
		return l.Say("Nobody here is called “%s”. Did you mean %s? Nothing was noted yet.", Clip(name), near)
	}
	return l.Say("Nobody called “%s” has written here yet. Is it what you taste as well? Nothing was noted yet.", Clip(name))
}

// WhichQuestion asks of which of yesterday's shots a number is.
func (l Lang) WhichQuestion(x float64, f Figure) string {
	return l.Say("Which of yesterday’s shots was it: %s %s? Nothing was changed yet.", l.Figure(f), l.Number(x))
}

// FigureQuestion asks which of a shot's numbers x is.
func (l Lang) FigureQuestion(list []Figure, x float64) string {
	names := Each(list, l.Figure)
	last := len(names) - 1
	if last == 0 {
		return l.Say("%s is far from what was noted: is that the %s? Nothing was changed yet. Tap it, or say it, such as: %[2]s was %[1]s", l.Number(x), names[0])
	}
	all := names[0]
	for _, name := range names[1:last] {
		all = l.Say("%s, the %s", all, name)
	}
	return l.Say("%s: is that the %s or the %s? Nothing was changed yet. Tap one, or say it, such as: %s was %[1]s", l.Number(x), all, names[last], names[0])
}

// CallQuestion asks whether a coffee is dialled in all the same.
func (l Lang) CallQuestion(c bar.Coffee, why string) string {
	return l.Say("%s, dialled in? %s. Say it again if it is; nothing was noted yet.", c.Name, Upper(why))
}

// WhichSetQuestion asks which grinder was set.
func (l Lang) WhichSetQuestion(grinders []bar.Grinder) string {
	return l.Say("Which grinder? There is %s. Nothing was noted yet.", l.List(GrinderNames(grinders)))
}

// FarSetQuestion asks whether a dial was put so far from where it stood.
func (l Lang) FarSetQuestion(g bar.Grinder, from, to bar.Dial) string {
	return l.Say("%s stood at %s: is it at %s now? Nothing was noted yet.", g.Name, l.Written(g, from), l.Written(g, to))
}

// PlaceQuestion asks whether a number is where a dial stands, of which nothing is known.
func (l Lang) PlaceQuestion(g bar.Grinder, at bar.Dial) string {
	return l.Say("%s: is it at %s now? Nothing was noted yet.", g.Name, l.Written(g, at))
}

// FarMoveQuestion asks the same of a move of a dial that has no number yet.
func (l Lang) FarMoveQuestion(g bar.Grinder, typed string) string {
	return g.Name + l.Colon() + l.farMove(typed) + " " + l.Say("Nothing was noted yet.")
}

// HowFarQuestion asks where a dial stands after a move that is no number of steps.
func (l Lang) HowFarQuestion(g bar.Grinder, from bar.Dial, typed string) string {
	return l.Say("%s stood at %s: where does it stand now, “%s”? Tap or type it. Nothing was noted yet.", g.Name, l.Written(g, from), Clip(typed))
}

// OrderedQuestion asks whether was done what somebody was told to do to a dial.
func (l Lang) OrderedQuestion(g bar.Grinder, typed string) string {
	return l.Say("%s: “%s”. Is that done? Nothing was noted yet.", g.Name, Clip(typed))
}
