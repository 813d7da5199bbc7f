package bot

// Every sentence the bot says is in this file and in those whose names begin
// with wording.
//
// The voice:
//
//   - The action comes first: a lock screen shows two lines.
//   - One change, one reason, one line of what was understood.
//   - No number a barista cannot use: whole seconds, no shares of sureness, no
//     extraction yield without a refractometer.
//   - What stays the same is not said.
//   - Plain words, no exclamation marks, nobody is blamed.
//   - Cautions stand where the hazard is, and only there.

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"shothand/advisor"
	"shothand/advisor/extraction"
	"shothand/advisor/taste"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/sheet"
	"shothand/store"
)

// Names the bot gives by itself.
const (
	houseName    = "house"
	houseGrinder = "grinder"
	someone      = "somebody"
)

// Labels of buttons.
const (
	didItLabel   = "did it"
	dialledLabel = "dialled in"
	lowerLabel   = "lower is finer"
	higherLabel  = "higher is finer"
	orderTyped   = "typed"
	orderBetter  = "better"
)

// stillLabel is the button of somebody who has not turned the dial.
func stillLabel(at string) string { return "still " + at }

// position prints a position of the dial as its people write it.
func (v view) position(x float64) string { return parse.Write(v.grinder, advisor.Dial(x)) }

// tasteTaps are the four answers to how a shot tastes.
func tasteTaps() []string { return []string{"sour", "bitter", "thin", "balanced"} }

// Short sentences.
const (
	notSavedText         = "That was not recorded: the disk refuses. Please post it again once there is room."
	troubleText          = "Something went wrong on my side and I could not answer that. It is in my log."
	oldButtonText        = "That button is over; nothing was changed."
	nothingToUndoText    = "There is nothing of yours today to undo."
	nothingToCorrectText = "There is no shot of yours today to put right."
	editedCommandText    = "A command that is edited is not run again; undo it with /undo, or type it anew."
	notManagerText       = "That needs the right to manage this channel."
	correctedText        = "Corrected."
	notedText            = "Noted."
	stillText            = "Noted: the dial was not moved."
	addedText            = "Added"
	changedText          = "Changed"
	retiredText          = "Retired"
	dialEndsText         = "Its dial ends below where it begins. Give both ends, such as min:0 max:10; nothing was changed."
	hoursText            = "It cannot open and close at the same time; nothing was changed."
	stepMissingText      = "How big is one step of its dial? Add step:0.1, or whatever the smallest mark you use is; nothing was changed."
)

// number prints x without trailing zeros, to two decimals.
func number(x float64) string {
	return strconv.FormatFloat(math.Round(x*100)/100+0, 'f', -1, 64)
}

// grams prints a mass to a tenth.
func grams(g advisor.Grams) string {
	return strconv.FormatFloat(math.Round(float64(g)*10)/10+0, 'f', -1, 64)
}

// whole prints whole seconds.
func whole(s advisor.Seconds) string { return strconv.Itoa(int(math.Round(float64(s)))) }

// window prints a recipe's window.
func window(r advisor.Recipe) string {
	if r.Low == r.High {
		return number(float64(r.Low)) + " s"
	}
	return number(float64(r.Low)) + "–" + number(float64(r.High)) + " s"
}

// recipeText prints a recipe.
func recipeText(r advisor.Recipe) string {
	return grams(r.Dose) + " → " + grams(r.Yield) + " g in " + window(r)
}

// dial prints a position; of a grinder without numbers, in steps.
func dial(g advisor.Grinder, x advisor.Dial) string {
	if g.Step > 0 {
		return "at " + parse.Write(g, x)
	}
	switch {
	case x > 0:
		return steps(float64(x)) + " finer than at first"
	case x < 0:
		return steps(float64(-x)) + " coarser than at first"
	}
	return "where the grinder stood at first"
}

// steps prints a number of steps.
func steps(n float64) string {
	switch n = math.Abs(n); n {
	case 1:
		return "1 step"
	case 0.5:
		return "half a step"
	}
	return number(n) + " steps"
}

// nth prints which shot of the day it is.
func nth(n int) string {
	names := []string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"}
	if 1 <= n && n <= len(names) {
		return names[n-1] + " shot"
	}
	return "shot " + strconv.Itoa(n)
}

