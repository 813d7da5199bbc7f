package say

import (
	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
)

// asksFor reports whether an advice asks for a next shot, as it was or changed.
func (v Advice) asksFor() bool {
	again := v.Lever == bar.Repeat && !v.served() && !v.Because(why.Untasted) && !v.Because(why.Unmoved) && !v.Because(why.Unplaced)
	return v.Moves() || again
}

// movedText is what to do where who tasted has moved the dial already: pull one there, whatever
// would have been said.
func (v Advice) movedText(notes Notes) string {
	purge := ""
	if !notes.Purged {
		purge = v.lang.Say("Purge a few grams.") + " "
	}
	if v.Lever == bar.Grind && v.Unit == advisor.DialUnit && v.To == float64(notes.MovedTo) {
		return purge + v.lang.Say("I would have said the same: pull one there.")
	}
	said := v.actionText()
	if v.Lever == bar.Grind { // how to go about it is known
		said = v.turnText() + "."
	}
	return purge + v.lang.Say("Pull one there first. I would have said: %s", said)
}
