package past

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shothand/advisor/review"
	"shothand/bot/say"
)

// What gives trouble.

// troubleText answers what gives trouble.
func (l LookBack) troubleText() string {
	var parts []string
	var named review.Trouble
	for _, list := range l.Troubles() {
		if t := list[0]; t.Plain() && (t.Grinder == 0 || t.Cups != named.Cups || t.Off != named.Off) { // a grinder of that coffee alone
			named = t
			parts = append(parts, l.Where(list[0])+" ("+l.OffCups(list[0])+")")
		}
	}
	if len(parts) == 0 {
		return l.Say("What gives trouble: no coffee, grinder or hour more than the others, as far as these cups show.")
	}
	return l.Say("What gives trouble: %s.", strings.Join(parts, l.Semicolon()))
}

// Troubles are the coffees, the grinders and the hours, where there are several and
// some of their cups were off, the worst three of each; of an hour one cup is no trouble.
func (l LookBack) Troubles() (lists [][]review.Trouble) {
	for _, all := range [][]review.Trouble{l.Review.Coffees, l.Review.Grinders, l.Review.Hours} {
		off := slices.DeleteFunc(slices.Clone(all), func(t review.Trouble) bool { return t.Off == 0 || t.Off == 1 && t.Coffee == 0 && t.Grinder == 0 })
		if len(all) > 1 && len(off) > 0 {
			lists = append(lists, off[:min(3, len(off))])
		}
	}
	return lists
}

// troubleLines rank what gives trouble, with the reasons.
func (l LookBack) troubleLines() []string {
	var lines []string
	for _, ranked := range l.Troubles() {
		parts := say.Each(ranked, func(t review.Trouble) string { return l.Where(t) + " " + l.offText(t) })
		text := say.English("Cups that were off: %s.")
		if ranked[0].Coffee == 0 && ranked[0].Grinder == 0 && l.Review.Served {
			text = "Cups that were off once the coffee was dialled in: %s."
		}
		lines = append(lines, l.Say(text, strings.Join(parts, l.Semicolon())))
	}
	return lines
}

// Where names where trouble is.
func (l LookBack) Where(t review.Trouble) string {
	switch {
	case t.Coffee != 0:
		return l.coffee(t.Coffee).Name
	case t.Grinder != 0:
		return l.Say("grinder %s", l.grinder(t.Grinder).Name)
	}
	return l.Say("%s to %s", l.hour(t.Hour), l.hour(t.Hour+1))
}

// hour prints a full hour of the day.
func (l Lang) hour(n int) string {
	if n == 24 {
		return strings.Replace(l.hour(0), "00", "24", 1)
	}
	return l.Clock(time.Date(2000, 1, 1, n, 0, 0, 0, time.UTC))
}

// OffCups says how many cups were off, as a sentence needs it.
func (l Lang) OffCups(t review.Trouble) string {
	return l.Say("%s of %s off", strconv.Itoa(t.Off), l.Count(t.Cups, "cup")) + l.mostly(t)
}

// offText says how many cups were off, and why.
func (l Lang) offText(t review.Trouble) string {
	return l.Say("%s of %s", strconv.Itoa(t.Off), strconv.Itoa(t.Cups)) + l.mostly(t)
}

// mostly says why most of the cups were off, where most were for one reason.
func (l Lang) mostly(t review.Trouble) string {
	if len(t.Reasons) == 0 || t.Off < 2 || 2*t.Reasons[0].Cups <= t.Off {
		return ""
	}
	return ", " + l.Say("mostly %s", l.Fault(t.Reasons[0].What))
}

// Fault names a way of being off.
func (l Lang) Fault(f review.Fault) string {
	switch f {
	case review.Under:
		return l.Say("fault|sour")
	case review.Over:
		return l.Say("fault|bitter")
	case review.Weak:
		return l.Say("fault|thin")
	case review.Strong:
		return l.Say("fault|too strong")
	case review.Fast:
		return l.Say("fault|fast")
	case review.Slow:
		return l.Say("fault|slow")
	case review.Choked:
		return l.Say("fault|choked")
	case review.Disliked:
		return l.Say("fault|not liked")
	}
	return ""
}