// list joins words as people do.
func list(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// text is an advice as it is posted.
func (v view) text(lead string, notes shotNotes) string {
	var lines []string
	add := func(s string) {
		if s != "" {
			lines = append(lines, s)
		}
	}
	add(lead)
	if v.because("for-the-lead") {
		add("Ask the lead first. " + v.actionText())
	} else {
		add(v.actionText())
	}
	add(v.reasonText())
	add(v.factsText())
	switch {
	case notes.odd != "":
		add(unplacedText(v.grinder, notes))
	case v.grinder.Step > 0 && v.shot.Grind.From == advisor.None && v.Lever == advisor.Grind:
		add("Where was the grinder? Say it once, such as: was 5.2")
	}
	add(notes.alike)
	if notes.house {
		add(houseText(v.coffee))
	}
	if notes.direction {
		add("Is a lower number finer on this grinder?")
	}
	if len(notes.unread) > 0 {
		add(unreadText(notes.unread))
	}
	return strings.Join(lines, "\n")
}

// actionText is the first line: what to do.
func (v view) actionText() string {
	switch v.Lever {
	case advisor.Grind:
		return v.grindText()
	case advisor.Yield:
		way := "Longer"
		if v.To < v.From {
			way = "Shorter"
		}
		text := fmt.Sprintf("%s: stop at %s g instead of %s.%s", way, number(v.To), number(v.From), v.expectText())
		if v.ends == advisor.ByButton {
			text += " The button has to be set anew; do that in a quiet hour."
		}
		return text
	case advisor.Dose:
		if v.because("dose-off") {
			return fmt.Sprintf("Dose first: back to %s g, this was %s. Leave the grind.", number(v.To), number(v.From))
		}
		return fmt.Sprintf("Dose: %s g instead of %s. Leave the grind.%s", number(v.To), number(v.From), v.expectText())
	case advisor.Time:
		way := "Longer"
		if v.To < v.From {
			way = "Shorter"
		}
		return fmt.Sprintf("%s: stop at %s s instead of %s.", way, number(v.To), number(v.From))
	case advisor.Temperature:
		return fmt.Sprintf("Water: %s °C instead of %s, if the machine's maker allows it. It is the last lever and a weak one.", number(v.To), number(v.From))
	case advisor.Prep:
		return "Change nothing; take care of the puck: spread it evenly, tamp level, and pull again."
	case advisor.Repeat:
		return v.repeatText()
	case advisor.Keep:
		if v.State != advisor.Dialling {
			return "✓"
		}
		if v.because("move-window") {
			return "Keep this" + v.atText() + ". It tastes right outside " + window(v.coffee.Recipe) + ": move the window with /coffee edit name:" + quoted(v.coffee.Name) + v.forMilk() + " time:" + v.windowAround() + ", if you agree."
		}
		return "Keep this" + v.atText() + ". Call it dialled in."
	case advisor.NoLever:
		return v.noLeverText()
	}
	return ""
}

// forMilk is the option that says which of two recipes is meant.
func (v view) forMilk() string {
	if v.shot.Marks.Has(advisor.InMilk) && v.coffee.Milk != (advisor.Recipe{}) {
		return " for:milk"
	}
	return ""
}

// windowAround proposes a window of the same width about the last shot.
func (v view) windowAround() string {
	half := (v.coffee.Recipe.High - v.coffee.Recipe.Low) / 2
	return whole(v.shot.Time.X-half) + "-" + whole(v.shot.Time.X+half)
}

// grindText is the action of a grind change.
func (v view) grindText() string {
	way := "Finer"
	if v.Unit == advisor.StepUnit && v.To < 0 || v.Unit == advisor.DialUnit && (v.To > v.From) == (v.grinder.Finer == advisor.Lower) {
		way = "Coarser"
	}
	how := ": " + v.position(v.From) + " → " + v.position(v.To)
	if v.Unit == advisor.StepUnit {
		how = " by " + steps(v.To)
	}
	purge := ", and purge."
	if v.long {
		purge = ". Then purge a few grams, so that the old grounds are out."
	}
	weigh := ""
	if v.grinder.Doser == advisor.Timed {
		weigh = " Re-weigh the dose: the timer does not know."
	}
	return way + how + purge + v.expectText() + weigh + v.chokeText()
}

// chokeText is the caution of a choked machine.
func (v view) chokeText() string {
	if !v.because("choked") {
		return ""
	}
	return "\nPump off first and wait until the pressure has dropped before you unlock: hot grounds spray."
}

// expectText says what the next shot should take.
func (v view) expectText() string {
	if !(v.Expect.Time > 0) {
		return ""
	}
	return " Expect about " + whole(v.Expect.Time) + " s."
}

// repeatText is the action where nothing is changed.
func (v view) repeatText() string {
	switch {
	case v.shot.Marks.Has(advisor.Practice):
		return "Noted as practice."
	case v.served():
		return "✓"
	case v.because("untasted"):
		if v.shot.Time.From == advisor.None {
			return "How does it taste, and how long did it take?"
		}
		if v.offLength() {
			return whole(v.shot.Time.X) + " s is right for " + grams(v.shot.Yield.X) + " g. How does it taste?"
		}
		return whole(v.shot.Time.X) + " s, in the window. How does it taste?"
	case v.because("tasters-differ"):
		return "Change nothing yet" + v.atText() + ": pull one more and taste it side by side."
	case v.because("unplaced"):
		return "First the setting, then I can say what to change."
	case v.because("praised-outside"):
		return "Change nothing: it tastes right. Pull one more the same."
	case v.because("confirm"):
		return "Looks right. Pull one more the same to confirm."
	case v.because("hunting"):
		return "Leave the grind: it has gone back and forth. Pull one more the same."
	}
	return "Same again" + v.atText() + ": one more before anything is changed."
}

// atText is where the grinder is, on a dial with numbers.
func (v view) atText() string {
	if v.grinder.Step > 0 && v.shot.Grind.From != advisor.None {
		return ", " + dial(v.grinder, v.shot.Grind.X)
	}
	return ""
}

// noLeverText says what mends what no lever does.
func (v view) noLeverText() string {
	switch {
	case v.because("cleaner"):
		return "Do not serve this. Rinse and flush the group until the water is clean, then pull one to throw away."
	case v.because("stale"):
		return "No setting mends this: it tastes old. Open a fresh bag, and check how the last one was closed and where it stood."
	case v.because("roast"):
		return "No setting mends this: it tastes of the roast. Try another bag of it; if it is the same, tell the roaster."
	case v.because("raw"):
		return "No setting mends this: it tastes roasted too little. Try another bag of it; if it is the same, tell the roaster."
	}
	return "No step of this grinder gets there. " + v.beyondReachText()
}

// halfGram is the trim of the dose that is proposed where the grind cannot go on.
const halfGram = 0.5

// beyondReachText says what would do where the grinder does not.
func (v view) beyondReachText() string {
	dose, basket := v.coffee.Recipe.Dose, v.coffee.Basket
	more := v.because("fast") || !v.because("slow") && v.because("under-extracted")
	less := !more && (v.because("slow") || v.because("over-extracted") || v.because("choked"))
	switch {
	case more && basket.Holds(dose+halfGram):
		return "More coffee slows it down: try " + grams(dose+halfGram) + " g."
	case less && basket.Holds(dose-halfGram):
		return "Less coffee speeds it up: try " + grams(dose-halfGram) + " g."
	case more, less:
		return "Nor does the basket hold such a dose: another basket would do, or a look at the grinder's zero and burrs."
	}
	return "A little more or less coffee in the basket is the way: try half a gram."
}

// reasonText is the second line: why.
func (v view) reasonText() string {
	switch {
	case v.Lever == advisor.NoLever, v.because("untasted"), v.served(), v.shot.Marks.Has(advisor.Practice):
		return ""
	}
	var seen []string
	if words := v.voicesText(); words != "" {
		seen = append(seen, words)
	}
	if clock := v.clockText(); clock != "" {
		seen = append(seen, clock)
	}
	what := v.readingText()
	if rule := v.ruleText(); rule != "" {
		what = rule
	}
	switch {
	case what == "" && len(seen) == 0:
		return ""
	case len(seen) == 0:
		return what + "."
	case what == "":
		return upper(strings.Join(seen, ", and ")) + "."
	}
	return what + ": " + strings.Join(seen, ", and ") + "."
}

// voicesText says how the cup tasted, and to whom where several tasted it.
func (v view) voicesText() string {
	if len(v.voices) == 0 || len(v.voices) == 1 && len(v.voices[0].names) == 1 {
		return strings.Join(v.said(), ", ")
	}
	var parts []string
	for i, voice := range v.voices {
		verb := ""
		switch {
		case i > 0:
		case len(voice.names) > 1:
			verb = " find it"
		default:
			verb = " finds it"
		}
		parts = append(parts, list(voice.clipped())+verb+" "+strings.Join(voice.said, ", "))
	}
	return strings.Join(parts, "; ")
}

// ruleText is the reason of a rule that has one of its own.
func (v view) ruleText() string {
	texts := []struct{ name, text string }{
		{"choked", "It choked"},
		{"dose-off", "The dose was off, so the rest says little"},
		{"praised-outside", "Taste beats the clock"},
		{"far-off", "Too far off in time to judge the taste"},
		{"move-window", "Liked again and again out there, and taste beats the clock"},
		{"taste-leads", "Three cups in a row err the same way, so the window is not where it tastes best"},
		{"coarse-steps", "A step of this grinder is as wide as the window"},
		{"temperature", "Grind and yield have not mended it"},
		{"lone-outlier", "This one stands alone, the setting was right before"},
		{"uneven", "The water did not go through evenly"},
		{"tasters-differ", "Tongues differ"},
		{"scattered", "The last shots at this setting lie far apart"},
		{"half-believed", "A first shot says only half"},
		{"unplaced", "Without the setting it says little"},
		{"past-the-peak", "Finer made it faster, so the water is finding its way around"},
		{"slow-and-sour", "Slow and sour, so the water is finding its way around"},
		{"fast-and-bitter", v.fastAndBitterText()},
		{"yield-off", "The cup was another length than the recipe's, the clock is innocent"},
		{"lost-in-milk", "It gets lost in the milk"},
		{"sour-and-strong", "More water mends sour and strong together"},
		{"bitter-and-strong", "More water, or coarser, mends bitter and strong together"},
		{"drifting", "It has moved since it was called dialled in"},
		{"inside-the-noise", "One shot off means little here, single shots differ by as much"},
		{"hunting", "The grind has gone back and forth"},
		{"bitter-and-weak", "A shorter cup mends bitter and weak together"},
		{"ratio-first", "The time is right, so the ratio comes before the grind"},
	}
	for _, t := range texts {
		if v.because(t.name) {
			return t.text
		}
	}
	return ""
}

// fastAndBitterText is the reason of fast and bitter: the puck at first, then
// the grind.
func (v view) fastAndBitterText() string {
	if v.Lever == advisor.Grind {
		return "Fast and bitter again, so it is not the puck alone"
	}
	return "Fast and bitter is a puck that broke, not a coarse one"
}

// readingText says where the cup stands.
func (v view) readingText() string {
	var parts []string
	switch {
	case v.because("under-extracted"):
		parts = append(parts, "not enough out of it")
	case v.because("over-extracted"):
		parts = append(parts, "too much out of it")
	}
	switch {
	case v.strengthSaid():
	case v.because("weak"):
		parts = append(parts, "a bit thin")
	case v.because("strong"):
		parts = append(parts, "a bit strong")
	}
	return upper(list(parts))
}

// strengthSaid reports whether the words alone say how strong the cup was.
func (v view) strengthSaid() bool {
	return slices.ContainsFunc(v.spoken(), func(w taste.Word) bool {
		e, ok := taste.Default().Entry(w.Term)
		return ok && e.Kind == taste.Body && !w.Not
	})
}

// clockText says how the time stands to the window, if it is outside.
func (v view) clockText() string {
	if v.shot.Time.From == advisor.None || v.shot.Marks.Has(advisor.Choked) {
		return ""
	}
	asIf := ""
	if v.offLength() {
		asIf = ", for " + grams(v.shot.Yield.X) + " g,"
	}
	switch {
	case v.because("fast"):
		return whole(v.shot.Time.X) + " s" + asIf + " is short of " + window(v.coffee.Recipe)
	case v.because("slow"):
		return whole(v.shot.Time.X) + " s" + asIf + " is over " + window(v.coffee.Recipe)
	}
	return ""
}

// offLength reports whether the cup was of another length than the recipe's.
func (v view) offLength() bool {
	off := float64(v.shot.Yield.X / v.coffee.Recipe.Yield)
	return off > 1.15 || off < 0.85
}

// said returns the taste words of the shot as they are understood.
func (v view) said() []string {
	return wordsText(v.spoken())
}

// wordsText returns words as they were understood, each once.
func wordsText(spoken []taste.Word) []string {
	words := []string{}
	for _, w := range spoken {
		if s := wordText(w); !slices.Contains(words, s) {
			words = append(words, s)
		}
	}
	return words
}

// comparedText is a word that compares with the cup before.
func comparedText(w taste.Word) string {
	little := ""
	if w.Degree < 1 && !w.Not || w.Degree > 1 && w.Not { // only the far end is denied
		little = "a bit "
	}
	switch {
	case w.Term == "nice" && !w.Not, w.Term == "bad" && w.Not:
		return little + "better"
	case w.Term == "bad", w.Term == "nice":
		return little + "worse"
	case w.Term == "sweet" && !w.Not:
		return little + "sweeter"
	case w.Not:
		return little + "less " + w.Term
	}
	return little + "more " + w.Term
}

// wordText is a word as it was understood.
func wordText(w taste.Word) string {
	switch {
	case w.Than:
		return comparedText(w)
	case w.Not && w.Degree > 1:
		return "not too " + w.Term
	case w.Not:
		return "not " + w.Term
	case w.Degree >= 2:
		return "far too " + w.Term
	case w.Degree > 1:
		return "very " + w.Term
	case w.Degree < 1:
		return "a bit " + w.Term
	}
	return w.Term
}

// factsText is the last line: what was understood, and from where.
func (v view) factsText() string {
	s := v.shot
	if !v.known {
		return ""
	}
	what := v.coffee.Name + ", " + nth(v.Nth) + ": "
	what += grams(s.Dose.X) + " → " + grams(s.Yield.X) + " g"
	if s.Marks.Has(advisor.InMilk) {
		what += " for milk"
	}
	switch {
	case s.Marks.Has(advisor.Choked):
		what += ", choked"
	case s.Time.From != advisor.None:
		what += ", " + whole(s.Time.X) + " s"
	}
	if v.grinder.Step > 0 {
		if s.Grind.From != advisor.None {
			what += ", " + dial(v.grinder, s.Grind.X) + provenanceText(s.Grind.From)
		} else {
			what += ", setting not known"
		}
	} else if s.Grind.From == advisor.Advised {
		what += provenanceText(s.Grind.From)
	}
	what += strengthText(s)
	var assumed []string
	if s.Dose.From == advisor.Assumed {
		assumed = append(assumed, "dose")
	}
	if s.Yield.From == advisor.Assumed {
		assumed = append(assumed, "yield")
	}
	if len(assumed) > 0 {
		what += " (" + list(assumed) + " from the recipe)"
	}
	return what
}

// strengthText says what was measured, and what it comes to.
func strengthText(s advisor.Shot) string {
	if !(s.TDS > 0) {
		return ""
	}
	text := ", " + number(float64(s.TDS)) + " % TDS"
	ey, err := extraction.Yield(float64(s.TDS), float64(s.Yield.X), float64(s.Dose.X))
	switch {
	case err != nil:
	case ey > extraction.BadYield:
		text += ", which would be " + number(math.Round(ey)) + " % of the coffee: more than dissolves, so it is left out"
	case ey > extraction.QueryYield:
		text += ", " + number(math.Round(ey*10)/10) + " % of the coffee: is that so?"
	default:
		text += ", " + number(math.Round(ey*10)/10) + " % of the coffee"
	}
	return text
}

// provenanceText says where a setting that was not said comes from.
func provenanceText(p advisor.Provenance) string {
	switch p {
	case advisor.Advised:
		return ", as advised"
	case advisor.Last:
		return ", as before"
	case advisor.None, advisor.Said, advisor.Assumed:
	}
	return ""
}

// houseText is said when the first shot made its coffee.
func houseText(c advisor.Coffee) string {
	return fmt.Sprintf("New coffee “%s”, %s. Change it: /coffee edit name:%s yield:38 time:25-31\nIf the grinder has numbers: /grinder edit finer:lower step:0.1",
		c.Name, recipeText(c.Recipe), c.Name)
}

// unplacedText asks again for a position that is none of this dial's.
func unplacedText(g advisor.Grinder, n shotNotes) string {
	said := "“" + clip(n.odd) + "”"
	switch {
	case n.beyond && g.Max > g.Min:
		return said + " is past the end of this dial, which goes from " + parse.Write(g, g.Min) + " to " + parse.Write(g, g.Max) + ". Where was it? Say it once, such as: was " + example(g)
	case n.beyond:
		return said + " is past the end of this dial. Where was it? Say it once, such as: was " + example(g)
	case strings.ContainsFunc(n.odd, unicode.IsLetter) && strings.ContainsFunc(n.odd, unicode.IsDigit) && !g.Letters:
		return "I cannot place " + said + " on this grinder. For lettered steps say once: /grinder edit name:" + quoted(g.Name) + " small:A-K   Or give a plain number: was " + example(g)
	case strings.Count(n.odd, ".") == 2 && !(g.Wraps > 0):
		return "I cannot place " + said + " on this grinder. For turns, marks and small steps say once: /grinder edit name:" + quoted(g.Name) + " wraps:12 small:5   Or give a plain number: was " + example(g)
	}
	return "I cannot place " + said + " on this grinder. Say it once as " + kindOf(g) + ", such as: was " + example(g)
}

// kindOf says what positions of a grinder look like.
func kindOf(g advisor.Grinder) string {
	switch {
	case !(g.Step > 0):
		return "a number of steps"
	case g.Wraps > 0:
		return "it stands, turns first"
	case g.Letters:
		return "a number and a letter up to " + string(rune('A'+g.Small-1))
	case g.Small > 0:
		return fmt.Sprintf("big and small steps, 0 to %d after the point", g.Small-1)
	}
	return "a plain number"
}

// example is a position of a grinder.
func example(g advisor.Grinder) string {
	switch {
	case !(g.Step > 0):
		return "2 finer"
	case g.Max > g.Min:
		return parse.Write(g, g.Min+advisor.Dial(math.Round(float64(g.Max-g.Min)/g.Step/2)*g.Step))
	}
	return parse.Write(g, advisor.Dial(math.Round(5.2/g.Step)*g.Step))
}

// quoted prints a name as an option takes it.
func quoted(name string) string {
	if strings.Contains(name, " ") {
		return `"` + name + `"`
	}
	return name
}

// maxUnread is how many words that were not understood are said back.
const maxUnread = 5

// teachLabel is the button that teaches a word.
func teachLabel(word string) string { return "teach “" + clip(word) + "”" }

// unteachLabel is the button that forgets one.
func unteachLabel(word string) string { return "forget “" + clip(word) + "”" }

// teachMeanings are what a tap can teach, as the lexicon has it; empty is no
// taste.
func teachMeanings() []string { return []string{"sour", "bitter", "thin", "nice", ""} }

// meansLabel is the button of a meaning.
func meansLabel(means string) string {
	if means == "" {
		return "no taste"
	}
	return means
}

// teachQuestion asks what a word means at this bar.
func teachQuestion(word string) string { return "What is “" + clip(word) + "” nearest to, here?" }

// taughtText says what was learnt.
func taughtText(word, means string) string {
	if means == "" {
		return "Learnt: “" + clip(word) + "” says nothing of taste here."
	}
	return "Learnt: “" + clip(word) + "” is " + means + " here, also where it was said before."
}

// ownWordText says what a word means here now.
func ownWordText(words advisor.OwnWords, word string) string {
	means, ok := words.Means(word)
	if !ok {
		return untaughtText(word)
	}
	return taughtText(word, means)
}

// untaughtText says that a word was forgotten.
func untaughtText(word string) string {
	return "Forgotten: “" + clip(word) + "” is not read any more."
}

// knownWordText refuses to teach a word that has a meaning.
func knownWordText(word string) string {
	return "“" + clip(word) + "” has a meaning already; nothing was changed."
}

// ownWordsText lists the words a bar has taught.
func ownWordsText(list []taste.Own) string {
	const how = "Words I cannot read have a button to teach them; /setup word:gribbly means:heavy does it too, means:nothing is no taste, means:forget forgets."
	if len(list) == 0 {
		return "This bar has taught me no words of its own.\n" + how
	}
	lines := []string{"This bar’s own words:"}
	for _, o := range list {
		lines = append(lines, "• "+clip(o.Word)+": "+meansLabel(o.Means))
	}
	return strings.Join(append(lines, how), "\n")
}

// unreadText is said once of words that were kept and not understood.
func unreadText(words []string) string {
	var quoted []string
	for _, w := range words[:min(len(words), maxUnread)] {
		quoted = append(quoted, "“"+clip(w)+"”")
	}
	return "Kept, but not understood: " + list(quoted) + "."
}

// upper begins s with a capital.
func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// coffeeQuestion asks which coffee a shot was of.
func coffeeQuestion(coffees []advisor.Coffee) string {
	return "Which coffee was that: " + list(names(coffees)) + "? I kept the shot."
}

func names(coffees []advisor.Coffee) []string {
	var list []string
	for _, c := range coffees {
		list = append(list, c.Name)
	}
	return list
}

func grinderNames(grinders []advisor.Grinder) []string {
	var list []string
	for _, g := range grinders {
		list = append(list, g.Name)
	}
	return list
}

// maxButtons is how many buttons stand under a post at most.
const maxButtons = 5

// coffeeButtons are its answers.
func coffeeButtons(e advisor.EntryID, coffees []advisor.Coffee) []chat.Button {
	var list []chat.Button
	for _, c := range coffees[:min(len(coffees), maxButtons)] {
		list = append(list, chat.Button{Label: c.Name, State: pressState(pressCoffee, e, idText(c.ID))})
	}
	return list
}

func idText(id advisor.CoffeeID) string { return strconv.FormatUint(uint64(id), 10) }

// orderQuestion asks in which order the numbers stand.
func orderQuestion(p parse.Shot) string {
	return fmt.Sprintf("Did you mean %s? As typed it reads %s. I kept the shot.",
		trioText(p.Better), trioText(parse.Trio{Dose: p.Dose, Yield: p.Yield, Time: p.Time}))
}

func trioText(t parse.Trio) string {
	return number(t.Dose.X) + " → " + number(t.Yield.X) + " g in " + number(t.Time.X) + " s"
}

// orderButtons are its answers.
func orderButtons(e advisor.EntryID, p parse.Shot) []chat.Button {
	var coffee []string // that was asked before
	if p.Coffee != 0 {
		coffee = []string{idText(p.Coffee)}
	}
	state := func(order string) string { return pressState(pressOrder, e, append([]string{order}, coffee...)...) }
	return []chat.Button{
		{Label: trioText(p.Better), State: state(orderBetter)},
		{Label: "as typed", State: state(orderTyped)},
	}
}

// didText answers somebody who did what was advised.
func didText(s store.Said, g advisor.Grinder) string {
	switch {
	case s.Lever == advisor.Grind && s.Unit == advisor.DialUnit:
		return "Noted: at " + parse.Write(g, advisor.Dial(s.To)) + " from the next shot."
	case s.Lever == advisor.Yield, s.Lever == advisor.Dose:
		return "Noted: " + number(s.To) + " g from the next shot."
	}
	return "Noted."
}

// directionText says which way a dial was said to go.
func directionText(g advisor.Grinder) string {
	if g.Finer == advisor.Higher {
		return "Noted: a higher number is finer on " + g.Name + ", in steps of " + number(g.Step) + "."
	}
	return "Noted: a lower number is finer on " + g.Name + ", in steps of " + number(g.Step) + "."
}

// notedForText says for which shot words were taken, where a newer one stands
// below.
func notedForText(shot advisor.Entry, by string, words []taste.Word) string {
	return "Noted for " + clip(by) + "’s shot of " + shot.At.Format("15:04") + ": " + strings.Join(wordsText(words), ", ") + "."
}

// takenOutText says that an entry no longer counts.
func takenOutText(e advisor.Entry) string {
	switch w := e.What.(type) {
	case advisor.Shot:
		return "Taken out: " + pouredText(w) + "."
	case advisor.Words:
		return "Taken out: what was said of the taste."
	case advisor.Dialled:
		return "Taken back: not called dialled in any more."
	case advisor.Told:
		return "Taken back: it did not happen."
	case advisor.Setting:
		return "Put back as it was."
	case advisor.Held:
		return "Taken out: the shot I had asked about."
	case advisor.Layers:
		return "Taken back: the tasting cup by cup is off."
	case advisor.Sips:
		return "Taken out: what was said of the cups."
	}
	return ""
}

// pouredText is what a shot's numbers were, but for the grind.
func pouredText(s advisor.Shot) string {
	text := grams(s.Dose.X) + " → " + grams(s.Yield.X) + " g"
	if s.Time.From == advisor.None {
		return text
	}
	return text + ", " + whole(s.Time.X) + " s"
}

// happenedText says what was noted of the bar.
func happenedText(t advisor.Told, r *room) string {
	coffee, _ := r.coffee(t.Coffee)
	grinder, _ := r.grinder(t.Grinder)
	switch t.Event {
	case advisor.NewBag:
		return "Noted: a new bag of " + coffee.Name + ". It may run a little differently."
	case advisor.Cleaned:
		return "Noted: " + grinder.Name + " was cleaned. Only ever do that unplugged. Purge before the first shot."
	case advisor.Rezeroed:
		return "Noted: the dial of " + grinder.Name + " was re-zeroed. Its old numbers mean nothing now; say the setting with the next shot."
	case advisor.NewBurrs:
		return "Noted: new burrs in " + grinder.Name + ". I start learning it anew."
	case advisor.HopperLow:
		return "Noted: the hopper of " + grinder.Name + " is low. Shots may run faster and doses come out lighter; weigh the next one."
	case advisor.HopperFilled:
		return "Noted: the hopper of " + grinder.Name + " was filled. Shots may run a little slower; weigh the next dose."
	case advisor.Swapped:
		return "Noted: " + coffee.Name + " is in " + grinder.Name + " now. Purge before the first shot, so that the other coffee is out."
	case advisor.NewFilter:
		return "Noted: a new water filter. Flush it as its maker says; every coffee may run and taste a little differently."
	case advisor.Descaled:
		return "Noted: the machine was descaled. Rinse until nothing of the descaler is left, as its maker says, before anything is served; every coffee may run differently."
	case advisor.OtherBasket:
		return "Noted: another basket" + ofText(coffee) + ". Its shots may run quite differently; if it holds another dose, say so: /coffee edit dose:19 basket:18-20"
	case advisor.OtherGroup:
		return "Noted: another group" + ofText(coffee) + ". Shots may run a little differently there."
	}
	return "Noted."
}

// ofText says of which coffee, or of all.
func ofText(c advisor.Coffee) string {
	if c.ID == 0 {
		return " for every coffee"
	}
	return " for " + c.Name
}

// eventText names what happened, for a record of the day.
func eventText(t advisor.Told, coffee, grinder string) string {
	switch t.Event {
	case advisor.NewBag:
		return "new bag of " + coffee
	case advisor.Cleaned:
		return grinder + " cleaned"
	case advisor.Rezeroed:
		return "dial of " + grinder + " re-zeroed"
	case advisor.NewBurrs:
		return "new burrs in " + grinder
	case advisor.HopperLow:
		return "hopper of " + grinder + " low"
	case advisor.HopperFilled:
		return "hopper of " + grinder + " filled"
	case advisor.Swapped:
		return coffee + " put into " + grinder
	case advisor.NewFilter:
		return "new water filter"
	case advisor.Descaled:
		return "machine descaled"
	case advisor.OtherBasket:
		return "another basket" + forText(coffee)
	case advisor.OtherGroup:
		return "another group" + forText(coffee)
	}
	return ""
}

func forText(coffee string) string {
	if coffee == "" {
		return ""
	}
	return " for " + coffee
}

// dialledText says who called a coffee dialled in, and at what.
func dialledText(c advisor.Coffee, g advisor.Grinder, s advisor.Shot, who string) string {
	return c.Name + " is dialled in, called by " + who + ": " + shotText(g, s) + "."
}

// shotText tells of a shot without its taste.
func shotText(g advisor.Grinder, s advisor.Shot) string {
	text := pouredText(s)
	if g.Step > 0 && s.Grind.From != advisor.None {
		text += ", " + dial(g, s.Grind.X)
	}
	return text
}

// notPulledText says that a coffee has no shot today.
func notPulledText(c advisor.Coffee) string { return c.Name + " has not been pulled today." }

// whichCoffeeText asks for the coffee's name.
func whichCoffeeText(coffees []advisor.Coffee) string {
	if len(coffees) == 0 {
		return "There is no coffee yet. Post a shot, or add one: /coffee add name:Harbour dose:18 yield:36 time:25-31"
	}
	return "Which coffee? There is " + list(names(coffees)) + "."
}

// whichGrinderText asks for the grinder's name.
func whichGrinderText(grinders []advisor.Grinder) string {
	if len(grinders) == 0 {
		return "There is no grinder yet. Add one: /grinder add name:left finer:lower step:0.1"
	}
	return "Which grinder? There is " + list(grinderNames(grinders)) + "."
}

// noCoffeeText says that no coffee, or more than one, is called so.
func noCoffeeText(said string, all []string) string { return noneText("coffee", said, all) }

// noGrinderText says that no grinder, or more than one, is called so.
func noGrinderText(said string, all []string) string { return noneText("grinder", said, all) }

func noneText(what, said string, all []string) string {
	if len(all) == 0 {
		return "There is no " + what + " yet."
	}
	return "No one " + what + " is called “" + clip(said) + "”. There is " + list(all) + "."
}

// clip shortens what somebody typed.
func clip(s string) string {
	if r := []rune(s); len(r) > maxName {
		return string(r[:maxName]) + "…"
	}
	return s
}

// newName checks the name of a new thing.
func newName(name string, taken []string) (string, error) {
	name = strings.Join(strings.Fields(strings.Map(visible, name)), " ")
	switch {
	case name == "":
		return "", mistake("What is its name? Add name:Harbour")
	case len([]rune(name)) > maxName:
		return "", mistake("That name is too long: 40 characters are enough.")
	case !strings.ContainsFunc(name, func(r rune) bool { return r > '9' }):
		return "", mistake("A name needs a letter, so that it is not taken for a number.")
	}
	for _, t := range taken {
		if strings.EqualFold(t, name) {
			return "", mistake("There is a " + t + " already; nothing was changed.")
		}
	}
	return name, nil
}

// visible drops characters that are not seen, so that no two names look alike.
func visible(r rune) rune {
	if unicode.In(r, unicode.Cf) || unicode.IsControl(r) && !unicode.IsSpace(r) || strings.ContainsRune(blanks, r) {
		return -1
	}
	return r
}

// blanks are letters by their class and nothing to the eye.
const blanks = "\u115F\u1160\u17B4\u17B5\u2800\u3164\uFFA0"

// shownName is the name of a person or a channel as it is shown: one short line
// that is what it looks like. They are chosen elsewhere, and not all are kind.
func shownName(name string) string {
	return clip(strings.Join(strings.Fields(strings.Map(visible, strings.ToValidUTF8(name, "\uFFFD"))), " "))
}

// badRecipeText says what a recipe can have.
func badRecipeText(what, said, limits string) string {
	return fmt.Sprintf("A %s of “%s” is out of range: %s. Nothing was changed.", what, clip(said), limits)
}

// badZoneText says what a zone looks like.
func badZoneText(said string) string {
	if near := nearestZone(said); near != "" {
		return "No zone is called “" + clip(said) + "”. Did you mean " + near + "?"
	}
	return "No zone is called “" + clip(said) + "”. Zones are named by a city, such as Europe/Berlin."
}

// setupText tells what the bar has told of itself.
func setupText(b advisor.Bar) string {
	zone := b.Zone
	if zone == "" {
		zone = "as this computer has it"
	}
	order := "dose, yield, time"
	if b.Order == advisor.DoseTimeYield {
		order = "dose, time, yield"
	}
	clock := "the pump"
	if b.FromDrip {
		clock = "the first drip"
	}
	return b.Name + ": zone " + zone + "; three bare numbers are " + order + "; shots end by " + endsText(b.Ends) + ", timed from " + clock + dayText(b) + crewText(b.Crew) + "."
}

// dayText tells when a bar is open and reminded.
func dayText(b advisor.Bar) string {
	text := ""
	switch {
	case b.Opens != "" && b.Closes != "":
		text += "; open " + string(b.Opens) + "–" + string(b.Closes)
	case b.Opens != "":
		text += "; opens " + string(b.Opens)
	case b.Closes != "":
		text += "; closes " + string(b.Closes)
	}
	if b.Days != 0 {
		text += "; on " + weekdaysText(b.Days)
	}
	if b.Remind != "" {
		text += "; reminds at " + string(b.Remind)
	}
	return text
}

// weekdaysText names the days of a week, Monday first.
func weekdaysText(days advisor.Weekdays) string {
	var names []string
	for n := range 7 {
		if d := time.Weekday((n + 1) % 7); days.Has(d) {
			names = append(names, d.String()[:3])
		}
	}
	return list(names)
}

// crewText tells which levers the crew moves.
func crewText(crew advisor.Levers) string {
	if crew == 0 {
		return ""
	}
	var names []string
	for _, l := range []advisor.Lever{advisor.Grind, advisor.Yield, advisor.Dose, advisor.Temperature} {
		if crew.Has(l) {
			names = append(names, l.String())
		}
	}
	return "; the crew moves " + list(names) + ", the rest is the lead's"
}

// mentionText answers who wants to be mentioned, or no more.
func mentionText(wants bool) string {
	if wants {
		return "Noted: you are mentioned when something needs a hand. /mention me:no ends it."
	}
	return "Noted: you are not mentioned."
}

// basketText refuses a dose that its basket does not hold.
func basketText(c advisor.Coffee) string {
	return "The basket of " + c.Name + " holds " + number(float64(c.Basket.Low)) + "–" + number(float64(c.Basket.High)) + " g, and a recipe's dose is outside that. Nothing was changed."
}

// endsText says what ends a bar's shots.
func endsText(e advisor.Ends) string {
	switch e {
	case advisor.ByScale:
		return "the scale"
	case advisor.ByButton:
		return "a button"
	case advisor.ByTime:
		return "the clock"
	case advisor.ByEye:
		return "eye"
	}
	return ""
}

// coffeeText tells of a coffee.
func coffeeText(how string, c advisor.Coffee, r *room) string {
	g, _ := r.grinder(c.Grinder)
	text := c.Name + ": " + recipeText(c.Recipe)
	if c.Recipe.Soft {
		text += " (a soft window, nobody has set one)"
	}
	if c.For == advisor.WithMilk {
		text += ", for milk"
	}
	if c.Milk != (advisor.Recipe{}) {
		text += "; in milk " + recipeText(c.Milk)
	}
	if g.Name != "" {
		text += ", on " + g.Name
	}
	text += coffeeFacts(c)
	if c.Roasted != "" {
		text += ", roasted " + string(c.Roasted)
		if days, ok := r.day.Since(c.Roasted); ok && days >= 0 {
			text += fmt.Sprintf(" (%s ago)", daysText(days))
		}
	}
	if how != "" {
		text = how + ". " + text
	}
	return text + "."
}

// coffeeFacts tells what else is known of a coffee.
func coffeeFacts(c advisor.Coffee) string {
	text := ""
	switch c.Roast {
	case advisor.Light:
		text += ", a light roast"
	case advisor.Medium:
		text += ", a medium roast"
	case advisor.Dark:
		text += ", a dark roast"
	case advisor.UnknownRoast:
	}
	switch c.Aim {
	case advisor.Bright:
		text += ", meant bright"
	case advisor.Round:
		text += ", meant round"
	case advisor.Rich:
		text += ", meant rich"
	case advisor.NoAim:
	}
	if c.Basket != (advisor.Basket{}) {
		text += ", in a basket of " + number(float64(c.Basket.Low)) + "–" + number(float64(c.Basket.High)) + " g"
	}
	if c.PreInfusion > 0 {
		text += ", " + number(float64(c.PreInfusion)) + " s of pre-infusion"
	}
	return text
}

func daysText(n int) string { return count(n, "day") }

// coffeeListText lists the coffees.
func coffeeListText(r *room) string {
	if len(r.onBar()) == 0 {
		return whichCoffeeText(nil)
	}
	var lines []string
	for _, c := range r.onBar() {
		lines = append(lines, coffeeText("", c, r))
	}
	return strings.Join(lines, "\n")
}

// grinderText tells of a grinder.
func grinderText(how string, g advisor.Grinder) string {
	text := g.Name + ": "
	switch {
	case !(g.Step > 0):
		text += "no numbers, counted in steps"
	case g.Finer == advisor.Higher:
		text += "higher is finer, " + stepText(g)
	case g.Finer == advisor.Lower:
		text += "lower is finer, " + stepText(g)
	default:
		text += stepText(g) + ", which way is finer is not known"
	}
	if g.Wraps > 0 {
		text += ", " + number(g.Wraps) + " marks to a turn"
	}
	if g.Max > g.Min {
		text += ", from " + parse.Write(g, g.Min) + " to " + parse.Write(g, g.Max)
	}
	if g.Worth > 0 {
		text += ", a step is worth about " + number(float64(g.Worth)) + " s"
	}
	switch g.Doser {
	case advisor.ByWeight:
		text += ", doses by weight"
	case advisor.Timed:
		text += ", doses by a timer"
	case advisor.ByHand:
		text += ", dosed by hand"
	case advisor.UnknownDoser:
	}
	if g.Purge > 0 {
		text += ", purged with " + grams(g.Purge) + " g"
	}
	if how != "" {
		text = how + ". " + text
	}
	return text + "."
}

// stepText tells how far apart the positions of a dial are.
func stepText(g advisor.Grinder) string {
	switch {
	case g.Letters:
		return fmt.Sprintf("small steps A to %c", 'A'+g.Small-1)
	case g.Small > 0:
		return fmt.Sprintf("%d small steps to a big one", g.Small)
	}
	return "in steps of " + number(g.Step)
}

// grinderListText lists the grinders.
func grinderListText(grinders []advisor.Grinder) string {
	if len(grinders) == 0 {
		return whichGrinderText(nil)
	}
	var lines []string
	for _, g := range grinders {
		lines = append(lines, grinderText("", g))
	}
	return strings.Join(lines, "\n")
}

// togetherText says that two coffees moved at once.
func togetherText(a, b advisor.Coffee, way float64) string {
	how := "faster"
	if way > 0 {
		how = "slower"
	}
	shared := "the machine or the water"
	if a.Grinder == b.Grinder {
		shared = "the machine, the water or the grinder"
	}
	return a.Name + " and " + b.Name + " both run " + how + " than before: that looks like " + shared + ". Check pressure, temperature and water before you move both grinds."
}

// happenedTodayText lists what happened to the bar today.
func happenedTodayText(told []happening) string {
	var parts []string
	for _, h := range told {
		parts = append(parts, h.at.Format("15:04")+" "+h.text+" ("+h.who+")")
	}
	return "Happened: " + strings.Join(parts, "; ")
}

// whyText is the whole account of an advice, for one phone screen.
func (v view) whyText() string {
	lines := []string{v.actionText(), v.factsText()}
	if len(v.said()) > 0 {
		lines = append(lines, "Said: "+strings.Join(v.said(), ", "))
	}
	if v.Expect.Time > 0 {
		lines = append(lines, fmt.Sprintf("Next shot: about %s s; four in five such shots take %s to %s s.", whole(v.Expect.Time), whole(v.Expect.Low), whole(v.Expect.High)))
	}
	if v.because("move-window") || v.because("praised-outside") {
		lines = append(lines, "By the window this setting is right: "+sureText(v.Sure)+". The taste says otherwise, and it counts for more.")
	} else {
		lines = append(lines, "This setting is right: "+sureText(v.Sure)+".")
	}
	for _, r := range v.Reasons {
		lines = append(lines, "• "+reasonName(r.Name)+" — "+evidenceText(r))
	}
	others := slices.DeleteFunc(slices.Clone(v.Others), func(c advisor.Candidate) bool { return c.Right < unlikely })
	if len(others) > 0 {
		lines = append(lines, "Weighed as well:")
	}
	for _, c := range others {
		lines = append(lines, "• "+v.candidateText(c)+": "+sureText(c.Right))
	}
	return strings.Join(lines, "\n")
}

// learntText is what /why adds when more is asked for.
func (v view) learntText() string {
	l := v.Learnt
	lines := []string{
		fmt.Sprintf("Learnt from %s, %s tasted:", count(l.Shots, "shot"), count(l.Cups, "cup")),
		"• a step of " + v.grinder.Name + " is worth about " + tenths(l.Step) + " s",
		"• one shot differs from the next by about " + tenths(advisor.Seconds(l.Noise)*(v.coffee.Recipe.Low+v.coffee.Recipe.High)/2) + " s",
		fmt.Sprintf("• after a change without a purge about %.0f g of old grounds come along", l.Old*float64(v.coffee.Recipe.Dose)),
		"• that it tastes best outside " + window(v.coffee.Recipe) + ": " + sureText(l.Wrong),
		"• the setting wins that is likeliest to be right in time and taste; one that may choke loses",
	}
	return strings.Join(lines, "\n")
}

// tenths prints seconds to a tenth, for what is worth less than a few.
func tenths(s advisor.Seconds) string { return strconv.FormatFloat(float64(s), 'f', 1, 64) }

// count prints a number of things.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}

// candidateText names a move that was weighed.
func (v view) candidateText(c advisor.Candidate) string {
	expect := ", about " + whole(c.Time) + " s"
	switch {
	case c.Lever == advisor.Yield:
		return "stop at " + number(c.To) + " g"
	case c.From == c.To:
		return "stay" + expect
	case c.Unit == advisor.StepUnit && c.To > 0:
		return steps(c.To) + " finer" + expect
	case c.Unit == advisor.StepUnit:
		return steps(c.To) + " coarser" + expect
	}
	return v.position(c.From) + " → " + v.position(c.To) + expect
}

// unlikely is the probability below which something is very unlikely, and no
// move is worth naming.
const unlikely = 0.15

// sureText says how likely something is.
func sureText(p float64) string {
	switch {
	case p >= 0.9:
		return "nearly certain"
	case p >= 0.8:
		return "very likely"
	case p >= 0.6:
		return "likely"
	case p >= 0.4:
		return "could be"
	case p >= unlikely:
		return "unlikely"
	}
	return "very unlikely"
}

// reasonName is a reason in words.
func reasonName(name string) string {
	switch name {
	case "fast":
		return "shorter than the window"
	case "slow":
		return "longer than the window"
	}
	return strings.ReplaceAll(name, "-", " ")
}

// evidenceText says how good a reason is.
func evidenceText(r advisor.Reason) string {
	switch r.Evidence {
	case advisor.OwnShots:
		return "this bar's own shots"
	case advisor.Published:
		return "published: " + sourceText(r.Name)
	case advisor.CommonPractice:
		return "common practice, no source"
	}
	return ""
}

// sourceText names the source of a published reason.
func sourceText(name string) string {
	switch name {
	case "past-the-peak":
		return "Cameron 2020, Schmieder 2023"
	case "praised-outside":
		return "Smrke 2024, one taster's plateau of 21 to 42 s"
	case "ratio-first":
		return "Schmieder 2023"
	case "slow-and-sour", "fast-and-bitter":
		return "Lee 2023, uneven flow"
	}
	return "Frost 2020, Guinard 2023, filter coffee"
}

// mistakeText says what was read and could not be taken.
func mistakeText(m parse.Mistake) string {
	what := "“" + clip(m.What) + "”"
	more := ""
	if m.More != "" {
		more = ": " + m.More
	}
	switch m.Kind {
	case parse.Impossible:
		return "No shot has " + what + more + ". Nothing was recorded."
	case parse.Ambiguous:
		return what + " could be more than one" + more + ". Nothing was recorded."
	case parse.UnknownCommand:
		if m.More != "" {
			return "There is no " + what + ". Did you mean " + m.More + "? /help lists what there is."
		}
		return "There is no " + what + ". /help lists what there is."
	case parse.UnknownOption:
		return "There is no option " + what + " here" + more + ". Nothing was changed."
	case parse.MissingOption:
		return "It needs " + what + more + ". Nothing was changed."
	case parse.BadOption:
		return "I cannot take " + what + more + ". Nothing was changed."
	case parse.TooLong:
		return "That is too long for a shot. Nothing was recorded."
	}
	return troubleText
}

// helpText says what one can type.
func helpText(string) string {
	return `Post a shot as it comes: dose, yield, time, then how it tasted.
  18.1 36.4 24 sour thin
  harbour 18 in, 36 out, 28 s, grind 5.2, purged, balanced
Words may follow within five minutes. Edit or delete the message to put it right, or say it: was 5.1, that was decaf, ignore that.
What happens: new bag, hopper is low, cleaned the grinder, new filter, descaled.
/today  where each coffee stands
/why  the account behind the last advice (more:yes for all of it)
/dialled  call a coffee dialled in
/undo  take back your last entry
/help topic:words  this bar's own words for how a cup tastes
/coffee add name:Harbour dose:18 yield:36 time:25-31  (edit, list, show, retire)
/grinder add name:left finer:lower step:0.1  (edit, list)
/setup zone:Europe/Berlin order:dose-time-yield opens:07:00 days:mon-sat
/mention  be mentioned for alerts (me:no ends it)
/review Harbour last week  what worked, what it cost, with pictures (since, grinder, person:me, more:yes)
/layers start coffee:Harbour tasters:3  taste a coffee cup by cup (taste, reveal, strike, pair, show, mine, stop)
/export  all shots as a table (format:jsonl is everything)
/forget  take your name out of all records`
}

// What the program says beside the conversation.
const (
	// ConnectText says how to reach Discord, when the console opens without
	// being asked for.
	ConnectText = "This is the console. With DISCORD_TOKEN set the bot joins Discord; the README says how to get one."
	// WelcomeText opens a typed session.
	WelcomeText = "Post a shot, such as: 18.1 36.4 24 sour thin   (/help for more, ctrl-D to leave)"
	// EmptyText is said when nothing was typed at all.
	EmptyText = "Nothing came in. Type a shot, or pipe one: echo '18.1 36.4 24 sour thin' | shothand console"
	// PrivateText stands before a post that only its reader sees.
	PrivateText = "(only you see this)"
	// EditedText stands above a post that is said again, changed.
	EditedText = "(changed)"
	// NothingToPressText is said where no post has buttons.
	NothingToPressText = "There is no button to press there."
	// UsageText says how the program is called.
	UsageText = `shothand helps an espresso bar dial in its coffees.

  shothand [-db F] [-discord-url URL] [-shard i/n] [-log LEVEL] [-log-json]
           [-health 127.0.0.1:PORT]
                                  the bot on Discord, with DISCORD_TOKEN or
                                  DISCORD_TOKEN_FILE set; without, the console
  shothand console [-db F] [-json] [-managers a,b] [-log LEVEL]
                   [-health 127.0.0.1:PORT]
                                  the bot on this terminal, or on lines piped in:
                                  [time] [@name] [#bar] text
  shothand demo [-db F] [-new] [-json]
                                  an invented bar with six weeks of shots, to look round in
  shothand report -db F -o FILE.html [-bar CHANNEL] [-since SPAN]
                                  a review with its pictures as one page
  shothand backup -db F [-to FILE] [-keep N]
                                  a copy of the records, by default into F.backups;
                                  a bot that runs makes one on SIGUSR1
  shothand check -db F            whether a file is whole
  shothand compact -db F          write it anew without the room of what is gone
  shothand export -db F [-bar CHANNEL] [-format csv|jsonl] [FILE]
                                  shots as a table, or everything as JSON lines
  shothand import -db F [-bar CHANNEL] [-format csv|jsonl] [-dry-run] FILE
                                  either of them, or anybody's table of shots:
                                  [-columns dose=In,yield=Out] [-zone Z] [-dates dmy|mdy]
  shothand forget -db F -person NAME
                                  take a person's name out of it
  shothand version
  shothand help

Records are kept in the file that -db names; without it in shothand.db in this
directory, and on Discord in the state directory that systemd gives, or else in
shothand/shothand.db of $XDG_DATA_HOME or ~/.local/share.`
)

// formatText refuses a format.
func formatText(said string) string {
	return "“" + clip(said) + "” is no format: csv holds the shots, jsonl everything."
}

// exportText goes with the file.
func exportText(f Format) string {
	if f == JSONL {
		return "Everything this bar has, one record a line. Another shothand takes it with: shothand import"
	}
	return "All shots, one a row. format:jsonl is everything."
}

func exportAlt(f Format) string {
	if f == JSONL {
		return "all records of the bar as JSON lines"
	}
	return "all shots of the bar as a table"
}

// exportName is the name of the file.
func exportName(bar advisor.Bar, now time.Time, f Format) string {
	name := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return '-'
	}, string([]rune(bar.Name)[:min(maxName, len([]rune(bar.Name)))]))
	return cmp.Or(strings.Trim(name, "-"), "bar") + "-" + now.Format(time.DateOnly) + "." + string(f)
}

