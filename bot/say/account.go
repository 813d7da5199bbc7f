package say

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"shothand/advisor/agree"
	"shothand/advisor/bar"
	"shothand/advisor/layers"
)

// Account is the account: what to do, what was tasted, what to try now, and what
// that rests on. As it is posted it leaves out what nobody has measured: it is
// read off a phone, with spoons in hand.
func (l Lang) Account(a layers.Account, people []bar.Person, ends bar.Ends, whole bool) string {
	lines := []string{l.endText(a, ends), l.AccountHead(a)}
	for cup := bar.Early; cup <= bar.Whole; cup++ {
		if line := l.cupText(a, cup); line != "" {
			lines = append(lines, line)
		}
	}
	lines = append(lines, l.sideBySide(a, people)...)
	if a.Orders > 0 {
		lines = append(lines, l.orderText(a))
	}
	numbers := whole || a.Known
	if a.Weighed && !numbers {
		lines = append(lines, l.balanceText(a))
	}
	lines = append(lines, l.atTheTableText(a))
	if next := l.nextText(a); next != "" {
		lines = append(lines, next)
	}
	if numbers {
		lines = append(lines, l.holdText(a)...)
		lines = append(lines, l.yieldsText(a))
	}
	if whole || len(a.Alike) > 0 {
		lines = append(lines, l.alikeText(a))
	}
	if !whole {
		lines = append(lines, l.Say(moreOfCupsText))
	}
	lines = slices.DeleteFunc(lines, func(s string) bool { return s == "" })
	return strings.Join(lines, "\n")
}

// moreOfCupsText says where the rest of an account is.
const moreOfCupsText English = "All of it, with what a model expects of these cups: /layers show"

// endText is the first line: where the shot should end.
func (l Lang) endText(a layers.Account, ends bar.Ends) string {
	v := a.Verdict
	name := a.Coffee.Name
	if a.Begun.Method == bar.PourOver {
		name += " poured over"
	}
	at := l.grams(a.Begun.Yield)
	switch {
	case v.Tasters() == 0:
		return name + ": nobody has tasted all three cups of a split, so nothing follows yet."
	case v.Torn:
		return "Nothing to change yet: some of you would end " + name + " later and some sooner. Keep " + at + " g."
	case v.Unsteady:
		return "Nothing to change: the splits say opposite things. Keep " + at + " g."
	case v.Way == layers.Stay:
		return "Nothing to change: end " + name + " at " + at + " g as it is."
	}
	text := fmt.Sprintf("By these cups %s should end later: %s g instead of %s (%s).", name, l.gram(v.Yield), at, l.ofTasters(v.Longer, v.Tasters()))
	if v.Way == layers.Shorter {
		text = fmt.Sprintf("By these cups %s should end sooner: %s g instead of %s (%s).", name, l.gram(v.Yield), at, l.ofTasters(v.Shorter, v.Tasters()))
	}
	if ends == bar.ByButton && a.Begun.Method == bar.Espresso && v.Way == layers.Longer {
		text += " A button's shot cannot be stretched by hand: the button has to be set anew, in a quiet hour."
	}
	return text
}

func (l Lang) ofTasters(n, of int) string {
	if of == 1 {
		return "one taster"
	}
	return fmt.Sprintf("%d of %d tasters", n, of)
}

// AccountHead says what the account is of.
func (l Lang) AccountHead(a layers.Account) string {
	var who []bar.PersonID
	for _, row := range a.Rows {
		if !slices.Contains(who, row.Who) {
			who = append(who, row.Who)
		}
	}
	return fmt.Sprintf("%s → %s g, %s, %s", l.grams(a.Begun.Dose), l.grams(a.Begun.Yield), l.Count(len(a.Splits), "split"), l.Count(len(who), "taster"))
}

// cupText is what a cup brought, by its name.
func (l Lang) cupText(a layers.Account, cup bar.Layer) string {
	said := l.CupSaid(a, cup)
	if said == "" {
		return ""
	}
	return "• " + cup.String() + ": " + said
}

// CupSaid is what a cup brought and how often it was said, in all splits.
func (l Lang) CupSaid(a layers.Account, cup bar.Layer) string {
	said := map[string]int{}
	var order []string
	for _, row := range a.Rows {
		s, ok := row.Said.Note(cup)
		if !ok {
			continue
		}
		var words []string
		for _, w := range s.Words {
			words = append(words, l.termText(w.Term, w.Not))
		}
		for _, x := range s.Scores {
			if x.X >= namedScore {
				words = append(words, x.Of.String())
			}
		}
		slices.Sort(words)
		for _, w := range slices.Compact(words) {
			if said[w]++; said[w] == 1 {
				order = append(order, w)
			}
		}
	}
	slices.SortStableFunc(order, func(x, y string) int { return said[y] - said[x] })
	var parts []string
	for _, w := range order {
		parts = append(parts, fmt.Sprintf("%s %d×", w, said[w]))
	}
	return strings.Join(parts, ", ")
}

// namedScore is the least score that counts as named.
const namedScore = 2

func (l Lang) termText(term string, not bool) string {
	if not {
		return "not " + term
	}
	return term
}

