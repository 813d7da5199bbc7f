package say

import (
	"fmt"
	"slices"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
)

// Why is the whole account of an advice, for one phone screen.
func (v Advice) Why() string {
	action := v.sharedText() + v.actionText()
	if action == tick {
		action = v.lang.Say("As it should be: nothing to change.")
	}
	lines := []string{action, v.factsText()}
	if len(v.echo) > 0 {
		lines = append(lines, v.lang.Say("Said: %s", strings.Join(v.echo, ", ")))
	}
	if v.Expect.Time > 0 {
		lines = append(lines, v.lang.Say("Next shot: about %s s; four in five such shots take %s to %s s.", Whole(v.Expect.Time), Whole(v.Expect.Low), Whole(v.Expect.High)))
	}
	if v.Because(why.TastersDiffer) || v.Because(why.ThirdPalate) {
		lines = append(lines, v.lang.Say("Between those who tasted, the setting of this shot is right: %s.", v.lang.sureText(v.Sure)))
	} else if (v.Because(why.MoveWindow) || v.Because(why.PraisedOutside)) && v.Sure < even {
		lines = append(lines, v.lang.Say("By the window the setting of this shot is right: %s. The taste says otherwise, and it counts for more.", v.lang.sureText(v.Sure)))
	} else if v.Sure >= even && (v.Because(why.UnderExtracted) || v.Because(why.OverExtracted) || v.Because(why.Weak) || v.Because(why.Strong)) {
		lines = append(lines, v.lang.Say("By all the cups so far the setting of this shot is right: %s. This cup says otherwise.", v.lang.sureText(v.Sure)))
	} else if v.Sure >= even && v.Turns() && (v.Because(why.Fast) || v.Because(why.Slow)) {
		lines = append(lines, v.lang.Say("By all the cups so far the setting of this shot is right: %s. The clock says otherwise.", v.lang.sureText(v.Sure)))
	} else {
		lines = append(lines, v.lang.Say("The setting of this shot is right: %s.", v.lang.sureText(v.Sure)))
	}
	for _, r := range v.Reasons {
		lines = append(lines, "• "+Upper(v.lang.reasonName(r))+" ("+v.lang.evidenceText(r)+")")
	}
	others := slices.DeleteFunc(slices.Clone(v.Others), func(c advisor.Candidate) bool { return c.Right < unlikely })
	lines = append(lines, v.weighedLines(others)...)
	if text := v.stayText(others); text != "" {
		lines = append(lines, text)
	}
	return strings.Join(lines, "\n")
}

// Turns reports whether something is to be changed.
func (v Advice) Turns() bool {
	return v.Lever == bar.Grind || v.Lever == bar.Yield || v.Lever == bar.Time || v.Lever == bar.Dose
}

// weighedLines list the moves that were weighed, those together that are as likely.
func (v Advice) weighedLines(others []advisor.Candidate) []string {
	if len(others) == 0 {
		return nil
	}
	var words []string
	moves := map[string][]string{}
	for _, c := range others {
		word := v.lang.sureText(c.Right)
		if word == v.lang.sureText(v.Sure) {
			word = v.lang.Say("just as likely")
		}
		if _, ok := moves[word]; !ok {
			words = append(words, word)
		}
		moves[word] = append(moves[word], v.candidateText(c))
	}
	lines := []string{v.lang.Say("Weighed as well:")}
	for _, word := range words {
		lines = append(lines, "• "+Upper(word)+v.lang.Colon()+strings.Join(moves[word], v.lang.Semicolon()))
	}
	return lines
}

// stayText says why a setting is left as it is where a move looks likelier.
func (v Advice) stayText(others []advisor.Candidate) string {
	likelier := func(c advisor.Candidate) bool { return c.Right > v.Sure }
	switch stays := v.Lever == bar.Keep || v.Lever == bar.Repeat || v.Lever == bar.Prep; {
	case !stays || !slices.ContainsFunc(others, likelier):
		return ""
	case v.Read.Praise > 0:
		return v.lang.Say("A cup that was liked is left only for one that is plainly likelier to be right.")
	case len(v.Reasons) > 0: // they say it
		return ""
	}
	return v.lang.Say("One shot alone is little to go by: another as it is comes first.")
}

// Otherwise is what would change the advice: other words on the same cup, each with
// what would be advised by it.
func (v Advice) Otherwise(by map[string]advisor.Advice) string {
	var lines []string
	for _, word := range TasteTaps() {
		a, ok := by[word]
		do := Move{Lever: a.Lever, From: a.From, To: a.To, Unit: a.Unit}
		if text := do.text(v.lang, v.grinder); ok && text != "" && (a.Lever != v.Lever || a.To != v.To) {
			if a.Lever == bar.Keep {
				text = v.lang.Colon() + v.lang.Say("keep it")
			}
			lines = append(lines, "• "+v.lang.Term(word)+text)
		}
	}
	if len(lines) == 0 {
		return ""
	}
	return v.lang.Say("What would change it, if it tasted:") + "\n" + strings.Join(lines, "\n")
}

