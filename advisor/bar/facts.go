package bar

import (
	"fmt"
	"time"
)

// A TimeOfDay is a time on a bar's wall clock, "07:00", ordered as text. Empty
// is none.
type TimeOfDay string

// Minutes returns the minutes since midnight, or false if t is no time of day.
func (t TimeOfDay) Minutes() (int, bool) {
	at, err := time.Parse("15:04", string(t))
	return at.Hour()*60 + at.Minute(), err == nil
}

// MinutesOf returns the time of day so many minutes after midnight.
func MinutesOf(minutes int) TimeOfDay {
	return TimeOfDay(fmt.Sprintf("%02d:%02d", minutes/60, minutes%60))
}

// Weekdays is a set of days of the week. The empty set stands for every day.
type Weekdays uint8

// With returns w and d.
func (w Weekdays) With(d time.Weekday) Weekdays { return w | 1<<d }

// Has reports whether d is one of w.
func (w Weekdays) Has(d time.Weekday) bool { return w == 0 || w&(1<<d) != 0 }

// Levers is a set of levers. The empty set stands for every lever.
type Levers uint16

// With returns s and l.
func (s Levers) With(l Lever) Levers { return s | 1<<l }

// Has reports whether l is one of s. What moves nothing always is.
func (s Levers) Has(l Lever) bool {
	switch l {
	case NoLever, Prep, Repeat, Keep:
		return true
	case Grind, Yield, Time, Dose, Temperature:
	}
	return s == 0 || s&(1<<l) != 0
}

// A Roast is how dark a coffee is roasted.
type Roast int

// The roasts.
const (
	UnknownRoast Roast = iota
	Light
	Medium
	Dark
)

// An Aim is what a bar wants of a coffee.
type Aim int

// The aims.
const (
	NoAim  Aim = iota
	Bright     // lively, a little less drawn out of it
	Round      // balanced and sweet
	Rich       // heavy and strong
)

// A Drink is how a shot is drunk.
type Drink int

// The drinks.
const (
	Black Drink = iota
	WithMilk
)

// A Basket is what a basket holds, both 0 when not known.
type Basket struct{ Low, High Grams }

// Holds reports whether a dose fits; any does where the basket is not known.
func (b Basket) Holds(dose Grams) bool {
	return b == Basket{} || b.Low <= dose && dose <= b.High
}

// A Doser is how a grinder doses.
type Doser int

// The dosers.
const (
	UnknownDoser Doser = iota
	ByWeight           // it weighs what it grinds
	Timed              // it grinds for so long: how much that is changes with the grind
	ByHand             // somebody weighs or levels each dose
)
