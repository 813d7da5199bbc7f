package layers

import (
	"math"
	"slices"

	"shothand/advisor/bar"
)

// A Way is where the end of a shot should go.
type Way int

// The ways.
const (
	Stay Way = iota
	Longer
	Shorter
)

// A Verdict is where a coffee's shot should end, by the cups.
type Verdict struct {
	Way   Way
	Yield float64 // g, where it should end; the yield it had for Stay
	// How many tasters leaned each way. One who tasted both splits counts once.
	Longer, Shorter, Stay int
	Splits                int  // how many splits it rests on
	Torn                  bool // tasters lean both ways
	Unsteady              bool // the splits lean both ways
}

// Tasters returns how many tasters a verdict rests on.
func (v Verdict) Tasters() int { return v.Longer + v.Shorter + v.Stay }

// A Palate is how much of a fault sour and bitter are in a coffee: 1 each, less
// for what it is meant to have.
type Palate struct{ Sour, Bitter float64 }

// Sizes of the package comment, in scores of 0 to 5; all assumed.
const (
	usual     = 2.0 // what the late cup is worse by in every coffee
	leans     = 2.5 // a lean that counts
	leansMuch = 5.0 // one that asks for a larger step
	likedMore = 2.0 // flavour of a whole shot that is liked as it is
)

// The steps that the end is moved by, as shares of the yield: 4 and 6 g of 36.
// Common practice, no source: less is not tasted.
const (
	smallStep = 1.0 / 9
	largeStep = 1.0 / 6
)

// End returns where a shot of so many grams should end by what was tasted. The
// masses are those of the cups, by split. Splits that were struck out must not
// be among the tastings, and only those count that have all three cups.
func End(yield float64, masses map[int][Cups]float64, p Palate, tastings []Tasting) Verdict {
	v := Verdict{Yield: yield}
	byTaster, bySplit := map[uint64][]pull{}, map[int][]float64{}
	for _, t := range tastings {
		if !t.Complete() {
			continue
		}
		l := t.lean(masses[t.Split], p)
		byTaster[t.Taster] = append(byTaster[t.Taster], l)
		bySplit[t.Split] = append(bySplit[t.Split], l.lean)
	}
	var leansOf []float64
	for _, all := range byTaster {
		x, needs := 0.0, 0.0
		for _, l := range all {
			x += l.lean / float64(len(all))
			needs = max(needs, l.needs)
		}
		leansOf = append(leansOf, x)
		switch {
		case x >= needs:
			v.Longer++
		case x <= -needs:
			v.Shorter++
		default:
			v.Stay++
		}
	}
	v.Splits = len(bySplit)
	v.Torn = v.Longer > 0 && v.Shorter > 0
	v.Unsteady = unsteady(bySplit)
	v.decide(leansOf)
	return v
}

// A pull is how a taster's cups of one split lean, and what it takes for
// that to count.
type pull struct{ lean, needs float64 }

// lean returns how the cups lean: above 0 for longer.
func (t Tasting) lean(masses [Cups]float64, p Palate) pull {
	early, _ := t.Note(bar.Early)
	middle, _ := t.Note(bar.Middle)
	late, _ := t.Note(bar.Late)
	a, b := masses[bar.Early], masses[bar.Middle]
	if !(a > 0 && b > 0) {
		a, b = 1, 1
	}
	front := (a*flavourFor(early, p) + b*flavourFor(middle, p)) / (a + b)
	l := pull{lean: flavourFor(late, p) - front + usual, needs: leans}
	if whole, ok := t.Note(bar.Whole); ok && whole.Tasted() {
		l.lean += (p.Sour*ScoreOf(whole, bar.Sour) - p.Bitter*ScoreOf(whole, bar.Bitter) - ScoreOf(whole, bar.Dry)) / 2
		if flavourFor(whole, p) >= likedMore {
			l.needs = 2 * leans
		}
	}
	return l
}

// flavourFor is how good a cup is apart from its strength.
func flavourFor(s bar.Note, p Palate) float64 {
	return ScoreOf(s, bar.Sweet) - p.Sour*ScoreOf(s, bar.Sour) - p.Bitter*ScoreOf(s, bar.Bitter) - ScoreOf(s, bar.Dry)
}

// unsteady reports whether one split leans one way and another the other.
func unsteady(bySplit map[int][]float64) bool {
	up, down := false, false
	for _, all := range bySplit {
		m := median(all)
		up, down = up || m >= leans, down || m <= -leans
	}
	return up && down
}

// decide sets the way of v: two tasters of three must lean it and none the
// other.
func (v *Verdict) decide(all []float64) {
	n := v.Tasters()
	if n == 0 || v.Torn || v.Unsteady {
		return
	}
	step := math.Round(v.Yield * smallStep)
	if math.Abs(median(all)) >= leansMuch {
		step = math.Round(v.Yield * largeStep)
	}
	switch {
	case 3*v.Longer >= 2*n:
		v.Way, v.Yield = Longer, v.Yield+step
	case 3*v.Shorter >= 2*n:
		v.Way, v.Yield = Shorter, v.Yield-step
	}
}

// median returns the middle of all, the lower of two, which is not empty.
func median(all []float64) float64 {
	s := slices.Sorted(slices.Values(all))
	return s[(len(s)-1)/2]
}
