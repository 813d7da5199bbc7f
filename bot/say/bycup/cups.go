package bycup

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/layers"
	"shothand/bot/say"
)

// What is said of tastings cup by cup. Nothing here tells what to expect in a
// cup before it was tasted: a word that was read anchors the room.

// Labels of its buttons and its form.
const (
	CupsLabel       say.English = "my cups"
	RevealLabel     say.English = "show all"
	PairLabel       say.English = "compare blind"
	SameLabel       say.English = "no difference"
	CupsFormTitle   say.English = "What is in your cups"
	CupHint         say.English = "12.1 g, your words; if you like: sour 3 bitter 0 sweet 2 body 4 dry 1"
	WholeFieldLabel say.English = "the whole shot"
	OrderFieldLabel say.English = "order, early first"
	OrderHint       say.English = "such as BCA"
)

// CupLabel names a cup by its letter.
func (l Lang) CupLabel(letter string) string { return l.Say("cup %s", letter) }

// MoveLabel is the button that moves a recipe.
func (l Lang) MoveLabel(to bar.Grams) string { return l.Say("move to %s g", l.Grams(to)) }

// LeaveLabel is the one that leaves it.
func (l Lang) LeaveLabel(at bar.Grams) string { return l.Say("leave at %s g", l.Grams(at)) }

// Short sentences of a tasting.
const (
	NoTable          say.English = "No tasting is going on here. Begin one: /layers start coffee:Harbour tasters:3"
	NoSplit          say.English = "That cannot be split into three cups; give dose, yield and time as they are. Nothing was started."
	NotLeader        say.English = "That is for who began the tasting, or who manages the channel."
	ShownAlready     say.English = "It has been shown already. All of it again, with a model's numbers: /layers show"
	NothingToShow    say.English = "Nobody has said anything of these cups yet."
	NoCups           say.English = "Say what is in the cups, such as: early … / middle … / late …"
	Letters          say.English = "These cups have letters: a … / b … / c …, and the order you would put them in: order b c a"
	NotBlind         say.English = "These cups have no letters: early … / middle … / late …"
	PairOnly         say.English = "Two shots are being compared: say X, Y or no difference."
	NoPair           say.English = "There is no pair to compare. The cups: early … / middle … / late …"
	SecondFirst      say.English = "One split is too noisy to move a recipe on. Pull the second, taste it, then compare. (/layers pair yield:32 compares anyway.)"
	NothingToCompare say.English = "By the cups nothing is to change, so there is nothing to compare. (/layers pair yield:32 compares anyway.)"
	NoFilterPair     say.English = "The recipe here is the espresso's; of a pour-over the account is kept with the coffee, and you choose."
	RecipeChanged    say.English = "The recipe has changed since these two were compared; nothing was moved."
)

// CupName names a cup, as it is typed and read.
func (l Lang) CupName(cup bar.Layer) string {
	return l.Say(map[bar.Layer]say.English{bar.Early: "early", bar.Middle: "middle", bar.Late: "late", bar.Whole: "whole"}[cup])
}

// splitName names a split.
func (l Lang) splitName(split int) string {
	names := []say.English{"first split", "second split", "third split", "fourth split"}
	if 1 <= split && split <= len(names) {
		return l.Say(names[split-1])
	}
	return l.Say("split %s", strconv.Itoa(split))
}

// scaleName names what a cup is scored for.
func (l Lang) scaleName(s bar.Scale) string {
	if s == bar.Body {
		return l.Say("body")
	}
	return l.Term(s.String())
}

// minutes prints a time as a timer shows it.
func (l Lang) minutes(s float64) string {
	n := int(math.Round(s))
	return fmt.Sprintf("%d:%02d", n/60, n%60)
}

// gram prints a weight as a scale shows it, to a tenth.
func (l Lang) gram(x float64) string { return l.Grams(bar.Grams(x)) }

