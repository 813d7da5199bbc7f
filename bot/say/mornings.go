package say

import (
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
		return l.Say("What mornings cost: nobody called a coffee dialled in, so nobody knows.")
	}
	text := l.bill(c.Total)
	if c.Before.Mornings > 0 {
		text += ", " + l.Say("to dial in %s", l.times(c.Total.Mornings)) +
			l.semicolon() + l.beforeText() + ", " + l.bill(c.Before) + ", " + l.Say("to dial in %s", l.times(c.Before.Mornings))
	}
	if most := c.Coffees[0]; len(c.Coffees) > 1 && most.Mornings > 0 && most.Shots < c.Total.Shots {
		text += l.semicolon() + l.Say("%s costs most, %s", most.Coffee.Name, l.bill(most.Bill))
	}
	return l.Say("What mornings cost: %s.", text)
}

// beforeText names the span before, and says so where it has far fewer days with
// shots: then the two sums are not alike.
func (l LookBack) beforeText() string {
	n, held := days(l.Span), l.Review.Cost.Held
	switch {
	case n == 1:
		return l.Say("the day before")
	case 4*held < 3*l.Review.Days:
		return l.Say("the %s before, with shots on %s only", l.Count(n, "day"), l.Count(held, "day"))
	}
	return l.Say("the %s before", l.Count(n, "day"))
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
		line := "• " + one.Coffee.Name + l.colon() + l.bill(one.Bill)
		if one.Before.Mornings > 0 {
			line += l.semicolon() + l.Say("before, %s", l.bill(one.Before))
		}
		lines = append(lines, line+".")
	}
	if len(c.Weeks) > 1 {
		var weeks []string
		for _, w := range c.Weeks {
			weeks = append(weeks, l.dateText(w.Monday, "2 Jan")+" "+l.short(w.Bill))
		}
		lines = append(lines, "• "+l.Say("By week: %s.", strings.Join(weeks, ", ")))
	}
	return lines
}

// eachText is what one morning of one coffee took.
func (l LookBack) eachText() string {
	c := l.Review.Cost.Total
	shots := l.Number(math.Round(10*c.Each(float64(c.Shots))) / 10)
	took := English("A coffee took %s shots, %s g and %s min to dial in (%s).")
	if shots == "1" {
		took = "A coffee took %s shot, %s g and %s min to dial in (%s)."
	}
	text := l.Say(took, shots, rounded(c.Each(c.Grams)), rounded(c.Each(c.Minutes)), l.times(c.Mornings)+l.trendText())
	if n := l.Review.Cost.Uncalled; n > 0 {
		text = strings.TrimSuffix(text, ".") + l.semicolon() + l.Say("%s nobody called it, and that is not counted.", l.times(n))
	}
	return text
}

// trendText says whether mornings take more shots or fewer as weeks go by.
func (l LookBack) trendText() string {
	switch {
	case l.Review.Cost.Total.Mornings < review.Few:
		return ""
	case l.Review.Trend == review.Falling:
		return l.semicolon() + l.Say("fewer shots from week to week")
	case l.Review.Trend == review.Rising:
		return l.semicolon() + l.Say("more shots from week to week")
	}
	return l.semicolon() + l.Say("about the same from week to week")
}

// bill prints shots, coffee and money.
func (l LookBack) bill(b review.Bill) string {
	text := l.Count(b.Shots, "shot") + ", " + l.weight(b.Grams)
	if b.Money > 0 {
		text += ", " + l.Money(b.Money, l.Currency)
	}
	if b.Money > 0 && b.Unpriced > 0 {
		text += " " + l.Say("without %s that has no price", l.weight(b.Unpriced))
	}
	return text
}

// short prints money, or else shots.
func (l LookBack) short(b review.Bill) string {
	if b.Money > 0 && b.Unpriced == 0 {
		return l.Money(b.Money, l.Currency)
	}
	return l.Count(b.Shots, "shot")
}

// weight prints a weight of coffee.
func (l Lang) weight(g float64) string {
	if g < 999.5 {
		return rounded(g) + " g"
	}
	return l.Number(math.Round(g/10)/100) + " kg"
}

// Money prints an amount, to the places that its currency has.
func (l Lang) Money(x float64, code string) string {
	places := 2
	if unit, err := currency.ParseISO(code); err == nil {
		places, _ = currency.Standard.Rounding(unit)
	}
	return strings.TrimSpace(l.decimal(strconv.FormatFloat(x, 'f', places, 64)) + " " + code)
}

// days returns how many days a span has.
func days(s review.Span) int {
	n, _ := s.To.Since(s.From)
	return n + 1
}