func exportTooLargeText(f Format) string {
	return "That is too much for a chat. The operator has it with: shothand export -format " + string(f)
}

// ImportText says what became of a table, row by row where one was refused.
func ImportText(t sheet.Table, done Imported, dry bool) string {
	var lines []string
	for _, c := range t.Columns {
		switch {
		case c.As == "":
			lines = append(lines, "column “"+clip(c.Header)+"”: left out")
		case c.Unit != "":
			lines = append(lines, "column “"+clip(c.Header)+"”: "+c.As+", in "+c.Unit)
		default:
			lines = append(lines, "column “"+clip(c.Header)+"”: "+c.As)
		}
	}
	refused := slices.Concat(t.Refused, done.Refused)
	slices.SortStableFunc(refused, func(a, b sheet.Refusal) int { return cmp.Compare(a.Line, b.Line) })
	for _, r := range refused {
		lines = append(lines, "line "+strconv.Itoa(r.Line)+": "+RefusedText(r.Err))
	}
	verb := "Taken: "
	if dry {
		verb = "Nothing was written. It would be: "
	}
	return strings.Join(append(lines, verb+strconv.Itoa(done.Added)+" new, "+strconv.Itoa(done.Known)+" known, "+strconv.Itoa(len(refused))+" refused."), "\n")
}