// TastingStart says how it is done. Of caffeine it tells unless that was told today.
func (l Lang) TastingStart(b layers.Table, leader string, cuts [layers.Cups]layers.Cut, ends bar.Ends, told bool) string {
	lines := []string{l.Say("%s, cup by cup, led by %s.", b.Coffee.Name, leader)}
	if b.Begun.Method == bar.PourOver {
		lines = append(lines, l.filterSteps(b, cuts))
	} else {
		lines = append(lines, l.espressoSteps(b, cuts, ends))
	}
	lines = append(lines, l.tasteSteps(b, cuts), l.careText(b, told))
	return strings.Join(lines, "\n")
}

func (l Lang) espressoSteps(b layers.Table, cuts [layers.Cups]layers.Cut, ends bar.Ends) string {
	text := l.Say("1. Pull one as always, %s → %s g, and set it aside whole: the reference.", l.Grams(b.Begun.Dose), l.Grams(b.Begun.Yield)) + "\n" +
		l.Say("2. Pull another the same over a scale, and change the cup at %s g and at %s g; stop at %s g.", l.gram(cuts[0].Grams), l.gram(cuts[1].Grams), l.gram(cuts[2].Grams)) + " " +
		l.Say("Without a scale: at about %s and %s s from the pump, stop at %s. The first drops come late and the flow quickens, so equal times are not equal cups.", say.Rounded(cuts[0].Seconds), say.Rounded(cuts[1].Seconds), say.Rounded(cuts[2].Seconds)) + " " +
		l.Say("Hold the cups by their handles, fingers off the group and the spout. Weigh each.")
	if ends == bar.ByButton {
		text += " " + l.Say("Your shots end by a button: the cups are changed while it runs, and it ends where it is set to. It cannot be stretched for a try.")
	}
	return text
}

func (l Lang) filterSteps(b layers.Table, cuts [layers.Cups]layers.Cut) string {
	water := layers.FilterWater(float64(b.Begun.Dose), float64(b.Begun.Yield))
	return l.Say("1. Brew one as always, %s g with about %s g of water off the boil (about 94 °C), and set it aside whole: the reference.", l.Grams(b.Begun.Dose), say.Rounded(water)) + "\n" +
		l.Say("2. Brew another the same and change the vessel at %s and at %s from the first water; take the dripper away at %s. Weigh each. Kettle and dripper scald.", l.minutes(cuts[0].Seconds), l.minutes(cuts[1].Seconds), l.minutes(cuts[2].Seconds))
}

// tasteSteps are the same however it was made.
func (l Lang) tasteSteps(b layers.Table, cuts [layers.Cups]layers.Cut) string {
	portion := ""
	if n := b.Begun.Tasters; n > 1 {
		portion = " " + l.Say("For %s of you that is about %s g of each cup.", strconv.Itoa(n), say.Rounded(layers.Masses(cuts)[0]*2/3/float64(n)))
	}
	order := l.Say("Taste early, middle, late, then the whole one")
	how := l.Say("early 12.1 g your words / middle 12.8 g your words / late 11.9 g your words")
	if b.Begun.Method == bar.PourOver {
		how = l.Say("early 70 g your words / middle 110 g your words / late 105 g your words")
	}
	if b.Begun.Blind {
		order = l.Say("Taste A, B, C, then the whole one")
		how = l.Say("a your words / b your words / c your words, order b c a (early first)")
	}
	return l.Say("3. Stir each cup, keep a third of each for afterwards, share out the rest.") + portion + "\n" +
		l.Say("4. %s, a sip of water between. Say nothing aloud.", order) + "\n" +
		l.Say("5. Tap “%s”, or post it here if nobody reads along:", l.Say(CupsLabel)) + "\n   " + how + "\n" +
		"   " + l.Say("Also whole …; tds 9.4 if you measure; 0 to 5 if you like: sour 3 bitter 0 sweet 2 body 4 dry 1") + "\n" +
		l.Say("It is kept back until %s. One split is noisy: a second belongs to it.", l.untilText(b.Begun.Tasters))
}

