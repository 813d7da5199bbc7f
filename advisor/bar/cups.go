package bar

import (
	"slices"

	"shothand/advisor/closed"
)

func (Layers) isWhat() {}

func (Sips) isWhat() {}

// Layers is the tasting of one coffee cup by cup, from its beginning on. It
// changes as it goes on.
type Layers struct {
	Coffee  CoffeeID `json:"coffee"`
	Method  Method   `json:"method"`
	Dose    Grams    `json:"dose_g,omitempty"`
	Yield   Grams    `json:"yield_g,omitempty"` // of beverage
	Time    Seconds  `json:"time_s,omitempty"`
	Tasters int      `json:"tasters,omitempty"` // who are expected, 0 if nobody said
	Blind   bool     `json:"blind,omitempty"`   // the cups have letters, and are put in order by taste
	Key     string   `json:"key,omitempty"`     // where Blind: the letters of the early, the middle and the late cup
	Split   int      `json:"split,omitempty"`   // that is being tasted, from 1
	Shown   []int    `json:"shown,omitempty"`   // splits whose tastings have been shown
	Struck  []int    `json:"struck,omitempty"`  // splits that do not count
	Pair    Pair     `json:"pair,omitzero"`
	Stopped bool     `json:"stopped,omitempty"`
}

// A Pair is two shots that are compared blind, before a recipe moves: one as it
// was and one that ends where the cups say.
type Pair struct {
	Old   Grams   `json:"old_g,omitempty"`  // what the two weigh
	New   Grams   `json:"new_g,omitempty"`  // 0 if there is no pair yet
	Time  Seconds `json:"time_s,omitempty"` // about when the new one ends
	First bool    `json:"first,omitempty"`  // cup X is the new one
	Shown bool    `json:"shown,omitempty"`
	Moved bool    `json:"moved,omitempty"` // the recipe has been moved
}

// Sips is what one person said of the cups of a split, or which cup of a pair
// they like better.
type Sips struct {
	Layers EntryID `json:"layers"`
	Split  int     `json:"split,omitempty"` // 0: the pair
	After  bool    `json:"after,omitempty"` // told after the others' had been shown
	Sips   []Note  `json:"sips,omitempty"`
	Order  string  `json:"order,omitempty"`  // the letters in the order that was guessed, early first
	Better string  `json:"better,omitempty"` // of a pair: "X", "Y", or "same"
}

// IsShown reports whether a split has been shown.
func (l Layers) IsShown(split int) bool { return slices.Contains(l.Shown, split) }

// IsStruck reports whether a split does not count.
func (l Layers) IsStruck(split int) bool { return slices.Contains(l.Struck, split) }

// A Method is how the coffee is made.
type Method int

// The methods.
const (
	Espresso Method = iota
	PourOver
)

func methods() []string {
	return []string{Espresso: "espresso", PourOver: "pour_over"}
}

// MarshalText names m, as records do.
func (m Method) MarshalText() ([]byte, error) { return closed.Marshal(m, methods()) }

// UnmarshalText sets m to the method of that name.
func (m *Method) UnmarshalText(text []byte) error { return closed.Unmarshal(m, text, methods()) }

// A Layer is one of the cups.
type Layer int

// The cups of a split, in order, and the whole shot that stands beside them.
const (
	Early Layer = iota
	Middle
	Late
	Whole
)

func cups() []string {
	return []string{Early: "early", Middle: "middle", Late: "late", Whole: "whole"}
}

// String names l, as people type it and the records keep it; empty for none of
// them.
func (l Layer) String() string { return closed.Name(l, cups()) }

// MarshalText names l, as records do.
func (l Layer) MarshalText() ([]byte, error) { return closed.Marshal(l, cups()) }

// UnmarshalText sets l to the cup of that name.
func (l *Layer) UnmarshalText(text []byte) error { return closed.Unmarshal(l, text, cups()) }

// A Scale is what a taster may give a cup from 0 to 5.
type Scale int

// The scales.
const (
	Sour Scale = iota
	Bitter
	Sweet
	Body
	Dry
)

func scales() []string {
	return []string{Sour: "sour", Bitter: "bitter", Sweet: "sweet", Body: "body", Dry: "dry"}
}

// String names s, as people type it and the records keep it; empty for none of
// them.
func (s Scale) String() string { return closed.Name(s, scales()) }

// MarshalText names s, as records do.
func (s Scale) MarshalText() ([]byte, error) { return closed.Marshal(s, scales()) }

// UnmarshalText sets s to the scale of that name.
func (s *Scale) UnmarshalText(text []byte) error { return closed.Unmarshal(s, text, scales()) }

// A Score is what a cup was given on a scale.
type Score struct {
	Of Scale   `json:"of"`
	X  float64 `json:"x"` // 0 to 5
}

// A Note is what was said of one cup. What was not said is zero.
type Note struct {
	Of     Layer    `json:"of"`
	Mass   float64  `json:"mass_g,omitempty"`      // in the cup
	TDS    float64  `json:"tds_percent,omitempty"` // of it
	Words  []Word   `json:"words,omitempty"`
	Unread []string `json:"unread,omitempty"` // words nobody could place
	Scores []Score  `json:"scores,omitempty"`
}

// Tasted reports whether anything was said of the taste.
func (s Note) Tasted() bool { return len(s.Words) > 0 || len(s.Scores) > 0 }