// RefusedText says why a table or a row of it was not taken.
func RefusedText(err error) string {
	if theirs, ok := errors.AsType[parse.Mistake](err); ok {
		return strings.TrimSuffix(strings.TrimSuffix(mistakeText(theirs), " Nothing was recorded."), " Nothing was changed.")
	}
	why, ok := errors.AsType[sheet.Reason](err)
	if !ok {
		return err.Error()
	}
	what := "“" + clip(why.What) + "”"
	switch why.Why {
	case sheet.NoTable:
		return "this reads as no table"
	case sheet.NoSuchField:
		return what + " is nothing a column can be; there is " + why.More
	case sheet.NoSuchColumn:
		return "no column is called " + what
	case sheet.NoTime:
		if why.What == "" {
			return "no column says when"
		}
		return what + " is no time; 2026-03-02T06:33:00Z would be"
	case sheet.WhichDate:
		return what + " can be meant two ways; say -dates dmy or -dates mdy"
	case sheet.NoShot:
		return "nothing of a shot"
	case sheet.NoSuchShot:
		return "no shot was pulled at " + why.What
	case sheet.BadCell:
		return what + " is no " + why.More
	}
	return what
}

// ImportedBarText says that a bar came from another file.
func ImportedBarText(channel string, lines int, dry bool) string {
	if dry {
		return "Nothing was written. It would be: the bar of channel " + channel + ", " + count(lines, "record") + "."
	}
	return "Taken: the bar of channel " + channel + ", " + count(lines, "record") + "."
}

