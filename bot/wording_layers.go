package bot

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor"
	"shothand/advisor/agree"
	"shothand/advisor/extraction"
	"shothand/advisor/layers"
)

// What is said of tastings cup by cup. Nothing here tells what to expect in a
// cup before it was tasted: a word that was read anchors the room.

// Labels of its buttons and its form.
const (
	cupsLabel       = "my cups"
	revealLabel     = "show all"
	pairLabel       = "compare blind"
	sameLabel       = "no difference"
	cupsFormTitle   = "What is in your cups"
	cupHint         = "12.1 g, your words; if you like: sour 3 bitter 0 sweet 2 body 4 dry 1"
	wholeFieldLabel = "the whole shot"
	orderFieldLabel = "order, early first"
	orderHint       = "such as BCA"
)

func cupLabelText(letter string) string { return "cup " + letter }

func moveLabel(to advisor.Grams) string { return "move to " + grams(to) + " g" }

func leaveLabel(at advisor.Grams) string { return "leave at " + grams(at) + " g" }

// Short sentences of a tasting.
const (
	noTableText          = "No tasting is going on here. Begin one: /layers start coffee:Harbour tasters:3"
	noSplitText          = "That cannot be split into three cups; give dose, yield and time as they are. Nothing was started."
	notLeaderText        = "That is for who began the tasting, or who manages the channel."
	nothingToShowText    = "Nobody has said anything of these cups yet."
	noCupsText           = "Say what is in the cups, such as: early … / middle … / late …"
	lettersText          = "These cups have letters: a … / b … / c …, and the order you would put them in: order b c a"
	notBlindText         = "These cups have no letters: early … / middle … / late …"
	pairOnlyText         = "Two shots are being compared: say X, Y or no difference."
	noPairText           = "There is no pair to compare. The cups: early … / middle … / late …"
	secondFirstText      = "One split is too noisy to move a recipe on. Pull the second, taste it, then compare. (/layers pair yield:32 compares anyway.)"
	nothingToCompareText = "By the cups nothing is to change, so there is nothing to compare. (/layers pair yield:32 compares anyway.)"
	noFilterPairText     = "The recipe here is the espresso's; of a pour-over the account is kept with the coffee, and you choose."
	recipeChangedText    = "The recipe has changed since these two were compared; nothing was moved."
)

// splitName names a split.
func splitName(split int) string {
	names := []string{"first", "second", "third", "fourth"}
	if 1 <= split && split <= len(names) {
		return names[split-1] + " split"
	}
	return "split " + strconv.Itoa(split)
}

// minutes prints a time as a timer shows it.
func minutes(s float64) string {
	n := int(math.Round(s))
	return fmt.Sprintf("%d:%02d", n/60, n%60)
}

// gram prints a weight as a scale shows it, to a tenth.
func gram(x float64) string { return grams(advisor.Grams(x)) }

// startText says how it is done.
func (b table) startText(leader string, cuts [layers.Cups]layers.Cut, ends advisor.Ends) string {
	lines := []string{b.coffee.Name + ", cup by cup, led by " + leader + "."}
	if b.begun.Method == layers.PourOver {
		lines = append(lines, b.filterSteps(cuts))
	} else {
		lines = append(lines, b.espressoSteps(cuts, ends))
	}
	lines = append(lines, b.tasteSteps(cuts), b.careText())
	return strings.Join(lines, "\n")
}

func (b table) espressoSteps(cuts [layers.Cups]layers.Cut, ends advisor.Ends) string {
	text := fmt.Sprintf("1. Pull one as always, %s → %s g, and set it aside whole: the reference.\n", grams(b.begun.Dose), grams(b.begun.Yield)) +
		fmt.Sprintf("2. Pull another the same over a scale, and change the cup at %s g and at %s g; stop at %s g. ", gram(cuts[0].Grams), gram(cuts[1].Grams), gram(cuts[2].Grams)) +
		fmt.Sprintf("Without a scale: at about %.0f and %.0f s from the pump, stop at %.0f. The first drops come late and the flow quickens, so equal times are not equal cups. ", cuts[0].Seconds, cuts[1].Seconds, cuts[2].Seconds) +
		"Hold the cups by their handles, fingers off the group and the spout. Weigh each."
	if ends == advisor.ByButton {
		text += " Your shots end by a button: the cups are changed while it runs, and it ends where it is set to. It cannot be stretched for a try."
	}
	return text
}

