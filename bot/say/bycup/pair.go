package bycup

import (
	"strconv"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/say"
)

// PairStart says how the two shots are compared.
func (l Lang) PairStart(b layers.Table, ends bar.Ends) string {
	p := b.Begun.Pair
	text := l.Say("%s: one shot that ends at %s g (about %s s) against one of %s g, blind. Same dose, same grind.", b.Coffee.Name, l.Grams(p.New), say.Whole(p.Time), l.Grams(p.Old)) + "\n" +
		l.Say("The leader alone knows which is cup X and which is cup Y, and does not vote. Same cups, same warmth, own spoons, small sips, spit. Half of you begin with X, half with Y.") + "\n" +
		l.Say("Tap, or post: X, Y or no difference. It is kept back until %s.", l.untilText(b.Begun.Tasters))
	if ends == bar.ByButton {
		if p.New > p.Old {
			return text + "\n" + l.Say("A button's shot cannot be stretched: set a spare button to %s g first. Water let through afterwards is not the same.", l.Grams(p.New))
		}
		return text + "\n" + l.Say("The button ends it too late: take the cup away at %s g, by its handle.", l.Grams(p.New))
	}
	return text
}

// PairKey tells the leader which cup is which.
func (l Lang) PairKey(b layers.Table) string {
	x, y := b.Begun.Pair.New, b.Begun.Pair.Old
	if !b.Begun.Pair.First {
		x, y = y, x
	}
	return l.Say("For you alone: X is the shot of %s g, Y that of %s g. Pour them, mark them underneath, and tell nobody.", l.Grams(x), l.Grams(y))
}

// Pair is what a pair has come to.
func (l Lang) Pair(b layers.Table) string {
	p := b.Begun.Pair
	better, worse, same := b.Votes()
	n := better + worse
	text := l.Say("Better: the shot of %s g %s×, that of %s g %s×, no difference %s×.", l.Grams(p.New), strconv.Itoa(better), l.Grams(p.Old), strconv.Itoa(worse), strconv.Itoa(same))
	if n > 1 {
		most := max(better, worse)
		side := l.Say("%s or more of %s", strconv.Itoa(most), strconv.Itoa(n))
		switch {
		case most == n && n == 2:
			side = l.Say("both")
		case most == n:
			side = l.Say("all %s", strconv.Itoa(n))
		}
		text += " " + l.Say("If all only guessed, %s would choose the same cup %s.", side, l.timesText(min(1, 2*layers.ByChance(most, n, layers.PairChance))))
	}
	switch {
	case p.Moved:
		return l.Say("The recipe of %s was moved.", b.Coffee.Name) + " " + text
	case b.Confirmed():
		return l.Say("Confirmed: end %s at %s g, if you agree.", b.Coffee.Name, l.Grams(p.New)) + " " + text
	}
	return l.Say("Not confirmed: %s stays at %s g.", b.Coffee.Name, l.Grams(p.Old)) + " " + text
}

// LeaderVotes refuses the vote of who knows the cups.
const LeaderVotes say.English = "You know which cup is which, so yours is not counted."
