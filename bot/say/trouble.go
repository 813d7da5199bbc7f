package say

import (
	"fmt"
	"strings"

	"shothand/advisor/review"
)

// What gives trouble.

// troubleText answers what gives trouble.
func (l LookBack) troubleText() string {
	var parts []string
	for _, list := range [][]review.Trouble{l.Review.Coffees, l.Review.Grinders, l.Review.Hours} {
		if len(list) > 1 && list[0].Plain() {
			parts = append(parts, l.Where(list[0])+" ("+l.Lang.offText(list[0])+")")
		}
	}
	if len(parts) == 0 {
		return "What gives trouble: no coffee, grinder or hour more than the others, as far as these cups show."
	}
	return "What gives trouble: " + strings.Join(parts, "; ") + ". Counted are the cups that were off."
}

// troubleLines rank what gives trouble, with the reasons.
func (l LookBack) troubleLines() []string {
	var lines []string
	for _, ranked := range [][]review.Trouble{l.Review.Coffees, l.Review.Grinders, l.Review.Hours} {
		if len(ranked) < 2 {
			continue
		}
		var parts []string
		for _, t := range ranked[:min(3, len(ranked))] {
			parts = append(parts, l.Where(t)+" "+l.Lang.offText(t))
		}
		lines = append(lines, "• Cups that were off: "+strings.Join(parts, "; ")+".")
	}
	return lines
}

// Where names where trouble is.
func (l LookBack) Where(t review.Trouble) string {
	switch {
	case t.Coffee != 0:
		return l.coffee(t.Coffee).Name
	case t.Grinder != 0:
		return "grinder " + l.grinder(t.Grinder).Name
	}
	return fmt.Sprintf("%02d:00 to %02d:00", t.Hour, t.Hour+1)
}

// offText says how many cups were off, and why.
func (l Lang) offText(t review.Trouble) string {
	text := fmt.Sprintf("%d of %d", t.Off, t.Cups)
	if len(t.Reasons) > 0 && t.Off > 1 {
		text += ", mostly " + l.Fault(t.Reasons[0].What)
	}
	return text
}

// Fault names a way of being off.
func (l Lang) Fault(f review.Fault) string {
	switch f {
	case review.Under:
		return "sour"
	case review.Over:
		return "bitter"
	case review.Weak:
		return "thin"
	case review.Strong:
		return "too strong"
	case review.Fast:
		return "fast"
	case review.Slow:
		return "slow"
	case review.Choked:
		return "choked"
	case review.Disliked:
		return "not liked"
	}
	return ""
}