func (b table) filterSteps(cuts [layers.Cups]layers.Cut) string {
	water := layers.FilterWater(float64(b.begun.Dose), float64(b.begun.Yield))
	return fmt.Sprintf("1. Brew one as always, %s g with about %.0f g of water off the boil (about 94 °C), and set it aside whole: the reference.\n", grams(b.begun.Dose), water) +
		fmt.Sprintf("2. Brew another the same and change the vessel at %s and at %s from the first water; take the dripper away at %s. Weigh each. Kettle and dripper scald.", minutes(cuts[0].Seconds), minutes(cuts[1].Seconds), minutes(cuts[2].Seconds))
}

// tasteSteps are the same however it was made.
func (b table) tasteSteps(cuts [layers.Cups]layers.Cut) string {
	portion := ""
	if n := b.begun.Tasters; n > 1 {
		portion = fmt.Sprintf(" For %d of you that is about %.0f g of each cup.", n, layers.Masses(cuts)[0]*2/3/float64(n))
	}
	order := "Taste early, middle, late, then the whole one"
	how := "early 12.1 g your words / middle 12.8 g your words / late 11.9 g your words"
	if b.begun.Method == layers.PourOver {
		how = "early 70 g your words / middle 110 g your words / late 105 g your words"
	}
	if b.begun.Blind {
		order = "Taste A, B, C, then the whole one"
		how = "a your words / b your words / c your words, order b c a (early first)"
	}
	return "3. Stir each cup, keep a third of each for afterwards, share out the rest." + portion + "\n" +
		"4. " + order + ", a sip of water between. Say nothing aloud.\n" +
		"5. Tap “" + cupsLabel + "”, or post it here if nobody reads along:\n   " + how + "\n" +
		"   Also whole …; tds 9.4 if you measure; 0 to 5 if you like: sour 3 bitter 0 sweet 2 body 4 dry 1\n" +
		"It is kept back until " + untilText(b.begun.Tasters) + ". One split is noisy: a second belongs to it."
}

func untilText(tasters int) string {
	if tasters == 0 {
		return "the leader shows it"
	}
	return "all " + strconv.Itoa(tasters) + " are in or the leader shows it"
}

// careText are the cautions, once.
func (b table) careText() string {
	text := "With care: for adults. Let the cups cool, they scald; some are strong. Own spoons, small sips, spit."
	if b.begun.Method == layers.PourOver {
		return text + " Three brews hold a lot of caffeine between you: EFSA (2015) has no concern up to 200 mg at once and 400 mg a day for adults, 200 a day in pregnancy; if in doubt ask a doctor."
	}
	if r, err := extraction.Caffeine(float64(b.begun.Dose), 0, float64(b.begun.Yield)); err == nil {
		text += fmt.Sprintf(" Each whole shot holds some %s mg of caffeine, more with Robusta in it, and this takes three: EFSA (2015) has no concern up to 200 mg at once and 400 mg a day for adults, 200 a day in pregnancy; if in doubt ask a doctor.", between(r.Low, r.High, 10))
	}
	return text
}

// between prints a range, its ends rounded to a multiple.
func between(low, high, to float64) string {
	return fmt.Sprintf("%.0f–%.0f", math.Round(low/to)*to, math.Round(high/to)*to)
}

// keyText tells the leader which letter is which cup.
func keyText(key string) string {
	return fmt.Sprintf("For you alone: early goes into cup %s, middle into %s, late into %s. Mark them underneath. You know the order, so yours is not counted.", key[:1], key[1:2], key[2:])
}

// howToText says how to write so that nobody reads along, where no form opens.
func (b table) howToText() string {
	if b.begun.Blind {
		return "Type it so that only you see it: /layers taste a:\"your words\" b:\"your words\" c:\"your words\" order:BCA"
	}
	return "Type it so that only you see it: /layers taste early:\"12.1 g your words\" middle:\"your words\" late:\"your words\""
}

