package say

import (
	"math"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
)

// Text is an advice as it is posted.
func (v Advice) Text(lead string, notes Notes) string {
	var lines []string
	add := func(s string) {
		if s != "" {
			lines = append(lines, s)
		}
	}
	add(lead)
	said := notes.Before && v.Moves()
	switch {
	case v.alerts:
		add(v.driftLine())
		add(v.alertText())
	case v.Because(why.ForTheLead):
		add(v.lang.Say("Ask the lead first.") + " " + v.sharedText() + v.actionText())
	case said:
		add(v.lang.Say("As said of the shot before: %s", v.actionText()))
	case notes.Moved && v.asksFor():
		add(v.movedText(notes))
	default:
		add(v.sharedText() + v.actionText())
	}
	if (!v.alerts || v.Lever != bar.Grind) && !said { // a drift is the reason to turn the dial
		add(v.reasonText())
	}
	add(v.factsText())
	switch {
	case notes.Odd != "":
		add(v.lang.Unplaced(v.grinder, notes))
	case !v.Placed() && v.Lever == bar.Grind:
		add(v.lang.Say("Where was the grinder? Say it once, such as: was 5.2"))
	}
	add(notes.Alike)
	if notes.House {
		add(v.lang.newCoffee(v.coffee))
	}
	if notes.Direction {
		add(v.lang.Say("Is a lower number finer on this grinder?"))
	}
	if notes.Uncalled != "" {
		add(v.lang.uncalledNote(notes.Uncalled))
	}
	if notes.Over != "" {
		add(v.lang.Say("I left out “%s”: %s g came out in %s s.", notes.Over, v.lang.Number(float64(v.shot.Yield.X)), v.lang.Number(float64(v.shot.Time.X))))
	}
	if notes.Volume {
		add(v.lang.Say("What came out is read as %s g, as if 1 ml weighed 1 g.", v.lang.Number(float64(v.shot.Yield.X))))
	}
	if len(notes.Aside) > 0 {
		add(v.lang.asideText(notes.Aside))
	}
	if len(notes.Unread) > 0 {
		add(v.lang.UnreadText(notes.Unread))
	}
	return strings.Join(lines, "\n") + v.lang.mentionsText(v.who)
}

// actionText is the first line: what to do.
func (v Advice) actionText() string {
	switch v.Lever {
	case bar.Grind:
		return v.grindText()
	case bar.Yield:
		way := English("Longer: stop at %s g instead of %s.")
		if v.To < v.From {
			way = "Shorter: stop at %s g instead of %s."
		}
		text := v.lang.Say(way, v.lang.Number(v.To), v.lang.Number(v.From)) + v.expectText()
		if v.ends == bar.ByButton {
			text += " " + v.lang.Say("The button has to be set anew; do that in a quiet hour.")
		}
		return text
	case bar.Dose:
		if v.Because(why.DoseOff) {
			return v.lang.Say("Dose first: back to %s g, this was %s. Leave the grind.", v.lang.Number(v.To), v.lang.Number(v.From))
		}
		return v.lang.Say("Dose: %s g instead of %s. Leave the grind.", v.lang.Number(v.To), v.lang.Number(v.From)) + v.expectText()
	case bar.Time:
		if v.To < v.From {
			return v.lang.Say("Shorter: stop at %s s instead of %s.", v.lang.Number(v.To), v.lang.Number(v.From))
		}
		return v.lang.Say("Longer: stop at %s s instead of %s.", v.lang.Number(v.To), v.lang.Number(v.From))
	case bar.Temperature:
		return v.lang.Say("Water: %s °C instead of %s, if the machine's maker allows it. It is the last lever and a weak one.", v.lang.Number(v.To), v.lang.Number(v.From))
	case bar.Prep:
		if v.Because(why.Choked) {
			return v.lang.Say("It had just poured here: look at dose and dial, spread the coffee evenly, tamp level, and pull again.") + v.chokeText()
		}
		return v.lang.Say("Change nothing; take care of the puck: spread it evenly, tamp level, and pull again.")
	case bar.Repeat:
		return v.repeatText()
	case bar.Keep:
		if v.State != advisor.Dialling {
			return v.servedText()
		}
		if v.Because(why.MoveWindow) {
			return v.lang.Say("Keep this%s. It tastes right outside %s: move the window with /coffee edit name:%s%s time:%s, if you agree.",
				v.thisText(), v.lang.Window(v.coffee.Recipe), Quoted(v.coffee.Name), v.forMilk()+v.yieldMoved(), v.windowAround())
		}
		return v.lang.Say("Keep this%s. Call it dialled in.", v.thisText())
	case bar.NoLever:
		return v.noLeverText()
	}
	return ""
}

// sharedText comes before a change of what drifts together with another coffee:
// what they share is looked at first.
func (v Advice) sharedText() string {
	switch v.Lever {
	case bar.Grind, bar.Yield, bar.Dose, bar.Time, bar.Temperature:
	case bar.Prep, bar.Repeat, bar.Keep, bar.NoLever:
		return ""
	}
	if v.Other.ID == 0 {
		return ""
	}
	return v.lang.Say("Check %s first: %s and %s moved together. Only if nothing is amiss there:", v.lang.lookFirst(v.coffee, v.Other), v.coffee.Name, v.Other.Name) + "\n"
}

