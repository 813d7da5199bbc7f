package store

import (
	"fmt"

	"shothand/advisor/bar"
)

// On disk a choice is a word. Each function below names all values of one
// type; a value that has no name there has the empty word, which is refused.

// word returns the word of v.
func word[T comparable](v T, name func(T) string) (string, error) {
	if w := name(v); w != "" {
		return w, nil
	}
	return "", fmt.Errorf("no word for %T %v", v, v)
}

// maxChoice is more than any type has values.
const maxChoice = 64

// choice returns the value whose word is w.
func choice[T ~int](w string, name func(T) string) (T, error) {
	for v := range T(maxChoice) {
		if w != "" && name(v) == w {
			return v, nil
		}
	}
	return 0, fmt.Errorf("unknown word %q for %T", w, T(0))
}

func orderWord(o bar.Order) string {
	switch o {
	case bar.DoseYieldTime:
		return "dose-yield-time"
	case bar.DoseTimeYield:
		return "dose-time-yield"
	}
	return ""
}

func endsWord(e bar.Ends) string {
	switch e {
	case bar.ByScale:
		return "scale"
	case bar.ByButton:
		return "button"
	case bar.ByTime:
		return "time"
	case bar.ByEye:
		return "eye"
	}
	return ""
}

func directionWord(d bar.Direction) string {
	switch d {
	case bar.Unknown:
		return "unknown"
	case bar.Lower:
		return "lower"
	case bar.Higher:
		return "higher"
	}
	return ""
}

// ProvenanceWord names where a value comes from, as records do; empty for none
// of the provenances.
func ProvenanceWord(p bar.Provenance) string {
	switch p {
	case bar.None:
		return "none"
	case bar.Said:
		return "said"
	case bar.Advised:
		return "advised"
	case bar.Last:
		return "last"
	case bar.Assumed:
		return "assumed"
	}
	return ""
}

func eventWord(e bar.Event) string {
	switch e {
	case bar.NewBag:
		return "new_bag"
	case bar.Cleaned:
		return "cleaned"
	case bar.Rezeroed:
		return "rezeroed"
	case bar.NewBurrs:
		return "new_burrs"
	case bar.HopperLow:
		return "hopper_low"
	case bar.HopperFilled:
		return "hopper_filled"
	case bar.Swapped:
		return "swapped"
	case bar.NewFilter:
		return "new_filter"
	case bar.Descaled:
		return "descaled"
	case bar.OtherBasket:
		return "other_basket"
	case bar.OtherGroup:
		return "other_group"
	case bar.Moved:
		return "moved"
	}
	return ""
}

func replyStateWord(s ReplyState) string {
	switch s {
	case Pending:
		return "pending"
	case Sent:
		return "sent"
	}
	return ""
}

func markWord(m bar.Marks) string {
	switch m {
	case bar.Practice:
		return "practice"
	case bar.Sink:
		return "sink"
	case bar.Single:
		return "single"
	case bar.First:
		return "first"
	case bar.Purged:
		return "purged"
	case bar.NotPurged:
		return "not_purged"
	case bar.Choked:
		return "choked"
	case bar.Stopped:
		return "stopped"
	case bar.Spurted:
		return "spurted"
	case bar.Stuck:
		return "stuck"
	case bar.InMilk:
		return "in_milk"
	case bar.Unplaced:
		return "unplaced"
	}
	return ""
}

// markBits is the number of bits of [bar.Marks].
const markBits = 16

// MarkWords returns the words of the marks set in m.
func MarkWords(m bar.Marks) ([]string, error) {
	var words []string
	for bit := range markBits {
		if one := bar.Marks(1) << bit; m.Has(one) {
			w, err := word(one, markWord)
			if err != nil {
				return nil, err
			}
			words = append(words, w)
		}
	}
	return words, nil
}

// MarksOf returns the marks that words name.
func MarksOf(words []string) (bar.Marks, error) {
	var m bar.Marks
	for _, w := range words {
		one, err := markOf(w)
		if err != nil {
			return 0, err
		}
		m |= one
	}
	return m, nil
}

func markOf(w string) (bar.Marks, error) {
	for bit := range markBits {
		if one := bar.Marks(1) << bit; w != "" && markWord(one) == w {
			return one, nil
		}
	}
	return 0, fmt.Errorf("unknown mark %q", w)
}