// keptText says to a taster what was understood.
func (b table) keptText(who advisor.PersonID, s advisor.Sips) string {
	if s.Better != "" {
		return "Kept: " + betterText(s.Better) + "." + b.waitText(0)
	}
	said := b.of(who, s.Split)
	text := "Kept"
	if b.begun.Split > 1 || s.Split > 1 {
		text += ", " + splitName(s.Split)
	}
	text += ": " + b.saidText(said, b.begun.Blind) + "."
	if s.Order != "" {
		text += " Order " + s.Order + "."
	}
	var missing, unread []string
	for l := range layers.Layer(layers.Cups) {
		if x, ok := said.Note(l); !ok || !x.Tasted() {
			name := l.String()
			if b.begun.Blind {
				name = cupLabelText(b.letterOf(l))
			}
			missing = append(missing, name)
		}
	}
	if b.begun.Blind {
		slices.Sort(missing)
	}
	for _, x := range s.Sips {
		unread = append(unread, x.Unread...)
	}
	if len(missing) > 0 {
		text += " Still to taste: " + list(missing) + "."
	}
	if len(unread) > 0 {
		text += " " + unreadText(unread)
	}
	return text + b.waitText(s.Split)
}

func betterText(better string) string {
	if better == "same" {
		return sameLabel
	}
	return better + " is better"
}

// waitText says how many are in, while it is kept back.
func (b table) waitText(split int) string {
	switch {
	case b.shown(split):
		return ""
	case b.begun.Tasters > 0:
		return fmt.Sprintf(" %d of %d in.", b.in(split), b.begun.Tasters)
	}
	return " Kept back until the leader shows it."
}

// saidText is what somebody said of the cups, by name or by letter.
func (b table) saidText(said layers.Tasting, letters bool) string {
	var parts []string
	for l := layers.Early; l <= layers.Whole; l++ {
		s, ok := said.Note(l)
		if !ok {
			continue
		}
		name := l.String()
		if letters && l != layers.Whole {
			name = b.letterOf(l)
		}
		parts = append(parts, name+" "+sipText(s))
	}
	if letters {
		slices.Sort(parts)
	}
	return strings.Join(parts, " / ")
}

// sipText is what was said of one cup.
func sipText(s layers.Note) string {
	var parts []string
	if s.Mass > 0 {
		parts = append(parts, gram(s.Mass)+" g")
	}
	if s.TDS > 0 {
		parts = append(parts, number(s.TDS)+" % TDS")
	}
	if taste := tasteText(s); taste != "" {
		parts = append(parts, taste)
	}
	return strings.Join(parts, ", ")
}

// tasteText is how it tasted.
func tasteText(s layers.Note) string {
	var parts []string
	for _, w := range s.Words {
		parts = append(parts, wordText(w))
	}
	for _, x := range s.Scores {
		parts = append(parts, x.Of.String()+" "+number(x.X))
	}
	return strings.Join(parts, ", ")
}

// stoppedText, struckText, leftText and movedText say what was done.
func stoppedText(c advisor.Coffee) string {
	return "The tasting of " + c.Name + " is over. What was shown is kept: /layers show"
}

func struckText(split int) string {
	return "The " + splitName(split) + " is struck out and does not count. Pull another the same way; what is posted now is of that one."
}

func noSuchSplitText(split int) string {
	return "There is no " + splitName(split) + " to speak of here, or it is struck out."
}

func noLayersText(c advisor.Coffee) string {
	return "No tasting of " + c.Name + " cup by cup has been shown yet. Begin one: /layers start coffee:" + c.Name
}

func leftText(c advisor.Coffee) string {
	return c.Name + " stays " + recipeText(c.Recipe) + "."
}

func movedText(c advisor.Coffee, ends advisor.Ends) string {
	text := c.Name + " is now " + recipeText(c.Recipe) + ". Leave the grind: only the end moves, and the window with it. /undo puts it back."
	if ends == advisor.ByButton {
		text += " The button has to be set anew; do that in a quiet hour."
	}
	return text
}

