package say

import (
	"fmt"
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
	what := v.coffee.Name + ", " + v.lang.nth(v.Nth) + ": "
	what += v.lang.weighed(s.Dose) + " → " + v.lang.weighed(s.Yield) + " g"
	if s.Marks.Has(bar.InMilk) {
		what += " for milk"
	}
	switch {
	case s.Marks.Has(bar.Choked):
		what += ", choked"
	case s.Time.From != bar.None:
		what += ", " + v.lang.timed(s.Time.X) + " s"
	}
	if v.grinder.Step > 0 {
		if s.Grind.From != bar.None {
			what += ", " + v.lang.dial(v.grinder, s.Grind.X) + v.lang.provenanceText(s.Grind.From)
		} else {
			what += ", setting not known"
		}
	} else if s.Grind.From == bar.Advised {
		what += v.lang.provenanceText(s.Grind.From)
	}
	what += v.lang.strengthText(s)
	var assumed []string
	if s.Dose.From == bar.Assumed {
		assumed = append(assumed, "dose")
	}
	if s.Yield.From == bar.Assumed {
		assumed = append(assumed, "yield")
	}
	if len(assumed) > 0 {
		what += " (" + v.lang.List(assumed) + " from the recipe)"
	}
	return what
}

// strengthText says what was measured, and what it comes to.
func (l Lang) strengthText(s bar.Shot) string {
	if !(s.TDS > 0) {
		return ""
	}
	text := ", " + l.Number(float64(s.TDS)) + " % TDS"
	ey, err := extraction.Yield(float64(s.TDS), float64(s.Yield.X), float64(s.Dose.X))
	switch {
	case err != nil:
	case ey > extraction.BadYield:
		text += ", which would be " + l.Number(math.Round(ey)) + " % of the coffee: more than dissolves, so it is left out"
	case ey > extraction.QueryYield:
		text += ", " + l.Number(math.Round(ey*10)/10) + " % of the coffee: is that so?"
	default:
		text += ", " + l.Number(math.Round(ey*10)/10) + " % of the coffee"
	}
	return text
}

// provenanceText says where a setting that was not said comes from.
func (l Lang) provenanceText(p bar.Provenance) string {
	switch p {
	case bar.Advised:
		return ", as advised"
	case bar.Last:
		return ", as before"
	case bar.Clocked:
		return ", by the clock"
	case bar.None, bar.Said, bar.Assumed:
	}
	return ""
}

// newCoffee is said when the first shot made its coffee.
func (l Lang) newCoffee(c bar.Coffee) string {
	return fmt.Sprintf("New coffee “%s”, %s. Change it: /coffee edit name:%s yield:38 time:25-31\nIf the grinder has numbers: /grinder edit finer:lower step:0.1",
		c.Name, l.recipeText(c.Recipe), c.Name)
}

// Unplaced asks again for a position that is none of this dial's.
func (l Lang) Unplaced(g bar.Grinder, n Notes) string {
	said := "“" + Clip(n.Odd) + "”"
	switch {
	case n.Beyond && g.Max > g.Min:
		return said + " is past the end of this dial, which goes from " + parse.Write(g, g.Min) + " to " + parse.Write(g, g.Max) + ". Where was it? Say it once, such as: was " + l.example(g)
	case n.Beyond:
		return said + " is past the end of this dial. Where was it? Say it once, such as: was " + l.example(g)
	case strings.ContainsFunc(n.Odd, unicode.IsLetter) && strings.ContainsFunc(n.Odd, unicode.IsDigit) && !g.Letters:
		return "I cannot place " + said + " on this grinder. For lettered steps say once: /grinder edit name:" + quoted(g.Name) + " small:A-K   Or give a plain number: was " + l.example(g)
	case strings.Count(n.Odd, ".") == 2 && !(g.Wraps > 0):
		return "I cannot place " + said + " on this grinder. For turns, marks and small steps say once: /grinder edit name:" + quoted(g.Name) + " wraps:12 small:5   Or give a plain number: was " + l.example(g)
	}
	return "I cannot place " + said + " on this grinder. Say it once as " + l.kindOf(g) + ", such as: was " + l.example(g)
}

// kindOf says what positions of a grinder look like.
func (l Lang) kindOf(g bar.Grinder) string {
	switch {
	case !(g.Step > 0):
		return "a number of steps"
	case g.Wraps > 0:
		return "it stands, turns first"
	case g.Letters:
		return "a number and a letter up to " + string(rune('A'+g.Small-1))
	case g.Small > 0:
		return fmt.Sprintf("big and small steps, 0 to %d after the point", g.Small-1)
	}
	return "a plain number"
}

// example is a position of a grinder.
func (l Lang) example(g bar.Grinder) string {
	switch {
	case !(g.Step > 0):
		return "2 finer"
	case g.Max > g.Min:
		return parse.Write(g, g.Min+bar.Dial(math.Round(float64(g.Max-g.Min)/g.Step/2)*g.Step))
	}
	return parse.Write(g, bar.Dial(math.Round(5.2/g.Step)*g.Step))
}

// quoted prints a name as an option takes it.
func quoted(name string) string {
	if strings.Contains(name, " ") {
		return `"` + name + `"`
	}
	return name
}

// CoffeeQuestion asks which coffee a shot was of.
func (l Lang) CoffeeQuestion(coffees []bar.Coffee) string {
	return "Which coffee was that: " + l.List(Names(coffees)) + "? I kept the shot."
}

// OrderQuestion asks in which order the numbers stand.
func (l Lang) OrderQuestion(p parse.Shot) string {
	return fmt.Sprintf("Did you mean %s? As typed it reads %s. I kept the shot.",
		l.Trio(p.Better), l.Trio(parse.Trio{Dose: p.Dose, Yield: p.Yield, Time: p.Time}))
}

// Trio prints the three numbers of a shot.
func (l Lang) Trio(t parse.Trio) string {
	return l.Number(t.Dose.X) + " → " + l.Number(t.Yield.X) + " g in " + l.Number(t.Time.X) + " s"
}
