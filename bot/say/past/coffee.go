package past

import (
	"strconv"
	"strings"

	"shothand/advisor"
	"shothand/advisor/ageing"
	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/layers"
	"shothand/advisor/review"
	"shothand/bot/say/bycup"
)

// A CoffeePage is all that is known of a coffee, looked up for the wording.
type CoffeePage struct {
	Lang
	Coffee     bar.Coffee
	Currency   string
	Grinder    bar.Grinder
	Ageing     ageing.Trend
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
	lines := []string{p.Lang.Coffee("", p.Coffee, p.Grinder, day, p.Currency), p.bestText()}
	if p.HasTasting {
		lines = append(lines, p.layersText())
	}
	if p.HasPair {
		lines = append(lines, p.Say("Compared blind: %s", p.Lang.Pair(p.Pair)))
	}
	return strings.Join(append(lines, p.ageingText(), p.worthText(), p.cautionsText()), "\n")
}

// bestText says where it has tasted best, by the same cups as a review.
func (p CoffeePage) bestText() string {
	switch b := p.Best; {
	case p.HasBest:
		return p.Lang.Best(p.Coffee, p.Grinder, b) + " " + p.Say("That is of the last 90 days.")
	case b.OtherCups == 0:
		return p.Say("Tasted best: nobody has tasted it yet.")
	case b.OtherLiked == 0:
		return p.Say("Tasted best: none of %s was liked yet.", p.Count(b.OtherCups, "tasted shot"))
	}
	return p.Say("Tasted best: too few cups of one kind to say (liked %s of %s).", strconv.Itoa(p.Best.OtherLiked), p.Count(p.Best.OtherCups, "tasted shot"))
}

// layersText is the last tasting cup by cup in short.
func (p CoffeePage) layersText() string {
	var cups []string
	for l := range bar.Layer(layers.Cups) {
		if line := strings.TrimPrefix(p.CupText(p.Tasting, l), "• "); line != "" {
			cups = append(cups, line)
		}
	}
	return p.Say("Cup by cup, %s: %s. %s", p.DateText(p.Tasting.Entry.Day, "2 Jan"), strings.Join(cups, p.Semicolon()), p.EndText(p.Tasting, bar.ByScale))
}

// ageingText says how it runs as it gets older, by its own shots.
func (p CoffeePage) ageingText() string {
	a := p.Ageing
	switch {
	case !a.Known():
		return p.Say("Ageing: too few shots at one setting over several days to say (%s); no study has measured it.", strconv.Itoa(a.Shots))
	case !a.Shows():
		return p.Say("Ageing: at one setting it runs the same from day to day, as far as the %s show that ran at one setting on several days.", p.Count(a.Shots, "shot"))
	case a.Day < 0:
		return p.Say("Ageing: at one setting it runs about %s s faster each day (%s).", p.Tenths(-a.Day), p.Count(a.Shots, "shot"))
	}
	return p.Say("Ageing: at one setting it runs about %s s slower each day (%s).", p.Tenths(a.Day), p.Count(a.Shots, "shot"))
}

// worthText says what changes are worth.
func (p CoffeePage) worthText() string {
	text := ""
	switch {
	case p.Pulled && review.HasShown(p.Worth):
		text = p.Say("a step of %s about %s s (learnt from all %s)", p.Grinder.Name, p.Tenths(bar.Seconds(p.Worth.Mid)), p.Count(p.Learnt.Shots, "shot"))
	case p.Grinder.Worth > 0:
		text = p.Say("a step of %s about %s s (as you told)", p.Grinder.Name, p.Tenths(p.Grinder.Worth))
	default:
		text = p.Say("what a step of %s does has not shown yet", p.Grinder.Name)
	}
	if p.Modeled {
		text += p.Semicolon() + p.Say("%s g more in the cup about %s points of TDS weaker, %s points more of the dose out (by the model)",
			strconv.Itoa(YieldTried), p.Tenth(p.Now.TDS-p.Longer.TDS), p.Tenth(p.Longer.EY-p.Now.EY))
	}
	return p.Say("What changes are worth: %s.", text)
}

// cautionsText are the cautions of a coffee.
func (p CoffeePage) cautionsText() string {
	text := p.Say("With care: let cups cool before tasting")
	if c, err := extraction.Caffeine(float64(p.Coffee.Recipe.Dose), 0, float64(p.Coffee.Recipe.Yield)); err == nil {
		text += p.Semicolon() + p.Say("a whole shot holds some %s mg of caffeine, more with Robusta in it", bycup.Between(c.Low, c.High, 10))
	}
	if p.Coffee.For == bar.WithMilk || p.Coffee.Milk != (bar.Recipe{}) {
		text += p.Semicolon() + p.Say("milk, soya, nut and oat drinks that share a wand share their allergens")
	}
	return text + "."
}