// sideBySide are the tasters of the last split one by one, if there are several.
func (l Lang) sideBySide(a layers.Account, people []bar.Person) []string {
	var lines []string
	for _, row := range a.Rows {
		if row.Split != a.Splits[len(a.Splits)-1] {
			continue
		}
		name := l.NameOf(people, row.Who)
		var cups []string
		for cup := range bar.Layer(layers.Cups) {
			s, _ := row.Said.Note(cup)
			if taste := l.tasteText(s); taste != "" {
				cups = append(cups, taste)
			} else {
				cups = append(cups, "–")
			}
		}
		line := name + ": " + strings.Join(cups, " / ")
		if row.After {
			line += " (after the others)"
		}
		lines = append(lines, line)
	}
	if len(lines) < 2 {
		return nil
	}
	return lines
}

// orderText says how well blind cups were put in order.
func (l Lang) orderText(a layers.Account) string {
	key := fmt.Sprintf("Early was %s, middle %s, late %s. ", a.LetterOf(bar.Early), a.LetterOf(bar.Middle), a.LetterOf(bar.Late))
	return key + fmt.Sprintf("In order: %d of %d.", a.Right, a.Orders) + l.guessText(a.Right, a.Orders)
}

// guessText says how often guessing puts so many blind cups in order.
func (l Lang) guessText(right, orders int) string {
	if right == 0 {
		return ""
	}
	return " Guessing does that well " + l.timesText(layers.ByChance(right, orders, layers.OrderChance)) + "."
}

// timesText says how often something happens by chance.
func (l Lang) timesText(p float64) string {
	switch {
	case !(p < 0.999):
		return "always"
	case p > 0.35:
		return fmt.Sprintf("%.0f times in 10", 10*p)
	}
	return fmt.Sprintf("1 time in %.0f", 1/p)
}

// holdText is what the cups hold, expected and measured.
func (l Lang) holdText(a layers.Account) []string {
	if len(a.Splits) == 0 {
		return nil
	}
	of := func(value func(layers.Expected) string) string {
		var parts []string
		for _, e := range a.Expected {
			parts = append(parts, value(e))
		}
		return strings.Join(parts, " / ")
	}
	weights := "as planned, nobody weighed them"
	if a.Weighed {
		weights = "of the " + l.splitName(a.Splits[len(a.Splits)-1])
	}
	lines := []string{
		"Expected of cups of " + of(func(e layers.Expected) string { return l.gram(e.Mass) }) + " g, by a model (" + weights + "; " + l.modelText(a) + "):",
		"  " + of(func(e layers.Expected) string { return between(e.Share.Low, e.Share.High, 1) }) + " % of the solids",
		"  " + of(func(e layers.Expected) string { return l.span(e.TDS) }) + " % TDS",
		"  " + of(func(e layers.Expected) string { return l.span(e.EY) }) + " % of the dose",
	}
	if a.Known {
		lines = append(lines, l.measuredText(a)...)
	}
	if a.Weighed {
		lines = append(lines, l.balanceText(a))
	}
	return lines
}

// modelText says what the model is worth.
func (l Lang) modelText(a layers.Account) string {
	if a.Begun.Method == bar.PourOver {
		return "no published split of a pour-over to hold it to, so the ranges are wide"
	}
	return "held to published splits of one coffee; four in five should be in the range"
}

func (l Lang) span(e layers.Estimate) string {
	if e.High < 9.95 {
		return fmt.Sprintf("%.1f–%.1f", e.Low, e.High)
	}
	return fmt.Sprintf("%.0f–%.0f", e.Low, e.High)
}

// measuredText is what was measured of the cups beside it.
func (l Lang) measuredText(a layers.Account) []string {
	var share, tds, ey []string
	var odd []string
	for i, h := range a.Measured {
		share = append(share, fmt.Sprintf("%.0f", h.Share))
		tds = append(tds, fmt.Sprintf("%.1f", h.TDS))
		ey = append(ey, fmt.Sprintf("%.1f", h.EY))
		if a.Expected[i].Share.Outside(h.Share) {
			odd = append(odd, bar.Layer(i).String())
		}
	}
	text := "Measured: " + strings.Join(share, " / ") + " % of the solids, " + strings.Join(tds, " / ") + " % TDS, " + strings.Join(ey, " / ") + " % of the dose"
	if len(odd) > 0 {
		return []string{text + ". Outside the range: " + l.List(odd) + "; look at how the cups were changed before you believe it."}
	}
	return []string{text + ", as expected."}
}

// balanceText says whether the cups are the whole.
func (l Lang) balanceText(a layers.Account) string {
	total := 0.0
	for _, m := range a.Masses[a.Splits[len(a.Splits)-1]] {
		total += m
	}
	text := "Together " + l.gram(total) + " g"
	if a.Known {
		whole := layers.Together(a.Measured)
		text += fmt.Sprintf(" at %.1f %% TDS, %.1f %% of the dose", whole.TDS, whole.EY)
		if a.Whole > 0 && !layers.Agrees(whole.TDS, a.Whole) {
			return text + fmt.Sprintf(": not the strength of the whole shot, %.1f %%. One of the readings or shots is off.", a.Whole)
		}
		if a.Whole > 0 {
			text += fmt.Sprintf(" (the whole shot %.1f %%)", a.Whole)
		}
	}
	if off := total - float64(a.Begun.Yield); !layers.Balances(total, float64(a.Begun.Yield)) {
		way := "more"
		if off < 0 {
			way = "less"
		}
		return text + fmt.Sprintf(": %.0f g %s than the recipe's %s, so this was another shot than the usual one.", math.Abs(off), way, l.grams(a.Begun.Yield))
	}
	return text + ": it balances."
}

