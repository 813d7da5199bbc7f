package say

import (
	"fmt"
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
	if v.Because(why.ForTheLead) {
		add("Ask the lead first. " + v.sharedText() + v.actionText())
	} else {
		add(v.sharedText() + v.actionText())
	}
	add(v.reasonText())
	add(v.factsText())
	switch {
	case notes.Odd != "":
		add(v.lang.Unplaced(v.grinder, notes))
	case v.grinder.Step > 0 && v.shot.Grind.From == bar.None && v.Lever == bar.Grind:
		add("Where was the grinder? Say it once, such as: was 5.2")
	}
	add(notes.Alike)
	if notes.House {
		add(v.lang.newCoffee(v.coffee))
	}
	if notes.Direction {
		add("Is a lower number finer on this grinder?")
	}
	if notes.Uncalled != "" {
		add(v.lang.uncalledNote(notes.Uncalled))
	}
	if len(notes.Aside) > 0 {
		add(v.lang.asideText(notes.Aside))
	}
	if len(notes.Unread) > 0 {
		add(v.lang.unreadText(notes.Unread))
	}
	return strings.Join(lines, "\n")
}

// actionText is the first line: what to do.
func (v Advice) actionText() string {
	switch v.Lever {
	case bar.Grind:
		return v.grindText()
	case bar.Yield:
		way := "Longer"
		if v.To < v.From {
			way = "Shorter"
		}
		text := fmt.Sprintf("%s: stop at %s g instead of %s.%s", way, v.lang.Number(v.To), v.lang.Number(v.From), v.expectText())
		if v.ends == bar.ByButton {
			text += " The button has to be set anew; do that in a quiet hour."
		}
		return text
	case bar.Dose:
		if v.Because(why.DoseOff) {
			return fmt.Sprintf("Dose first: back to %s g, this was %s. Leave the grind.", v.lang.Number(v.To), v.lang.Number(v.From))
		}
		return fmt.Sprintf("Dose: %s g instead of %s. Leave the grind.%s", v.lang.Number(v.To), v.lang.Number(v.From), v.expectText())
	case bar.Time:
		way := "Longer"
		if v.To < v.From {
			way = "Shorter"
		}
		return fmt.Sprintf("%s: stop at %s s instead of %s.", way, v.lang.Number(v.To), v.lang.Number(v.From))
	case bar.Temperature:
		return fmt.Sprintf("Water: %s °C instead of %s, if the machine's maker allows it. It is the last lever and a weak one.", v.lang.Number(v.To), v.lang.Number(v.From))
	case bar.Prep:
		return "Change nothing; take care of the puck: spread it evenly, tamp level, and pull again."
	case bar.Repeat:
		return v.repeatText()
	case bar.Keep:
		if v.State != advisor.Dialling {
			return "✓"
		}
		if v.Because(why.MoveWindow) {
			return "Keep this" + v.atText() + ". It tastes right outside " + v.lang.window(v.coffee.Recipe) + ": move the window with /coffee edit name:" + quoted(v.coffee.Name) + v.forMilk() + " time:" + v.windowAround() + ", if you agree."
		}
		return "Keep this" + v.atText() + ". Call it dialled in."
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
	return "Check " + v.lang.lookFirst(v.coffee, v.Other) + " first: " + v.coffee.Name + " and " + v.Other.Name + " moved together. Only if nothing is amiss there:\n"
}

// forMilk is the option that says which of two recipes is meant.
func (v Advice) forMilk() string {
	if v.shot.Marks.Has(bar.InMilk) && v.coffee.Milk != (bar.Recipe{}) {
		return " for:milk"
	}
	return ""
}

// windowAround proposes a window of the same width about the last shot.
func (v Advice) windowAround() string {
	half := (v.coffee.Recipe.High - v.coffee.Recipe.Low) / 2
	return whole(v.shot.Time.X-half) + "-" + whole(v.shot.Time.X+half)
}

// grindText is the action of a grind change.
func (v Advice) grindText() string {
	way := "Finer"
	if v.Unit == advisor.StepUnit && v.To < 0 || v.Unit == advisor.DialUnit && (v.To > v.From) == (v.grinder.Finer == bar.Lower) {
		way = "Coarser"
	}
	how := ": " + v.Position(v.From) + " → " + v.Position(v.To)
	if v.Unit == advisor.StepUnit {
		how = " by " + v.lang.steps(v.To)
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
func (v Advice) chokeText() string {
	if !v.Because(why.Choked) {
		return ""
	}
	return "\nPump off first and wait until the pressure has dropped before you unlock: hot grounds spray."
}

// expectText says what the next shot should take.
func (v Advice) expectText() string {
	if !(v.Expect.Time > 0) {
		return ""
	}
	return " Expect about " + whole(v.Expect.Time) + " s."
}

// repeatText is the action where nothing is changed.
func (v Advice) repeatText() string {
	switch {
	case v.shot.Marks.Has(bar.Practice):
		return "Noted as practice."
	case v.served():
		return "✓"
	case v.Because(why.Untasted):
		if v.shot.Time.From == bar.None {
			return "How does it taste, and how long did it take?"
		}
		if v.offLength() {
			return v.lang.timed(v.shot.Time.X) + " s is right for " + v.lang.grams(v.shot.Yield.X) + " g. How does it taste?"
		}
		return v.lang.timed(v.shot.Time.X) + " s, in the window. How does it taste?"
	case v.Because(why.TastersDiffer):
		return "Change nothing yet" + v.atText() + ": pull one more and taste it side by side."
	case v.Because(why.Unmoved):
		return "Where does the dial stand? From " + v.Position(float64(v.Stands[0])) + " to " + v.Position(float64(v.Stands[len(v.Stands)-1])) + ", and the clock has not moved."
	case v.Because(why.Unplaced):
		return "First the setting, then I can say what to change."
	case v.Because(why.Unpurged):
		return "Purge a few grams, then pull the same again" + v.atText() + "."
	case v.Because(why.HopperLow):
		return "Fill the hopper first, then pull the same again" + v.atText() + "."
	case v.Because(why.PraisedOutside):
		return "Change nothing: it tastes right. Pull one more the same."
	case v.Because(why.Confirm):
		return "Looks right. Pull one more the same to confirm."
	}
	return "Same again" + v.atText() + ": one more before anything is changed."
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
		return "Do not serve this. Rinse and flush the group until the water is clean, then pull one to throw away."
	case v.Because(why.Stale):
		return "No setting mends this: it tastes old. Open a fresh bag, and check how the last one was closed and where it stood."
	case v.Because(why.Roast):
		return "No setting mends this: it tastes of the roast. Try another bag of it; if it is the same, tell the roaster."
	case v.Because(why.Raw):
		return "No setting mends this: it tastes roasted too little. Try another bag of it; if it is the same, tell the roaster."
	}
	return "No step of this grinder gets there. " + v.beyondReachText()
}

// halfGram is the trim of the dose that is proposed where the grind cannot go on.
const halfGram = 0.5

// beyondReachText says what would do where the grinder does not.
func (v Advice) beyondReachText() string {
	dose, basket := v.coffee.Recipe.Dose, v.coffee.Basket
	more := v.Because(why.Fast) || !v.Because(why.Slow) && v.Because(why.UnderExtracted)
	less := !more && (v.Because(why.Slow) || v.Because(why.OverExtracted) || v.Because(why.Choked))
	switch {
	case more && basket.Holds(dose+halfGram):
		return "More coffee slows it down: try " + v.lang.grams(dose+halfGram) + " g."
	case less && basket.Holds(dose-halfGram):
		return "Less coffee speeds it up: try " + v.lang.grams(dose-halfGram) + " g."
	case more, less:
		return "Nor does the basket hold such a dose: another basket would do, or a look at the grinder's zero and burrs."
	}
	return "A little more or less coffee in the basket is the way: try half a gram."
}
