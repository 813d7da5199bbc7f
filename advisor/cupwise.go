package advisor

import (
	"slices"

	"shothand/advisor/layers"
)

func (Layers) isWhat() {}
func (Sips) isWhat()   {}

// Layers is the tasting of one coffee cup by cup, from its beginning on. It
// changes as it goes on.
type Layers struct {
	Coffee  CoffeeID
	Method  layers.Method
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
	Sips   []layers.Note
	Order  string // the letters in the order that was guessed, early first
	Better string // of a pair: "X", "Y", or "same"
}

// IsShown reports whether a split has been shown.
func (l Layers) IsShown(split int) bool { return slices.Contains(l.Shown, split) }

// IsStruck reports whether a split does not count.
func (l Layers) IsStruck(split int) bool { return slices.Contains(l.Struck, split) }