// atTheTableText says what can be tasted now from the cups on the table.
func (l Lang) atTheTableText(a layers.Account) string {
	if len(a.Splits) == 0 {
		return ""
	}
	early, late := a.Expected[bar.Early].TDS.X, a.Expected[bar.Late].TDS.X
	why := "about"
	if a.Known {
		early, late, why = a.Measured[bar.Early].TDS, a.Measured[bar.Late].TDS, "by your readings"
	}
	lines := []string{
		"What falls from cup to cup is strength as much as flavour. With what you kept back:",
		fmt.Sprintf("• 5 g of the early cup and %.0f g of warm water (%s) are as strong as the late cup: now compare flavour", layers.Water(5, early, late), why),
		"• pair them by equal spoons: early and middle, middle and late, early and late; none is meant to be good alone",
		"• " + l.mixText(a),
	}
	return strings.Join(lines, "\n")
}

// mixText is the shot that ends where the cups say, from the cups.
func (l Lang) mixText(a layers.Account) string {
	masses := a.Masses[a.Splits[len(a.Splits)-1]]
	end := a.Verdict.Yield
	if a.Verdict.Way == layers.Stay {
		return "by weight, " + l.weightsText(masses) + ", they are the whole " + l.brewText(a) + " again"
	}
	parts, ok := layers.Mix(masses, end)
	if !ok {
		total := masses[0] + masses[1] + masses[2]
		return fmt.Sprintf("a %s of %s g cannot be mixed from these cups; all of them and %.0f g of warm water come near it", l.brewText(a), l.gram(end), end-total)
	}
	return "by weight, " + l.weightsText(parts) + ", they are a " + l.brewText(a) + " that ends at " + l.gram(end) + " g"
}

// brewText is what was split.
func (l Lang) brewText(a layers.Account) string {
	if a.Begun.Method == bar.PourOver {
		return "brew"
	}
	return "shot"
}

// weightsText is how to mix a spoonful by weight, for cups that are half empty.
func (l Lang) weightsText(parts [layers.Cups]float64) string {
	total := parts[0] + parts[1] + parts[2]
	var text []string
	for i, p := range parts {
		if tenth := 10 * p / total; tenth > 0 {
			text = append(text, fmt.Sprintf("%.1f g of %s", tenth, bar.Layer(i).String()))
		}
	}
	return l.List(text)
}

// yieldsText compares where the shot could end.
func (l Lang) yieldsText(a layers.Account) string {
	var parts []string
	for _, y := range a.Yields {
		parts = append(parts, fmt.Sprintf("%.0f g: about %.1f %% TDS, %.1f %% of the dose", y.Yield, y.Cup.TDS, y.Cup.EY))
	}
	return "Ending at " + strings.Join(parts, "; at ")
}

// alikeText says how alike the bar tastes.
func (l Lang) alikeText(a layers.Account) string {
	if len(a.Alike) == 0 {
		return fmt.Sprintf("How alike you taste: too few cups to say (%d of %d that two of you have tasted).", a.Both, agree.Enough)
	}
	var parts []string
	for _, likeness := range a.Alike {
		name := likeness.Of.String()
		if likeness.Scores {
			name += " by scores"
		}
		parts = append(parts, fmt.Sprintf("%s %s (%s to %s)", name, l.one(likeness.Alpha), l.one(likeness.Low), l.one(likeness.High)))
	}
	return fmt.Sprintf("How alike you taste, over %d cups: %s; 1 is all alike, 0 is chance, 0.7 is called fair.", a.Both, strings.Join(parts, ", "))
}

// one prints a figure to a tenth.
func (l Lang) one(x float64) string {
	return strings.Replace(fmt.Sprintf("%.1f", math.Round(10*x)/10+0), "-", "−", 1)
}

// nextText is what should follow.
func (l Lang) nextText(a layers.Account) string {
	switch {
	case len(a.Splits) < layers.EnoughSplits && a.Verdict.Tasters() > 0:
		pull := "Pull"
		if a.Begun.Method == bar.PourOver {
			pull = "Brew"
		}
		return "One split is noisy, one " + l.brewText(a) + "'s cut differs by a fifth and more from the next. " + pull + " the second, taste it the same way and post again; strike a bad one with /layers strike."
	case a.Verdict.Way == layers.Stay || a.Begun.Method == bar.PourOver:
		return ""
	}
	return "Before the recipe moves: a real shot that ends at " + l.gram(a.Verdict.Yield) + " g against one of " + l.grams(a.Begun.Yield) + ", blind: /layers pair"
}
