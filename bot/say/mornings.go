package say

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"golang.org/x/text/currency"

	"shothand/advisor/review"
)

// What mornings cost.

// costText answers what mornings cost.
func (l LookBack) costText() string {
	c := l.Review.Cost
	if c.Total.Mornings == 0 {
		return "What mornings cost: nobody called a coffee dialled in, so nobody knows."
	}
	text := "What mornings cost: " + l.bill(c.Total)
	if c.Before.Mornings > 0 {
		text += ", to dial in " + l.Lang.times(c.Total.Mornings)
		text += "; the " + l.daysText() + " before, " + l.bill(c.Before) + ", to dial in " + l.Lang.times(c.Before.Mornings)
	}
	if most := c.Coffees[0]; len(c.Coffees) > 1 && most.Mornings > 0 && most.Shots < c.Total.Shots {
		text += "; " + most.Coffee.Name + " costs most, " + l.bill(most.Bill)
	}
	return text + "."
}

// daysText says how many days a span has.
func (l LookBack) daysText() string {
	if n := days(l.Span); n > 1 {
		return l.Lang.Count(n, "day")
	}
	return "day"
}

// costLines are what mornings cost in detail.
func (l LookBack) costLines() []string {
	c := l.Review.Cost
	var lines []string
	if c.Total.Mornings > 0 {
		lines = append(lines, l.eachText())
	}
	for _, one := range c.Coffees {
		if one.Mornings == 0 || len(c.Coffees) == 1 {
			continue
		}
		line := "• " + one.Coffee.Name + ": " + l.bill(one.Bill)
		if one.Before.Mornings > 0 {
			line += "; before, " + l.bill(one.Before)
		}
		lines = append(lines, line+".")
	}
	if len(c.Weeks) > 1 {
		var weeks []string
		for _, w := range c.Weeks {
			weeks = append(weeks, l.Lang.dateText(w.Monday, "2 Jan")+" "+l.short(w.Bill))
		}
		lines = append(lines, "• By week: "+strings.Join(weeks, ", ")+".")
	}
	return lines
}

// eachText is what one morning of one coffee took.
func (l LookBack) eachText() string {
	c := l.Review.Cost.Total
	shots := l.Lang.Number(math.Round(10*c.Each(float64(c.Shots))) / 10)
	unit := " shots"
	if shots == "1" {
		unit = " shot"
	}
	text := fmt.Sprintf("A coffee took %s%s, %.0f g and %.0f min to dial in (%s", shots, unit, c.Each(c.Grams), c.Each(c.Minutes), l.Lang.times(c.Mornings))
	switch {
	case c.Mornings < review.Few:
		text += ")"
	case l.Review.Trend == review.Falling:
		text += "; fewer shots from week to week)"
	case l.Review.Trend == review.Rising:
		text += "; more shots from week to week)"
	default:
		text += "; about the same from week to week)"
	}
	if n := l.Review.Cost.Uncalled; n > 0 {
		text += "; " + l.Lang.times(n) + " nobody called it, and that is not counted"
	}
	return text + "."
}

// bill prints shots, coffee and money.
func (l LookBack) bill(b review.Bill) string {
	text := l.Lang.Count(b.Shots, "shot") + ", " + l.Lang.weight(b.Grams)
	if b.Money > 0 {
		text += ", " + l.Lang.Money(b.Money, l.Currency)
	}
	if b.Money > 0 && b.Unpriced > 0 {
		text += " without " + l.Lang.weight(b.Unpriced) + " that has no price"
	}
	return text
}

// short prints money, or else shots.
func (l LookBack) short(b review.Bill) string {
	if b.Money > 0 && b.Unpriced == 0 {
		return l.Lang.Money(b.Money, l.Currency)
	}
	return l.Lang.Count(b.Shots, "shot")
}

// weight prints a weight of coffee.
func (l Lang) weight(g float64) string {
	if g < 999.5 {
		return fmt.Sprintf("%.0f g", g)
	}
	return l.Number(math.Round(g/10)/100) + " kg"
}

// Money prints an amount, to the places that its currency has.
func (l Lang) Money(x float64, code string) string {
	places := 2
	if unit, err := currency.ParseISO(code); err == nil {
		places, _ = currency.Standard.Rounding(unit)
	}
	return strings.TrimSpace(strconv.FormatFloat(x, 'f', places, 64) + " " + code)
}

// days returns how many days a span has.
func days(s review.Span) int {
	n, _ := s.To.Since(s.From)
	return n + 1
}
