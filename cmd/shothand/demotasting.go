package main

import (
	"fmt"
	"time"
)

// A sip is what one of the invented crew posts of a split.
type sip struct{ who, text string }

// demoSplits are two splits of Tide's 36 g over three cups, tasted by three, who
// find the last of them bitter. Words and readings are invented; the readings are
// near what is published of another coffee's thirds (Schmieder 2023, Foods
// 12:2871).
func demoSplits() [][]sip {
	return [][]sip{
		{
			{"mara", "early 12.1 g sour, syrupy / middle 12.2 g sweet / late 11.9 g very bitter, dry"},
			{"jo", "early sour / middle sweet / late bitter, dry"},
			{"sam", "early sour, salty / middle sweet, a bit flat / late bitter, dry"},
		},
		{
			{"mara", "early 12 g tds 16.5 sour / middle 12 g tds 7.6 sweet / late 12 g tds 3.7 very bitter, dry / whole tds 9.4"},
			{"jo", "early sour, syrupy / middle sweet / late bitter, dry"},
			{"sam", "early sour / middle sweet / late bitter, dry, ashy"},
		},
	}
}

// taste lets the crew taste a coffee cup by cup in the afternoon, compare the
// shorter shot with the old one blind, and move the recipe.
func (r *rehearsal) taste(day time.Time, c *counter) {
	r.at = day.Add(9 * time.Hour)
	r.say("mara", fmt.Sprintf("/layers start coffee:%s method:espresso tasters:3", c.name))
	for _, split := range demoSplits() {
		for _, s := range split {
			r.at = r.at.Add(2 * time.Minute)
			r.say(s.who, s.text)
		}
	}
	r.at = r.at.Add(5 * time.Minute)
	r.say("mara", "/layers pair")
	for _, who := range []string{"jo", "sam"} {
		r.at = r.at.Add(2 * time.Minute)
		r.say(who, r.newCup)
	}
	r.at = r.at.Add(time.Minute)
	r.tap("mara")
	r.at = r.at.Add(time.Minute)
	c.yield = 32
}