// What the program says of taking records in.
const (
	ImportWhatText = "which file? shothand import -db F FILE, or - for what is piped in"
	WhichBarText   = "the file has several bars; name one by its channel with -bar: "
	NoBarText      = "the file has no bar yet"
	DatesText      = "-dates is dmy or mdy"
	ColumnsText    = "-columns is field=header, by comma, such as dose=In,yield=Out"
)

// What a person who wants to be forgotten hears.
const (
	forgetLabel   = "forget me"
	forgottenText = "You are forgotten here: your name, your account and what you typed are gone. Your shots stay, as somebody’s. Backups of the operator’s may still tell; ask for those."
)

// forgetQuestion asks whether a person means it.
func forgetQuestion(name string) string {
	return "Take your name (" + clip(name) + ") and what you typed out of all records? Your shots stay, without a name. It cannot be undone."
}

// ForgetWhomText asks an operator for a name.
const ForgetWhomText = "whom? shothand forget -person NAME, or the account's number"

// WholeText says that a file is as it should be.
func WholeText(path string) string { return path + " is whole." }

// CompactedText says what a compaction has done, in bytes.
func CompactedText(path string, before, after int64) string {
	return path + " takes " + strconv.FormatInt(after, 10) + " bytes, before " + strconv.FormatInt(before, 10) + "."
}