// forMilk is the option that says which of two recipes is meant.
func (v Advice) forMilk() string {
	if v.shot.Marks.Has(bar.InMilk) && v.coffee.Milk != (bar.Recipe{}) {
		return " for:milk"
	}
	return ""
}

// windowAround proposes a window of the same width about what this setting takes.
func (v Advice) windowAround() string {
	half := (v.coffee.Recipe.High - v.coffee.Recipe.Low) / 2
	middle := v.shot.Time.X
	if v.Expect.Time > 0 {
		middle = v.Expect.Time
	}
	return Whole(middle-half) + "-" + Whole(middle+half)
}

// yieldMoved is the option that moves the yield too, where another than the recipe's
// is what was liked.
func (v Advice) yieldMoved() string {
	recipe := v.coffee.RecipeFor(v.shot.Marks)
	if math.Abs(float64(v.shot.Yield.X-recipe.Yield)) < advisor.CloseYield*float64(recipe.Yield) {
		return ""
	}
	return " yield:" + Whole(v.shot.Yield.X)
}

// grindText is the action of a grind change.
func (v Advice) grindText() string {
	weigh := ""
	if v.grinder.Doser == bar.Timed {
		weigh = " " + v.lang.Say("Re-weigh the dose: the timer does not know.")
	}
	purge := English("%s, and purge.")
	if v.long {
		purge = "%s. Then purge a few grams, so that the old grounds are out."
	}
	return v.lang.Say(purge, v.turnText()) + v.expectText() + weigh + v.chokeText()
}

// turnText says which way the dial goes, and from where to where.
func (v Advice) turnText() string {
	coarser := v.Unit == advisor.StepUnit && v.To < 0 || v.Unit == advisor.DialUnit && (v.To > v.From) == (v.grinder.Finer == bar.Lower)
	switch {
	case v.Unit == advisor.StepUnit && coarser:
		return v.lang.Say("Coarser by %s", v.lang.steps(v.To))
	case v.Unit == advisor.StepUnit:
		return v.lang.Say("Finer by %s", v.lang.steps(v.To))
	case coarser:
		return v.lang.Say("Coarser: %s → %s", v.Position(v.From), v.Position(v.To))
	}
	return v.lang.Say("Finer: %s → %s", v.Position(v.From), v.Position(v.To))
}

// chokeText is the caution of a choked machine.
func (v Advice) chokeText() string {
	if !v.Because(why.Choked) {
		return ""
	}
	return "\n" + v.lang.Say("Pump off first and wait until the pressure has dropped before you unlock: hot grounds spray.")
}

// expectText says what the next shot should take.
func (v Advice) expectText() string {
	if !(v.Expect.Time > 0) {
		return ""
	}
	return " " + v.lang.Say("Expect about %s s.", Whole(v.Expect.Time))
}

// servedText is said of a coffee that was called dialled in and needs no change: no
// more than a tick, unless its time is out of the window and was not when it was called.
func (v Advice) servedText() string {
	switch off := v.clockText(); {
	case off == "" || v.as:
		return tick
	case v.again && len(v.echo) == 0:
		return v.lang.Say("Noted again: %s.", off) + " " + v.lang.Say("Taste one: that tells more than the clock.")
	case v.again:
		return v.lang.Say("Noted again: %s.", off)
	default:
		return v.lang.Say("Noted: %s. The next one tells.", off)
	}
}

// tick is all that is said of a shot that needs no word.
const tick = "✓"

// Ticks reports whether an advice says no more than a tick does.
func (v Advice) Ticks() bool { return !v.alerts && v.actionText() == tick && v.reasonText() == "" }

// Moves reports whether an advice is told in full by what it changes, or keeps
// and may be called by.
func (v Advice) Moves() bool {
	switch v.Lever {
	case bar.Grind, bar.Yield, bar.Dose, bar.Time, bar.Temperature:
		return !v.alerts
	case bar.Keep:
		return v.State == advisor.Dialling && !v.Because(why.MoveWindow)
	case bar.Prep, bar.Repeat, bar.NoLever:
	}
	return false
}

