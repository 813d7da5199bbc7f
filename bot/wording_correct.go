package bot

import (
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// backLabel is the button that takes a correction back.
const backLabel = "take it back"

// correctedFromText says what was changed, from what to what.
func correctedFromText(changes []string) string {
	return "Corrected: " + strings.Join(changes, ", ") + "."
}

// figureText says of one number what it was and what it is now.
func figureText(f figure, was float64, from bar.Provenance, is float64) string {
	unit := " g"
	if f == timeFigure {
		unit = " s"
	}
	if from == bar.None {
		return string(f) + " " + number(is) + unit
	}
	return string(f) + " " + number(was) + " → " + number(is) + unit
}

// figureQuestion asks which of a shot's numbers x is.
func figureQuestion(list []figure, x float64) string {
	names := make([]string, len(list))
	for i, f := range list {
		names[i] = string(f)
	}
	last := len(names) - 1
	if last == 0 {
		return number(x) + " is far from what was noted: is that the " + names[0] +
			"? Nothing was changed yet. Tap it, or say it, such as: " + names[0] + " was " + number(x)
	}
	return number(x) + ": is that the " + strings.Join(names[:last], ", the ") + " or the " + names[last] +
		"? Nothing was changed yet. Tap one, or say it, such as: " + names[0] + " was " + number(x)
}

// dialText says of the dial what it was and what it is now.
func dialText(g bar.Grinder, was, is bar.Value[bar.Dial]) string {
	if was.From == bar.None {
		return string(dialFigure) + " " + parse.Write(g, is.X)
	}
	return string(dialFigure) + " " + parse.Write(g, was.X) + " → " + parse.Write(g, is.X)
}