// ForgottenEverywhereText says to an operator that a person is gone, and where
// they are not.
func ForgottenEverywhereText(bars, backups int, dir string) string {
	if bars == 0 {
		return "Nobody is called so in any bar of this file; nothing was changed."
	}
	text := "Forgotten in " + count(bars, "bar") + ", and the file was written anew. The shots stay, without a name."
	if backups > 0 {
		text += "\nThe " + count(backups, "backup") + " in " + dir + " still tell: delete what you need not keep."
	}
	return text
}

// SeveralCalledText says that a name is not enough.
func SeveralCalledText(who string, accounts []string) string {
	return "several people are called “" + clip(who) + "”; name the account: " + list(accounts)
}

// UnknownSubcommandText refuses a word that is no part of the program.
func UnknownSubcommandText(said string) string {
	return "there is no “" + clip(said) + "”; shothand help lists what there is"
}

// HealthAddressText refuses an address for -health.
func HealthAddressText(said string) string {
	return "-health " + said + ": only an address of this machine alone is taken, such as 127.0.0.1:8399"
}

// UnknownArgumentText refuses an argument that nothing takes.
func UnknownArgumentText(said string) string {
	return "“" + clip(said) + "” is no option; shothand help lists them"
}

// BadTimeText says that a time cannot be read.
func BadTimeText(said string) string {
	return "“" + clip(said) + "” is no time such as 2026-03-02T06:33:00Z; the line was left out."
}

// BadLineNumberText says that a line has no message.
func BadLineNumberText(said string) string {
	if said == "" {
		return "Which line? Give its number, such as /edit 3 18 36 28"
	}
	return "No message came from line “" + clip(said) + "”."
}

// ButtonChoicesText says which buttons there are.
func ButtonChoicesText(said string, all []string) string {
	if said == "" {
		return "Which button? There is " + list(all) + "."
	}
	return "No one button is called “" + clip(said) + "”. There is " + list(all) + "."
}