// lateText is what somebody says who came after the others were shown.
func (b table) lateText(r *room, who advisor.PersonID, s advisor.Sips) string {
	return r.name(who) + ", after the others: " + b.saidText(b.of(who, s.Split), false) + ".\n/layers show has the account with it."
}

// text is the account as it is posted: what to do, what was tasted, then what
// that rests on.
func (a account) text(r *room, ends advisor.Ends) string {
	lines := []string{a.verdictText(ends), a.headText()}
	for l := layers.Early; l <= layers.Whole; l++ {
		if line := a.cupText(l); line != "" {
			lines = append(lines, line)
		}
	}
	lines = append(lines, a.sideBySide(r)...)
	if a.orders > 0 {
		lines = append(lines, a.orderText())
	}
	lines = append(lines, a.holdText()...)
	lines = append(lines, a.atTheTableText(), a.yieldsText(), a.alikeText())
	if next := a.nextText(); next != "" {
		lines = append(lines, next)
	}
	return strings.Join(lines, "\n")
}

// verdictText is the first line: where the shot should end.
func (a account) verdictText(ends advisor.Ends) string {
	v := a.verdict
	name := a.coffee.Name
	if a.begun.Method == layers.PourOver {
		name += " poured over"
	}
	at := grams(a.begun.Yield)
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
	text := fmt.Sprintf("By these cups %s should end later: %s g instead of %s (%s).", name, gram(v.Yield), at, ofTasters(v.Longer, v.Tasters()))
	if v.Way == layers.Shorter {
		text = fmt.Sprintf("By these cups %s should end sooner: %s g instead of %s (%s).", name, gram(v.Yield), at, ofTasters(v.Shorter, v.Tasters()))
	}
	if ends == advisor.ByButton && a.begun.Method == layers.Espresso && v.Way == layers.Longer {
		text += " A button's shot cannot be stretched by hand: the button has to be set anew, in a quiet hour."
	}
	return text
}

func ofTasters(n, of int) string {
	if of == 1 {
		return "one taster"
	}
	return fmt.Sprintf("%d of %d tasters", n, of)
}

// headText says what the account is of.
func (a account) headText() string {
	var who []advisor.PersonID
	for _, row := range a.rows {
		if !slices.Contains(who, row.who) {
			who = append(who, row.who)
		}
	}
	return fmt.Sprintf("%s → %s g, %s, %s", grams(a.begun.Dose), grams(a.begun.Yield), count(len(a.splits), "split"), count(len(who), "taster"))
}

// cupText is what a cup brought, by its name.
func (a account) cupText(l layers.Layer) string {
	said := a.cupSaid(l)
	if said == "" {
		return ""
	}
	return "• " + l.String() + ": " + said
}

