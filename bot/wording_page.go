package bot

import (
	"fmt"
	"math"
	"strings"

	"shothand/advisor"
	"shothand/advisor/extraction"
	"shothand/advisor/layers"
)

// text is a coffee's page.
func (p coffeePage) text(r *room) string {
	lines := []string{coffeeText("", p.coffee, r), p.bestText()}
	if p.tasted {
		lines = append(lines, p.layersText())
	}
	if p.paired {
		lines = append(lines, "Compared blind: "+p.pair.pairText())
	}
	return strings.Join(append(lines, p.ageingText(), p.worthText(), p.cautionsText()), "\n")
}

// bestText says where it has tasted best.
func (p coffeePage) bestText() string {
	switch {
	case p.Tasted == 0:
		return "Tasted best: nobody has tasted it yet."
	case p.Liked == 0:
		return fmt.Sprintf("Tasted best: none of %s was liked yet.", count(p.Tasted, "tasted shot"))
	}
	return fmt.Sprintf("Tasted best: about %s s at 1:%s (liked %d of %s; four in five of them in %s s and 1:%s)", whole(advisor.Seconds(p.Time.Middle)), number(math.Round(p.Ratio.Middle*10)/10),
		p.Liked, count(p.Tasted, "tasted shot"), wholes(p.Time), spreadText(p.Ratio))
}

// wholes prints a spread of seconds.
func wholes(s advisor.Spread) string {
	low, high := whole(advisor.Seconds(s.Low)), whole(advisor.Seconds(s.High))
	if low == high {
		return low
	}
	return low + "–" + high
}

// spreadText prints a spread to a tenth.
func spreadText(s advisor.Spread) string {
	low, high := number(math.Round(s.Low*10)/10), number(math.Round(s.High*10)/10)
	if low == high {
		return low
	}
	return low + "–" + high
}

// layersText is the last tasting cup by cup in short.
func (p coffeePage) layersText() string {
	var cups []string
	for l := range layers.Layer(layers.Cups) {
		if line := strings.TrimPrefix(p.account.cupText(l), "• "); line != "" {
			cups = append(cups, line)
		}
	}
	return fmt.Sprintf("Cup by cup, %s: %s. %s", p.account.entry.Day, strings.Join(cups, "; "), p.account.verdictText(advisor.ByScale))
}

// ageingText says how it runs as it gets older, by its own shots.
func (p coffeePage) ageingText() string {
	a := p.Ageing
	switch {
	case !a.Known:
		return fmt.Sprintf("Ageing: too few shots at one setting over several days to say (%d); no study has measured it.", a.Shots)
	case !a.Shows():
		return fmt.Sprintf("Ageing: at one setting it runs the same from day to day, as far as %d shots show.", a.Shots)
	case a.Day < 0:
		return fmt.Sprintf("Ageing: at one setting it runs about %s s faster each day (%d shots).", tenths(-a.Day), a.Shots)
	}
	return fmt.Sprintf("Ageing: at one setting it runs about %s s slower each day (%d shots).", tenths(a.Day), a.Shots)
}

// worthText says what changes are worth.
func (p coffeePage) worthText() string {
	text := "What changes are worth: "
	if p.pulled {
		text += "a step of " + p.grinder.Name + " about " + tenths(p.learnt.Step) + " s (learnt from " + count(p.learnt.Shots, "shot") + ")"
	} else {
		text += "of a step of " + p.grinder.Name + " nothing is known yet"
	}
	if p.modeled {
		text += fmt.Sprintf("; %d g more in the cup about %.1f points of TDS weaker, %.1f points more of the dose out (by the model)", yieldTried, p.now.TDS-p.longer.TDS, p.longer.EY-p.now.EY)
	}
	return text + "."
}

// cautionsText are the cautions of a coffee.
func (p coffeePage) cautionsText() string {
	text := "With care: let cups cool before tasting"
	if c, err := extraction.Caffeine(float64(p.coffee.Recipe.Dose), 0, float64(p.coffee.Recipe.Yield)); err == nil {
		text += "; a whole shot holds some " + between(c.Low, c.High, 10) + " mg of caffeine, more with Robusta in it"
	}
	if p.coffee.For == advisor.WithMilk || p.coffee.Milk != (advisor.Recipe{}) {
		text += "; milk, soya, nut and oat drinks that share a wand share their allergens"
	}
	return text + "."
}
