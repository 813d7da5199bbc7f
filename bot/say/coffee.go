package say

import (
	"strings"

	"shothand/advisor/bar"
)

// Basket refuses a dose that its basket does not hold.
func (l Lang) Basket(c bar.Coffee) string {
	return l.Say("The basket of %s holds %s–%s g, and a recipe's dose is outside that. Nothing was changed.", c.Name, l.Number(float64(c.Basket.Low)), l.Number(float64(c.Basket.High)))
}

// Coffee tells of a coffee on its grinder, as of a day.
func (l Lang) Coffee(how string, c bar.Coffee, g bar.Grinder, day bar.Day, currency string) string {
	text := c.Name + l.Colon() + l.RecipeText(c.Recipe)
	if c.Recipe.Soft {
		text += " " + l.Say("(a soft window, nobody has set one)")
	}
	if c.For == bar.WithMilk {
		text += ", " + l.Say("for milk")
	}
	if c.Milk != (bar.Recipe{}) {
		text += l.Semicolon() + l.Say("in milk %s", l.RecipeText(c.Milk))
	}
	if g.Name != "" {
		text += ", " + l.Say("on %s", g.Name)
	}
	text += l.coffeeFacts(c, currency)
	if c.Roasted != "" {
		text += ", " + l.Say("roasted %s", string(c.Roasted))
		if days, ok := day.Since(c.Roasted); ok && days >= 0 {
			text += " " + l.Say("(%s ago)", l.daysText(days))
		}
	}
	if how != "" {
		text = how + ". " + text
	}
	return text + "."
}

// RecipeBefore says what a recipe was that was changed.
func (l Lang) RecipeBefore(was, is bar.Coffee) string {
	if was.Recipe == is.Recipe && was.Milk != (bar.Recipe{}) {
		return l.Say("Before: %s.", l.RecipeText(was.Milk))
	}
	return l.Say("Before: %s.", l.RecipeText(was.Recipe))
}

// coffeeFacts tells what else is known of a coffee.
func (l Lang) coffeeFacts(c bar.Coffee, currency string) string {
	text := ""
	switch c.Roast {
	case bar.Light:
		text += ", " + l.Say("a light roast")
	case bar.Medium:
		text += ", " + l.Say("a medium roast")
	case bar.Dark:
		text += ", " + l.Say("a dark roast")
	case bar.UnknownRoast:
	}
	switch c.Aim {
	case bar.Bright:
		text += ", " + l.Say("meant bright")
	case bar.Round:
		text += ", " + l.Say("meant round")
	case bar.Rich:
		text += ", " + l.Say("meant rich")
	case bar.NoAim:
	}
	if c.Basket != (bar.Basket{}) {
		text += ", " + l.Say("in a basket of %s–%s g", l.Number(float64(c.Basket.Low)), l.Number(float64(c.Basket.High)))
	}
	if c.PreInfusion > 0 {
		text += ", " + l.Say("%s s of pre-infusion", l.Number(float64(c.PreInfusion)))
	}
	if c.Price > 0 {
		text += ", " + l.Say("%s a kg", strings.TrimSpace(l.Number(c.Price)+" "+currency))
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
