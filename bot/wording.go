package bot

// Every sentence the bot says is in this file.
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
	"shothand/advisor/agree"
	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/layers"
	"shothand/advisor/review"
	"shothand/advisor/taste"
	"shothand/advisor/why"
	"shothand/bot/chart"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/sheet"
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
func (v view) position(x float64) string { return parse.Write(v.grinder, bar.Dial(x)) }

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
func grams(g bar.Grams) string {
	return strconv.FormatFloat(math.Round(float64(g)*10)/10+0, 'f', -1, 64)
}

// weighed prints a mass as it was typed, or to a tenth where it was not.
func weighed(v bar.Value[bar.Grams]) string {
	if v.From == bar.Said && !v.Rough {
		return number(float64(v.X))
	}
	return grams(v.X)
}

// whole prints whole seconds.
func whole(s bar.Seconds) string { return strconv.Itoa(int(math.Round(float64(s)))) }

// timed prints seconds as they were typed, to a tenth: half a second more may
// be out of the window.
func timed(s bar.Seconds) string {
	return strconv.FormatFloat(math.Round(float64(s)*10)/10+0, 'f', -1, 64)
}

// window prints a recipe's window.
func window(r bar.Recipe) string {
	if r.Low == r.High {
		return number(float64(r.Low)) + " s"
	}
	return number(float64(r.Low)) + "–" + number(float64(r.High)) + " s"
}

// recipeText prints a recipe.
func recipeText(r bar.Recipe) string {
	return grams(r.Dose) + " → " + grams(r.Yield) + " g in " + window(r)
}

// dial prints a position; of a grinder without numbers, in steps.
func dial(g bar.Grinder, x bar.Dial) string {
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
	if v.because(why.ForTheLead) {
		add("Ask the lead first. " + v.sharedText() + v.actionText())
	} else {
		add(v.sharedText() + v.actionText())
	}
	add(v.reasonText())
	add(v.factsText())
	switch {
	case notes.odd != "":
		add(unplacedText(v.grinder, notes))
	case v.grinder.Step > 0 && v.shot.Grind.From == bar.None && v.Lever == bar.Grind:
		add("Where was the grinder? Say it once, such as: was 5.2")
	}
	add(notes.alike)
	if notes.house {
		add(houseText(v.coffee))
	}
	if notes.direction {
		add("Is a lower number finer on this grinder?")
	}
	if notes.uncalled != "" {
		add(uncalledNote(notes.uncalled))
	}
	if len(notes.aside) > 0 {
		add(asideText(notes.aside))
	}
	if len(notes.unread) > 0 {
		add(unreadText(notes.unread))
	}
	return strings.Join(lines, "\n")
}

// actionText is the first line: what to do.
func (v view) actionText() string {
	switch v.Lever {
	case bar.Grind:
		return v.grindText()
	case bar.Yield:
		way := "Longer"
		if v.To < v.From {
			way = "Shorter"
		}
		text := fmt.Sprintf("%s: stop at %s g instead of %s.%s", way, number(v.To), number(v.From), v.expectText())
		if v.ends == bar.ByButton {
			text += " The button has to be set anew; do that in a quiet hour."
		}
		return text
	case bar.Dose:
		if v.because(why.DoseOff) {
			return fmt.Sprintf("Dose first: back to %s g, this was %s. Leave the grind.", number(v.To), number(v.From))
		}
		return fmt.Sprintf("Dose: %s g instead of %s. Leave the grind.%s", number(v.To), number(v.From), v.expectText())
	case bar.Time:
		way := "Longer"
		if v.To < v.From {
			way = "Shorter"
		}
		return fmt.Sprintf("%s: stop at %s s instead of %s.", way, number(v.To), number(v.From))
	case bar.Temperature:
		return fmt.Sprintf("Water: %s °C instead of %s, if the machine's maker allows it. It is the last lever and a weak one.", number(v.To), number(v.From))
	case bar.Prep:
		return "Change nothing; take care of the puck: spread it evenly, tamp level, and pull again."
	case bar.Repeat:
		return v.repeatText()
	case bar.Keep:
		if v.State != advisor.Dialling {
			return "✓"
		}
		if v.because(why.MoveWindow) {
			return "Keep this" + v.atText() + ". It tastes right outside " + window(v.coffee.Recipe) + ": move the window with /coffee edit name:" + quoted(v.coffee.Name) + v.forMilk() + " time:" + v.windowAround() + ", if you agree."
		}
		return "Keep this" + v.atText() + ". Call it dialled in."
	case bar.NoLever:
		return v.noLeverText()
	}
	return ""
}

// sharedText comes before a change of what drifts together with another coffee:
// what they share is looked at first.
func (v view) sharedText() string {
	switch v.Lever {
	case bar.Grind, bar.Yield, bar.Dose, bar.Time, bar.Temperature:
	case bar.Prep, bar.Repeat, bar.Keep, bar.NoLever:
		return ""
	}
	if v.other.ID == 0 {
		return ""
	}
	return "Check " + lookFirst(v.coffee, v.other) + " first: " + v.coffee.Name + " and " + v.other.Name + " moved together. Only if nothing is amiss there:\n"
}

