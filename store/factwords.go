package store

import (
	"fmt"
	"strings"
	"time"

	"shothand/advisor"
)

// named returns the word of v, empty for the zero value, which is left out.
func named[T ~int](f *first, v T, name func(T) string) string {
	if v == 0 {
		return ""
	}
	return keep(f, func() (string, error) { return word(v, name) })
}

// known returns the value whose word is w, the zero value for none.
func known[T ~int](f *first, w string, name func(T) string) T {
	if w == "" {
		return 0
	}
	return keep(f, func() (T, error) { return choice(w, name) })
}

// setWords returns the words of the members of s.
func setWords[S ~uint8 | ~uint16, T ~int](f *first, s S, name func(T) string) []string {
	var words []string
	for v := range T(16) {
		if s&(1<<v) != 0 {
			words = append(words, keep(f, func() (string, error) { return word(v, name) }))
		}
	}
	return words
}

// setOf returns the set whose members words name.
func setOf[S ~uint8 | ~uint16, T ~int](words []string, name func(T) string) (S, error) {
	var s S
	for _, w := range words {
		v, err := choice(w, name)
		if err != nil {
			return 0, err
		}
		s |= 1 << v
	}
	return s, nil
}

func weekdayWord(d time.Weekday) string {
	if d < 0 || d > 6 {
		return ""
	}
	return strings.ToLower(fmt.Sprint(d))[:3]
}

func roastWord(r advisor.Roast) string {
	switch r {
	case advisor.UnknownRoast:
		return "unknown"
	case advisor.Light:
		return "light"
	case advisor.Medium:
		return "medium"
	case advisor.Dark:
		return "dark"
	}
	return ""
}

func aimWord(a advisor.Aim) string {
	switch a {
	case advisor.NoAim:
		return "none"
	case advisor.Bright:
		return "bright"
	case advisor.Round:
		return "round"
	case advisor.Rich:
		return "rich"
	}
	return ""
}

func drinkWord(d advisor.Drink) string {
	switch d {
	case advisor.Black:
		return "black"
	case advisor.WithMilk:
		return "milk"
	}
	return ""
}

func doserWord(d advisor.Doser) string {
	switch d {
	case advisor.UnknownDoser:
		return "unknown"
	case advisor.ByWeight:
		return "weight"
	case advisor.Timed:
		return "timer"
	case advisor.ByHand:
		return "hand"
	}
	return ""
}
