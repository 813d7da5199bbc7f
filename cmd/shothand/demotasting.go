package main

import (
	"fmt"
	"time"
)

// A sip is what one of the invented crew posts of a split.
type sip struct{ who, text string }

// demoSplits are two splits of Tide's 34 g over three cups, tasted by three.
// Words and readings are invented; the readings are near what is published of
// another coffee's thirds (Schmieder 2023, Foods 12:2871).
func demoSplits() [][]sip {
	return [][]sip{
		{
			{"mara", "early 11.6 g sour, syrupy / middle 11.1 g sweet, flat / late 11.4 g thin, bitter"},
			{"jo", "early very sour / middle sweet / late thin"},
			{"sam", "early sour, salty / middle sweet, a bit flat / late bitter, watery"},
		},
		{
			{"mara", "early 11.3 g tds 16.8 sour / middle 11.4 g tds 7.9 sweet / late 11.2 g tds 3.8 thin, bitter / whole tds 9.5"},
			{"jo", "early sour, syrupy / middle sweet / late thin, a bit bitter"},
			{"sam", "early sour / middle sweet, flat / late bitter"},
		},
	}
}

// taste lets the crew taste a coffee cup by cup in the afternoon.
func (r *rehearsal) taste(day time.Time, c *counter) {
	r.at = day.Add(10 * time.Hour)
	r.say("mara", fmt.Sprintf("/layers start coffee:%s tasters:3", c.name))
	for _, split := range demoSplits() {
		for _, s := range split {
			r.at = r.at.Add(2 * time.Minute)
			r.say(s.who, s.text)
		}
	}
	r.say("mara", "/layers stop")
}
