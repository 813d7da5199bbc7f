package say

import (
	"math"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// Names the bot gives by itself.
const (
	HouseName    English = "house"
	HouseGrinder English = "grinder"
	someone      English = "somebody"
)

// Labels of buttons.
const (
	DidItLabel   English = "did it"
	DialledLabel English = "dialled in"
	LowerLabel   English = "lower is finer"
	HigherLabel  English = "higher is finer"
	OrderTyped           = "typed"
	OrderBetter          = "better"
)

// StillLabel is the button of somebody who has not turned the dial.
func (l Lang) StillLabel(at string) string { return "still " + at }

// Position prints a position of the dial as its people write it.
func (v Advice) Position(x float64) string { return parse.Write(v.grinder, bar.Dial(x)) }

// TasteTaps are the four answers to how a shot tastes.
func TasteTaps() []string { return []string{"sour", "bitter", "thin", "balanced"} }

// Number prints x without trailing zeros, to two decimals.
func (l Lang) Number(x float64) string {
	return strconv.FormatFloat(math.Round(x*100)/100+0, 'f', -1, 64)
}

// grams prints a mass to a tenth.
func (l Lang) grams(g bar.Grams) string {
	return strconv.FormatFloat(math.Round(float64(g)*10)/10+0, 'f', -1, 64)
}

// weighed prints a mass as it was typed, or to a tenth where it was not.
func (l Lang) weighed(v bar.Value[bar.Grams]) string {
	if v.From == bar.Said && !v.Rough {
		return l.Number(float64(v.X))
	}
	return l.grams(v.X)
}

// whole prints whole seconds.
func whole(s bar.Seconds) string { return strconv.Itoa(int(math.Round(float64(s)))) }

// timed prints seconds as they were typed, to a tenth: half a second more may
// be out of the window.
func (l Lang) timed(s bar.Seconds) string {
	return strconv.FormatFloat(math.Round(float64(s)*10)/10+0, 'f', -1, 64)
}

// window prints a recipe's window.
func (l Lang) window(r bar.Recipe) string {
	if r.Low == r.High {
		return l.Number(float64(r.Low)) + " s"
	}
	return l.Number(float64(r.Low)) + "–" + l.Number(float64(r.High)) + " s"
}

// recipeText prints a recipe.
func (l Lang) recipeText(r bar.Recipe) string {
	return l.grams(r.Dose) + " → " + l.grams(r.Yield) + " g in " + l.window(r)
}

// dial prints a position; of a grinder without numbers, in steps.
func (l Lang) dial(g bar.Grinder, x bar.Dial) string {
	if g.Step > 0 {
		return "at " + parse.Write(g, x)
	}
	switch {
	case x > 0:
		return l.steps(float64(x)) + " finer than at first"
	case x < 0:
		return l.steps(float64(-x)) + " coarser than at first"
	}
	return "where the grinder stood at first"
}

// steps prints a number of steps.
func (l Lang) steps(n float64) string {
	switch n = math.Abs(n); n {
	case 1:
		return "1 step"
	case 0.5:
		return "half a step"
	}
	return l.Number(n) + " steps"
}

// nth prints which shot of the day it is.
func (l Lang) nth(n int) string {
	names := []string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"}
	if 1 <= n && n <= len(names) {
		return names[n-1] + " shot"
	}
	return "shot " + strconv.Itoa(n)
}

// List joins words as people do.
func (l Lang) List(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// Upper begins s with a capital.
func Upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func (l Lang) daysText(n int) string { return l.Count(n, "day") }

// tenths prints seconds to a tenth, for what is worth less than a few.
func (l Lang) tenths(s bar.Seconds) string { return strconv.FormatFloat(float64(s), 'f', 1, 64) }

// Count prints a number of things.
func (l Lang) Count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}