func (l Lang) untilText(tasters int) string {
	if tasters == 0 {
		return l.Say("the leader shows it")
	}
	return l.Say("all %s are in or the leader shows it", strconv.Itoa(tasters))
}

// careText are the cautions, that of caffeine once a day.
func (l Lang) careText(b layers.Table, told bool) string {
	text := l.Say("With care: for adults. Let the cups cool, they scald; some are strong. Own spoons, small sips, spit.")
	if told {
		return text
	}
	if b.Begun.Method == bar.PourOver {
		return text + " " + l.Say("Three brews hold a lot of caffeine between you.") + " " + l.Say(caffeineLimits)
	}
	if r, err := extraction.Caffeine(float64(b.Begun.Dose), 0, float64(b.Begun.Yield)); err == nil {
		text += " " + l.Say("Each whole shot holds some %s mg of caffeine, more with Robusta in it, and this takes three.", Between(r.Low, r.High, 10)) + " " + l.Say(caffeineLimits)
	}
	return text
}

// caffeineLimits are what is known of how much is too much.
const caffeineLimits say.English = "EFSA (2015) has no concern up to 200 mg at once and 400 mg a day for adults, 200 a day in pregnancy; if in doubt ask a doctor."

// Between prints a range, its ends rounded to a multiple.
func Between(low, high, to float64) string {
	return say.Rounded(math.Round(low/to)*to) + "–" + say.Rounded(math.Round(high/to)*to)
}

// Key tells the leader which letter is which cup.
func (l Lang) Key(key string) string {
	return l.Say("For you alone: early goes into cup %s, middle into %s, late into %s. Mark them underneath. You know the order, so yours is not counted.", key[:1], key[1:2], key[2:])
}

// HowToTaste says how to write so that nobody reads along, where no form opens.
func (l Lang) HowToTaste(b layers.Table) string {
	if b.Begun.Blind {
		return l.Say("Type it so that only you see it: /layers taste a:\"your words\" b:\"your words\" c:\"your words\" order:BCA")
	}
	return l.Say("Type it so that only you see it: /layers taste early:\"12.1 g your words\" middle:\"your words\" late:\"your words\"")
}

// KeptCups says to a taster what was understood.
func (l Lang) KeptCups(b layers.Table, who bar.PersonID, s bar.Sips) string {
	if s.Better != "" {
		return l.Say("Kept: %s.", l.betterText(s.Better)) + l.waitText(b, 0)
	}
	said := b.Of(who, s.Split)
	text := l.Say("Kept: %s.", l.cupsSaid(b, said, b.Begun.Blind))
	if b.Begun.Split > 1 || s.Split > 1 {
		text = l.Say("Kept, %s: %s.", l.splitName(s.Split), l.cupsSaid(b, said, b.Begun.Blind))
	}
	if s.Order != "" {
		text += " " + l.Say("Order %s.", s.Order)
	}
	var missing, unread []string
	for cup := range bar.Layer(layers.Cups) {
		if x, ok := said.Note(cup); !ok || !x.Tasted() {
			name := l.CupName(cup)
			if b.Begun.Blind {
				name = l.CupLabel(b.LetterOf(cup))
			}
			missing = append(missing, name)
		}
	}
	if b.Begun.Blind {
		slices.Sort(missing)
	}
	for _, x := range s.Sips {
		unread = append(unread, x.Unread...)
	}
	if len(missing) > 0 {
		text += " " + l.Say("Still to taste: %s.", l.List(missing))
	}
	if len(unread) > 0 {
		text += " " + l.UnreadText(unread)
	}
	return text + l.waitText(b, s.Split)
}

func (l Lang) betterText(better string) string {
	if better == "same" {
		return l.Say(SameLabel)
	}
	return l.Say("%s is better", better)
}