// repeatText is the action where nothing is changed.
func (v Advice) repeatText() string {
	switch {
	case v.shot.Marks.Has(bar.Practice):
		return v.lang.Say("Noted as practice.")
	case v.served():
		return v.servedText()
	case v.Because(why.Untasted):
		if v.shot.Time.From == bar.None {
			return v.lang.Say("How does it taste, and how long did it take?")
		}
		if v.Because(why.StillUntasted) {
			return v.lang.Say("%s s, in the window. The clock is right; only a taste can say keep.", v.lang.Timed(v.shot.Time.X))
		}
		if v.offLength() {
			return v.lang.Say("%s s is right for %s g. How does it taste?", v.lang.Timed(v.shot.Time.X), v.lang.Grams(v.shot.Yield.X))
		}
		if v.Because(why.Fast) || v.Because(why.Slow) {
			return v.lang.Say("%s s, outside the window, but taste decides. How does it taste?", v.lang.Timed(v.shot.Time.X))
		}
		return v.lang.Say("%s s, in the window. How does it taste?", v.lang.Timed(v.shot.Time.X))
	case v.Because(why.ThirdPalate) && len(v.voices) > 2:
		return v.lang.Say("Tongues differ again%s. Agree whose word counts before anything is changed.", v.atText())
	case v.Because(why.ThirdPalate):
		return v.lang.Say("Tongues differ again%s. Let a third person taste it, or agree whose word counts.", v.atText())
	case v.Because(why.TastersDiffer):
		return v.lang.Say("Change nothing yet%s: pull one more and taste it side by side.", v.atText())
	case v.Because(why.Unmoved):
		return v.stoodText()
	case v.Because(why.Unplaced):
		return v.lang.Say("First the setting, then I can say what to change.")
	case v.Because(why.Unpurged):
		return v.lang.Say("Purge a few grams, then pull the same again%s.", v.atText())
	case v.Because(why.HopperLow):
		return v.lang.Say("Fill the hopper first, then pull the same again%s.", v.atText())
	case v.Because(why.SecondPalate):
		return v.lang.Say("It tastes right. Let somebody else taste it too, or pull one more the same.")
	case v.Because(why.PraisedOutside):
		return v.lang.Say("Change nothing: it tastes right. Pull one more the same.")
	case v.Because(why.Confirm):
		return v.lang.Say("Looks right. Pull one more the same to confirm.")
	}
	return v.lang.Say("Same again%s: one more before anything is changed.", v.atText())
}

// stoodText asks where the dial stands, or on a grinder without numbers whether it was
// turned at all.
func (v Advice) stoodText() string {
	first, last := v.Stands[0], v.Stands[len(v.Stands)-1]
	switch {
	case !v.Placed():
		return Upper(v.lang.Say("the clock has not followed the dial")) + ". " + v.lang.Say("Where was the grinder? Say it once, such as: was 5.2")
	case !(v.grinder.Step > 0):
		return v.lang.Say("Was the grinder turned? It is taken to be %s, and the clock has not moved.", v.lang.turned(float64(last-first)))
	}
	return v.lang.Say("Where does the dial stand? From %s to %s, and the clock has not moved.", v.Position(float64(first)), v.Position(float64(last)))
}

// Placed reports whether it is known where the dial stood, or it has no numbers.
func (v Advice) Placed() bool { return !(v.grinder.Step > 0) || v.shot.Grind.From != bar.None }

// StoodLabel is the button of a place where the dial may stand.
func (v Advice) StoodLabel(at bar.Dial) string {
	switch by := float64(at - v.Stands[0]); {
	case v.grinder.Step > 0:
		return v.Position(float64(at))
	case by == 0:
		return v.lang.Say("not turned")
	default:
		return v.lang.turned(by)
	}
}

// thisText is what is to be kept: dose, yield and where the grinder is.
func (v Advice) thisText() string {
	if v.shot.Dose.From == bar.None || v.shot.Yield.From == bar.None {
		return v.atText()
	}
	stands := v.atText()
	if !(v.grinder.Step > 0) {
		stands = v.lang.Say(", the grinder as it stands")
	}
	return v.lang.Colon() + v.lang.weighed(v.shot.Dose) + " → " + v.lang.weighed(v.shot.Yield) + " g" + stands
}

// atText is where the grinder is, on a dial with numbers.
func (v Advice) atText() string {
	if v.grinder.Step > 0 && v.shot.Grind.From != bar.None {
		return ", " + v.lang.dial(v.grinder, v.shot.Grind.X)
	}
	return ""
}

// noLeverText says what mends what no lever does.
func (v Advice) noLeverText() string {
	switch {
	case v.Because(why.Cleaner):
		return v.lang.Say("Do not serve this. Rinse and flush the group until the water is clean, then pull one to throw away.")
	case v.Because(why.Stale):
		return v.lang.Say("No setting mends this: it tastes old. Open a fresh bag, and check how the last one was closed and where it stood.")
	case v.Because(why.Roast):
		return v.lang.Say("No setting mends this: it tastes of the roast. Try another bag of it; if it is the same, tell the roaster.")
	case v.Because(why.Raw):
		return v.lang.Say("No setting mends this: it tastes roasted too little. Try another bag of it; if it is the same, tell the roaster.")
	}
	return v.lang.Say("No step of this grinder gets there.") + " " + v.beyondReachText()
}

// beyondReachText says what would do where the grinder does not.
func (v Advice) beyondReachText() string {
	switch {
	case v.Trim.Way == 0:
		return v.lang.Say("A little more or less coffee in the basket is the way: try half a gram.")
	case v.Trim.Dose == 0:
		return v.lang.Say("Nor does the basket hold such a dose: another basket would do, or a look at the grinder's zero and burrs.")
	case v.Trim.Way > 0:
		return v.lang.Say("More coffee slows it down: try %s g.", v.lang.Grams(v.Trim.Dose))
	}
	return v.lang.Say("Less coffee speeds it up: try %s g.", v.lang.Grams(v.Trim.Dose))
}
