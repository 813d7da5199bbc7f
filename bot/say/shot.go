package say

import (
	"math"
	"strings"
	"unicode"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/bot/parse"
)

// factsText is the last line: what was understood, and from where.
func (v Advice) factsText() string {
	s := v.shot
	if !v.known {
		return ""
	}
	what := v.coffee.Name + ", " + v.lang.nth(v.Nth) + v.lang.Colon()
	what += v.lang.weighed(s.Dose) + " → " + v.lang.weighed(s.Yield) + " g"
	if s.Marks.Has(bar.InMilk) {
		what += " " + v.lang.Say("for milk")
	}
	switch {
	case s.Marks.Has(bar.Choked):
		what += ", " + v.lang.Say("choked")
	case s.Time.From != bar.None:
		what += ", " + v.lang.Took(s)
	}
	if v.grinder.Step > 0 {
		if s.Grind.From != bar.None {
			what += ", " + v.lang.dial(v.grinder, s.Grind.X) + v.lang.provenanceText(s.Grind.From)
		} else {
			what += ", " + v.lang.Say("setting not known")
			if s.Turned != 0 {
				what += ", " + v.lang.turned(s.Turned) + v.lang.provenanceText(s.TurnedFrom)
			}
		}
	} else if s.Grind.From == bar.Advised {
		what += v.lang.provenanceText(s.Grind.From)
	}
	what += v.lang.strengthText(s)
	var assumed []string
	if s.Dose.From == bar.Assumed {
		assumed = append(assumed, v.lang.Figure(DoseFigure))
	}
	if s.Yield.From == bar.Assumed {
		assumed = append(assumed, v.lang.Figure(YieldFigure))
	}
	if len(assumed) > 0 {
		what += " " + v.lang.Say("(%s from the recipe)", v.lang.List(assumed))
	}
	return what
}

// Took says how long a shot took, or that it gushed where nobody timed that.
func (l Lang) Took(s bar.Shot) string {
	if !s.Timed() {
		return l.Say("a gusher")
	}
	return l.Timed(s.Time.X) + " s"
}

// strengthText says what was measured, and what it comes to.
func (l Lang) strengthText(s bar.Shot) string {
	if !(s.TDS > 0) {
		return ""
	}
	text := ", " + l.Say("%s %% TDS", l.Number(float64(s.TDS)))
	ey, err := extraction.Yield(float64(s.TDS), float64(s.Yield.X), float64(s.Dose.X))
	switch {
	case err != nil:
	case ey > extraction.BadYield:
		text += ", " + l.Say("which would be %s %% of the coffee: more than dissolves, so it is left out", l.Number(math.Round(ey)))
	case ey > extraction.QueryYield:
		text += ", " + l.Say("%s %% of the coffee: is that so?", l.Number(math.Round(ey*10)/10))
	default:
		text += ", " + l.Say("%s %% of the coffee", l.Number(math.Round(ey*10)/10))
	}
	return text
}

// provenanceText says where a setting that was not said comes from.
func (l Lang) provenanceText(p bar.Provenance) string {
	switch p {
	case bar.Advised:
		return ", " + l.Say("as advised")
	case bar.Last:
		return ", " + l.Say("as before")
	case bar.Clocked:
		return ", " + l.Say("by the clock")
	case bar.None, bar.Said, bar.Assumed:
	}
	return ""
}

// newCoffee is said when the first shot made its coffee.
func (l Lang) newCoffee(c bar.Coffee) string {
	return l.Say("New coffee “%s”, %s. Change it: /coffee edit name:%s yield:38 time:25-31", c.Name, l.RecipeText(c.Recipe), Quoted(c.Name)) + "\n" +
		l.Say("If the grinder has numbers: /grinder edit finer:lower step:0.1")
}

// Unplaced asks again for a position that is none of this dial's.
func (l Lang) Unplaced(g bar.Grinder, n Notes) string {
	said := Clip(n.Odd)
	switch {
	case n.Beyond && g.Max > g.Min:
		return l.Say("“%s” is past the end of this dial, which goes from %s to %s. Where was it? Say it once, such as: was %s", said, l.Written(g, g.Min), l.Written(g, g.Max), l.example(g))
	case n.Beyond:
		return l.Say("“%s” is past the end of this dial. Where was it? Say it once, such as: was %s", said, l.example(g))
	case strings.ContainsFunc(n.Odd, unicode.IsLetter) && strings.ContainsFunc(n.Odd, unicode.IsDigit) && !g.Letters:
		return l.Say("I cannot place “%s” on this grinder. For lettered steps say once: /grinder edit name:%s small:A-K   Or give a plain number: was %s", said, Quoted(g.Name), l.example(g))
	case strings.Count(n.Odd, ".") == 2 && !(g.Wraps > 0):
		return l.Say("I cannot place “%s” on this grinder. For turns, marks and small steps say once: /grinder edit name:%s wraps:12 small:5   Or give a plain number: was %s", said, Quoted(g.Name), l.example(g))
	}
	return l.Say("I cannot place “%s” on this grinder. Say it once as %s, such as: was %s", said, l.kindOf(g), l.example(g))
}

// kindOf says what positions of a grinder look like.
func (l Lang) kindOf(g bar.Grinder) string {
	switch {
	case !(g.Step > 0):
		return l.Say("a number of steps")
	case g.Wraps > 0:
		return l.Say("it stands, turns first")
	case g.Letters:
		return l.Say("a number and a letter up to %s", string(rune('A'+g.Small-1)))
	case g.Small > 0:
		return l.Say("big and small steps, 0 to %d after the point", g.Small-1)
	}
	return l.Say("a plain number")
}

// example is a position of a grinder.
func (l Lang) example(g bar.Grinder) string {
	switch {
	case !(g.Step > 0):
		return l.Say("2 finer")
	case g.Max > g.Min:
		return l.Written(g, g.Min+bar.Dial(math.Round(float64(g.Max-g.Min)/g.Step/2)*g.Step))
	}
	return l.Written(g, bar.Dial(math.Round(5.2/g.Step)*g.Step))
}

// Quoted prints a name as an option takes it.
func Quoted(name string) string {
	if strings.Contains(name, " ") {
		return `"` + name + `"`
	}
	return name
}

// Trio prints the three numbers of a shot.
func (l Lang) Trio(t parse.Trio) string {
	return l.Say("%s → %s g in %s s", l.Number(t.Dose.X), l.Number(t.Yield.X), l.Number(t.Time.X))
}
