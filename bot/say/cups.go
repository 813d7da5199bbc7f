package say

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/layers"
)

// What is said of tastings cup by cup. Nothing here tells what to expect in a
// cup before it was tasted: a word that was read anchors the room.

// Labels of its buttons and its form.
const (
	CupsLabel       = "my cups"
	RevealLabel     = "show all"
	PairLabel       = "compare blind"
	SameLabel       = "no difference"
	CupsFormTitle   = "What is in your cups"
	CupHint         = "12.1 g, your words; if you like: sour 3 bitter 0 sweet 2 body 4 dry 1"
	WholeFieldLabel = "the whole shot"
	OrderFieldLabel = "order, early first"
	OrderHint       = "such as BCA"
)

// CupLabel names a cup by its letter.
func CupLabel(letter string) string { return "cup " + letter }

// MoveLabel is the button that moves a recipe.
func MoveLabel(to bar.Grams) string { return "move to " + grams(to) + " g" }

// LeaveLabel is the one that leaves it.
func LeaveLabel(at bar.Grams) string { return "leave at " + grams(at) + " g" }

// Short sentences of a tasting.
const (
	NoTable          = "No tasting is going on here. Begin one: /layers start coffee:Harbour tasters:3"
	NoSplit          = "That cannot be split into three cups; give dose, yield and time as they are. Nothing was started."
	NotLeader        = "That is for who began the tasting, or who manages the channel."
	NothingToShow    = "Nobody has said anything of these cups yet."
	NoCups           = "Say what is in the cups, such as: early … / middle … / late …"
	Letters          = "These cups have letters: a … / b … / c …, and the order you would put them in: order b c a"
	NotBlind         = "These cups have no letters: early … / middle … / late …"
	PairOnly         = "Two shots are being compared: say X, Y or no difference."
	NoPair           = "There is no pair to compare. The cups: early … / middle … / late …"
	SecondFirst      = "One split is too noisy to move a recipe on. Pull the second, taste it, then compare. (/layers pair yield:32 compares anyway.)"
	NothingToCompare = "By the cups nothing is to change, so there is nothing to compare. (/layers pair yield:32 compares anyway.)"
	NoFilterPair     = "The recipe here is the espresso's; of a pour-over the account is kept with the coffee, and you choose."
	RecipeChanged    = "The recipe has changed since these two were compared; nothing was moved."
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
func gram(x float64) string { return grams(bar.Grams(x)) }

// TastingStart says how it is done.
func TastingStart(b layers.Table, leader string, cuts [layers.Cups]layers.Cut, ends bar.Ends) string {
	lines := []string{b.Coffee.Name + ", cup by cup, led by " + leader + "."}
	if b.Begun.Method == bar.PourOver {
		lines = append(lines, filterSteps(b, cuts))
	} else {
		lines = append(lines, espressoSteps(b, cuts, ends))
	}
	lines = append(lines, tasteSteps(b, cuts), careText(b))
	return strings.Join(lines, "\n")
}

func espressoSteps(b layers.Table, cuts [layers.Cups]layers.Cut, ends bar.Ends) string {
	text := fmt.Sprintf("1. Pull one as always, %s → %s g, and set it aside whole: the reference.\n", grams(b.Begun.Dose), grams(b.Begun.Yield)) +
		fmt.Sprintf("2. Pull another the same over a scale, and change the cup at %s g and at %s g; stop at %s g. ", gram(cuts[0].Grams), gram(cuts[1].Grams), gram(cuts[2].Grams)) +
		fmt.Sprintf("Without a scale: at about %.0f and %.0f s from the pump, stop at %.0f. The first drops come late and the flow quickens, so equal times are not equal cups. ", cuts[0].Seconds, cuts[1].Seconds, cuts[2].Seconds) +
		"Hold the cups by their handles, fingers off the group and the spout. Weigh each."
	if ends == bar.ByButton {
		text += " Your shots end by a button: the cups are changed while it runs, and it ends where it is set to. It cannot be stretched for a try."
	}
	return text
}

func filterSteps(b layers.Table, cuts [layers.Cups]layers.Cut) string {
	water := layers.FilterWater(float64(b.Begun.Dose), float64(b.Begun.Yield))
	return fmt.Sprintf("1. Brew one as always, %s g with about %.0f g of water off the boil (about 94 °C), and set it aside whole: the reference.\n", grams(b.Begun.Dose), water) +
		fmt.Sprintf("2. Brew another the same and change the vessel at %s and at %s from the first water; take the dripper away at %s. Weigh each. Kettle and dripper scald.", minutes(cuts[0].Seconds), minutes(cuts[1].Seconds), minutes(cuts[2].Seconds))
}

// tasteSteps are the same however it was made.
func tasteSteps(b layers.Table, cuts [layers.Cups]layers.Cut) string {
	portion := ""
	if n := b.Begun.Tasters; n > 1 {
		portion = fmt.Sprintf(" For %d of you that is about %.0f g of each cup.", n, layers.Masses(cuts)[0]*2/3/float64(n))
	}
	order := "Taste early, middle, late, then the whole one"
	how := "early 12.1 g your words / middle 12.8 g your words / late 11.9 g your words"
	if b.Begun.Method == bar.PourOver {
		how = "early 70 g your words / middle 110 g your words / late 105 g your words"
	}
	if b.Begun.Blind {
		order = "Taste A, B, C, then the whole one"
		how = "a your words / b your words / c your words, order b c a (early first)"
	}
	return "3. Stir each cup, keep a third of each for afterwards, share out the rest." + portion + "\n" +
		"4. " + order + ", a sip of water between. Say nothing aloud.\n" +
		"5. Tap “" + CupsLabel + "”, or post it here if nobody reads along:\n   " + how + "\n" +
		"   Also whole …; tds 9.4 if you measure; 0 to 5 if you like: sour 3 bitter 0 sweet 2 body 4 dry 1\n" +
		"It is kept back until " + untilText(b.Begun.Tasters) + ". One split is noisy: a second belongs to it."
}

func untilText(tasters int) string {
	if tasters == 0 {
		return "the leader shows it"
	}
	return "all " + strconv.Itoa(tasters) + " are in or the leader shows it"
}

// careText are the cautions, once.
func careText(b layers.Table) string {
	text := "With care: for adults. Let the cups cool, they scald; some are strong. Own spoons, small sips, spit."
	if b.Begun.Method == bar.PourOver {
		return text + " Three brews hold a lot of caffeine between you: EFSA (2015) has no concern up to 200 mg at once and 400 mg a day for adults, 200 a day in pregnancy; if in doubt ask a doctor."
	}
	if r, err := extraction.Caffeine(float64(b.Begun.Dose), 0, float64(b.Begun.Yield)); err == nil {
		text += fmt.Sprintf(" Each whole shot holds some %s mg of caffeine, more with Robusta in it, and this takes three: EFSA (2015) has no concern up to 200 mg at once and 400 mg a day for adults, 200 a day in pregnancy; if in doubt ask a doctor.", between(r.Low, r.High, 10))
	}
	return text
}

// between prints a range, its ends rounded to a multiple.
func between(low, high, to float64) string {
	return fmt.Sprintf("%.0f–%.0f", math.Round(low/to)*to, math.Round(high/to)*to)
}

// Key tells the leader which letter is which cup.
func Key(key string) string {
	return fmt.Sprintf("For you alone: early goes into cup %s, middle into %s, late into %s. Mark them underneath. You know the order, so yours is not counted.", key[:1], key[1:2], key[2:])
}

// HowToTaste says how to write so that nobody reads along, where no form opens.
func HowToTaste(b layers.Table) string {
	if b.Begun.Blind {
		return "Type it so that only you see it: /layers taste a:\"your words\" b:\"your words\" c:\"your words\" order:BCA"
	}
	return "Type it so that only you see it: /layers taste early:\"12.1 g your words\" middle:\"your words\" late:\"your words\""
}

// KeptCups says to a taster what was understood.
func KeptCups(b layers.Table, who bar.PersonID, s bar.Sips) string {
	if s.Better != "" {
		return "Kept: " + betterText(s.Better) + "." + waitText(b, 0)
	}
	said := b.Of(who, s.Split)
	text := "Kept"
	if b.Begun.Split > 1 || s.Split > 1 {
		text += ", " + splitName(s.Split)
	}
	text += ": " + cupsSaid(b, said, b.Begun.Blind) + "."
	if s.Order != "" {
		text += " Order " + s.Order + "."
	}
	var missing, unread []string
	for l := range bar.Layer(layers.Cups) {
		if x, ok := said.Note(l); !ok || !x.Tasted() {
			name := l.String()
			if b.Begun.Blind {
				name = CupLabel(b.LetterOf(l))
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
		text += " Still to taste: " + List(missing) + "."
	}
	if len(unread) > 0 {
		text += " " + unreadText(unread)
	}
	return text + waitText(b, s.Split)
}

func betterText(better string) string {
	if better == "same" {
		return SameLabel
	}
	return better + " is better"
}

// waitText says how many are in, while it is kept back.
func waitText(b layers.Table, split int) string {
	switch {
	case b.Shown(split):
		return ""
	case b.Begun.Tasters > 0:
		return fmt.Sprintf(" %d of %d in.", b.In(split), b.Begun.Tasters)
	}
	return " Kept back until the leader shows it."
}

// cupsSaid is what somebody said of the cups, by name or by letter.
func cupsSaid(b layers.Table, said layers.Tasting, letters bool) string {
	var parts []string
	for l := bar.Early; l <= bar.Whole; l++ {
		s, ok := said.Note(l)
		if !ok {
			continue
		}
		name := l.String()
		if letters && l != bar.Whole {
			name = b.LetterOf(l)
		}
		parts = append(parts, name+" "+sipText(s))
	}
	if letters {
		slices.Sort(parts)
	}
	return strings.Join(parts, " / ")
}

// sipText is what was said of one cup.
func sipText(s bar.Note) string {
	var parts []string
	if s.Mass > 0 {
		parts = append(parts, gram(s.Mass)+" g")
	}
	if s.TDS > 0 {
		parts = append(parts, Number(s.TDS)+" % TDS")
	}
	if taste := tasteText(s); taste != "" {
		parts = append(parts, taste)
	}
	return strings.Join(parts, ", ")
}

// tasteText is how it tasted.
func tasteText(s bar.Note) string {
	var parts []string
	for _, w := range s.Words {
		parts = append(parts, wordText(w))
	}
	for _, x := range s.Scores {
		parts = append(parts, x.Of.String()+" "+Number(x.X))
	}
	return strings.Join(parts, ", ")
}

// Stopped says that a tasting is over.
func Stopped(c bar.Coffee) string {
	return "The tasting of " + c.Name + " is over. What was shown is kept: /layers show"
}

// Struck says that a split does not count.
func Struck(split int) string {
	return "The " + splitName(split) + " is struck out and does not count. Pull another the same way; what is posted now is of that one."
}

// NoSuchSplit says that there is nothing to do with a split.
func NoSuchSplit(split int) string {
	return "There is no " + splitName(split) + " to speak of here, or it is struck out."
}

// NoLayers says that a coffee has not been tasted cup by cup.
func NoLayers(c bar.Coffee) string {
	return "No tasting of " + c.Name + " cup by cup has been shown yet. Begin one: /layers start coffee:" + c.Name
}

// Left says that a recipe stays.
func Left(c bar.Coffee) string {
	return c.Name + " stays " + recipeText(c.Recipe) + "."
}

// Moved says that it was moved.
func Moved(c bar.Coffee, ends bar.Ends) string {
	text := c.Name + " is now " + recipeText(c.Recipe) + ". Leave the grind: only the end moves, and the window with it. /undo puts it back."
	if ends == bar.ByButton {
		text += " The button has to be set anew; do that in a quiet hour."
	}
	return text
}

// LateCups is what somebody says who came after the others were shown.
func LateCups(b layers.Table, people []bar.Person, who bar.PersonID, s bar.Sips) string {
	return NameOf(people, who) + ", after the others: " + cupsSaid(b, b.Of(who, s.Split), false) + ".\n/layers show has the account with it."
}
