package past

import (
	"math"
	"strconv"
	"strings"

	"shothand/bot/say"

	"golang.org/x/text/currency"

	"shothand/advisor/review"
)

// What mornings cost.

// costText answers what mornings cost, in a sentence: each time a coffee was dialled
// in, so that spans of another length compare, and all together.
func (l LookBack) costText() string {
	c := l.Review.Cost
	if c.Total.Mornings == 0 {
		return l.Say("What mornings cost: nobody called a coffee dialled in, so nobody knows.")
	}
	text := l.Say("%s to dial one coffee in", l.each(c.Total))
	if c.Before.Mornings > 0 {
		text += " " + l.Say("(%s: %s)", l.beforeText(), l.shortEach(c.Before))
	}
	text += l.Semicolon() + l.Say("%s in all", l.bill(c.Total))
	if most := c.Coffees[0]; len(c.Coffees) > 1 && most.Mornings > 0 && most.Shots < c.Total.Shots {
		text += l.Semicolon() + l.Say("%s costs most", most.Coffee.Name)
	}
	return l.Say("What mornings cost: %s.", text)
}

// beforeText names the span before.
func (l LookBack) beforeText() string {
	if n := days(l.Span); n > 1 {
		return l.Say("the %s before", l.Count(n, "day"))
	}
	return l.Say("the day before")
}

// costLines are what mornings cost in detail.
func (l LookBack) costLines() []string {
	c := l.Review.Cost
	lines := some(l.besideText())
	for _, one := range c.Coffees {
		if one.Mornings == 0 || len(c.Coffees) == 1 {
			continue
		}
		line := one.Coffee.Name + l.Colon() + l.Say("%s in all", l.bill(one.Bill)) + l.Semicolon() + l.Say("%s a morning", l.each(one.Bill))
		if one.Before.Mornings > 0 {
			line += l.Semicolon() + l.Say("before, %s", l.each(one.Before))
		}
		lines = append(lines, line+".")
	}
	if len(c.Weeks) > 1 {
		weeks := say.Each(c.Weeks, func(w review.WeekBill) string { return l.DateText(w.Monday, "2 Jan") + " " + l.shortEach(w.Bill) })
		lines = append(lines, l.Say("One coffee, one morning, by week: %s.", strings.Join(weeks, ", ")))
	}
	if c.Uncalled > 0 && c.Total.Mornings > 0 {
		lines = append(lines, say.Upper(l.Say("%s nobody called the coffee dialled in, and that is not counted.", l.times(c.Uncalled))))
	}
	return lines
}

// besideText sets mornings beside those of the span before.
func (l LookBack) besideText() string {
	c := l.Review.Cost
	if c.Before.Mornings == 0 || c.Total.Mornings == 0 {
		return ""
	}
	text := say.Upper(l.beforeText()) + l.Colon() + l.Say("%s to dial one coffee in", l.each(c.Before)) + " (" + l.Say("%s then, %s now", l.times(c.Before.Mornings), l.times(c.Total.Mornings)) + ")."
	switch c.Trend {
	case review.Fewer:
		text += " " + l.Say("It takes fewer shots now.")
	case review.More:
		text += " " + l.Say("It takes more shots now.")
	case review.Alike:
		text += " " + l.Say("The difference could be chance.")
	case review.NoTrend:
	}
	return text
}

// each prints what dialling one coffee in took in the mean.
func (l LookBack) each(b review.Bill) string {
	text := l.shotsEach(b) + ", " + l.weight(b.Each(b.Grams)) + ", " + l.Say("%s min", say.Rounded(b.Each(b.Minutes)))
	if b.Money > 0 && b.Unpriced == 0 {
		text += ", " + l.Money(b.Each(b.Money), l.Currency)
	}
	return text
}

// shortEach prints money, or else shots, of one coffee dialled in.
func (l LookBack) shortEach(b review.Bill) string {
	if b.Money > 0 && b.Unpriced == 0 {
		return l.Money(b.Each(b.Money), l.Currency)
	}
	return l.shotsEach(b)
}

// shotsEach prints how many shots it took in the mean.
func (l LookBack) shotsEach(b review.Bill) string {
	if n := math.Round(10*b.Each(float64(b.Shots))) / 10; n != 1 {
		return l.Say("%s shots", l.Number(n))
	}
	return l.Count(1, "shot")
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

// weight prints a weight of coffee.
func (l Lang) weight(g float64) string {
	if g < 999.5 {
		return say.Rounded(g) + " g"
	}
	return l.Number(math.Round(g/10)/100) + " kg"
}

// Money prints an amount, to the places that its currency has.
func (l Lang) Money(x float64, code string) string {
	places := 2
	if unit, err := currency.ParseISO(code); err == nil {
		places, _ = currency.Standard.Rounding(unit)
	}
	return strings.TrimSpace(l.Decimal(strconv.FormatFloat(x, 'f', places, 64)) + " " + code)
}

// days returns how many days a span has.
func days(s review.Span) int {
	n, _ := s.To.Since(s.From)
	return n + 1
}