// forMilk is the option that says which of two recipes is meant.
func (v view) forMilk() string {
	if v.shot.Marks.Has(bar.InMilk) && v.coffee.Milk != (bar.Recipe{}) {
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
	if v.Unit == advisor.StepUnit && v.To < 0 || v.Unit == advisor.DialUnit && (v.To > v.From) == (v.grinder.Finer == bar.Lower) {
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
	if v.grinder.Doser == bar.Timed {
		weigh = " Re-weigh the dose: the timer does not know."
	}
	return way + how + purge + v.expectText() + weigh + v.chokeText()
}

// chokeText is the caution of a choked machine.
func (v view) chokeText() string {
	if !v.because(why.Choked) {
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
	case v.shot.Marks.Has(bar.Practice):
		return "Noted as practice."
	case v.served():
		return "✓"
	case v.because(why.Untasted):
		if v.shot.Time.From == bar.None {
			return "How does it taste, and how long did it take?"
		}
		if v.offLength() {
			return timed(v.shot.Time.X) + " s is right for " + grams(v.shot.Yield.X) + " g. How does it taste?"
		}
		return timed(v.shot.Time.X) + " s, in the window. How does it taste?"
	case v.because(why.TastersDiffer):
		return "Change nothing yet" + v.atText() + ": pull one more and taste it side by side."
	case v.because(why.Unplaced):
		return "First the setting, then I can say what to change."
	case v.because(why.Unpurged):
		return "Purge a few grams, then pull the same again" + v.atText() + "."
	case v.because(why.HopperLow):
		return "Fill the hopper first, then pull the same again" + v.atText() + "."
	case v.because(why.PraisedOutside):
		return "Change nothing: it tastes right. Pull one more the same."
	case v.because(why.Confirm):
		return "Looks right. Pull one more the same to confirm."
	}
	return "Same again" + v.atText() + ": one more before anything is changed."
}

// atText is where the grinder is, on a dial with numbers.
func (v view) atText() string {
	if v.grinder.Step > 0 && v.shot.Grind.From != bar.None {
		return ", " + dial(v.grinder, v.shot.Grind.X)
	}
	return ""
}

// noLeverText says what mends what no lever does.
func (v view) noLeverText() string {
	switch {
	case v.because(why.Cleaner):
		return "Do not serve this. Rinse and flush the group until the water is clean, then pull one to throw away."
	case v.because(why.Stale):
		return "No setting mends this: it tastes old. Open a fresh bag, and check how the last one was closed and where it stood."
	case v.because(why.Roast):
		return "No setting mends this: it tastes of the roast. Try another bag of it; if it is the same, tell the roaster."
	case v.because(why.Raw):
		return "No setting mends this: it tastes roasted too little. Try another bag of it; if it is the same, tell the roaster."
	}
	return "No step of this grinder gets there. " + v.beyondReachText()
}

// halfGram is the trim of the dose that is proposed where the grind cannot go on.
const halfGram = 0.5

// beyondReachText says what would do where the grinder does not.
func (v view) beyondReachText() string {
	dose, basket := v.coffee.Recipe.Dose, v.coffee.Basket
	more := v.because(why.Fast) || !v.because(why.Slow) && v.because(why.UnderExtracted)
	less := !more && (v.because(why.Slow) || v.because(why.OverExtracted) || v.because(why.Choked))
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
	case v.Lever == bar.NoLever, v.because(why.Untasted), v.served(), v.shot.Marks.Has(bar.Practice):
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
		return strings.Join(v.echo, ", ")
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
	texts := []struct {
		reason why.Reason
		text   string
	}{
		{why.Choked, "It choked"},
		{why.DoseOff, "The dose was off, so the rest says little"},
		{why.PraisedOutside, "Taste beats the clock"},
		{why.MoveWindow, "Liked out there, and taste beats the clock"},
		{why.Temperature, "Grind and yield have not mended it"},
		{why.LoneOutlier, "This one stands alone, the setting was right before"},
		{why.Uneven, "The water did not go through evenly"},
		{why.TastersDiffer, "Tongues differ"},
		{why.Scattered, "The last shots at this setting lie far apart"},
		{why.HalfBelieved, "A first shot says only half"},
		{why.Unplaced, "Without the setting it says little"},
		{why.YieldOff, "The cup was another length than the recipe's, the clock is innocent"},
		{why.LostInMilk, "It gets lost in the milk"},
		{why.HopperLow, "With little in the hopper a grinder feeds itself unevenly"},
		{why.Unpurged, "The old grounds were still in it, so it says little"},
		{why.Noted, "One complaint moves nothing that was called dialled in; taste the next"},
		{why.Drifting, "It has moved since it was called dialled in"},
		{why.InsideTheNoise, "One shot off means little here, single shots differ by as much"},
	}
	for _, t := range texts {
		if v.because(t.reason) {
			return t.text
		}
	}
	return ""
}

// readingText says where the cup stands.
func (v view) readingText() string {
	var parts []string
	switch {
	case v.because(why.UnderExtracted):
		parts = append(parts, "not enough out of it")
	case v.because(why.OverExtracted):
		parts = append(parts, "too much out of it")
	}
	switch {
	case v.strengthSaid():
	case v.because(why.Weak):
		parts = append(parts, "a bit thin")
	case v.because(why.Strong):
		parts = append(parts, "a bit strong")
	}
	return upper(list(parts))
}

// strengthSaid reports whether the words alone say how strong the cup was.
func (v view) strengthSaid() bool {
	return slices.ContainsFunc(v.spoken(), func(w bar.Word) bool {
		e, ok := taste.Default().Entry(w.Term)
		return ok && e.Kind == taste.Body && !w.Not
	})
}

// clockText says how the time stands to the window, if it is outside.
func (v view) clockText() string {
	if v.shot.Time.From == bar.None || v.shot.Marks.Has(bar.Choked) {
		return ""
	}
	asIf := ""
	if v.offLength() {
		asIf = ", for " + grams(v.shot.Yield.X) + " g,"
	}
	switch {
	case v.because(why.Fast):
		return timed(v.shot.Time.X) + " s" + asIf + " is short of " + window(v.coffee.Recipe)
	case v.because(why.Slow):
		return timed(v.shot.Time.X) + " s" + asIf + " is over " + window(v.coffee.Recipe)
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
func wordsText(spoken []bar.Word) []string {
	words := []string{}
	for _, w := range spoken {
		if s := wordText(w); !slices.Contains(words, s) {
			words = append(words, s)
		}
	}
	return words
}

// comparedText is a word that compares with the cup before.
func comparedText(w bar.Word) string {
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
func wordText(w bar.Word) string {
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
	what += weighed(s.Dose) + " → " + weighed(s.Yield) + " g"
	if s.Marks.Has(bar.InMilk) {
		what += " for milk"
	}
	switch {
	case s.Marks.Has(bar.Choked):
		what += ", choked"
	case s.Time.From != bar.None:
		what += ", " + timed(s.Time.X) + " s"
	}
	if v.grinder.Step > 0 {
		if s.Grind.From != bar.None {
			what += ", " + dial(v.grinder, s.Grind.X) + provenanceText(s.Grind.From)
		} else {
			what += ", setting not known"
		}
	} else if s.Grind.From == bar.Advised {
		what += provenanceText(s.Grind.From)
	}
	what += strengthText(s)
	var assumed []string
	if s.Dose.From == bar.Assumed {
		assumed = append(assumed, "dose")
	}
	if s.Yield.From == bar.Assumed {
		assumed = append(assumed, "yield")
	}
	if len(assumed) > 0 {
		what += " (" + list(assumed) + " from the recipe)"
	}
	return what
}

// strengthText says what was measured, and what it comes to.
func strengthText(s bar.Shot) string {
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
func provenanceText(p bar.Provenance) string {
	switch p {
	case bar.Advised:
		return ", as advised"
	case bar.Last:
		return ", as before"
	case bar.None, bar.Said, bar.Assumed:
	}
	return ""
}

// houseText is said when the first shot made its coffee.
func houseText(c bar.Coffee) string {
	return fmt.Sprintf("New coffee “%s”, %s. Change it: /coffee edit name:%s yield:38 time:25-31\nIf the grinder has numbers: /grinder edit finer:lower step:0.1",
		c.Name, recipeText(c.Recipe), c.Name)
}

// unplacedText asks again for a position that is none of this dial's.
func unplacedText(g bar.Grinder, n shotNotes) string {
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
func kindOf(g bar.Grinder) string {
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
func example(g bar.Grinder) string {
	switch {
	case !(g.Step > 0):
		return "2 finer"
	case g.Max > g.Min:
		return parse.Write(g, g.Min+bar.Dial(math.Round(float64(g.Max-g.Min)/g.Step/2)*g.Step))
	}
	return parse.Write(g, bar.Dial(math.Round(5.2/g.Step)*g.Step))
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
func ownWordText(words bar.OwnWords, word string) string {
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
func ownWordsText(list []bar.Own) string {
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
	return "Kept, but not understood: " + asTyped(words) + "."
}

// upper begins s with a capital.
func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// coffeeQuestion asks which coffee a shot was of.
func coffeeQuestion(coffees []bar.Coffee) string {
	return "Which coffee was that: " + list(names(coffees)) + "? I kept the shot."
}

func names(coffees []bar.Coffee) []string {
	var list []string
	for _, c := range coffees {
		list = append(list, c.Name)
	}
	return list
}

func grinderNames(grinders []bar.Grinder) []string {
	var list []string
	for _, g := range grinders {
		list = append(list, g.Name)
	}
	return list
}

// maxButtons is how many buttons stand under a post at most.
const maxButtons = 5

// coffeeButtons are its answers.
func coffeeButtons(e bar.EntryID, coffees []bar.Coffee) []chat.Button {
	var list []chat.Button
	for _, c := range coffees[:min(len(coffees), maxButtons)] {
		list = append(list, chat.Button{Label: c.Name, State: pressState(pressCoffee, e, idText(c.ID))})
	}
	return list
}

func idText(id bar.CoffeeID) string { return strconv.FormatUint(uint64(id), 10) }

// orderQuestion asks in which order the numbers stand.
func orderQuestion(p parse.Shot) string {
	return fmt.Sprintf("Did you mean %s? As typed it reads %s. I kept the shot.",
		trioText(p.Better), trioText(parse.Trio{Dose: p.Dose, Yield: p.Yield, Time: p.Time}))
}

func trioText(t parse.Trio) string {
	return number(t.Dose.X) + " → " + number(t.Yield.X) + " g in " + number(t.Time.X) + " s"
}

// orderButtons are its answers.
func orderButtons(e bar.EntryID, p parse.Shot) []chat.Button {
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
func didText(lever bar.Lever, unit advisor.Unit, to float64, g bar.Grinder) string {
	switch {
	case lever == bar.Grind && unit == advisor.DialUnit:
		return "Noted: at " + parse.Write(g, bar.Dial(to)) + " from the next shot."
	case lever == bar.Yield, lever == bar.Dose:
		return "Noted: " + number(to) + " g from the next shot."
	}
	return "Noted."
}

// directionText says which way a dial was said to go.
func directionText(g bar.Grinder) string {
	if g.Finer == bar.Higher {
		return "Noted: a higher number is finer on " + g.Name + ", in steps of " + number(g.Step) + "."
	}
	return "Noted: a lower number is finer on " + g.Name + ", in steps of " + number(g.Step) + "."
}

// notedForText says for which shot words were taken, where a newer one stands
// below.
func notedForText(shot bar.Entry, by string, said []string) string {
	return "Noted for " + clip(by) + "’s shot of " + shot.At.Format("15:04") + ": " + strings.Join(said, ", ") + "."
}

// takenOutText says that an entry no longer counts.
func takenOutText(e bar.Entry) string {
	switch w := e.What.(type) {
	case bar.Shot:
		return "Taken out: " + pouredText(w) + "."
	case bar.Words:
		return "Taken out: what was said of the taste."
	case bar.Dialled:
		return "Taken back: not called dialled in any more."
	case bar.Told:
		if w.Event == bar.Moved {
			return "Taken back: the dial was not moved."
		}
		return "Taken back: it did not happen."
	case bar.Setting:
		return "Put back as it was."
	case bar.Held:
		return "Taken out: what I had asked about."
	case bar.Layers:
		return "Taken back: the tasting cup by cup is off."
	case bar.Sips:
		return "Taken out: what was said of the cups."
	}
	return ""
}

// receiptText is the late answer to a shot that has been followed by others.
func receiptText(s bar.Shot, lead string) string {
	if lead != "" {
		return lead
	}
	return "On the record: " + pouredText(s) + ". What to change stands under the newest shot."
}

// pouredText is what a shot's numbers were, but for the grind.
func pouredText(s bar.Shot) string {
	text := weighed(s.Dose) + " → " + weighed(s.Yield) + " g"
	if s.Time.From == bar.None {
		return text
	}
	return text + ", " + timed(s.Time.X) + " s"
}

// happenedText says what was noted of the bar, and where a coffee that was put
// into another grinder last stood there.
func happenedText(t bar.Told, coffee bar.Coffee, grinder bar.Grinder, stood string) string {
	switch t.Event {
	case bar.NewBag:
		return "Noted: a new bag of " + coffee.Name + ". It may run a little differently."
	case bar.Cleaned:
		return "Noted: " + grinder.Name + " was cleaned. Only ever do that unplugged. Purge before the first shot."
	case bar.Rezeroed:
		return "Noted: the dial of " + grinder.Name + " was re-zeroed. Its old numbers mean nothing now; say the setting with the next shot."
	case bar.NewBurrs:
		return "Noted: new burrs in " + grinder.Name + ". I start learning it anew."
	case bar.HopperLow:
		return "Noted: the hopper of " + grinder.Name + " is low. Shots may run faster and doses come out lighter; weigh the next one."
	case bar.HopperFilled:
		return "Noted: the hopper of " + grinder.Name + " was filled. Shots may run a little slower; weigh the next dose."
	case bar.Swapped:
		return "Noted: " + coffee.Name + " is in " + grinder.Name + " now. Purge before the first shot, so that the other coffee is out." + stood
	case bar.NewFilter:
		return "Noted: a new water filter. Flush it as its maker says; every coffee may run and taste a little differently."
	case bar.Descaled:
		return "Noted: the machine was descaled. Rinse until nothing of the descaler is left, as its maker says, before anything is served; every coffee may run differently."
	case bar.OtherBasket:
		return "Noted: another basket" + ofText(coffee) + ". Its shots may run quite differently; if it holds another dose, say so: /coffee edit dose:19 basket:18-20"
	case bar.OtherGroup:
		return "Noted: another group" + ofText(coffee) + ". Shots may run a little differently there."
	case bar.Moved: // says where to
	}
	return "Noted."
}

// ofText says of which coffee, or of all.
func ofText(c bar.Coffee) string {
	if c.ID == 0 {
		return " for every coffee"
	}
	return " for " + c.Name
}

// eventText names what happened, for a record of the day.
func eventText(t bar.Told, coffee, grinder string) string {
	switch t.Event {
	case bar.NewBag:
		return "new bag of " + coffee
	case bar.Cleaned:
		return grinder + " cleaned"
	case bar.Rezeroed:
		return "dial of " + grinder + " re-zeroed"
	case bar.NewBurrs:
		return "new burrs in " + grinder
	case bar.HopperLow:
		return "hopper of " + grinder + " low"
	case bar.HopperFilled:
		return "hopper of " + grinder + " filled"
	case bar.Swapped:
		return coffee + " put into " + grinder
	case bar.NewFilter:
		return "new water filter"
	case bar.Descaled:
		return "machine descaled"
	case bar.OtherBasket:
		return "another basket" + forText(coffee)
	case bar.OtherGroup:
		return "another group" + forText(coffee)
	case bar.Moved:
		return "dial of " + grinder + " moved"
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
func dialledText(c bar.Coffee, g bar.Grinder, s bar.Shot, who string) string {
	return c.Name + " is dialled in, called by " + who + ": " + shotText(g, s) + "."
}

// shotText tells of a shot without its taste.
func shotText(g bar.Grinder, s bar.Shot) string {
	text := pouredText(s)
	if g.Step > 0 && s.Grind.From != bar.None {
		text += ", " + dial(g, s.Grind.X)
	}
	return text
}

// notPulledText says that a coffee has no shot today.
func notPulledText(c bar.Coffee) string { return c.Name + " has not been pulled today." }

// whichCoffeeText asks for the coffee's name.
func whichCoffeeText(coffees []bar.Coffee) string {
	if len(coffees) == 0 {
		return "There is no coffee yet. Post a shot, or add one: /coffee add name:Harbour dose:18 yield:36 time:25-31"
	}
	return "Which coffee? There is " + list(names(coffees)) + "."
}

// whichGrinderText asks for the grinder's name.
func whichGrinderText(grinders []bar.Grinder) string {
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
	return "No one " + what + " is called “" + clip(said) + "”. There is " + list(all) + "." + MeantText(said, all)
}

// clip shortens what somebody typed.
func clip(s string) string {
	if r := []rune(s); len(r) > maxName {
		return string(r[:maxName]) + "…"
	}
	return s
}

// Why a name is none.
const (
	noNameText     = "What is its name? Say it with name:… after the command. Nothing was changed."
	longNameText   = "That name is too long: 40 characters are enough."
	numberNameText = "A name needs a letter, so that it is not taken for a number."
)

// takenNameText refuses a name that something has already.
func takenNameText(name string) string {
	return "There is a " + name + " already; nothing was changed. Take another name, or change that one with edit in the place of add."
}

// badRecipeText says what a recipe can have.
func badRecipeText(what, said, limits string) string {
	return fmt.Sprintf("A %s of “%s” is out of range: %s. Nothing was changed.", what, clip(said), limits)
}

// badZoneText says what a zone looks like; near is the one that was probably
// meant, or empty.
func badZoneText(said, near string) string {
	if near != "" {
		return "No zone is called “" + clip(said) + "”. Did you mean " + near + "?"
	}
	return "No zone is called “" + clip(said) + "”. Zones are named by a city, such as Europe/Berlin."
}

// setupText tells what the bar has told of itself.
func setupText(b bar.Bar) string {
	zone := b.Zone
	if zone == "" {
		zone = "as this computer has it"
	}
	order := "dose, yield, time"
	if b.Order == bar.DoseTimeYield {
		order = "dose, time, yield"
	}
	clock := "the pump"
	if b.FromDrip {
		clock = "the first drip"
	}
	return b.Name + ": zone " + zone + "; three bare numbers are " + order + "; shots end by " + endsText(b.Ends) + ", timed from " + clock + dayText(b) + crewText(b.Crew) + "."
}

// dayText tells when a bar is open and reminded.
func dayText(b bar.Bar) string {
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
func weekdaysText(days bar.Weekdays) string {
	var names []string
	for n := range 7 {
		if d := time.Weekday((n + 1) % 7); days.Has(d) {
			names = append(names, d.String()[:3])
		}
	}
	return list(names)
}

// crewText tells which levers the crew moves.
func crewText(crew bar.Levers) string {
	if crew == 0 {
		return ""
	}
	var names []string
	for _, l := range []bar.Lever{bar.Grind, bar.Yield, bar.Dose, bar.Temperature} {
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
func basketText(c bar.Coffee) string {
	return "The basket of " + c.Name + " holds " + number(float64(c.Basket.Low)) + "–" + number(float64(c.Basket.High)) + " g, and a recipe's dose is outside that. Nothing was changed."
}

// endsText says what ends a bar's shots.
func endsText(e bar.Ends) string {
	switch e {
	case bar.ByScale:
		return "the scale"
	case bar.ByButton:
		return "a button"
	case bar.ByTime:
		return "the clock"
	case bar.ByEye:
		return "eye"
	}
	return ""
}

// coffeeText tells of a coffee on its grinder, as of a day.
func coffeeText(how string, c bar.Coffee, g bar.Grinder, day bar.Day) string {
	text := c.Name + ": " + recipeText(c.Recipe)
	if c.Recipe.Soft {
		text += " (a soft window, nobody has set one)"
	}
	if c.For == bar.WithMilk {
		text += ", for milk"
	}
	if c.Milk != (bar.Recipe{}) {
		text += "; in milk " + recipeText(c.Milk)
	}
	if g.Name != "" {
		text += ", on " + g.Name
	}
	text += coffeeFacts(c)
	if c.Roasted != "" {
		text += ", roasted " + string(c.Roasted)
		if days, ok := day.Since(c.Roasted); ok && days >= 0 {
			text += fmt.Sprintf(" (%s ago)", daysText(days))
		}
	}
	if how != "" {
		text = how + ". " + text
	}
	return text + "."
}

// coffeeFacts tells what else is known of a coffee.
func coffeeFacts(c bar.Coffee) string {
	text := ""
	switch c.Roast {
	case bar.Light:
		text += ", a light roast"
	case bar.Medium:
		text += ", a medium roast"
	case bar.Dark:
		text += ", a dark roast"
	case bar.UnknownRoast:
	}
	switch c.Aim {
	case bar.Bright:
		text += ", meant bright"
	case bar.Round:
		text += ", meant round"
	case bar.Rich:
		text += ", meant rich"
	case bar.NoAim:
	}
	if c.Basket != (bar.Basket{}) {
		text += ", in a basket of " + number(float64(c.Basket.Low)) + "–" + number(float64(c.Basket.High)) + " g"
	}
	if c.PreInfusion > 0 {
		text += ", " + number(float64(c.PreInfusion)) + " s of pre-infusion"
	}
	return text
}

func daysText(n int) string { return count(n, "day") }

// coffeeListText lists the coffees, a line each.
func coffeeListText(lines []string) string {
	if len(lines) == 0 {
		return whichCoffeeText(nil)
	}
	return strings.Join(lines, "\n")
}

// grinderText tells of a grinder.
func grinderText(how string, g bar.Grinder) string {
	text := g.Name + ": "
	switch {
	case !(g.Step > 0):
		text += "no numbers, counted in steps"
	case g.Finer == bar.Higher:
		text += "higher is finer, " + stepText(g)
	case g.Finer == bar.Lower:
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
	case bar.ByWeight:
		text += ", doses by weight"
	case bar.Timed:
		text += ", doses by a timer"
	case bar.ByHand:
		text += ", dosed by hand"
	case bar.UnknownDoser:
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
func stepText(g bar.Grinder) string {
	switch {
	case g.Letters:
		return fmt.Sprintf("small steps A to %c", 'A'+g.Small-1)
	case g.Small > 0:
		return fmt.Sprintf("%d small steps to a big one", g.Small)
	}
	return "in steps of " + number(g.Step)
}

// grinderListText lists the grinders.
func grinderListText(grinders []bar.Grinder) string {
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
func togetherText(a, b bar.Coffee, way float64) string {
	how := "faster"
	if way > 0 {
		how = "slower"
	}
	shared, move := "the machine or the water", "both grinds"
	if a.Grinder == b.Grinder {
		shared, move = "the machine, the water or the grinder", "the grind"
	}
	return a.Name + " and " + b.Name + " both run " + how + " than before: that looks like " + shared + ". Check " + lookFirst(a, b) + " before you move " + move + "."
}

// lookFirst names what two coffees share.
func lookFirst(a, b bar.Coffee) string {
	if a.Grinder == b.Grinder {
		return "pressure, temperature, water and the grinder"
	}
	return "pressure, temperature and water"
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
	lines := []string{v.sharedText() + v.actionText(), v.factsText()}
	if len(v.echo) > 0 {
		lines = append(lines, "Said: "+strings.Join(v.echo, ", "))
	}
	if v.Expect.Time > 0 {
		lines = append(lines, fmt.Sprintf("Next shot: about %s s; four in five such shots take %s to %s s.", whole(v.Expect.Time), whole(v.Expect.Low), whole(v.Expect.High)))
	}
	if v.because(why.MoveWindow) || v.because(why.PraisedOutside) {
		lines = append(lines, "By the window this setting is right: "+sureText(v.Sure)+". The taste says otherwise, and it counts for more.")
	} else {
		lines = append(lines, "This setting is right: "+sureText(v.Sure)+".")
	}
	for _, r := range v.Reasons {
		lines = append(lines, "• "+reasonName(r)+" — "+evidenceText(r))
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
		"• one shot differs from the next by about " + tenths(bar.Seconds(l.Noise)*(v.coffee.Recipe.Low+v.coffee.Recipe.High)/2) + " s",
		fmt.Sprintf("• after a change without a purge about %.0f g of old grounds come along", l.Old*float64(v.coffee.Recipe.Dose)),
		"• that it tastes best outside " + window(v.coffee.Recipe) + ": " + sureText(l.Wrong),
		"• the setting wins that is likeliest to be right in time and taste; one that may choke loses",
	}
	return strings.Join(lines, "\n")
}

// tenths prints seconds to a tenth, for what is worth less than a few.
func tenths(s bar.Seconds) string { return strconv.FormatFloat(float64(s), 'f', 1, 64) }

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
	case c.Lever == bar.Yield:
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
func reasonName(r why.Reason) string {
	if said, ok := map[why.Reason]string{why.Fast: "shorter than the window", why.Slow: "longer than the window"}[r]; ok {
		return said
	}
	return strings.ReplaceAll(r.String(), "-", " ")
}

// evidenceText says how good a reason is.
func evidenceText(r why.Reason) string {
	switch r.Evidence() {
	case why.OwnShots:
		return "this bar's own shots"
	case why.Published:
		return "published: " + sourceText(r)
	case why.CommonPractice:
		return "common practice, no source"
	}
	return ""
}

// sourceText names the source of a published reason.
func sourceText(r why.Reason) string {
	if r == why.PraisedOutside {
		return "Smrke 2024, one taster's plateau of 21 to 42 s"
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
		if more == "" {
			return "There is no option " + what + " here: it takes none. Nothing was changed."
		}
		return "There is no option " + what + " here" + more + "." + MeantText(m.What, strings.Split(m.More, ", ")) + " Nothing was changed."
	case parse.MissingOption:
		if m.What == "text" {
			return "And the shot? Such as /shot 18.1 36.4 24 sour thin. Nothing was recorded."
		}
		if more != "" {
			return "Say what “" + clip(m.What) + ":” is" + more + ". Nothing was changed."
		}
		return "Say what “" + clip(m.What) + ":” is, or leave it out. Nothing was changed."
	case parse.GivenTwice:
		return "I read " + what + " twice. Say it once. Nothing was changed."
	case parse.OpenQuote:
		return "I read " + what + ", a quote that does not end: close it, or leave it out. Nothing was changed."
	case parse.BadOption:
		if strings.HasPrefix(m.What, "/") {
			return "There is no command " + what + ". There is " + m.More + "." + MeantText(m.What, strings.Split(m.More, ", ")) + " Nothing was changed."
		}
		return "I cannot take " + what + more + "." + MeantText(m.What, strings.Split(m.More, ", ")) + " Nothing was changed."
	case parse.Twice:
		return twiceText(m) + " Nothing was changed."
	case parse.Surplus:
		return surplusText(what, m.More) + " Nothing was changed."
	case parse.Several:
		return "I read two shots, " + what + " and “" + clip(m.More) + "”: send each as a message of its own. Nothing was recorded."
	case parse.Unclear:
		return "There is a shot in " + what + ", but one of its numbers twice: say dose, yield and time once each. Nothing was recorded."
	case parse.TooLong:
		return "That is too long for a shot. Nothing was recorded."
	}
	return troubleText
}

// What the program says beside the conversation.
const (
	// ConnectText says how to reach Discord, when the console opens without
	// being asked for.
	ConnectText = "This is the console. With DISCORD_TOKEN set the bot joins Discord; the README says how to get one."
	// WelcomeText opens a typed session.
	WelcomeText = "Type a shot: dose, yield, time, taste.\n" +
		"  18.1 36.4 24 sour thin\n" +
		"help says more, tab completes, quit leaves."
	// EmptyText is said when nothing was typed at all.
	EmptyText = "Nothing came in. Type a shot, or pipe one: echo '18.1 36.4 24 sour thin' | shothand console"
	// PrivateText stands before a post that only its reader sees.
	PrivateText = "(only you see this)"
	// EditedText stands above a post that is said again, changed.
	EditedText = "(changed)"
	// NothingToPressText is said where no post has buttons.
	NothingToPressText = "There is no button to press there. Buttons stand in [brackets] under an answer; press one by its number or what it says."
	// UnreadText is said to somebody at the console whose line means nothing.
	UnreadText = "I read no shot, no words of taste and no command in that, so nothing was recorded. help says what I read."
)

// formatText refuses a format.
func formatText(said string) string {
	return "“" + clip(said) + "” is no format: csv holds the shots, jsonl everything."
}

// exportText goes with the file, of everything or of shots.
func exportText(everything bool) string {
	if everything {
		return "Everything this bar has, one record a line. Another shothand takes it with: shothand import"
	}
	return "All shots, one a row. format:jsonl is everything."
}

func exportAlt(everything bool) string {
	if everything {
		return "all records of the bar as JSON lines"
	}
	return "all shots of the bar as a table"
}

// exportName is the name of the file.
func exportName(bar bar.Bar, now time.Time, ending string) string {
	name := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return '-'
	}, string([]rune(bar.Name)[:min(maxName, len([]rune(bar.Name)))]))
	return cmp.Or(strings.Trim(name, "-"), "bar") + "-" + now.Format(time.DateOnly) + "." + ending
}

func exportTooLargeText(format string) string {
	return "That is too much for a chat. The operator has it with: shothand export -format " + format
}

// ImportText says what became of a table: how many of its rows are new, how
// many were known, and which were refused when they were read and after.
func ImportText(t sheet.Table, added, known int, later []sheet.Refusal, dry bool) string {
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
	refused := slices.Concat(t.Refused, later)
	slices.SortStableFunc(refused, func(a, b sheet.Refusal) int { return cmp.Compare(a.Line, b.Line) })
	for _, r := range refused {
		lines = append(lines, "line "+strconv.Itoa(r.Line)+": "+RefusedText(r.Err))
	}
	verb := "Taken: "
	if dry {
		verb = "Nothing was written. It would be: "
	}
	return strings.Join(append(lines, verb+strconv.Itoa(added)+" new, "+strconv.Itoa(known)+" known, "+strconv.Itoa(len(refused))+" refused."), "\n")
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
		return "this reads as no table: its first line should name the columns, such as date,coffee,dose,yield,time"
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
	case sheet.LongLine:
		return "a line longer than 1 MiB"
	case sheet.LongRow:
		return "the row on line " + why.What + " goes on for more than 1 MiB: close the quote that it opens"
	case sheet.LargeTable:
		return "it is larger than 64 MiB: split it, each part with the header, or carry the bar as JSON lines"
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
	NoBarText      = "the file has no bar yet: post a shot first, or name another file with -db"
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

// A BackupPlace is a directory with so many backups.
type BackupPlace struct {
	Dir     string
	Backups int
}

// ForgottenEverywhereText says to an operator that a person is gone, where
// they are not, and how many partial copies were taken away.
func ForgottenEverywhereText(bars int, places []BackupPlace, partial int) string {
	text := "Nobody is called so in any bar of this file; nothing was changed."
	if bars > 0 {
		text = "Forgotten in " + count(bars, "bar") + ", and the file was written anew. The shots stay, without a name."
	}
	if partial > 0 {
		text += "\nTaken away: " + count(partial, "partial file") + " of a backup or a compaction that was cut short."
	}
	for _, p := range places {
		if bars > 0 && p.Backups > 0 {
			text += "\nThe " + count(p.Backups, "backup") + " in " + p.Dir + " still tell: delete what you need not keep."
		}
	}
	return text
}

// RestoreWhatText asks an operator for a file.
const RestoreWhatText = "which backup? shothand restore -db F BACKUP"

// RestoredText says that a backup is in the place of a file, and where what
// was there before is.
func RestoredText(path, from, kept string) string {
	text := path + " holds what " + from + " held."
	if kept != "" {
		text += "\nWhat was there before is " + kept + "."
	}
	return text
}

// KeepText says how -keep is meant.
const KeepText = "say how many days, weeks and months keep a backup, such as 7,4,6"

// SeveralCalledText says that a name is not enough.
func SeveralCalledText(who string, accounts []string) string {
	return "several people are called “" + clip(who) + "”; name the account: " + list(accounts)
}

// HealthAddressText refuses an address for -health.
func HealthAddressText(said string) string {
	return "-health " + said + ": only an address of this machine alone is taken, such as 127.0.0.1:8399"
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
	return "No message came from line “" + clip(said) + "”. Lines count from 1, the first of this session."
}

// ButtonChoicesText says which buttons there are.
func ButtonChoicesText(said string, all []string) string {
	if said == "" {
		return "Which button? There is " + list(all) + "."
	}
	return "No one button is called “" + clip(said) + "”. There is " + list(all) + "."
}

// What commands and their options are for.

// commandHelp says in one line what a command does.
func commandHelp(name string) string {
	switch name {
	case "shot":
		return "Post a shot in parts"
	case "coffee add":
		return "Add a coffee to the bar"
	case "coffee edit":
		return "Change a coffee's recipe, grinder or name"
	case "coffee list":
		return "The coffees on bar and their recipes"
	case "coffee show":
		return "One coffee and its recipe"
	case "coffee retire":
		return "Take a coffee off the bar; its history stays"
	case "grinder add":
		return "Add a grinder and tell of its dial"
	case "grinder edit":
		return "Change what is known of a grinder"
	case "grinder list":
		return "The grinders and their dials"
	case "dialled":
		return "Call a coffee dialled in"
	case "undo":
		return "Take back your last entry of today"
	case "today":
		return "Where each coffee stands today"
	case "why":
		return "The account behind the last advice"
	case "review":
		return "Looking back: what worked, what it cost, what tasted best"
	case "setup":
		return "Make this channel a bar, or change how it counts"
	case "mention":
		return "Whether an alert may mention you"
	case "export":
		return "The bar's shots in a file"
	case "layers start":
		return "Split one shot or brew over three cups and taste them apart"
	case "layers taste":
		return "Say how your cups taste, for nobody else to see yet"
	case "layers reveal":
		return "Show what everybody tasted"
	case "layers strike":
		return "Leave one split out of the account"
	case "layers pair":
		return "Compare a shot that ends where the cups say with one as before, blind"
	case "layers stop":
		return "End the tasting"
	case "layers show":
		return "What the last tasting of a coffee said"
	case "layers mine":
		return "How you taste beside the others, for you alone"
	case "forget":
		return "Take your name off everything you posted here"
	case "help":
		return "What one can type"
	}
	return name
}

// optionHelp says in one line what an option of a command is.
func optionHelp(command, name string) string {
	switch command + " " + name {
	case "shot time":
		return "How long it ran, in seconds, as 28"
	case "shot grind":
		return "Where the dial stood, as 5.2, or a move, as 2 finer"
	case "shot text":
		return "All of it as you would type it, as 18.1 36.4 24 sour thin"
	case "coffee add name", "coffee edit name", "coffee show name", "coffee retire name":
		return "What the coffee is called"
	case "grinder add name", "grinder edit name":
		return "What the grinder is called, as left"
	case "setup name":
		return "What the bar is called"
	case "layers taste order":
		return "The order you would put blind cups in, early first, as BCA"
	case "layers start yield":
		return "What is in the cups in all, in grams"
	case "layers pair yield":
		return "Where the new shot ends, in grams; without it, where the cups say"
	case "layers start time":
		return "How long it runs in all, in seconds, or 3:00"
	}
	switch name {
	case "dose":
		return "Dry coffee in grams, as 18 or 18.2"
	case "yield":
		return "What is in the cup in grams, as 36 or 36.4"
	case "time":
		return "The window in seconds, as 25-31"
	case "grind":
		return "Where the dial stands, as 5.2"
	case "coffee":
		return "Which coffee; its beginning will do"
	case "grinder":
		return "Which grinder it is on"
	case "taste":
		return "How it tasted, as sour, thin"
	case "purged":
		return "Whether the grinder was purged after the last change"
	case "roasted":
		return "When it was roasted, as 2026-03-01"
	case "rename":
		return "A new name"
	case "finer":
		return "Whether a lower or a higher number is finer"
	case "step":
		return "The smallest move of its dial, as 0.1, or none without numbers"
	case "min":
		return "Where its dial begins, as 0"
	case "max":
		return "Where its dial ends, as 10"
	case "worth":
		return "What one step changes a shot by, in seconds, if known"
	case "person":
		return "me, for your own shots and for you alone"
	case "since":
		return "Which days, as last week, 1 March or this bag"
	case "pictures":
		return "no for words alone"
	case "look":
		return "Whether pictures are light or dark"
	case "more":
		return "yes for all of it"
	case "zone":
		return "The clock it goes by, as Europe/Berlin"
	case "order":
		return "The order of three bare numbers"
	case "ends":
		return "What ends your shots"
	case "clock":
		return "When your clock starts: with the pump, or at the first drip"
	case "roast":
		return "How it is roasted: light, medium or dark"
	case "aim":
		return "What you want of it: bright, round or rich"
	case "for":
		return "Whether this recipe is for black or for milk"
	case "basket":
		return "What its basket holds, in grams from low to high, as 17-19"
	case "preinfusion":
		return "How long it is wetted before the pump is at full pressure, in seconds"
	case "doser":
		return "How it doses: by weight, by a timer, or by hand"
	case "purge":
		return "How many grams to purge after a change"
	case "small":
		return "How many small steps make one big step"
	case "wraps":
		return "How many numbers its dial has before it begins anew"
	case "opens":
		return "When service begins, as 07:00"
	case "closes":
		return "When service ends, as 18:00"
	case "days":
		return "Which days you are open, as mon-sat"
	case "remind":
		return "When the morning's reminder comes, as 06:30"
	case "levers":
		return "What the crew may move, as grind,yield; the rest goes to the lead"
	case "word":
		return "A word of your own for how a cup tastes"
	case "means":
		return "What it means here, as sour; nothing for no taste, or forget"
	case "me":
		return "yes or no"
	case "format":
		return "csv holds the shots, jsonl everything"
	case "method":
		return "espresso or pour-over"
	case "tasters":
		return "How many of you taste"
	case "blind":
		return "yes to hide which cup is which"
	case "water":
		return "How much water is poured over, in grams"
	case "early", "middle", "late", "whole", "a", "b", "c":
		return "What you find in this cup, in your own words; its weight if you have it"
	case "split":
		return "Which split, by its number"
	case "better":
		return "Which cup of the pair is better"
	case "topic":
		return "What about, or nothing"
	}
	return name
}

// shotForm is the form that an empty /shot opens: five short fields.
func shotForm() chat.Form {
	return chat.Form{
		Title:   "A shot",
		Command: chat.Command{Name: "shot"},
		Fields: []chat.Field{
			{Name: "dose", Label: "Dose, g", Hint: "18.1 (empty: as the recipe)"},
			{Name: "yield", Label: "Yield, g", Hint: "36.4 (empty: as the recipe)"},
			{Name: "time", Label: "Time, s", Hint: "24"},
			{Name: "grind", Label: "Where the grinder stood", Hint: "5.2, or 2 finer (empty: as before)"},
			{Name: "taste", Label: "How it tasted", Hint: "sour, thin"},
		},
	}
}

// What is said around a channel that is no bar yet.
const (
	setUpFirstText   = "I read nothing here yet. Whoever manages this channel makes it a bar with /setup zone:Europe/Berlin (or your zone)."
	setUpZoneText    = "Which clock does this bar go by? Give its zone, as: /setup zone:Europe/Berlin"
	nothingSaidText  = "Done."
	tokenRefusedText = "the token is not accepted by Discord: take a new one from the bot's page in the developer portal and put it into DISCORD_TOKEN or DISCORD_TOKEN_FILE"
)

// The bar's day: card, reminder, alert and closing note.

// dayTitle names a bar's day: "Harbour Lane · Mon 2 March". A bar that nobody
// has named goes by the day alone.
func dayTitle(b bar.Bar, channel string, day bar.Day) string {
	if b.Name == "" || b.Name == channel {
		return dayName(day)
	}
	return b.Name + " · " + dayName(day)
}

// todayText is where every coffee stands: the card of the day.
func todayText(title string, lines []todayLine, told []happening) string {
	if len(lines) == 0 {
		return "No coffee yet. Post a shot, such as: 18.1 36.4 24 sour thin"
	}
	text := []string{title}
	for _, l := range lines {
		text = append(text, l.text())
	}
	if len(told) > 0 {
		text = append(text, happenedTodayText(told))
	}
	return strings.Join(text, "\n")
}

func (l todayLine) text() string {
	switch {
	case l.Shots == 0:
		return l.coffee.Name + ": not pulled yet"
	case l.State == advisor.DialledIn: // the shot that earned it: the card stands still while shots like it follow
		return l.coffee.Name + ": dialled in, " + l.shotText(l.earned()) + l.calledText()
	case l.State == advisor.Drifting:
		return l.coffee.Name + ": drifting since " + l.Drift.Since.Format("15:04") + ", " + driftText(l.Drift) + "; dialled in, " + l.shotText(l.earned()) + l.calledText()
	case l.State == advisor.Dialling:
	}
	return l.coffee.Name + ": dialling, last " + l.shotText(l.last())
}

// shotText tells of a shot without its taste.
func (l todayLine) shotText(s bar.Shot) string { return shotText(l.grinder, s) }

// calledText says who called it and when.
func (l todayLine) calledText() string {
	return " (" + l.caller + ", " + l.Called.At.Format("15:04") + ")"
}

// driftText is how much a coffee has moved: "about 31 s, was 28 s".
func driftText(d advisor.Drift) string {
	return "about " + whole(d.Now) + " s, was " + whole(d.Was) + " s"
}

// alertText tells of a drift: which coffee, since when, by how much, and the
// one change that brings it back.
func alertText(v view, who []string) string {
	d := v.Drift
	way := "slower"
	if d.Way() < 0 {
		way = "faster"
	}
	text := v.coffee.Name + " runs " + way + " since " + d.Since.Format("15:04") + ": " + driftText(d) + "."
	switch {
	case v.Lever == bar.Grind, v.Lever == bar.Yield: // as the shot was answered
		text += "\n" + v.actionText()
	case d.Lever == bar.Grind:
		move := v
		move.Lever, move.From, move.To, move.Unit, move.Purge, move.long = d.Lever, d.From, d.To, d.Unit, true, false
		move.Expect.Time = d.Then
		text += "\n" + move.actionText()
	default:
		text += "\nThat is less than a step of the grinder: leave it there and watch the next shots."
	}
	if r := v.coffee.Recipe; r.Low <= d.Now && d.Now <= r.High {
		text += "\nIt is still in its window: change it when the queue allows."
	}
	return text + mentionsText(who)
}

// bothText tells that two coffees have moved at once.
func bothText(v view, other bar.Coffee, who []string) string {
	d := v.Drift
	return togetherText(v.coffee, other, float64(d.Way())) + "\n" + v.coffee.Name + " since " + d.Since.Format("15:04") + ": " + driftText(d) + "." + mentionsText(who)
}

// mentionsText names those who want to be told.
func mentionsText(who []string) string {
	if len(who) == 0 {
		return ""
	}
	return "\nFor " + list(who) + "."
}

// A startLine is where to begin with one coffee.
type startLine struct {
	coffee  bar.Coffee
	grinder bar.Grinder
	start   advisor.Start
}

// reminderText is read on a lock screen in ten seconds.
func reminderText(title string, day bar.Day, lines []startLine) string {
	text := []string{title}
	for _, l := range lines {
		text = append(text, l.text(day))
	}
	return strings.Join(text, "\n")
}

func (l startLine) text(day bar.Day) string {
	parts := []string{l.fromText(), recipeText(l.coffee.Recipe)}
	if days, ok := day.Since(l.coffee.Roasted); ok && days >= 0 && !l.start.Undated {
		parts = append(parts, daysText(days)+" after roast")
	}
	if flag := flagText(l.start.Flag); flag != "" {
		parts = append(parts, flag)
	}
	return l.coffee.Name + ": " + strings.Join(parts, ", ")
}

// fromText is the setting to start from.
func (l startLine) fromText() string {
	switch s := l.start; {
	case s.Unit == advisor.DialUnit:
		return "start " + dial(l.grinder, bar.Dial(s.To))
	case s.Unit == advisor.StepUnit && s.To > 0:
		return "start " + steps(s.To) + " finer"
	case s.Unit == advisor.StepUnit && s.To < 0:
		return "start " + steps(-s.To) + " coarser"
	case s.Unit == advisor.StepUnit:
		return "start where it stands"
	}
	return "not pulled before"
}

func flagText(f advisor.Flag) string {
	switch f {
	case advisor.NoFlag:
	case advisor.OpenedBag:
		return "new bag"
	case advisor.StillDrifting:
		return "was drifting"
	case advisor.RunningOld:
		return "runs faster every day"
	case advisor.NoRoastDate:
		return "no roast date"
	}
	return ""
}

// closingText says what a day came to.
func closingText(lines []todayLine, next time.Weekday, tomorrow bool) string {
	text := []string{"Closing."}
	first := ""
	for _, l := range lines {
		text = append(text, l.coffee.Name+": "+l.endText()+" after "+count(l.DialIn, "shot")+", "+grams(l.Ground)+" g; ended with "+l.shotText(l.last())+".")
		if l.State != advisor.DialledIn {
			first = cmp.Or(first, l.coffee.Name)
		}
	}
	day := next.String()
	if tomorrow {
		day = "tomorrow"
	}
	if first == "" {
		return strings.Join(append(text, "First "+day+": start where each coffee ended, and taste."), "\n")
	}
	return strings.Join(append(text, "First "+day+": dial in "+first+"."), "\n")
}

// endText is how a coffee's day ended.
func (l todayLine) endText() string {
	switch l.State {
	case advisor.DialledIn:
		return "dialled in"
	case advisor.Drifting:
		return "drifting, dialled in"
	case advisor.Dialling:
	}
	return "not dialled in"
}

// A channel that is to become a bar.

const (
	// NoTokenText asks for a token.
	NoTokenText = "no token for Discord: set DISCORD_TOKEN, or DISCORD_TOKEN_FILE to a file that holds it"
	// OddTokenText refuses what cannot be a token, without showing it.
	OddTokenText = "the token for Discord holds a space or another character that no token has: copy it anew"
	// NoHomeText says that there is no place for the records.
	NoHomeText = "there is no place for the records: name a file with -db"
)

// BadRootText refuses the URL of a server in Discord's place.
func BadRootText(url string) string {
	return "-discord-url " + strconv.Quote(url) + " is not of the form http://127.0.0.1:8080"
}

// BadShardText refuses a part of the servers.
func BadShardText(part string) string {
	return "-shard " + strconv.Quote(part) + " is not of the form 0/4, the first number below the second"
}

// NothingSaidText answers a command that leaves nothing to say.
const NothingSaidText = nothingSaidText

// TokenRefused is the error of a token that Discord does not accept.
func TokenRefused() error { return errors.New(tokenRefusedText) }

// DiscordClosed is the error of a connection that Discord has closed for good,
// with what to fix. The codes are those of Discord's documentation.
func DiscordClosed(code int) error {
	switch code {
	case 4004:
		return errors.New(tokenRefusedText)
	case 4010:
		return errors.New("this shard is not taken by Discord: give -shard i/n with i below n, the same n for all")
	case 4011:
		return errors.New("the bot is in too many servers for one process: run several, each with -shard i/n")
	case 4012:
		return errors.New("this version of the gateway is no longer spoken by Discord: install a newer shothand")
	case 4013:
		return errors.New("the events that were asked for are not known to Discord: install a newer shothand")
	case 4014:
		return errors.New("the Message Content intent is not enabled: switch it on under Bot, Privileged Gateway Intents, in the developer portal")
	}
	return fmt.Errorf("closed for good by Discord, code %d", code)
}

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

func moveLabel(to bar.Grams) string { return "move to " + grams(to) + " g" }

func leaveLabel(at bar.Grams) string { return "leave at " + grams(at) + " g" }

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
func gram(x float64) string { return grams(bar.Grams(x)) }

// startText says how it is done.
func (b table) startText(leader string, cuts [layers.Cups]layers.Cut, ends bar.Ends) string {
	lines := []string{b.coffee.Name + ", cup by cup, led by " + leader + "."}
	if b.begun.Method == bar.PourOver {
		lines = append(lines, b.filterSteps(cuts))
	} else {
		lines = append(lines, b.espressoSteps(cuts, ends))
	}
	lines = append(lines, b.tasteSteps(cuts), b.careText())
	return strings.Join(lines, "\n")
}

func (b table) espressoSteps(cuts [layers.Cups]layers.Cut, ends bar.Ends) string {
	text := fmt.Sprintf("1. Pull one as always, %s → %s g, and set it aside whole: the reference.\n", grams(b.begun.Dose), grams(b.begun.Yield)) +
		fmt.Sprintf("2. Pull another the same over a scale, and change the cup at %s g and at %s g; stop at %s g. ", gram(cuts[0].Grams), gram(cuts[1].Grams), gram(cuts[2].Grams)) +
		fmt.Sprintf("Without a scale: at about %.0f and %.0f s from the pump, stop at %.0f. The first drops come late and the flow quickens, so equal times are not equal cups. ", cuts[0].Seconds, cuts[1].Seconds, cuts[2].Seconds) +
		"Hold the cups by their handles, fingers off the group and the spout. Weigh each."
	if ends == bar.ByButton {
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
	if b.begun.Method == bar.PourOver {
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
	if b.begun.Method == bar.PourOver {
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
func (b table) keptText(who bar.PersonID, s bar.Sips) string {
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
	for l := range bar.Layer(layers.Cups) {
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
	for l := bar.Early; l <= bar.Whole; l++ {
		s, ok := said.Note(l)
		if !ok {
			continue
		}
		name := l.String()
		if letters && l != bar.Whole {
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
func sipText(s bar.Note) string {
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
func tasteText(s bar.Note) string {
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
func stoppedText(c bar.Coffee) string {
	return "The tasting of " + c.Name + " is over. What was shown is kept: /layers show"
}

func struckText(split int) string {
	return "The " + splitName(split) + " is struck out and does not count. Pull another the same way; what is posted now is of that one."
}

func noSuchSplitText(split int) string {
	return "There is no " + splitName(split) + " to speak of here, or it is struck out."
}

func noLayersText(c bar.Coffee) string {
	return "No tasting of " + c.Name + " cup by cup has been shown yet. Begin one: /layers start coffee:" + c.Name
}

func leftText(c bar.Coffee) string {
	return c.Name + " stays " + recipeText(c.Recipe) + "."
}

func movedText(c bar.Coffee, ends bar.Ends) string {
	text := c.Name + " is now " + recipeText(c.Recipe) + ". Leave the grind: only the end moves, and the window with it. /undo puts it back."
	if ends == bar.ByButton {
		text += " The button has to be set anew; do that in a quiet hour."
	}
	return text
}

// lateText is what somebody says who came after the others were shown.
func (b table) lateText(people []bar.Person, who bar.PersonID, s bar.Sips) string {
	return nameOf(people, who) + ", after the others: " + b.saidText(b.of(who, s.Split), false) + ".\n/layers show has the account with it."
}

// text is the account: what to do, what was tasted, what to try now, and what
// that rests on. As it is posted it leaves out what nobody has measured: it is
// read off a phone, with spoons in hand.
func (a account) text(people []bar.Person, ends bar.Ends, whole bool) string {
	lines := []string{a.verdictText(ends), a.headText()}
	for l := bar.Early; l <= bar.Whole; l++ {
		if line := a.cupText(l); line != "" {
			lines = append(lines, line)
		}
	}
	lines = append(lines, a.sideBySide(people)...)
	if a.orders > 0 {
		lines = append(lines, a.orderText())
	}
	numbers := whole || a.known
	if a.weighed && !numbers {
		lines = append(lines, a.balanceText())
	}
	lines = append(lines, a.atTheTableText())
	if next := a.nextText(); next != "" {
		lines = append(lines, next)
	}
	if numbers {
		lines = append(lines, a.holdText()...)
		lines = append(lines, a.yieldsText())
	}
	if whole || len(a.alike) > 0 {
		lines = append(lines, a.alikeText())
	}
	if !whole {
		lines = append(lines, moreOfCupsText)
	}
	lines = slices.DeleteFunc(lines, func(s string) bool { return s == "" })
	return strings.Join(lines, "\n")
}

// moreOfCupsText says where the rest of an account is.
const moreOfCupsText = "All of it, with what a model expects of these cups: /layers show"

// verdictText is the first line: where the shot should end.
func (a account) verdictText(ends bar.Ends) string {
	v := a.verdict
	name := a.coffee.Name
	if a.begun.Method == bar.PourOver {
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
	if ends == bar.ByButton && a.begun.Method == bar.Espresso && v.Way == layers.Longer {
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
	var who []bar.PersonID
	for _, row := range a.rows {
		if !slices.Contains(who, row.who) {
			who = append(who, row.who)
		}
	}
	return fmt.Sprintf("%s → %s g, %s, %s", grams(a.begun.Dose), grams(a.begun.Yield), count(len(a.splits), "split"), count(len(who), "taster"))
}

// cupText is what a cup brought, by its name.
func (a account) cupText(l bar.Layer) string {
	said := a.cupSaid(l)
	if said == "" {
		return ""
	}
	return "• " + l.String() + ": " + said
}

// cupSaid is what a cup brought and how often it was said, in all splits.
func (a account) cupSaid(l bar.Layer) string {
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
func (a account) sideBySide(people []bar.Person) []string {
	var lines []string
	for _, row := range a.rows {
		if row.split != a.splits[len(a.splits)-1] {
			continue
		}
		name := nameOf(people, row.who)
		var cups []string
		for l := range bar.Layer(layers.Cups) {
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
	key := fmt.Sprintf("Early was %s, middle %s, late %s. ", a.letterOf(bar.Early), a.letterOf(bar.Middle), a.letterOf(bar.Late))
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
	if a.begun.Method == bar.PourOver {
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
			odd = append(odd, bar.Layer(i).String())
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
	early, late := a.expected[bar.Early].TDS.X, a.expected[bar.Late].TDS.X
	why := "about"
	if a.known {
		early, late, why = a.measured[bar.Early].TDS, a.measured[bar.Late].TDS, "by your readings"
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
		return "by weight, " + weightsText(masses) + ", they are the whole " + a.brewText() + " again"
	}
	parts, ok := layers.Mix(masses, end)
	if !ok {
		total := masses[0] + masses[1] + masses[2]
		return fmt.Sprintf("a %s of %s g cannot be mixed from these cups; all of them and %.0f g of warm water come near it", a.brewText(), gram(end), end-total)
	}
	return "by weight, " + weightsText(parts) + ", they are a " + a.brewText() + " that ends at " + gram(end) + " g"
}

// brewText is what was split.
func (a account) brewText() string {
	if a.begun.Method == bar.PourOver {
		return "brew"
	}
	return "shot"
}

// weightsText is how to mix a spoonful by weight, for cups that are half empty.
func weightsText(parts [layers.Cups]float64) string {
	total := parts[0] + parts[1] + parts[2]
	var text []string
	for i, p := range parts {
		if tenth := 10 * p / total; tenth > 0 {
			text = append(text, fmt.Sprintf("%.1f g of %s", tenth, bar.Layer(i).String()))
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
		parts = append(parts, fmt.Sprintf("%s %s (%s to %s)", name, one(l.Alpha), one(l.Low), one(l.High)))
	}
	return fmt.Sprintf("How alike you taste, over %d cups: %s; 1 is all alike, 0 is chance, 0.7 is called fair.", a.both, strings.Join(parts, ", "))
}

// one prints a figure to a tenth.
func one(x float64) string {
	return strings.Replace(fmt.Sprintf("%.1f", math.Round(10*x)/10+0), "-", "−", 1)
}

// nextText is what should follow.
func (a account) nextText() string {
	switch {
	case len(a.splits) < enoughSplits && a.verdict.Tasters() > 0:
		pull := "Pull"
		if a.begun.Method == bar.PourOver {
			pull = "Brew"
		}
		return "One split is noisy, one " + a.brewText() + "'s cut differs by a fifth and more from the next. " + pull + " the second, taste it the same way and post again; strike a bad one with /layers strike."
	case a.verdict.Way == layers.Stay || a.begun.Method == bar.PourOver:
		return ""
	}
	return "Before the recipe moves: a real shot that ends at " + gram(a.verdict.Yield) + " g against one of " + grams(a.begun.Yield) + ", blind: /layers pair"
}

// pairStartText says how the two shots are compared.
func (b table) pairStartText(ends bar.Ends) string {
	p := b.begun.Pair
	text := fmt.Sprintf("%s: one shot that ends at %s g (about %s s) against one of %s g, blind. Same dose, same grind.\n", b.coffee.Name, grams(p.New), whole(p.Time), grams(p.Old)) +
		"The leader alone knows which is cup X and which is cup Y, and does not vote. Same cups, same warmth, own spoons, small sips, spit. Half of you begin with X, half with Y.\n" +
		"Tap, or post: X, Y or no difference. It is kept back until " + untilText(b.begun.Tasters) + "."
	if ends == bar.ByButton {
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
		side := fmt.Sprintf("%d or more of %d", most, n)
		switch {
		case most == n && n == 2:
			side = "both"
		case most == n:
			side = fmt.Sprintf("all %d", n)
		}
		text += fmt.Sprintf(" If nobody could tell, %s would side with one cup %s.", side, timesText(min(1, layers.ByChance(most, n, layers.PairChance)+layers.ByChance(most, n, layers.PairChance))))
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
func habitText(f bar.Scale) string {
	switch f {
	case bar.Sour:
		return "sourness"
	case bar.Bitter:
		return "bitterness"
	case bar.Sweet:
		return "sweetness"
	case bar.Body:
		return "body"
	case bar.Dry:
		return "dryness"
	}
	return ""
}

// leaderVotesText refuses the vote of who knows the cups.
const leaderVotesText = "You know which cup is which, so yours is not counted."

// A coffee's page.

// text is a coffee's page, as of a day.
func (p coffeePage) text(day bar.Day) string {
	lines := []string{coffeeText("", p.coffee, p.grinder, day), p.bestText()}
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
	liked := fmt.Sprintf("liked %d of %s", p.Liked, count(p.Tasted, "tasted shot"))
	if p.Liked <= fewLiked {
		return fmt.Sprintf("Tasted best: %s s at 1:%s (%s)", wholes(p.Time), spreadText(p.Ratio), liked)
	}
	middle := number(math.Round(p.Ratio.Middle*10) / 10)
	most := wholes(p.Time) + " s"
	if ratios := spreadText(p.Ratio); ratios != middle {
		most += ", 1:" + ratios
	}
	return fmt.Sprintf("Tasted best: about %s s at 1:%s (%s; four in five of those at %s)", whole(bar.Seconds(p.Time.Middle)), middle, liked, most)
}

// fewLiked is how many cups are too few to speak of a middle: all of them are
// told.
const fewLiked = 4

// wholes prints a spread of seconds.
func wholes(s advisor.Spread) string {
	low, high := whole(bar.Seconds(s.Low)), whole(bar.Seconds(s.High))
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
	for l := range bar.Layer(layers.Cups) {
		if line := strings.TrimPrefix(p.account.cupText(l), "• "); line != "" {
			cups = append(cups, line)
		}
	}
	return fmt.Sprintf("Cup by cup, %s: %s. %s", dateText(p.account.entry.Day, "2 Jan"), strings.Join(cups, "; "), p.account.verdictText(bar.ByScale))
}

// ageingText says how it runs as it gets older, by its own shots.
func (p coffeePage) ageingText() string {
	a := p.Ageing
	switch {
	case !a.Known():
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
	switch {
	case p.pulled && review.HasShown(p.worth):
		text += "a step of " + p.grinder.Name + " about " + tenths(p.learnt.Step) + " s (learnt from " + count(p.learnt.Shots, "shot") + ")"
	case p.grinder.Worth > 0:
		text += "a step of " + p.grinder.Name + " about " + tenths(p.grinder.Worth) + " s (as you told)"
	default:
		text += "what a step of " + p.grinder.Name + " does has not shown yet"
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
	if p.coffee.For == bar.WithMilk || p.coffee.Milk != (bar.Recipe{}) {
		text += "; milk, soya, nut and oat drinks that share a wand share their allergens"
	}
	return text + "."
}

// Looking back. A figure that could be chance is said to be too few to say.

const notYoursText = "A review of a person is for that person alone. Your own: /review person:me"

// noBagText is said when nobody has told of a bag.
func noBagText(c bar.Coffee) string {
	return "Nobody has told of a new bag of " + c.Name + ". Say “" + strings.ToLower(c.Name) + " new bag” when it is opened."
}

// dayName prints a day.
func dayName(d bar.Day) string { return dateText(d, "Mon 2 January") }

// dateText prints a day in a layout.
func dateText(d bar.Day, layout string) string {
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return string(d)
	}
	return t.Format(layout)
}

// spanText prints the span of a review, as far as there were shots.
func (l looked) spanText() string {
	from, to := l.span.From, l.span.To
	if from < earliest {
		return "all that is kept"
	}
	if from == to {
		return dateText(from, "2 Jan")
	}
	return dateText(from, "2 Jan") + "–" + dateText(to, "2 Jan")
}

// earliest is before any bar's first shot here.
const earliest bar.Day = "2000-01-02"

// text is a review for a phone; with more, where its figures come from.
func (l looked) text(more bool) string {
	if l.review.Shots == 0 {
		return l.headText()
	}
	lines := append([]string{l.headText(), l.effectsText()}, l.figures()...)
	if !more {
		return strings.Join(append(lines, "Where these figures come from: /review more:yes"), "\n")
	}
	lines = append(lines, sourcesHead)
	for _, source := range l.sources() {
		lines = append(lines, "• "+source)
	}
	return strings.Join(lines, "\n")
}

// headText says what a review is of.
func (l looked) headText() string {
	r := l.review
	if r.Shots == 0 {
		return upper(l.spanText()) + ": no shots" + l.ofText() + "."
	}
	return upper(l.spanText()) + l.ofText() + ": " + count(r.Shots, "shot") + " on " + count(r.Days, "day") + "."
}

// figures are what there is to say besides what changes did, a line each.
func (l looked) figures() []string {
	r := l.review
	var lines []string
	add := func(s string) {
		if s != "" {
			lines = append(lines, s)
		}
	}
	add(costText(r.Cost))
	if l.who.ID == 0 {
		for _, w := range r.Worth {
			if w.Grinder.Step > 0 {
				add(worthText(w))
			}
		}
	}
	for _, b := range r.Best {
		add(bestText(b))
	}
	add(recordText(r.Record))
	if l.who.ID != 0 {
		add(scatterText(r.Scatter))
	} else {
		add(agreeText(r.Agree))
	}
	return lines
}

// ofText says of what and of whom a review is.
func (l looked) ofText() string {
	text := ""
	switch {
	case l.coffee.ID != 0:
		text = ", " + l.coffee.Name
	case l.grinder.ID != 0:
		text = ", grinder " + l.grinder.Name
	}
	if l.who.ID != 0 {
		text += ", your own"
	}
	return text
}

// What stands above lists.
const (
	effectsLead = "What changes did, beyond what comes by itself:"
	sourcesHead = "Where the figures come from:"
	// noEffectsText stands where there is nothing to list.
	noEffectsText = "No change was advised that a shot came after, so there is nothing to say of changes."
)

// effectsText tells which changes worked.
func (l looked) effectsText() string {
	if len(l.review.Effects) == 0 {
		return noEffectsText
	}
	lines := []string{effectsLead}
	var few []string
	for _, e := range l.review.Effects {
		if e.Followed > 0 && e.Verdict == review.TooFew {
			few = append(few, strings.ToLower(kindText(e.Kind))+" "+times(e.Followed))
			continue
		}
		lines = append(lines, "• "+effectText(e))
	}
	if len(few) > 0 {
		lines = append(lines, "• Too little to say: "+strings.Join(few, ", ")+".")
	}
	return strings.Join(lines, "\n")
}

// effectText is one kind of change.
func effectText(e review.Effect) string {
	text := kindText(e.Kind) + ": "
	if e.Followed == 0 {
		return text + "advised " + times(e.Advised) + ", not done."
	}
	text += verdictText(e.Verdict) + "; " + judgeText(e)
	if size := sizeText(e); size != "" {
		text += "; " + size
	}
	return text + "."
}

// sizeText is how large an effect is, by the measure that fits its kind.
func sizeText(e review.Effect) string {
	if e.ByTime && e.Time.Low < e.Time.High {
		return signed(e.Time.Mid) + " s (" + signed(e.Time.Low) + " to " + signed(e.Time.High) + ")"
	}
	if !e.ByTime && e.Taste.Low < e.Taste.High {
		return nearerText(e.Taste)
	}
	return ""
}

// usesText is how often a kind was advised and done.
func usesText(e review.Effect) string {
	return "advised " + times(e.Advised) + ", done " + times(e.Followed)
}

// nearerText is a mean effect on taste, in taste steps of the bar's own words.
func nearerText(e review.Estimate) string {
	return signed(e.Mid) + " of a clear step (" + signed(e.Low) + " to " + signed(e.High) + "; + is nearer to balanced)"
}

// judgeText is how many uses moved as foretold, against the repeats.
func judgeText(e review.Effect) string {
	if e.Uses == 0 {
		return "no use that can be judged"
	}
	what := "moved as foretold"
	if !e.ByTime {
		what = "tasted better"
	}
	return fmt.Sprintf("%d of %d %s, of plain repeats %s", e.Moved, e.Uses, what, inTen(e.Control))
}

// inTen prints a share in tenths.
func inTen(share float64) string {
	switch n := int(math.Round(10 * share)); {
	case share < 0.05:
		return "almost none"
	case n == 10:
		return "almost all"
	default:
		return strconv.Itoa(n) + " in 10"
	}
}

// kindText names a kind of change.
func kindText(k review.Kind) string {
	switch k {
	case review.Finer:
		return "Finer"
	case review.Coarser:
		return "Coarser"
	case review.Longer:
		return "Longer cup"
	case review.Shorter:
		return "Shorter cup"
	case review.MoreDose:
		return "More coffee"
	case review.LessDose:
		return "Less coffee"
	case review.Care:
		return "Care of the puck"
	case review.Water:
		return "Water temperature"
	}
	return ""
}

// verdictText says what may be said of a kind of change.
func verdictText(v review.Verdict) string {
	switch v {
	case review.TooFew:
		return "too few to say"
	case review.Works:
		return "works here"
	case review.Unproven:
		return "could be chance"
	case review.Useless:
		return "does less than leaving things alone"
	}
	return ""
}

// signed prints a number to a tenth with its sign.
func signed(x float64) string {
	x = math.Round(x*10)/10 + 0
	if x < 0 {
		return "−" + number(-x)
	}
	return "+" + number(x)
}

// times prints how often.
func times(n int) string {
	switch n {
	case 0:
		return "never"
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return strconv.Itoa(n) + " times"
}

// costText is what mornings cost.
func costText(c review.Cost) string {
	if c.N == 0 {
		return "Nothing was called dialled in, so nobody knows what mornings cost."
	}
	onAverage := ""
	if c.N > 1 {
		onAverage = " on average"
	}
	shots := number(math.Round(c.Shots*10)/10) + " shots"
	if shots == "1 shots" {
		shots = "1 shot"
	}
	text := fmt.Sprintf("Dialling in took %s, %.0f g and %.0f min%s (%s", shots, c.Grams, c.Minutes, onAverage, times(c.N))
	switch {
	case c.N < review.Few:
		return text + ", too few for a trend)."
	case c.Trend == review.Falling:
		return text + "); fewer shots from week to week."
	case c.Trend == review.Rising:
		return text + "); more shots from week to week."
	}
	return text + "); no trend that could not be chance."
}

// worthText is what a step of a grinder is worth.
func worthText(w review.Worth) string {
	if !review.HasShown(w.Band) {
		return "What a step of " + w.Grinder.Name + " does with " + w.Coffee.Name + " has not shown yet."
	}
	return "A step of " + w.Grinder.Name + " is worth " + tenths(bar.Seconds(w.Band.Mid)) + " s with " + w.Coffee.Name +
		" (" + tenths(bar.Seconds(w.Band.Low)) + "–" + tenths(bar.Seconds(w.Band.High)) + ")."
}

// bestText is where a coffee tasted best.
func bestText(b review.Best) string {
	text := fmt.Sprintf("%s is liked best at %s–%s s and about %s g", b.Coffee.Name, number(b.Low), number(b.High), number(b.Yield))
	if b.HasDial {
		text += ", last at " + number(b.Dial)
	}
	text += fmt.Sprintf(": %d of %s", b.Liked, count(b.Cups, "cup"))
	if b.OtherCups > 0 {
		text += fmt.Sprintf(", elsewhere %d of %d", b.OtherLiked, b.OtherCups)
	}
	return text + "."
}

// recordText is how good the advice was.
func recordText(r review.Record) string {
	if r.Said == 0 {
		return ""
	}
	text := fmt.Sprintf("My own record: followed %d of %s", r.Followed, count(r.Said, "time"))
	if r.Timed > 0 {
		text += fmt.Sprintf("; the time came as foretold in %d of %d (%s should)", r.Held, r.Timed, inTen(r.Level))
	}
	if r.Keeps > 0 {
		text += "; " + keepsText(r.Wrong, r.Keeps)
	}
	return text + "."
}

// keepsText says how many settings that were to be kept lasted.
func keepsText(wrong, keeps int) string {
	switch {
	case wrong == 0 && keeps == 1:
		return "its one keep lasted"
	case wrong == 0:
		return fmt.Sprintf("all %d keeps lasted", keeps)
	}
	return fmt.Sprintf("%d of %s did not last", wrong, count(keeps, "keep"))
}

// scatterText is how far single shots lie apart.
func scatterText(e review.Estimate) string {
	if !(e.Mid > 0) {
		return "How even your hand is: too few to say."
	}
	return fmt.Sprintf("At one setting your shots differ by about %s s (%s–%s).", tenths(bar.Seconds(e.Mid)), tenths(bar.Seconds(e.Low)), tenths(bar.Seconds(e.High)))
}

// agreeText is how well tasters agree.
func agreeText(a review.Agreement) string {
	if a.Units == 0 {
		return ""
	}
	if !a.Enough {
		return "Whether tasters agree: too few to say (" + count(a.Units, "shot") + " tasted by two)."
	}
	how := "hardly more than strangers would"
	switch {
	case a.Alpha >= 0.8:
		how = "well"
	case a.Alpha >= 0.667:
		how = "fairly"
	case a.Alpha >= 0.3:
		how = "in part"
	}
	return fmt.Sprintf("Tasters agree %s on sour or bitter (%s tasted by two or more).", how, count(a.Units, "shot"))
}

// sources say where the figures come from.
func (l looked) sources() []string {
	r := l.review
	lines := []string{
		"The shots: those posted in these days, without practice, singles and chokes; of each coffee the last 200 within 90 days can be gone through again.",
		"What a change did: the time of the next shot, less the time believed of it had nothing been changed, from the shots before it alone. A bad shot is never the “before”. The mean is drawn to 0 where there are few, and lies in the brackets with 9 in 10.",
		"As foretold: the time moved the way, and at least half as far. Tasted better: half a clear step, or half of the way, nearer to balanced than believed. The control is the " + count(r.Repeats, "shot") + " pulled as the one before: how many of those look the same by chance.",
		"“Works here”: 9 in 10 sure that it does so more often than they do. Below " + strconv.Itoa(review.Few) + " uses nothing is said.",
		regressText(r.Regress),
	}
	for _, e := range r.Effects {
		if len(e.When) > 0 {
			lines = append(lines, kindText(e.Kind)+": "+whenText(e.When))
		}
	}
	return append(lines,
		"Shots to dialled in: from a coffee's first shot of the day to the one it was called by; days without a call are not counted. The trend is a straight line through them, told where 9 in 10 of its interval is on one side.",
		"What a step is worth: what the shots have taught of this grinder, in the middle of the window, with 9 in 10.",
		"Liked best: cups put together by 3 s and 2 g, from five cups on; one lucky cup is no best place.",
		"My own record: advice that a shot came after within 12 hours; its time is held against what I foretold if it came within one. A keep did not last if the two shots after it were both out of the window by over 2 s, or both complained of.",
		"Tasters: Krippendorff's alpha on shots tasted by two or more, its interval by leaving out a shot at a time; from ten shots on."+alphaText(r.Agree))
}

// alphaText is the figure behind how tasters agree.
func alphaText(a review.Agreement) string {
	if !a.Enough {
		return ""
	}
	return fmt.Sprintf(" Here %.2f (%.2f to %.2f).", a.Alpha, a.Low, a.High)
}

// regressText tells how much comes by itself.
func regressText(r review.Regress) string {
	if r.Changed == 0 && r.Unchanged == 0 {
		return "Why not simply before and after: most shots after a bad one are better, whatever was done."
	}
	return fmt.Sprintf("Why not simply before and after: of shots after one well out of the window, %d of %d were nearer to it where something was changed, and %d of %d where nothing was.",
		r.Nearer, r.Changed, r.NearerAnyway, r.Unchanged)
}

// mostDates is how many shots are named.
const mostDates = 6

// whenText names shots by their times.
func whenText(list []time.Time) string {
	var names []string
	last := ""
	for _, at := range list[max(0, len(list)-mostDates):] {
		name := at.Format("15:04")
		if day := at.Format("2 Jan"); day != last {
			name, last = day+" "+name, day
		}
		names = append(names, name)
	}
	text := "the shots of " + strings.Join(names, ", ")
	if n := len(list) - mostDates; n > 0 {
		text += ", and " + strconv.Itoa(n) + " before"
	}
	return text
}

// What stands in and around the pictures.
const (
	effectsTitle     = "What the changes did"
	effectsUnder     = "Seconds beyond what would have come anyway."
	effectsHead      = "difference in time, s; + is longer"
	costTitle        = "What mornings cost"
	calibrationTitle = "How my forecasts held"
	calibrationHead  = "shots within, of 100"
)

func effectsWords() chart.RowWords {
	return chart.RowWords{Value: "mean", Interval: "where it lies, 9 in 10"}
}

func calibrationWords() chart.RowWords {
	return chart.RowWords{Value: "lay within", Against: "should lie within"}
}

func calibrationName(b review.Bin) string {
	return "where " + number(100*b.Level) + " of 100 should lie"
}

func costWords() chart.CostWords {
	return chart.CostWords{Head: "shots to dialled in", Foot: "week of", Morning: "one coffee, one morning", Mean: "mean of the week"}
}

func dayWords() chart.DayWords {
	return chart.DayWords{Window: "window", Shot: "shot", Choked: "choked", Called: "called dialled in"}
}

func dialInWords(c bar.Coffee, g bar.Grinder) chart.Words {
	names := "clock"
	if g.Step > 0 {
		names = "dial"
	}
	return chart.Words{
		Names: names, Window: "window " + window(c.Recipe), Believed: "foretold before the shot, 9 in 10", Shot: "shot", Choked: "choked",
		Yield: "in the cup; the line is the recipe's " + grams(c.Recipe.Yield) + " g",
	}
}

func curveWords(c review.Course, day bar.Day) chart.CurveWords {
	foot := "dial of " + c.Grinder.Name
	switch c.Grinder.Finer {
	case bar.Lower:
		foot += ", lower is finer"
	case bar.Higher:
		foot += ", higher is finer"
	case bar.Unknown:
	}
	return chart.CurveWords{
		Foot: foot, Window: "window " + window(c.Coffee.Recipe), Learnt: "time as learnt by now, for " + grams(c.Coffee.Recipe.Yield) + " g in the cup", Band: "the true time, 9 in 10",
		Shot: "shots of " + dateText(day, "2 Jan"), Old: "earlier shots, of other days' coffee",
	}
}

func driftWords(c bar.Coffee) chart.DriftWords {
	return chart.DriftWords{Window: "window " + window(c.Recipe), Believed: "foretold before the shot, 9 in 10", Shot: "shot", Moved: "after a change", Alarm: "told here"}
}

func dialInTitle(c bar.Coffee, day bar.Day, called bool) string {
	if called {
		return c.Name + ", dialled in on " + dayName(day)
	}
	return c.Name + " on " + dayName(day)
}

// dialInUnder is what it cost.
func dialInUnder(steps []advisor.Step) string {
	g := 0.0
	for _, s := range steps {
		g += float64(s.Shot.Dose.X)
	}
	minutes := steps[len(steps)-1].Entry.At.Sub(steps[0].Entry.At).Minutes()
	return fmt.Sprintf("%s, %.0f g of coffee, %.0f min", count(len(steps), "shot"), g, minutes)
}

// shotName is where the dial stood, or which shot it is.
func shotName(g bar.Grinder, s advisor.Step) string {
	if g.Step > 0 && s.Shot.Grind.From != bar.None {
		return number(float64(s.Shot.Grind.X))
	}
	return s.Entry.At.Format("15:04")
}

// saidText is what was said of a shot, then and later, by anybody.
func saidText(s advisor.Step) string { return strings.Join(wordsText(s.Words), ", ") }

// changeText is what was changed before a shot.
func changeText(s, before advisor.Step) string {
	switch {
	case s.Grind > before.Grind+1e-9:
		return "finer"
	case s.Grind < before.Grind-1e-9:
		return "coarser"
	case !s.Moved:
		return ""
	case s.Yield > before.Yield:
		return "longer"
	case s.Yield < before.Yield:
		return "shorter"
	}
	return ""
}

func curveTitle(c review.Course) string { return c.Coffee.Name + " on " + c.Grinder.Name }

func curveUnder(c review.Course) string {
	if !review.HasShown(c.Trail.Worth) {
		return "What a step does has not shown yet"
	}
	return fmt.Sprintf("A step of %s is worth about %s s", number(c.Grinder.Step), tenths(bar.Seconds(c.Trail.Worth.Mid)))
}

func driftTitle(c bar.Coffee, day bar.Day) string {
	return c.Name + " through " + dayName(day)
}

// What pictures show, for those who do not see them.

func dialInAlt(c bar.Coffee, steps []advisor.Step, called bool) string {
	var rows []string
	for _, s := range steps {
		row := ""
		switch {
		case s.Shot.Marks.Has(bar.Choked):
			row = "choked"
		case s.Shot.Time.From == bar.None:
			row = "not timed"
		default:
			row = timed(s.Shot.Time.X) + " s"
		}
		row += ", " + grams(s.Yield) + " g"
		if said := saidText(s); said != "" {
			row += ", " + said
		}
		rows = append(rows, row)
	}
	return clipAlt(dialInTitle(c, steps[0].Entry.Day, called) + ". Shot by shot: " + strings.Join(rows, "; ") + ". The window is " + window(c.Recipe) + ".")
}

func curveAlt(c review.Course, shots int) string {
	first, last := c.Trail.Curve[0], c.Trail.Curve[len(c.Trail.Curve)-1]
	return fmt.Sprintf("%s: time of %s over the dial, from about %.0f s at %s to %.0f s at %s. %s.", curveTitle(c), count(shots, "shot"),
		first.Mid, number(float64(first.Dial)), last.Mid, number(float64(last.Dial)), curveUnder(c))
}

func driftAlt(c bar.Coffee, d chart.Drift) string {
	first, last := d.Shots[0], d.Shots[len(d.Shots)-1]
	return fmt.Sprintf("%s. %s, from %.0f s at first to %.0f s at last. The window is %s.", d.Title, d.Under, first.Time, last.Time, window(c.Recipe))
}

func dayAlt(d chart.Day) string {
	var parts []string
	for _, c := range d.Coffees {
		low, high := math.Inf(1), math.Inf(-1)
		for _, s := range c.Shots {
			low, high = min(low, s.Time), max(high, s.Time)
		}
		parts = append(parts, fmt.Sprintf("%s, %s of %.0f to %.0f s", c.Name, count(len(c.Shots), "shot"), low, high))
	}
	return d.Title + ", shots by the clock: " + strings.Join(parts, "; ") + "."
}

func (l looked) effectsAlt() string {
	var parts []string
	for _, e := range l.review.Effects {
		parts = append(parts, effectText(e))
	}
	return clipAlt(effectsTitle + ". " + strings.Join(parts, " "))
}

func (l looked) costAlt() string { return costTitle + ", by week. " + costText(l.review.Cost) }

func calibrationAlt(bins []review.Bin) string {
	var parts []string
	for _, b := range bins {
		parts = append(parts, fmt.Sprintf("%.0f of 100 where %.0f should", 100*b.Share, 100*b.Level))
	}
	return calibrationTitle + ": " + strings.Join(parts, ", ") + ". " + count(bins[0].N, "shot") + "."
}

// mostAlt is how long what a picture shows may be told, in characters: the
// shortest limit of the services that carry it.
const mostAlt = 1024

func clipAlt(text string) string {
	if r := []rune(text); len(r) > mostAlt {
		return string(r[:mostAlt-1]) + "…"
	}
	return text
}

// DemoText says what the demo is, while it is being made.
func DemoText(path string) string {
	return "Making an invented bar, Harbour Lane, in " + path + ": six weeks of shots from a simulation. No such bar, coffee or person exists."
}

// DemoHintText says what to look at.
const DemoHintText = "Harbour Lane is invented. Try: /review   /review Harbour last month   /coffee show name:Tide   /layers show coffee:Tide   /today"

// What stands on a report's page.
const (
	wholeBarText = "The whole bar"
	madeText     = "Made by shothand. Figures in brackets are intervals that hold 9 times in 10. Local rules and the makers' manuals come before anything here."
)

func reportTitle(b bar.Bar) string {
	if b.Name == "" {
		return "Looking back"
	}
	return "Looking back: " + b.Name
}

// whichBarText asks which bar of a file is meant.
func whichBarText(channel string, bars int) string {
	if channel == "" {
		return "the file holds " + count(bars, "bar") + "; name one by its channel with -bar."
	}
	return "the file holds no bar of the channel “" + clip(channel) + "”: name another with -bar, or leave it out."
}

// NoFileText says that something is no file to write into.
func NoFileText(name string) string { return name + " is no plain file: name another one" }

// HoldsRecordsText says that a file of records is not written over.
func HoldsRecordsText(name string) string {
	return name + " holds a bar's records and is left as it is: name another file"
}

// NotOursText says that a file is not replaced, since it was not made by the
// command.
func NotOursText(name string) string {
	return name + " is there already and was not made by this command: name another file, or say -force to replace it"
}

// EndingText says which files can be written and read.
func EndingText(ending string) string {
	return "“" + ending + "” is no file this program writes or reads: name it .csv for shots or .jsonl for everything, or say -format"
}

// PageEndingText says what a report is.
func PageEndingText(name string) string {
	return name + ": a report is a page for a browser, which prints it as well: name it .html"
}

// ImportRecordsText says how a file of records is taken in.
func ImportRecordsText(name string) string {
	return name + " is a file of records, not a table. Take it whole with shothand restore, or write it out first: shothand export -db " + name + " bar.jsonl"
}

// NoSuchBarText says that a file has no bar of that channel.
func NoSuchBarText(channel string, has []string) string {
	return "the file has no bar " + channel + "; it has " + strings.Join(has, ", ")
}

// NoDemoText says that a file is not the invented bar's.
func NoDemoText(name string) string {
	return name + " is not the file of an invented bar and is left as it is: say -db with another name"
}

// ReportWhereText asks where a report should go.
const ReportWhereText = "say where the page should go: shothand report -o FILE.html"

// What stands in the picture of a tasting cup by cup.
const layersHead = "share of all that was dissolved, %"

func layersTitle(a account) string { return a.coffee.Name + ", cup by cup" }

func layersWords(a account) chart.RowWords {
	w := chart.RowWords{Interval: "expected by a model, 4 in 5", Against: "its middle"}
	if a.known {
		w.Value = "measured"
	}
	return w
}

// layerName names a cup with its weight.
func layerName(l bar.Layer, mass float64) string {
	return l.String() + ", " + grams(bar.Grams(mass)) + " g"
}

func layersAlt(d chart.Layers) string {
	var parts []string
	for _, c := range d.Cups {
		part := fmt.Sprintf("%s, %.0f to %.0f %% of what was dissolved expected", c.Name, 100*c.Low, 100*c.High)
		if !math.IsNaN(c.Share) {
			part += fmt.Sprintf(", %.0f %% measured", 100*c.Share)
		}
		if c.Said != "" {
			part += ", " + c.Said
		}
		parts = append(parts, part)
	}
	return clipAlt(d.Title + ": " + strings.Join(parts, "; ") + ".")
}
