package bot

import (
	"math"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
)

// Answers to whether a message is a shot.
const (
	shotYes     = "yes"
	shotNo      = "no"
	yesLabel    = "yes"
	noShotLabel = "no shot"
)

// strangerQuestion asks which coffee is meant by a name that is none; near is
// the likely one, or empty.
func strangerQuestion(p parse.Shot, near string) string {
	if near != "" {
		return "There is no “" + clip(p.Stranger) + "”. Did you mean " + near + "? I kept the shot."
	}
	return "There is no coffee “" + clip(p.Stranger) + "” here. Which one was that? I kept the shot. To have it here: " +
		parse.FormatCommand(chat.Command{Name: "coffee add", Options: []chat.Option{{Name: "name", Value: p.Stranger}}})
}

// doubtQuestion asks whether a message is a shot, and says what was read.
func doubtQuestion(p parse.Shot, coffee string) string {
	read := trioText(parse.Trio{Dose: p.Dose, Yield: p.Yield, Time: p.Time})
	if coffee != "" {
		read = coffee + ", " + read
	}
	what := p.Doubt
	if p.Stranger != "" {
		what = []string{p.Stranger}
	}
	return "Was that a shot: " + read + "? I could not read " + asTyped(what) + ". I kept it until you say."
}

// asTyped lists pieces of a message as they were typed.
func asTyped(texts []string) string {
	var all []string
	for _, text := range texts[:min(len(texts), maxUnread)] {
		all = append(all, "“"+clip(text)+"”")
	}
	return list(all)
}

// asideText says which numbers of a message are none of the shot's.
func asideText(texts []string) string {
	return "Read as no number of the shot: " + asTyped(texts) + "."
}

func noShotButton(e bar.EntryID) chat.Button {
	return chat.Button{Label: noShotLabel, State: pressState(pressShot, e, shotNo)}
}

// farQuestion asks whether a number was meant that is far from what the bar
// does.
func farQuestion(off farOff) string {
	compared := "the recipe has " + farUnit(off, off.from)
	switch off.figure {
	case dialFigure:
		compared = "the last was at " + number(off.from)
	case timeFigure:
		compared = "it should run about " + farUnit(off, math.Round(off.from))
	case doseFigure, yieldFigure:
	}
	return upper(string(off.figure)) + " " + farUnit(off, off.x) + "? That is far off: " + compared + ". I kept the shot."
}

// roastedLaterText refuses a roast date that is still to come.
func roastedLaterText(d bar.Day) string {
	return "No coffee is roasted yet that will be on " + string(d) + ". Is that the year? Nothing was changed."
}

// wordNameText refuses a name that is a word people type.
func wordNameText(name string) string {
	return "“" + clip(name) + "” is a word with a meaning here, so shots of it could not be told. Give the coffee another name, such as: name:\"" +
		clip(name) + " blend\". Nothing was changed."
}

// farLabel is a button for a number that may be meant.
func farLabel(off farOff, x float64) string {
	if x == off.x {
		return yesLabel + ", " + farUnit(off, x)
	}
	return farUnit(off, x)
}

func farUnit(off farOff, x float64) string {
	switch off.figure {
	case dialFigure:
		return number(x)
	case timeFigure:
		return number(x) + " s"
	case doseFigure, yieldFigure:
	}
	return number(x) + " g"
}

// uncalledText says why a coffee does not look dialled in by its last shot, or
// nothing if it does.
func uncalledText(c bar.Coffee, s bar.Shot, drifting bool) string {
	recipe := c.RecipeFor(s.Marks)
	x := float64(s.Time.X)
	switch {
	case s.Time.From == bar.None:
		return "its last shot has no time"
	case recipe.High > 0 && (x < float64(recipe.Low) || x > float64(recipe.High)):
		return "its last shot ran " + number(x) + " s, and the window is " + number(float64(recipe.Low)) + "–" + number(float64(recipe.High)) + " s"
	case drifting:
		return "its shots are moving"
	}
	return ""
}

// callQuestion asks whether a coffee is dialled in all the same.
func callQuestion(c bar.Coffee, why string) string {
	return c.Name + ", dialled in? " + upper(why) + ". Say it again if it is; nothing was noted yet."
}

// uncalledNote says beside a shot that its coffee was not called dialled in.
func uncalledNote(why string) string {
	return "Not called dialled in yet: " + why + ". Say it again if it is."
}

// callButton calls a coffee dialled in by a shot.
func callButton(shot bar.EntryID) chat.Button {
	return chat.Button{Label: dialledLabel, State: pressState(pressDialled, shot)}
}
