package say

import (
	"math"
	"strconv"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// Number prints x without trailing zeros, to two decimals.
func (l Lang) Number(x float64) string {
	return l.Decimal(strconv.FormatFloat(math.Round(x*100)/100+0, 'f', -1, 64))
}

// Grams prints a mass to a tenth.
func (l Lang) Grams(g bar.Grams) string {
	return l.Decimal(strconv.FormatFloat(math.Round(float64(g)*10)/10+0, 'f', -1, 64))
}

// weighed prints a mass as it was typed, or to a tenth where it was not.
func (l Lang) weighed(v bar.Value[bar.Grams]) string {
	if v.From == bar.Said && !v.Rough {
		return l.Number(float64(v.X))
	}
	return l.Grams(v.X)
}

// Whole prints whole seconds.
func Whole[T ~float64](x T) string { return strconv.Itoa(int(math.Round(float64(x)))) }

// Timed prints seconds as they were typed, to a tenth: half a second more may
// be out of the window.
func (l Lang) Timed(s bar.Seconds) string {
	return l.Decimal(strconv.FormatFloat(math.Round(float64(s)*10)/10+0, 'f', -1, 64))
}

// Tenths prints seconds to a tenth, for what is worth less than a few.
func (l Lang) Tenths(s bar.Seconds) string { return l.Tenth(float64(s)) }

// Tenth prints a figure to a tenth.
func (l Lang) Tenth(x float64) string {
	return l.Decimal(strconv.FormatFloat(x, 'f', 1, 64))
}

// Rounded prints a figure without its tenths.
func Rounded(x float64) string { return strconv.FormatFloat(x, 'f', 0, 64) }

// Decimal puts the language's own sign for the decimal point into a number.
func (l Lang) Decimal(number string) string {
	if l.English() {
		return number
	}
	return strings.Replace(number, ".", l.Say(pointSign), 1)
}

// pointSign parts the whole from the rest in a number.
const pointSign English = "decimal|."

// Clock prints a time of day.
func (l Lang) Clock(t time.Time) string { return t.Format(l.Say("clock|15:04")) }

func (l Lang) daysText(n int) string { return l.Count(n, "day") }

// Window prints a recipe's window.
func (l Lang) Window(r bar.Recipe) string {
	if r.Low == r.High {
		return l.Number(float64(r.Low)) + " s"
	}
	return l.Number(float64(r.Low)) + "–" + l.Number(float64(r.High)) + " s"
}

// RecipeText prints a recipe.
func (l Lang) RecipeText(r bar.Recipe) string {
	return l.Say("%s → %s g in %s", l.Grams(r.Dose), l.Grams(r.Yield), l.Window(r))
}

// Position prints a position of the dial as its people write it.
func (v Advice) Position(x float64) string { return v.lang.Written(v.grinder, bar.Dial(x)) }

// Written prints a position of a dial. Where a dial has parts its point parts
// them and is no decimal point.
func (l Lang) Written(g bar.Grinder, x bar.Dial) string {
	text := parse.Write(g, x)
	if g.Letters || g.Small > 0 || g.Wraps > 0 {
		return text
	}
	return l.Decimal(text)
}

// dial prints a position; of a grinder without numbers, in steps.
func (l Lang) dial(g bar.Grinder, x bar.Dial) string {
	if g.Step > 0 {
		return l.Say("at %s", l.Written(g, x))
	}
	switch {
	case x > 0:
		return l.Say("%s finer than at first", l.steps(float64(x)))
	case x < 0:
		return l.Say("%s coarser than at first", l.steps(float64(-x)))
	}
	return l.Say("where the grinder stood at first")
}

// steps prints a number of steps.
func (l Lang) steps(n float64) string {
	switch n = math.Abs(n); n {
	case 1:
		return l.Say("1 step")
	case 0.5:
		return l.Say("half a step")
	}
	return l.Say("%s steps", l.Number(n))
}

// nth prints which shot of the day it is.
func (l Lang) nth(n int) string {
	names := []English{
		"first shot", "second shot", "third shot", "fourth shot", "fifth shot",
		"sixth shot", "seventh shot", "eighth shot", "ninth shot", "tenth shot",
	}
	if 1 <= n && n <= len(names) {
		return l.Say(names[n-1])
	}
	return l.Say("shot %s", strconv.Itoa(n))
}
