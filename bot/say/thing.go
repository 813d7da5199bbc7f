package say

import (
	"fmt"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// Basket refuses a dose that its basket does not hold.
func (l Lang) Basket(c bar.Coffee) string {
	return "The basket of " + c.Name + " holds " + l.Number(float64(c.Basket.Low)) + "–" + l.Number(float64(c.Basket.High)) + " g, and a recipe's dose is outside that. Nothing was changed."
}

// Coffee tells of a coffee on its grinder, as of a day.
func (l Lang) Coffee(how string, c bar.Coffee, g bar.Grinder, day bar.Day) string {
	text := c.Name + ": " + l.recipeText(c.Recipe)
	if c.Recipe.Soft {
		text += " (a soft window, nobody has set one)"
	}
	if c.For == bar.WithMilk {
		text += ", for milk"
	}
	if c.Milk != (bar.Recipe{}) {
		text += "; in milk " + l.recipeText(c.Milk)
	}
	if g.Name != "" {
		text += ", on " + g.Name
	}
	text += l.coffeeFacts(c)
	if c.Roasted != "" {
		text += ", roasted " + string(c.Roasted)
		if days, ok := day.Since(c.Roasted); ok && days >= 0 {
			text += fmt.Sprintf(" (%s ago)", l.daysText(days))
		}
	}
	if how != "" {
		text = how + ". " + text
	}
	return text + "."
}

// coffeeFacts tells what else is known of a coffee.
func (l Lang) coffeeFacts(c bar.Coffee) string {
	text := ""
	switch c.Roast {
	case bar.Light:
		text += ", a light roast"
	case bar.Medium:
		text += ", a medium roast"
	case bar.Dark:
		text += ", a dark roast"
	case bar.UnknownRoast:
	}
	switch c.Aim {
	case bar.Bright:
		text += ", meant bright"
	case bar.Round:
		text += ", meant round"
	case bar.Rich:
		text += ", meant rich"
	case bar.NoAim:
	}
	if c.Basket != (bar.Basket{}) {
		text += ", in a basket of " + l.Number(float64(c.Basket.Low)) + "–" + l.Number(float64(c.Basket.High)) + " g"
	}
	if c.PreInfusion > 0 {
		text += ", " + l.Number(float64(c.PreInfusion)) + " s of pre-infusion"
	}
	if c.Price > 0 {
		text += ", " + l.Number(c.Price) + " a kg"
	}
	return text
}

// CoffeeList lists the coffees, a line each.
func (l Lang) CoffeeList(lines []string) string {
	if len(lines) == 0 {
		return l.WhichCoffee(nil)
	}
	return strings.Join(lines, "\n")
}

// Grinder tells of a grinder.
func (l Lang) Grinder(how string, g bar.Grinder) string {
	text := g.Name + ": "
	switch {
	case !(g.Step > 0):
		text += "no numbers, counted in steps"
	case g.Finer == bar.Higher:
		text += "higher is finer, " + l.stepText(g)
	case g.Finer == bar.Lower:
		text += "lower is finer, " + l.stepText(g)
	default:
		text += l.stepText(g) + ", which way is finer is not known"
	}
	if g.Wraps > 0 {
		text += ", " + l.Number(g.Wraps) + " marks to a turn"
	}
	if g.Max > g.Min {
		text += ", from " + parse.Write(g, g.Min) + " to " + parse.Write(g, g.Max)
	}
	if g.Worth > 0 {
		text += ", a step is worth about " + l.Number(float64(g.Worth)) + " s"
	}
	switch g.Doser {
	case bar.ByWeight:
		text += ", doses by weight"
	case bar.Timed:
		text += ", doses by a timer"
	case bar.ByHand:
		text += ", dosed by hand"
	case bar.UnknownDoser:
	}
	if g.Purge > 0 {
		text += ", purged with " + l.grams(g.Purge) + " g"
	}
	if how != "" {
		text = how + ". " + text
	}
	return text + "."
}

// stepText tells how far apart the positions of a dial are.
func (l Lang) stepText(g bar.Grinder) string {
	switch {
	case g.Letters:
		return fmt.Sprintf("small steps A to %c", 'A'+g.Small-1)
	case g.Small > 0:
		return fmt.Sprintf("%d small steps to a big one", g.Small)
	}
	return "in steps of " + l.Number(g.Step)
}

// GrinderList lists the grinders.
func (l Lang) GrinderList(grinders []bar.Grinder) string {
	if len(grinders) == 0 {
		return l.WhichGrinder(nil)
	}
	var lines []string
	for _, g := range grinders {
		lines = append(lines, l.Grinder("", g))
	}
	return strings.Join(lines, "\n")
}