// waitText says how many are in, while it is kept back.
func (l Lang) waitText(b layers.Table, split int) string {
	switch {
	case b.Shown(split):
		return ""
	case b.Begun.Tasters > 0:
		return " " + l.Say("%s of %s in.", strconv.Itoa(b.In(split)), strconv.Itoa(b.Begun.Tasters))
	}
	return " " + l.Say("Kept back until the leader shows it.")
}

// cupsSaid is what somebody said of the cups, by name or by letter.
func (l Lang) cupsSaid(b layers.Table, said layers.Tasting, letters bool) string {
	var parts []string
	for cup := bar.Early; cup <= bar.Whole; cup++ {
		s, ok := said.Note(cup)
		if !ok {
			continue
		}
		name := l.CupName(cup)
		if letters && cup != bar.Whole {
			name = b.LetterOf(cup)
		}
		parts = append(parts, name+" "+l.sipText(s))
	}
	if letters {
		slices.Sort(parts)
	}
	return strings.Join(parts, " / ")
}

// sipText is what was said of one cup.
func (l Lang) sipText(s bar.Note) string {
	var parts []string
	if s.Mass > 0 {
		parts = append(parts, l.gram(s.Mass)+" g")
	}
	if s.TDS > 0 {
		parts = append(parts, l.Number(s.TDS)+" % TDS")
	}
	if taste := l.tasteText(s); taste != "" {
		parts = append(parts, taste)
	}
	return strings.Join(parts, ", ")
}

// tasteText is how it tasted.
func (l Lang) tasteText(s bar.Note) string {
	parts := say.Each(s.Words, l.WordText)
	for _, x := range s.Scores {
		parts = append(parts, l.scaleName(x.Of)+" "+l.Number(x.X))
	}
	return strings.Join(parts, ", ")
}

// Stopped says that a tasting is over.
func (l Lang) Stopped(c bar.Coffee) string {
	return l.Say("The tasting of %s is over. What was shown is kept: /layers show", c.Name)
}

// Struck says that a split does not count.
func (l Lang) Struck(split int) string {
	return l.Say("The %s is struck out and does not count. Pull another the same way; what is posted now is of that one.", l.splitName(split))
}

// NoSuchSplit says that there is nothing to do with a split.
func (l Lang) NoSuchSplit(split int) string {
	return l.Say("There is no %s to speak of here, or it is struck out.", l.splitName(split))
}

// NoLayers says that a coffee has not been tasted cup by cup.
func (l Lang) NoLayers(c bar.Coffee) string {
	return l.Say("No tasting of %[1]s cup by cup has been shown yet. Begin one: /layers start coffee:%[1]s", c.Name)
}

// Left says that a recipe stays.
func (l Lang) Left(c bar.Coffee) string {
	return l.Say("%s stays %s.", c.Name, l.RecipeText(c.Recipe))
}

// Moved says that it was moved.
func (l Lang) Moved(c bar.Coffee, ends bar.Ends) string {
	text := l.Say("%s is now %s. Leave the grind: only the end moves, and the window with it. /undo puts it back.", c.Name, l.RecipeText(c.Recipe))
	if ends == bar.ByButton {
		text += " " + l.Say("The button has to be set anew; do that in a quiet hour.")
	}
	return text
}

// LateCups is what somebody says who came after the others were shown.
func (l Lang) LateCups(b layers.Table, people []bar.Person, who bar.PersonID, s bar.Sips) string {
	return l.Say("%s, after the others: %s.\n/layers show has the account with it.", l.NameOf(people, who), l.cupsSaid(b, b.Of(who, s.Split), false))
}

// WaterOrYield refuses an option beside the one that it follows from.
const WaterOrYield say.English = "Say either the water poured or what is in the cups, not both: the one follows from the other. Nothing was begun."

// NoWater says that an espresso is told by its yield.
func (l Lang) NoWater(water string) string {
	return l.Say("I cannot take “water:%s” for an espresso: say what is in the cups, as yield:36, or add method:pour-over. Nothing was begun.", say.Clip(water))
}
