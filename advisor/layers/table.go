package layers

import (
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
)

// measuredCup returns the weight and the strength that were told of a cup
// last, by whomever.
func (b Table) measuredCup(split int, of bar.Layer) (mass, tds float64) {
	for _, e := range b.Sips {
		s := e.What.(bar.Sips)
		if s.Split != split {
			continue
		}
		for _, x := range s.Sips {
			if x.Of == of && x.Mass > 0 {
				mass = x.Mass
			}
			if x.Of == of && x.TDS > 0 {
				tds = x.TDS
			}
		}
	}
	return mass, tds
}

// LetterOf returns the letter of a cup.
func (b Table) LetterOf(l bar.Layer) string {
	if int(l) < len(b.Begun.Key) {
		return b.Begun.Key[l : l+1]
	}
	return ""
}

// A Table is a tasting cup by cup with all that has been said at it.
type Table struct {
	Entry  bar.Entry
	Begun  bar.Layers
	Coffee bar.Coffee
	Sips   []bar.Entry // oldest first
}

// Brew returns what is being split.
func (b Table) Brew() extraction.Brew { return BrewOf(b.Begun) }

// BrewOf returns what is split in a tasting.
func BrewOf(l bar.Layers) extraction.Brew {
	b := extraction.Brew{Dose: float64(l.Dose), Yield: float64(l.Yield), Time: float64(l.Time)}
	if l.Method == bar.PourOver {
		like := DefaultFilter()
		b.Water, b.FirstDrip = like.Water, like.FirstDrip*b.Time/like.Time
	}
	return b
}

// OfPair reports whether it compares two shots and no cups of one.
func (b Table) OfPair() bool { return b.Begun.Pair.New > 0 }

// Votes counts who liked which shot better, the last word of each.
func (b Table) Votes() (for1, against, same int) {
	last := map[bar.PersonID]string{}
	for _, e := range b.Sips {
		if s := e.What.(bar.Sips); s.Better != "" {
			last[e.Person] = s.Better
		}
	}
	for _, better := range last {
		switch {
		case better == "same":
			same++
		case (better == "X") == b.Begun.Pair.First:
			for1++
		default:
			against++
		}
	}
	return for1, against, same
}

// Confirmed reports whether the pair speaks for the new end: more liked it
// better than not, and at least half of all.
func (b Table) Confirmed() bool {
	n, against, same := b.Votes()
	return n > against && n >= same
}

// MovedRecipe is the coffee's recipe with the end that was confirmed. The grind
// stays, so the window goes with the end.
func (b Table) MovedRecipe(fromDrip bool) bar.Recipe {
	r := b.Coffee.Recipe
	r.Yield = b.Begun.Pair.New
	wetting := bar.Seconds(0)
	if fromDrip {
		wetting = b.Coffee.Wetting()
	}
	scaled := func(s bar.Seconds) bar.Seconds {
		return bar.Seconds(math.Round(float64((s+wetting)*b.Begun.Pair.Time/b.Begun.Time - wetting)))
	}
	r.Low, r.High = scaled(r.Low), scaled(r.High)
	return r
}

// TurnOf returns the split that somebody is at: the one being tasted, or the
// next if that was shown and they have tasted it, or it was struck out.
func (b Table) TurnOf(who bar.PersonID) int {
	split := b.Begun.Split
	if b.Begun.IsStruck(split) || b.Begun.IsShown(split) && b.Of(who, split).Complete() {
		return split + 1
	}
	return split
}

// Of returns what somebody has said of the cups of a split, the last word of
// each.
func (b Table) Of(who bar.PersonID, split int) Tasting {
	all := Tasting{Taster: uint64(who), Split: split}
	for _, e := range b.Sips {
		if s := e.What.(bar.Sips); e.Person == who && s.Split == split {
			all = all.With(Tasting{Sips: s.Sips})
		}
	}
	return all
}

// Tasters returns who has said anything of a split, in the order they began.
func (b Table) Tasters(split int) []bar.PersonID {
	var all []bar.PersonID
	for _, e := range b.Sips {
		if s := e.What.(bar.Sips); s.Split == split && !slices.Contains(all, e.Person) {
			all = append(all, e.Person)
		}
	}
	return all
}

// In returns how many are done with a split, or with the pair.
func (b Table) In(split int) int {
	n := 0
	for _, who := range b.Tasters(split) {
		if b.OfPair() || b.Of(who, split).Complete() {
			n++
		}
	}
	return n
}

// Late reports whether somebody had begun with a split only after it was shown.
func (b Table) Late(who bar.PersonID, split int) bool {
	for _, e := range b.Sips {
		if s := e.What.(bar.Sips); e.Person == who && s.Split == split {
			return s.After
		}
	}
	return false
}

// Shown reports whether a split, or the pair, has been shown.
func (b Table) Shown(split int) bool {
	return b.OfPair() && b.Begun.Pair.Shown || !b.OfPair() && b.Begun.IsShown(split)
}

// Show notes that it has been.
func (b *Table) Show(split int) {
	if b.OfPair() {
		b.Begun.Pair.Shown = true
		return
	}
	b.Begun.Shown = append(slices.Clone(b.Begun.Shown), split)
}

// Order returns what somebody put the cups of a split in, or nothing.
func (b Table) Order(who bar.PersonID, split int) string {
	order := ""
	for _, e := range b.Sips {
		if s := e.What.(bar.Sips); e.Person == who && s.Split == split && s.Order != "" && !s.After {
			order = s.Order
		}
	}
	return order
}
