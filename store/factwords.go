package store

import (
	"fmt"
	"strings"
	"time"

	"shothand/advisor/bar"
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

func roastWord(r bar.Roast) string {
	switch r {
	case bar.UnknownRoast:
		return "unknown"
	case bar.Light:
		return "light"
	case bar.Medium:
		return "medium"
	case bar.Dark:
		return "dark"
	}
	return ""
}

func aimWord(a bar.Aim) string {
	switch a {
	case bar.NoAim:
		return "none"
	case bar.Bright:
		return "bright"
	case bar.Round:
		return "round"
	case bar.Rich:
		return "rich"
	}
	return ""
}

func drinkWord(d bar.Drink) string {
	switch d {
	case bar.Black:
		return "black"
	case bar.WithMilk:
		return "milk"
	}
	return ""
}

func doserWord(d bar.Doser) string {
	switch d {
	case bar.UnknownDoser:
		return "unknown"
	case bar.ByWeight:
		return "weight"
	case bar.Timed:
		return "timer"
	case bar.ByHand:
		return "hand"
	}
	return ""
}
