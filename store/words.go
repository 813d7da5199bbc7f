package store

import (
	"fmt"

	"shothand/advisor"
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

func orderWord(o advisor.Order) string {
	switch o {
	case advisor.DoseYieldTime:
		return "dose-yield-time"
	case advisor.DoseTimeYield:
		return "dose-time-yield"
	}
	return ""
}

func endsWord(e advisor.Ends) string {
	switch e {
	case advisor.ByScale:
		return "scale"
	case advisor.ByButton:
		return "button"
	case advisor.ByTime:
		return "time"
	case advisor.ByEye:
		return "eye"
	}
	return ""
}

func directionWord(d advisor.Direction) string {
	switch d {
	case advisor.Unknown:
		return "unknown"
	case advisor.Lower:
		return "lower"
	case advisor.Higher:
		return "higher"
	}
	return ""
}

// ProvenanceWord names where a value comes from, as records do; empty for none
// of the provenances.
func ProvenanceWord(p advisor.Provenance) string {
	switch p {
	case advisor.None:
		return "none"
	case advisor.Said:
		return "said"
	case advisor.Advised:
		return "advised"
	case advisor.Last:
		return "last"
	case advisor.Assumed:
		return "assumed"
	}
	return ""
}

func eventWord(e advisor.Event) string {
	switch e {
	case advisor.NewBag:
		return "new_bag"
	case advisor.Cleaned:
		return "cleaned"
	case advisor.Rezeroed:
		return "rezeroed"
	case advisor.NewBurrs:
		return "new_burrs"
	case advisor.HopperLow:
		return "hopper_low"
	case advisor.HopperFilled:
		return "hopper_filled"
	case advisor.Swapped:
		return "swapped"
	case advisor.NewFilter:
		return "new_filter"
	case advisor.Descaled:
		return "descaled"
	case advisor.OtherBasket:
		return "other_basket"
	case advisor.OtherGroup:
		return "other_group"
	case advisor.Moved:
		return "moved"
	}
	return ""
}

func evidenceWord(e advisor.Evidence) string {
	switch e {
	case advisor.OwnShots:
		return "own_shots"
	case advisor.Published:
		return "published"
	case advisor.CommonPractice:
		return "common_practice"
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

func markWord(m advisor.Marks) string {
	switch m {
	case advisor.Practice:
		return "practice"
	case advisor.Sink:
		return "sink"
	case advisor.Single:
		return "single"
	case advisor.First:
		return "first"
	case advisor.Purged:
		return "purged"
	case advisor.NotPurged:
		return "not_purged"
	case advisor.Choked:
		return "choked"
	case advisor.Stopped:
		return "stopped"
	case advisor.Spurted:
		return "spurted"
	case advisor.Stuck:
		return "stuck"
	case advisor.InMilk:
		return "in_milk"
	case advisor.Unplaced:
		return "unplaced"
	}
	return ""
}

// markBits is the number of bits of [advisor.Marks].
const markBits = 16

// MarkWords returns the words of the marks set in m.
func MarkWords(m advisor.Marks) ([]string, error) {
	var words []string
	for bit := range markBits {
		if one := advisor.Marks(1) << bit; m.Has(one) {
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
func MarksOf(words []string) (advisor.Marks, error) {
	var m advisor.Marks
	for _, w := range words {
		one, err := markOf(w)
		if err != nil {
			return 0, err
		}
		m |= one
	}
	return m, nil
}

func markOf(w string) (advisor.Marks, error) {
	for bit := range markBits {
		if one := advisor.Marks(1) << bit; w != "" && markWord(one) == w {
			return one, nil
		}
	}
	return 0, fmt.Errorf("unknown mark %q", w)
}
