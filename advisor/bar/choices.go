package bar

import (
	"fmt"
	"time"

	"shothand/advisor/closed"
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

func weekdays() []string { return []string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"} }

// MarshalJSON lists the names of w.
func (w Weekdays) MarshalJSON() ([]byte, error) { return closed.MarshalSet(w, weekdays()) }

// UnmarshalJSON sets w to the days of those names.
func (w *Weekdays) UnmarshalJSON(data []byte) error { return closed.UnmarshalSet(w, data, weekdays()) }

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

// MarshalJSON lists the names of s.
func (s Levers) MarshalJSON() ([]byte, error) { return closed.MarshalSet(s, levers()) }

// UnmarshalJSON sets s to the levers of those names.
func (s *Levers) UnmarshalJSON(data []byte) error { return closed.UnmarshalSet(s, data, levers()) }

// A Roast is how dark a coffee is roasted.
type Roast int

// The roasts.
const (
	UnknownRoast Roast = iota
	Light
	Medium
	Dark
)

func roasts() []string {
	return []string{UnknownRoast: "unknown", Light: "light", Medium: "medium", Dark: "dark"}
}

// MarshalText names r, as records do.
func (r Roast) MarshalText() ([]byte, error) { return closed.Marshal(r, roasts()) }

// UnmarshalText sets r to the roast of that name.
func (r *Roast) UnmarshalText(text []byte) error { return closed.Unmarshal(r, text, roasts()) }

// An Aim is what a bar wants of a coffee.
type Aim int

// The aims.
const (
	NoAim  Aim = iota
	Bright     // lively, a little less drawn out of it
	Round      // balanced and sweet
	Rich       // heavy and strong
)

func aims() []string {
	return []string{NoAim: "none", Bright: "bright", Round: "round", Rich: "rich"}
}

// MarshalText names a, as records do.
func (a Aim) MarshalText() ([]byte, error) { return closed.Marshal(a, aims()) }

// UnmarshalText sets a to the aim of that name.
func (a *Aim) UnmarshalText(text []byte) error { return closed.Unmarshal(a, text, aims()) }

// A Drink is how a shot is drunk.
type Drink int

// The drinks.
const (
	Black Drink = iota
	WithMilk
)

func drinks() []string {
	return []string{Black: "black", WithMilk: "milk"}
}

// MarshalText names d, as records do.
func (d Drink) MarshalText() ([]byte, error) { return closed.Marshal(d, drinks()) }

// UnmarshalText sets d to the drink of that name.
func (d *Drink) UnmarshalText(text []byte) error { return closed.Unmarshal(d, text, drinks()) }

// A Basket is what a basket holds, both 0 when not known.
type Basket struct {
	Low  Grams `json:"basket_low_g,omitempty"`
	High Grams `json:"basket_high_g,omitempty"`
}

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

func dosers() []string {
	return []string{UnknownDoser: "unknown", ByWeight: "weight", Timed: "timer", ByHand: "hand"}
}

// MarshalText names d, as records do.
func (d Doser) MarshalText() ([]byte, error) { return closed.Marshal(d, dosers()) }

// UnmarshalText sets d to the doser of that name.
func (d *Doser) UnmarshalText(text []byte) error { return closed.Unmarshal(d, text, dosers()) }
