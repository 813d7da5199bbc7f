package bycup

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/agree"
	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/say"
)

// Account is the account: what to do, what was tasted, what to try now, and what
// that rests on. As it is posted it leaves out what nobody has measured: it is
// read off a phone, with spoons in hand.
func (l Lang) Account(a layers.Account, people []bar.Person, ends bar.Ends, whole bool) string {
	lines := []string{l.EndText(a, ends), l.AccountHead(a)}
	for cup := bar.Early; cup <= bar.Whole; cup++ {
		lines = append(lines, l.CupText(a, cup))
	}
	lines = append(lines, l.sideBySide(a, people)...)
	if a.Orders > 0 {
		lines = append(lines, l.orderText(a))
	}
	numbers := whole || a.Known
	if a.Weighed && !numbers {
		lines = append(lines, l.balanceText(a))
	}
	lines = append(lines, l.atTheTableText(a), l.nextText(a))
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

// AccountAgain is what an account has come to with a later split, in a line.
func (l Lang) AccountAgain(a layers.Account, ends bar.Ends) string {
	return l.EndText(a, ends) + " " + l.Say("That is from %s. All of it: /layers show", l.Count(len(a.Splits), "split"))
}

// moreOfCupsText says where the rest of an account is.
const moreOfCupsText say.English = "All of it, with what a model expects of these cups: /layers show"

// EndText is the first line: where the shot should end.
func (l Lang) EndText(a layers.Account, ends bar.Ends) string {
	v := a.Verdict
	name := a.Coffee.Name
	if a.Begun.Method == bar.PourOver {
		name = l.Say("%s poured over", name)
	}
	at := l.Grams(a.Begun.Yield)
	switch {
	case v.Tasters() == 0:
		return l.Say("%s: nobody has tasted all three cups of a split, so nothing follows yet.", name)
	case v.Torn:
		return l.Say("Nothing to change yet: some of you would end %s later and some sooner. Keep %s g.", name, at)
	case v.Unsteady:
		return l.Say("Nothing to change: the splits say opposite things. Keep %s g.", at)
	case v.Way == layers.Stay:
		return l.Say("Nothing to change: end %s at %s g as it is.", name, at)
	}
	text := l.Say("By these cups %s should end later: %s g instead of %s (%s).", name, l.gram(v.Yield), at, l.ofTasters(v.Longer, v.Tasters()))
	if v.Way == layers.Shorter {
		text = l.Say("By these cups %s should end sooner: %s g instead of %s (%s).", name, l.gram(v.Yield), at, l.ofTasters(v.Shorter, v.Tasters()))
	}
	if ends == bar.ByButton && a.Begun.Method == bar.Espresso && v.Way == layers.Longer {
		text += " " + l.Say("A button's shot cannot be stretched by hand: the button has to be set anew, in a quiet hour.")
	}
	return text
}

func (l Lang) ofTasters(n, of int) string {
	if of == 1 {
		return l.Say("one taster")
	}
	return l.Say("%s of %s tasters", strconv.Itoa(n), strconv.Itoa(of))
}

// AccountHead says what the account is of.
func (l Lang) AccountHead(a layers.Account) string {
	var who []bar.PersonID
	for _, row := range a.Rows {
		if !slices.Contains(who, row.Who) {
			who = append(who, row.Who)
		}
	}
	return l.Say("%s → %s g, %s, %s", l.Grams(a.Begun.Dose), l.Grams(a.Begun.Yield), l.Count(len(a.Splits), "split"), l.Count(len(who), "taster"))
}

// CupText is what a cup brought, by its name.
func (l Lang) CupText(a layers.Account, cup bar.Layer) string {
	said := l.CupSaid(a, cup)
	if said == "" {
		return ""
	}
	return "• " + l.CupName(cup) + l.Colon() + said
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
			words = append(words, l.termText(l.Term(w.Term), w.Not))
		}
		for _, x := range s.Scores {
			if x.X >= namedScore {
				words = append(words, l.scaleName(x.Of))
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
	return strings.Join(say.Each(order, func(w string) string { return w + " " + strconv.Itoa(said[w]) + "×" }), ", ")
}

// namedScore is the least score that counts as named.
const namedScore = 2

func (l Lang) termText(term string, not bool) string {
	if not {
		return l.Say("not %s", term)
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
			cups = append(cups, cmp.Or(l.tasteText(s), "–"))
		}
		line := name + l.Colon() + strings.Join(cups, " / ")
		if row.After {
			line += " " + l.Say("(after the others)")
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
	return l.Say("Early was %s, middle %s, late %s.", a.LetterOf(bar.Early), a.LetterOf(bar.Middle), a.LetterOf(bar.Late)) + " " +
		l.Say("In order: %s of %s.", strconv.Itoa(a.Right), strconv.Itoa(a.Orders)) + l.guessText(a.Right, a.Orders)
}

// guessText says how often guessing puts so many blind cups in order.
func (l Lang) guessText(right, orders int) string {
	if right == 0 {
		return ""
	}
	return " " + l.Say("Guessing does that well %s.", l.timesText(layers.ByChance(right, orders, layers.OrderChance)))
}

// timesText says how often something happens by chance.
func (l Lang) timesText(p float64) string {
	switch {
	case !(p < 0.999):
		return l.Say("always")
	case p > 0.35:
		return l.Say("%s times in 10", say.Rounded(10*p))
	}
	return l.Say("1 time in %s", say.Rounded(1/p))
}

// holdText is what the cups hold, expected and measured.
func (l Lang) holdText(a layers.Account) []string {
	if len(a.Splits) == 0 {
		return nil
	}
	of := func(value func(layers.Expected) string) string {
		return strings.Join(say.Each(a.Expected[:], value), " / ")
	}
	weights := l.Say("as planned, nobody weighed them")
	if a.Weighed {
		weights = l.Say("of the %s", l.splitName(a.Splits[len(a.Splits)-1]))
	}
	lines := []string{
		l.Say("Expected of cups of %s g, by a model (%s; %s):", of(func(e layers.Expected) string { return l.gram(e.Mass) }), weights, l.modelText(a)),
		"  " + l.Say("%s %% of the solids", of(func(e layers.Expected) string { return Between(e.Share.Low, e.Share.High, 1) })),
		"  " + l.Say("%s %% TDS", of(func(e layers.Expected) string { return l.span(e.TDS) })),
		"  " + l.Say("%s %% of the dose", of(func(e layers.Expected) string { return l.span(e.EY) })),
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
		return l.Say("no published split of a pour-over to hold it to, so the ranges are wide")
	}
	return l.Say("held to published splits of one coffee; four in five should be in the range")
}

func (l Lang) span(e layers.Estimate) string {
	if e.High < 9.95 {
		return l.Tenth(e.Low) + "–" + l.Tenth(e.High)
	}
	return say.Rounded(e.Low) + "–" + say.Rounded(e.High)
}

// measuredText is what was measured of the cups beside it.
func (l Lang) measuredText(a layers.Account) []string {
	var share, tds, ey []string
	var odd []string
	for i, h := range a.Measured {
		share = append(share, say.Rounded(h.Share))
		tds = append(tds, l.Tenth(h.TDS))
		ey = append(ey, l.Tenth(h.EY))
		if a.Expected[i].Share.Outside(h.Share) {
			odd = append(odd, l.CupName(bar.Layer(i)))
		}
	}
	text := l.Say("Measured: %s %% of the solids, %s %% TDS, %s %% of the dose", strings.Join(share, " / "), strings.Join(tds, " / "), strings.Join(ey, " / "))
	if len(odd) > 0 {
		return []string{text + ". " + l.Say("Outside the range: %s; look at how the cups were changed before you believe it.", l.List(odd))}
	}
	return []string{text + ", " + l.Say("as expected.")}
}

// balanceText says whether the cups are the whole.
func (l Lang) balanceText(a layers.Account) string {
	total := 0.0
	for _, m := range a.Masses[a.Splits[len(a.Splits)-1]] {
		total += m
	}
	text := l.Say("Together %s g", l.gram(total))
	if a.Known {
		whole := layers.Together(a.Measured)
		text = l.Say("Together %s g at %s %% TDS, %s %% of the dose", l.gram(total), l.Tenth(whole.TDS), l.Tenth(whole.EY))
		if a.Whole > 0 && !layers.Agrees(whole.TDS, a.Whole) {
			return l.Say("%s: not the strength of the whole shot, %s %%. One of the readings or shots is off.", text, l.Tenth(a.Whole))
		}
		if a.Whole > 0 {
			text += " " + l.Say("(the whole shot %s %%)", l.Tenth(a.Whole))
		}
	}
	off := total - float64(a.Begun.Yield)
	switch {
	case layers.Balances(total, float64(a.Begun.Yield)):
		return l.Say("%s: it balances.", text)
	case off < 0:
		return l.Say("%s: %s g less than the recipe's %s, so this was another shot than the usual one.", text, say.Rounded(-off), l.Grams(a.Begun.Yield))
	}
	return l.Say("%s: %s g more than the recipe's %s, so this was another shot than the usual one.", text, say.Rounded(off), l.Grams(a.Begun.Yield))
}

// atTheTableText says what can be tasted now from the cups on the table.
func (l Lang) atTheTableText(a layers.Account) string {
	if len(a.Splits) == 0 {
		return ""
	}
	early, late := a.Expected[bar.Early].TDS.X, a.Expected[bar.Late].TDS.X
	why := l.Say("water|about")
	if a.Known {
		early, late, why = a.Measured[bar.Early].TDS, a.Measured[bar.Late].TDS, l.Say("by your readings")
	}
	lines := []string{
		l.Say("What falls from cup to cup is strength as much as flavour. With what you kept back:"),
		"• " + l.Say("5 g of the early cup and %s g of warm water (%s) are as strong as the late cup: now compare flavour", say.Rounded(layers.Water(5, early, late)), why),
		"• " + l.Say("pair them by equal spoons: early and middle, middle and late, early and late; none is meant to be good alone"),
		"• " + l.mixText(a),
	}
	return strings.Join(lines, "\n")
}

// mixText is the shot that ends where the cups say, from the cups.
func (l Lang) mixText(a layers.Account) string {
	masses := a.Masses[a.Splits[len(a.Splits)-1]]
	end := a.Verdict.Yield
	if a.Verdict.Way == layers.Stay {
		return l.brewSay(a, "by weight, %s, they are the whole shot again", "by weight, %s, they are the whole brew again", l.weightsText(masses))
	}
	parts, ok := layers.Mix(masses, end)
	if !ok {
		total := masses[0] + masses[1] + masses[2]
		return l.brewSay(a, "a shot of %s g cannot be mixed from these cups; all of them and %s g of warm water come near it",
			"a brew of %s g cannot be mixed from these cups; all of them and %s g of warm water come near it", l.gram(end), say.Rounded(end-total))
	}
	return l.brewSay(a, "by weight, %s, they are a shot that ends at %s g", "by weight, %s, they are a brew that ends at %s g", l.weightsText(parts), l.gram(end))
}

// brewSay says the one sentence of a shot, the other of a pour-over.
func (l Lang) brewSay(a layers.Account, shot, brew say.English, values ...any) string {
	if a.Begun.Method == bar.PourOver {
		return l.Say(brew, values...)
	}
	return l.Say(shot, values...)
}

// weightsText is how to mix a spoonful by weight, for cups that are half empty.
func (l Lang) weightsText(parts [layers.Cups]float64) string {
	total := parts[0] + parts[1] + parts[2]
	var text []string
	for i, p := range parts {
		if tenth := 10 * p / total; tenth > 0 {
			text = append(text, l.Say("%s g of %s", l.Tenth(tenth), l.CupName(bar.Layer(i))))
		}
	}
	return l.List(text)
}

// yieldsText compares where the shot could end.
func (l Lang) yieldsText(a layers.Account) string {
	var parts []string
	for _, y := range a.Yields {
		parts = append(parts, l.Say("at %s g: about %s %% TDS, %s %% of the dose", say.Rounded(y.Yield), l.Tenth(y.Cup.TDS), l.Tenth(y.Cup.EY)))
	}
	return l.Say("Ending %s", strings.Join(parts, l.Semicolon()))
}

// alikeText says how alike the bar tastes.
func (l Lang) alikeText(a layers.Account) string {
	if len(a.Alike) == 0 {
		return l.Say("How alike you taste: too few cups to say (%s of %s that two of you have tasted).", strconv.Itoa(a.Both), strconv.Itoa(agree.Enough))
	}
	var parts []string
	for _, likeness := range a.Alike {
		name := l.scaleName(likeness.Of)
		if likeness.Scores {
			name = l.Say("%s by scores", name)
		}
		parts = append(parts, l.Say("%s %s (%s to %s)", name, l.one(likeness.Alpha), l.one(likeness.Low), l.one(likeness.High)))
	}
	return l.Say("How alike you taste, over %s: %s; 1 is all alike, 0 is chance, 0.7 is called fair.", l.Count(a.Both, "cup"), strings.Join(parts, ", "))
}

// one prints a figure to a tenth.
func (l Lang) one(x float64) string {
	return strings.Replace(l.Tenth(math.Round(10*x)/10+0), "-", "−", 1)
}

// nextText is what should follow.
func (l Lang) nextText(a layers.Account) string {
	switch {
	case len(a.Splits) < layers.EnoughSplits && a.Verdict.Tasters() > 0:
		return l.brewSay(a, "One split is noisy, one shot's cut differs by a fifth and more from the next. Pull the second, taste it the same way and post again; strike a bad one with /layers strike.",
			"One split is noisy, one brew's cut differs by a fifth and more from the next. Brew the second, taste it the same way and post again; strike a bad one with /layers strike.")
	case a.Verdict.Way == layers.Stay || a.Begun.Method == bar.PourOver:
		return ""
	}
	return l.Say("Before the recipe moves: a real shot that ends at %s g against one of %s, blind: /layers pair", l.gram(a.Verdict.Yield), l.Grams(a.Begun.Yield))
}
