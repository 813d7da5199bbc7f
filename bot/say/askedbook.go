package say

import (
	"math"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// CoffeeToday is where one coffee stands today, in a line.
func (l Lang) CoffeeToday(line Today) string {
	line.Lang = l
	return line.text()
}

// Counted is how many shots a coffee had.
type Counted struct {
	Coffee string
	Shots  int
}

// ShotsToday says how many shots there were today: of a coffee, or of all.
func (l Lang) ShotsToday(of bar.Coffee, counts []Counted) string {
	total := 0
	for _, c := range counts {
		total += c.Shots
	}
	switch {
	case total == 0 && of.ID != 0:
		return of.Name + l.Colon() + l.Say("not pulled yet")
	case total == 0:
		return l.Say("No shot today.")
	case of.ID != 0:
		return l.Say("%s today: %s.", of.Name, l.Count(total, "shot"))
	}
	parts := Each(counts, func(c Counted) string { return l.Number(float64(c.Shots)) + " " + c.Coffee })
	if len(parts) == 1 {
		return l.Say("%s today: %s.", counts[0].Coffee, l.Count(total, "shot"))
	}
	return l.Say("Today: %s (%s).", l.Count(total, "shot"), strings.Join(parts, ", "))
}

// ShotLine tells of one shot: when, of which coffee, its numbers, how it tasted, by whom.
func (l Lang) ShotLine(e bar.Entry, s bar.Shot, c bar.Coffee, g bar.Grinder, words []bar.Word, who string) string {
	line := strings.TrimSpace(l.Clock(e.At)+" "+c.Name) + " " + l.shotText(g, s)
	if len(words) > 0 {
		line += ", " + strings.Join(l.WordsText(words), ", ")
	}
	if who != "" {
		line += " (" + who + ")"
	}
	return line
}

// WordSays says what a word of taste tells of a cup, empty where it tells of neither side.
func (l Lang) WordSays(typed string, e taste.Entry) string {
	const some = 0.35
	switch over, strong := e.Extraction, e.Strength; {
	case e.Centre > 0:
		return l.Say("“%s” says that the cup is about right.", Clip(typed))
	case math.Abs(over) >= math.Abs(strong) && over > some:
		return l.Say("“%s” says that too much came out of the coffee, as bitter does.", Clip(typed))
	case math.Abs(over) >= math.Abs(strong) && over < -some:
		return l.Say("“%s” says that too little came out of the coffee, as sour does.", Clip(typed))
	case strong > some:
		return l.Say("“%s” says that the cup is strong, and not that it is sour or bitter.", Clip(typed))
	case strong < -some:
		return l.Say("“%s” says that the cup is weak, and not that it is sour or bitter.", Clip(typed))
	}
	return ""
}