// cupSaid is what a cup brought and how often it was said, in all splits.
func (a account) cupSaid(l layers.Layer) string {
	said := map[string]int{}
	var order []string
	for _, row := range a.rows {
		s, ok := row.said.Note(l)
		if !ok {
			continue
		}
		var words []string
		for _, w := range s.Words {
			words = append(words, termText(w.Term, w.Not))
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

func termText(term string, not bool) string {
	if not {
		return "not " + term
	}
	return term
}

// sideBySide are the tasters of the last split one by one, if there are several.
func (a account) sideBySide(r *room) []string {
	var lines []string
	for _, row := range a.rows {
		if row.split != a.splits[len(a.splits)-1] {
			continue
		}
		name := r.name(row.who)
		var cups []string
		for l := range layers.Layer(layers.Cups) {
			s, _ := row.said.Note(l)
			if taste := tasteText(s); taste != "" {
				cups = append(cups, taste)
			} else {
				cups = append(cups, "–")
			}
		}
		line := name + ": " + strings.Join(cups, " / ")
		if row.after {
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
func (a account) orderText() string {
	key := fmt.Sprintf("Early was %s, middle %s, late %s. ", a.letterOf(layers.Early), a.letterOf(layers.Middle), a.letterOf(layers.Late))
	return key + fmt.Sprintf("In order: %d of %d.", a.right, a.orders) + guessText(a.right, a.orders)
}

// guessText says how often guessing puts so many blind cups in order.
func guessText(right, orders int) string {
	if right == 0 {
		return ""
	}
	return " Guessing does that well " + timesText(layers.ByChance(right, orders, layers.OrderChance)) + "."
}

// timesText says how often something happens by chance.
func timesText(p float64) string {
	switch {
	case !(p < 0.999):
		return "always"
	case p > 0.35:
		return fmt.Sprintf("%.0f times in 10", 10*p)
	}
	return fmt.Sprintf("1 time in %.0f", 1/p)
}

// holdText is what the cups hold, expected and measured.
func (a account) holdText() []string {
	if len(a.splits) == 0 {
		return nil
	}
	of := func(value func(layers.Expected) string) string {
		var parts []string
		for _, e := range a.expected {
			parts = append(parts, value(e))
		}
		return strings.Join(parts, " / ")
	}
	weights := "as planned, nobody weighed them"
	if a.weighed {
		weights = "of the " + splitName(a.splits[len(a.splits)-1])
	}
	lines := []string{
		"Expected of cups of " + of(func(e layers.Expected) string { return gram(e.Mass) }) + " g, by a model (" + weights + "; " + a.modelText() + "):",
		"  " + of(func(e layers.Expected) string { return between(e.Share.Low, e.Share.High, 1) }) + " % of the solids",
		"  " + of(func(e layers.Expected) string { return span(e.TDS) }) + " % TDS",
		"  " + of(func(e layers.Expected) string { return span(e.EY) }) + " % of the dose",
	}
	if a.known {
		lines = append(lines, a.measuredText()...)
	}
	if a.weighed {
		lines = append(lines, a.balanceText())
	}
	return lines
}

// modelText says what the model is worth.
func (a account) modelText() string {
	if a.begun.Method == layers.PourOver {
		return "no published split of a pour-over to hold it to, so the ranges are wide"
	}
	return "held to published splits of one coffee; four in five should be in the range"
}

func span(e layers.Estimate) string {
	if e.High < 9.95 {
		return fmt.Sprintf("%.1f–%.1f", e.Low, e.High)
	}
	return fmt.Sprintf("%.0f–%.0f", e.Low, e.High)
}

// measuredText is what was measured of the cups beside it.
func (a account) measuredText() []string {
	var share, tds, ey []string
	var odd []string
	for i, h := range a.measured {
		share = append(share, fmt.Sprintf("%.0f", h.Share))
		tds = append(tds, fmt.Sprintf("%.1f", h.TDS))
		ey = append(ey, fmt.Sprintf("%.1f", h.EY))
		if a.expected[i].Share.Outside(h.Share) {
			odd = append(odd, layers.Layer(i).String())
		}
	}
	text := "Measured: " + strings.Join(share, " / ") + " % of the solids, " + strings.Join(tds, " / ") + " % TDS, " + strings.Join(ey, " / ") + " % of the dose"
	if len(odd) > 0 {
		return []string{text + ". Outside the range: " + list(odd) + "; look at how the cups were changed before you believe it."}
	}
	return []string{text + ", as expected."}
}

// balanceText says whether the cups are the whole.
func (a account) balanceText() string {
	total := 0.0
	for _, m := range a.masses[a.splits[len(a.splits)-1]] {
		total += m
	}
	text := "Together " + gram(total) + " g"
	if a.known {
		whole := layers.Together(a.measured)
		text += fmt.Sprintf(" at %.1f %% TDS, %.1f %% of the dose", whole.TDS, whole.EY)
		if a.whole > 0 && !layers.Agrees(whole.TDS, a.whole) {
			return text + fmt.Sprintf(": not the strength of the whole shot, %.1f %%. One of the readings or shots is off.", a.whole)
		}
		if a.whole > 0 {
			text += fmt.Sprintf(" (the whole shot %.1f %%)", a.whole)
		}
	}
	if off := total - float64(a.begun.Yield); !layers.Balances(total, float64(a.begun.Yield)) {
		way := "more"
		if off < 0 {
			way = "less"
		}
		return text + fmt.Sprintf(": %.0f g %s than the recipe's %s, so this was another shot than the usual one.", math.Abs(off), way, grams(a.begun.Yield))
	}
	return text + ": it balances."
}

// atTheTableText says what can be tasted now from the cups on the table.
func (a account) atTheTableText() string {
	if len(a.splits) == 0 {
		return ""
	}
	early, late := a.expected[layers.Early].TDS.X, a.expected[layers.Late].TDS.X
	why := "about"
	if a.known {
		early, late, why = a.measured[layers.Early].TDS, a.measured[layers.Late].TDS, "by your readings"
	}
	lines := []string{
		"What falls from cup to cup is strength as much as flavour. With what you kept back:",
		fmt.Sprintf("• 5 g of the early cup and %.0f g of warm water (%s) are as strong as the late cup: now compare flavour", layers.Water(5, early, late), why),
		"• pair them by equal spoons: early and middle, middle and late, early and late; none is meant to be good alone",
		"• " + a.mixText(),
	}
	return strings.Join(lines, "\n")
}

// mixText is the shot that ends where the cups say, from the cups.
func (a account) mixText() string {
	masses := a.masses[a.splits[len(a.splits)-1]]
	end := a.verdict.Yield
	if a.verdict.Way == layers.Stay {
		return "by weight, " + weightsText(masses) + ", they are the whole shot again"
	}
	parts, ok := layers.Mix(masses, end)
	if !ok {
		total := masses[0] + masses[1] + masses[2]
		return fmt.Sprintf("a shot of %s g cannot be mixed from these cups; all of them and %.0f g of warm water come near it", gram(end), end-total)
	}
	return "by weight, " + weightsText(parts) + ", they are a shot that ends at " + gram(end) + " g"
}

// weightsText is how to mix a spoonful by weight, for cups that are half empty.
func weightsText(parts [layers.Cups]float64) string {
	total := parts[0] + parts[1] + parts[2]
	var text []string
	for i, p := range parts {
		if tenth := 10 * p / total; tenth > 0 {
			text = append(text, fmt.Sprintf("%.1f g of %s", tenth, layers.Layer(i).String()))
		}
	}
	return list(text)
}

// yieldsText compares where the shot could end.
func (a account) yieldsText() string {
	var parts []string
	for _, y := range a.yields {
		parts = append(parts, fmt.Sprintf("%.0f g: about %.1f %% TDS, %.1f %% of the dose", y.yield, y.cup.TDS, y.cup.EY))
	}
	return "Ending at " + strings.Join(parts, "; at ")
}

// alikeText says how alike the bar tastes.
func (a account) alikeText() string {
	if len(a.alike) == 0 {
		return fmt.Sprintf("How alike you taste: too few cups to say (%d of %d that two of you have tasted).", a.both, agree.Enough)
	}
	var parts []string
	for _, l := range a.alike {
		name := l.of.String()
		if l.scores {
			name += " by scores"
		}
		parts = append(parts, fmt.Sprintf("%s %.1f (%.1f to %.1f)", name, l.Alpha, l.Low, l.High))
	}
	return fmt.Sprintf("How alike you taste, over %d cups: %s; 1 is all alike, 0 is chance, 0.7 is called fair.", a.both, strings.Join(parts, ", "))
}

// nextText is what should follow.
func (a account) nextText() string {
	switch {
	case len(a.splits) < enoughSplits && a.verdict.Tasters() > 0:
		return "One split is noisy, one shot's cut differs by a fifth and more from the next. Pull the second, taste it the same way and post again; strike a bad one with /layers strike."
	case a.verdict.Way == layers.Stay || a.begun.Method == layers.PourOver:
		return ""
	}
	return "Before the recipe moves: a real shot that ends at " + gram(a.verdict.Yield) + " g against one of " + grams(a.begun.Yield) + ", blind: /layers pair"
}

// pairStartText says how the two shots are compared.
func (b table) pairStartText(ends advisor.Ends) string {
	p := b.begun.Pair
	text := fmt.Sprintf("%s: one shot that ends at %s g (about %s s) against one of %s g, blind. Same dose, same grind.\n", b.coffee.Name, grams(p.New), whole(p.Time), grams(p.Old)) +
		"The leader alone knows which is cup X and which is cup Y, and does not vote. Same cups, same warmth, own spoons, small sips, spit. Half of you begin with X, half with Y.\n" +
		"Tap, or post: X, Y or no difference. It is kept back until " + untilText(b.begun.Tasters) + "."
	if ends == advisor.ByButton {
		if p.New > p.Old {
			return text + "\nA button's shot cannot be stretched: set a spare button to " + grams(p.New) + " g first. Water let through afterwards is not the same."
		}
		return text + "\nThe button ends it too late: take the cup away at " + grams(p.New) + " g, by its handle."
	}
	return text
}

// pairKeyText tells the leader which cup is which.
func (b table) pairKeyText() string {
	x, y := b.begun.Pair.New, b.begun.Pair.Old
	if !b.begun.Pair.First {
		x, y = y, x
	}
	return "For you alone: X is the shot of " + grams(x) + " g, Y that of " + grams(y) + " g. Pour them, mark them underneath, and tell nobody."
}

// pairText is what a pair has come to.
func (b table) pairText() string {
	p := b.begun.Pair
	better, worse, same := b.votes()
	n := better + worse
	text := fmt.Sprintf("Better: the shot of %s g %d×, that of %s g %d×, no difference %d×.", grams(p.New), better, grams(p.Old), worse, same)
	if n > 1 {
		most := max(better, worse)
		text += fmt.Sprintf(" If nobody could tell, %d of %d would come out so %s.", most, n, timesText(min(1, layers.ByChance(most, n, layers.PairChance)+layers.ByChance(most, n, layers.PairChance))))
	}
	switch {
	case p.Moved:
		return "The recipe of " + b.coffee.Name + " was moved. " + text
	case b.confirmed():
		return "Confirmed: end " + b.coffee.Name + " at " + grams(p.New) + " g, if you agree. " + text
	}
	return "Not confirmed: " + b.coffee.Name + " stays at " + grams(p.Old) + " g. " + text
}

// cautionText is said once when somebody's tastings of a day add up.
func cautionText(low, high float64) string {
	return "By what you posted you have tasted coffee of " + between(low, high, 10) + " mg of caffeine today: the low end if you sipped and spat, the high end if you drank it all. EFSA (2015) has no concern up to 400 mg a day for adults, 200 at once, 200 a day in pregnancy. Sip and spit; if in doubt ask a doctor."
}

// text tells somebody how they taste, kindly.
func (p progress) text() string {
	lines := []string{fmt.Sprintf("You have tasted %s that others tasted too, before anybody was shown anything.", count(p.cups, "cup"))}
	if p.orders > 0 {
		lines = append(lines, fmt.Sprintf("Blind cups in order: %d of %d.", p.right, p.orders)+guessText(p.right, p.orders))
	}
	for _, h := range p.habits {
		way := "more"
		if h.more < 0 {
			way = "less"
		}
		lines = append(lines, fmt.Sprintf("• You find %s %s than the others do, by about %.1f of 5. That is no fault: knowing it is what helps.", way, habitText(h.of), math.Abs(h.more)))
	}
	if len(p.habits) == 0 && p.cups >= habitCups {
		lines = append(lines, "You lean no way of your own that would show.")
	}
	switch {
	case !p.compared:
		lines = append(lines, fmt.Sprintf("It takes %d such cups to see whether you and the others come closer.", halvesCups))
	case p.now < p.before:
		lines = append(lines, fmt.Sprintf("You and the others come closer: %.1f of 5 apart in the newer half, %.1f in the older.", p.now, p.before))
	default:
		lines = append(lines, fmt.Sprintf("You and the others are as far apart as before: %.1f of 5 in the newer half, %.1f in the older.", p.now, p.before))
	}
	return strings.Join(lines, "\n")
}

// habitText names what is found in cups.
func habitText(f layers.Scale) string {
	switch f {
	case layers.Sour:
		return "sourness"
	case layers.Bitter:
		return "bitterness"
	case layers.Sweet:
		return "sweetness"
	case layers.Body:
		return "body"
	case layers.Dry:
		return "dryness"
	}
	return ""
}

// leaderVotesText refuses the vote of who knows the cups.
const leaderVotesText = "You know which cup is which, so yours is not counted."
