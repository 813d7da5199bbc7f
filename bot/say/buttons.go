package say

import (
	"shothand/advisor/bar"
)

// Labels of buttons.
const (
	DidItLabel      English = "did it"
	DialledLabel    English = "dialled in"
	NotDialledLabel English = "not dialled in"
	AsTypedLabel    English = "as typed"
	LowerLabel      English = "lower is finer"
	HigherLabel     English = "higher is finer"
	OrderTyped              = "typed"
	OrderBetter             = "better"
)

// StillLabel is the button of somebody who has not turned the dial.
func (l Lang) StillLabel(at string) string { return l.Say("still %s", at) }

// StillGrams is the button of somebody who weighs what they weighed before.
func (l Lang) StillGrams(g float64) string { return l.StillLabel(l.Grams(bar.Grams(g)) + " g") }

// TasteTaps are the four answers to how a shot tastes.
func TasteTaps() []string { return []string{"sour", "bitter", "thin", "balanced"} }

// TeachLabel is the button that teaches a word.
func (l Lang) TeachLabel(word string) string { return l.Say("teach “%s”", Clip(word)) }
