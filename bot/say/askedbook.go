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

// Counted is how many shots a coffee had, or somebody pulled.
type Counted struct {
	Of    string
	Shots int
}

// NoneOfYours answers who asks for a shot of their own.
const NoneOfYours English = "No shot of yours today."

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
	case of.ID != 0 && len(counts) == 1 && counts[0].Of == of.Name:
		return l.Say("%s today: %s.", of.Name, l.Count(total, "shot"))
	}
	parts := strings.Join(Each(counts, func(c Counted) string { return l.Number(float64(c.Shots)) + " " + c.Of }), ", ")
	switch {
	case of.ID != 0:
		return l.Say("%s today: %s.", of.Name, l.Count(total, "shot")+" ("+parts+")")
	case len(counts) == 1:
		return l.Say("%s today: %s.", counts[0].Of, l.Count(total, "shot"))
	}
	return l.Say("Today: %s (%s).", l.Count(total, "shot"), parts)
}

// OnAverage says what the shots of a coffee were today on average.
func (l Lang) OnAverage(c bar.Coffee, s bar.Shot, n int) string {
	return l.Say("%s today, on average: %s (%s).", c.Name, l.PouredText(s), l.Count(n, "shot"))
}

// StoodBefore says where a dial stood at the end of the day before.
func (l Lang) StoodBefore(g bar.Grinder, at bar.Dial, known bool) string {
	if !known {
		return l.Say("It is not known where %s stood yesterday.", g.Name)
	}
	return l.Say("At the end of yesterday %s was %s.", g.Name, l.dial(g, at))
}

// NewestBag says when the newest bag of a coffee was opened, as far as somebody told.
func (l Lang) NewestBag(c bar.Coffee, e bar.Entry, who string, today bool) string {
	switch {
	case e.ID == 0:
		return l.Say("Nobody has told of a new bag of %s.", c.Name)
	case today:
		return l.Say("The newest bag of %s: today %s (%s).", c.Name, l.Clock(e.At), who)
	}
	return l.Say("The newest bag of %s: %s, %s (%s).", c.Name, l.DayName(e.Day), l.Clock(e.At), who)
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
