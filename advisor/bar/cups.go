package bar

import "slices"

func (Layers) isWhat() {}

func (Sips) isWhat() {}

// Layers is the tasting of one coffee cup by cup, from its beginning on. It
// changes as it goes on.
type Layers struct {
	Coffee  CoffeeID
	Method  Method
	Dose    Grams
	Yield   Grams // of beverage
	Time    Seconds
	Tasters int    // who are expected, 0 if nobody said
	Blind   bool   // the cups have letters, and are put in order by taste
	Key     string // where Blind: the letters of the early, the middle and the late cup
	Split   int    // that is being tasted, from 1
	Shown   []int  // splits whose tastings have been shown
	Struck  []int  // splits that do not count
	Pair    Pair
	Stopped bool
}

// A Pair is two shots that are compared blind, before a recipe moves: one as it
// was and one that ends where the cups say.
type Pair struct {
	Old, New Grams   // what the two weigh; New is 0 if there is no pair yet
	Time     Seconds // about when the new one ends
	First    bool    // cup X is the new one
	Shown    bool
	Moved    bool // the recipe has been moved
}

// Sips is what one person said of the cups of a split, or which cup of a pair
// they like better.
type Sips struct {
	Layers EntryID
	Split  int  // 0: the pair
	After  bool // told after the others' had been shown
	Sips   []Note
	Order  string // the letters in the order that was guessed, early first
	Better string // of a pair: "X", "Y", or "same"
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

// A Layer is one of the cups.
type Layer int

// The cups of a split, in order, and the whole shot that stands beside them.
const (
	Early Layer = iota
	Middle
	Late
	Whole
)

// String names l, as people type it and the records keep it; empty for none of
// them.
func (l Layer) String() string {
	switch l {
	case Early:
		return "early"
	case Middle:
		return "middle"
	case Late:
		return "late"
	case Whole:
		return "whole"
	}
	return ""
}

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

// String names s, as people type it and the records keep it; empty for none of
// them.
func (s Scale) String() string {
	switch s {
	case Sour:
		return "sour"
	case Bitter:
		return "bitter"
	case Sweet:
		return "sweet"
	case Body:
		return "body"
	case Dry:
		return "dry"
	}
	return ""
}

// A Score is what a cup was given on a scale.
type Score struct {
	Of Scale
	X  float64 // 0 to 5
}

// A Note is what was said of one cup. What was not said is zero.
type Note struct {
	Of     Layer
	Mass   float64 // g in the cup
	TDS    float64 // %
	Words  []Word
	Unread []string // words nobody could place
	Scores []Score
}

// Tasted reports whether anything was said of the taste.
func (s Note) Tasted() bool { return len(s.Words) > 0 || len(s.Scores) > 0 }
