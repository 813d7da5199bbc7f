package say

import (
	"fmt"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
)

// PairStart says how the two shots are compared.
func (l Lang) PairStart(b layers.Table, ends bar.Ends) string {
	p := b.Begun.Pair
	text := fmt.Sprintf("%s: one shot that ends at %s g (about %s s) against one of %s g, blind. Same dose, same grind.\n", b.Coffee.Name, l.grams(p.New), whole(p.Time), l.grams(p.Old)) +
		"The leader alone knows which is cup X and which is cup Y, and does not vote. Same cups, same warmth, own spoons, small sips, spit. Half of you begin with X, half with Y.\n" +
		"Tap, or post: X, Y or no difference. It is kept back until " + l.untilText(b.Begun.Tasters) + "."
	if ends == bar.ByButton {
		if p.New > p.Old {
			return text + "\nA button's shot cannot be stretched: set a spare button to " + l.grams(p.New) + " g first. Water let through afterwards is not the same."
		}
		return text + "\nThe button ends it too late: take the cup away at " + l.grams(p.New) + " g, by its handle."
	}
	return text
}

// PairKey tells the leader which cup is which.
func (l Lang) PairKey(b layers.Table) string {
	x, y := b.Begun.Pair.New, b.Begun.Pair.Old
	if !b.Begun.Pair.First {
		x, y = y, x
	}
	return "For you alone: X is the shot of " + l.grams(x) + " g, Y that of " + l.grams(y) + " g. Pour them, mark them underneath, and tell nobody."
}

// Pair is what a pair has come to.
func (l Lang) Pair(b layers.Table) string {
	p := b.Begun.Pair
	better, worse, same := b.Votes()
	n := better + worse
	text := fmt.Sprintf("Better: the shot of %s g %d×, that of %s g %d×, no difference %d×.", l.grams(p.New), better, l.grams(p.Old), worse, same)
	if n > 1 {
		most := max(better, worse)
		side := fmt.Sprintf("%d or more of %d", most, n)
		switch {
		case most == n && n == 2:
			side = "both"
		case most == n:
			side = fmt.Sprintf("all %d", n)
		}
		text += fmt.Sprintf(" If nobody could tell, %s would side with one cup %s.", side, l.timesText(min(1, layers.ByChance(most, n, layers.PairChance)+layers.ByChance(most, n, layers.PairChance))))
	}
	switch {
	case p.Moved:
		return "The recipe of " + b.Coffee.Name + " was moved. " + text
	case b.Confirmed():
		return "Confirmed: end " + b.Coffee.Name + " at " + l.grams(p.New) + " g, if you agree. " + text
	}
	return "Not confirmed: " + b.Coffee.Name + " stays at " + l.grams(p.Old) + " g. " + text
}

// LeaderVotes refuses the vote of who knows the cups.
const LeaderVotes English = "You know which cup is which, so yours is not counted."