// LearntMore is what /why adds when more is asked for.
func (v Advice) LearntMore() string {
	l := v.Learnt
	lines := []string{
		v.lang.Say("Learnt from %s, %s tasted:", v.lang.Count(l.Shots, "shot"), v.lang.Count(l.Cups, "cup")),
		"• " + v.lang.Say("a step of %s is worth about %s s", v.grinder.Name, v.lang.Tenths(l.Step)),
		"• " + v.lang.Say("one shot differs from the next by about %s s", v.lang.Tenths(bar.Seconds(l.Noise)*(v.coffee.Recipe.Low+v.coffee.Recipe.High)/2)),
		"• " + v.lang.Say("after a change without a purge about %s g of old grounds come along", fmt.Sprintf("%.0f", l.Old*float64(v.coffee.Recipe.Dose))),
		"• " + v.lang.Say("that it tastes best outside %s: %s", v.lang.Window(v.coffee.Recipe), v.lang.sureText(l.Wrong)),
		"• " + v.lang.Say("the setting wins that is likeliest to be right in time and taste; one that may choke loses"),
	}
	return strings.Join(lines, "\n")
}

// candidateText names a move that was weighed.
func (v Advice) candidateText(c advisor.Candidate) string {
	expect := ", " + v.lang.Say("about %s s", Whole(c.Time))
	switch {
	case c.Lever == bar.Yield:
		return v.lang.Say("stop at %s g", v.lang.Number(c.To))
	case c.From == c.To:
		return v.lang.Say("stay") + expect
	case c.Unit == advisor.StepUnit && c.To > 0:
		return v.lang.Say("%s finer", v.lang.steps(c.To)) + expect
	case c.Unit == advisor.StepUnit:
		return v.lang.Say("%s coarser", v.lang.steps(c.To)) + expect
	}
	return v.Position(c.From) + " → " + v.Position(c.To) + expect
}

// unlikely is the probability below which something is very unlikely, and no
// move is worth naming.
const unlikely = 0.15

// even is the probability from which something is as likely as not.
const even = 0.5

// sureText says how likely something is.
func (l Lang) sureText(p float64) string {
	switch {
	case p >= 0.9:
		return l.Say("nearly certain")
	case p >= 0.8:
		return l.Say("very likely")
	case p >= 0.6:
		return l.Say("likely")
	case p >= 0.4:
		return l.Say("could be")
	case p >= unlikely:
		return l.Say("unlikely")
	}
	return l.Say("very unlikely")
}

// reasonName is a reason as a bar says it.
func (l Lang) reasonName(r why.Reason) string {
	said, ok := map[why.Reason]English{
		why.Cleaner: "tastes of cleaner", why.Stale: "tastes stale", why.Practice: "a practice shot", why.Choked: "it choked",
		why.HopperLow: "the hopper is low", why.DoseOff: "the dose is off", why.Unplaced: "nobody knows where the dial stood", why.Unmoved: "the clock has not followed the dial",
		why.YieldOff: "the cup weighs something else than the recipe", why.Unpurged: "not purged after the change",
		why.Uneven: "the water did not run through evenly", why.Untasted: "nobody tasted it, and taste comes first", why.StillUntasted: "nobody tasted the one before either",
		why.TastersDiffer: "you taste different things in it", why.HalfBelieved: "a shot that says little yet",
		why.Temperature: "the temperature", why.LostInMilk: "it is lost in milk", why.OutOfReach: "this grinder cannot reach it",
		why.Decide: "the likeliest way to a good cup", why.Keep: "this setting has shown that it works",
		why.Confirm: "looks right, one more to be sure", why.SecondPalate: "a second palate tells as much as a shot",
		why.ThirdPalate: "you taste different things in it, twice", why.Noted: "noted, nothing to change", why.Drifting: "it has been running away",
		why.Scattered: "shots at one setting lie far apart", why.MoveWindow: "it tastes best outside its window",
		why.LoneOutlier: "one odd shot at a setting that was right", why.PraisedOutside: "you like it outside its window",
		why.InsideTheNoise: "two shots differ by as much with nothing changed", why.Roast: "tastes of the roast", why.Raw: "tastes raw",
		why.ForTheLead: "for the lead to change", why.UnderExtracted: "too little out of the coffee", why.OverExtracted: "too much out of the coffee",
		why.Weak: "thin", why.Strong: "too strong", why.Fast: "faster than the window", why.Slow: "slower than the window",
		why.FirstOfDay: "first of the day", why.IdleHour: "the grinder stood for an hour", why.OtherGrounds: "grounds of another coffee may be in it",
	}[r]
	if ok {
		return l.Say(said)
	}
	return strings.ReplaceAll(r.String(), "-", " ")
}

// evidenceText says how good a reason is.
func (l Lang) evidenceText(r why.Reason) string {
	switch r.Evidence() {
	case why.OwnShots:
		return l.Say("from your own shots")
	case why.Published:
		return l.Say("published: %s", l.sourceText(r))
	case why.CommonPractice:
		return l.Say("common practice, no source")
	}
	return ""
}

// sourceText names the source of a published reason.
func (l Lang) sourceText(r why.Reason) string {
	if r == why.PraisedOutside {
		return l.Say("Smrke 2024, one taster's plateau of 21 to 42 s")
	}
	return l.Say("Frost 2020, Guinard 2023, filter coffee")
}
