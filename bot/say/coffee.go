package say

import (
	"fmt"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/layers"
	"shothand/advisor/review"
)

// A CoffeePage is all that is known of a coffee, looked up for the wording.
type CoffeePage struct {
	Lang       Lang
	Coffee     bar.Coffee
	Grinder    bar.Grinder
	Ageing     advisor.Trend
	Best       review.Best // of the cups of three months
	HasBest    bool
	Learnt     advisor.Learnt
	Worth      advisor.Band // s, of a step of the grinder
	Pulled     bool
	Tasting    layers.Account // of the last tasting that was shown
	HasTasting bool           // there is one
	Pair       layers.Table   // the last that was shown
	HasPair    bool           // there is one
	Longer     extraction.Cup
	Now        extraction.Cup
	Modeled    bool
}

// YieldTried is how much longer a shot is tried to say what the yield is worth,
// in g.
const YieldTried = 4

// A coffee's page.

// Text is a coffee's page, as of a day.
func (p CoffeePage) Text(day bar.Day) string {
	lines := []string{p.Lang.Coffee("", p.Coffee, p.Grinder, day), p.bestText()}
	if p.HasTasting {
		lines = append(lines, p.layersText())
	}
	if p.HasPair {
		lines = append(lines, "Compared blind: "+p.Lang.Pair(p.Pair))
	}
	return strings.Join(append(lines, p.ageingText(), p.worthText(), p.cautionsText()), "\n")
}

// bestText says where it has tasted best, by the same cups as a review.
func (p CoffeePage) bestText() string {
	switch b := p.Best; {
	case p.HasBest:
		return p.Lang.Best(p.Coffee, p.Grinder, b) + " (the last 90 days)."
	case b.OtherCups == 0:
		return "Tasted best: nobody has tasted it yet."
	case b.OtherLiked == 0:
		return fmt.Sprintf("Tasted best: none of %s was liked yet.", p.Lang.Count(b.OtherCups, "tasted shot"))
	}
	return fmt.Sprintf("Tasted best: too few cups of one kind to say (liked %d of %s).", p.Best.OtherLiked, p.Lang.Count(p.Best.OtherCups, "tasted shot"))
}

// layersText is the last tasting cup by cup in short.
func (p CoffeePage) layersText() string {
	var cups []string
	for l := range bar.Layer(layers.Cups) {
		if line := strings.TrimPrefix(p.Lang.cupText(p.Tasting, l), "• "); line != "" {
			cups = append(cups, line)
		}
	}
	return fmt.Sprintf("Cup by cup, %s: %s. %s", p.Lang.dateText(p.Tasting.Entry.Day, "2 Jan"), strings.Join(cups, "; "), p.Lang.endText(p.Tasting, bar.ByScale))
}

// ageingText says how it runs as it gets older, by its own shots.
func (p CoffeePage) ageingText() string {
	a := p.Ageing
	switch {
	case !a.Known():
		return fmt.Sprintf("Ageing: too few shots at one setting over several days to say (%d); no study has measured it.", a.Shots)
	case !a.Shows():
		return fmt.Sprintf("Ageing: at one setting it runs the same from day to day, as far as %d shots show.", a.Shots)
	case a.Day < 0:
		return fmt.Sprintf("Ageing: at one setting it runs about %s s faster each day (%d shots).", p.Lang.tenths(-a.Day), a.Shots)
	}
	return fmt.Sprintf("Ageing: at one setting it runs about %s s slower each day (%d shots).", p.Lang.tenths(a.Day), a.Shots)
}

// worthText says what changes are worth.
func (p CoffeePage) worthText() string {
	text := "What changes are worth: "
	switch {
	case p.Pulled && review.HasShown(p.Worth):
		text += "a step of " + p.Grinder.Name + " about " + p.Lang.tenths(bar.Seconds(p.Worth.Mid)) + " s (learnt from " + p.Lang.Count(p.Learnt.Shots, "shot") + ")"
	case p.Grinder.Worth > 0:
		text += "a step of " + p.Grinder.Name + " about " + p.Lang.tenths(p.Grinder.Worth) + " s (as you told)"
	default:
		text += "what a step of " + p.Grinder.Name + " does has not shown yet"
	}
	if p.Modeled {
		text += fmt.Sprintf("; %d g more in the cup about %.1f points of TDS weaker, %.1f points more of the dose out (by the model)", YieldTried, p.Now.TDS-p.Longer.TDS, p.Longer.EY-p.Now.EY)
	}
	return text + "."
}

// cautionsText are the cautions of a coffee.
func (p CoffeePage) cautionsText() string {
	text := "With care: let cups cool before tasting"
	if c, err := extraction.Caffeine(float64(p.Coffee.Recipe.Dose), 0, float64(p.Coffee.Recipe.Yield)); err == nil {
		text += "; a whole shot holds some " + between(c.Low, c.High, 10) + " mg of caffeine, more with Robusta in it"
	}
	if p.Coffee.For == bar.WithMilk || p.Coffee.Milk != (bar.Recipe{}) {
		text += "; milk, soya, nut and oat drinks that share a wand share their allergens"
	}
	return text + "."
}
