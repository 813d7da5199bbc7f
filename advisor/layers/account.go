package layers

import (
	"math"
	"slices"

	"shothand/advisor/agree"
	"shothand/advisor/bar"
	"shothand/advisor/extraction"
)

// An Account is what a tasting cup by cup has come to.
type Account struct {
	Table
	Splits   []int // that count, in order
	Rows     []row
	Masses   map[int][Cups]float64 // by split; as planned where nobody weighed
	Weighed  bool                  // of the last split, all cups
	Expected [Cups]Expected        // of the last split
	Measured [Cups]Held            // of the last split
	Known    bool                  // measured is
	Whole    float64               // % TDS of the shot beside it, 0 if not told
	Verdict  Verdict
	Yields   []ending
	Right    int // orders that were right, of those below
	Orders   int
	Alike    []Likeness // of all tastings of the bar; only a post of the account tells it
	Both     int        // cups that two or more have tasted
}

// A row is what one taster said of one split.
type row struct {
	Who   bar.PersonID
	Split int
	Said  Tasting
	After bool
}

// A ending is a yield and what a shot that ends there holds.
type ending struct {
	Yield float64
	Cup   extraction.Cup
}

// AccountOf works it out. It fails where the shot cannot be split.
func AccountOf(b Table) (Account, error) {
	a := Account{Table: b, Masses: map[int][Cups]float64{}}
	cuts, err := Plan(b.Begun.Method, b.Brew())
	if err != nil {
		return a, err
	}
	var tds [Cups]float64
	for split := 1; split <= b.Begun.Split; split++ {
		if b.Begun.IsStruck(split) || !b.Begun.IsShown(split) {
			continue
		}
		a.Splits = append(a.Splits, split)
		masses := Masses(cuts)
		a.Weighed, a.Whole = true, 0
		tds = [Cups]float64{}
		for i := range masses {
			mass, strength := b.measuredCup(split, bar.Layer(i))
			if a.Weighed = a.Weighed && mass > 0; mass > 0 {
				masses[i] = mass
			}
			tds[i] = strength
		}
		_, a.Whole = b.measuredCup(split, bar.Whole)
		a.Masses[split] = masses
		for _, who := range b.Tasters(split) {
			a.Rows = append(a.Rows, row{Who: who, Split: split, Said: b.Of(who, split), After: b.Late(who, split)})
			if order := b.Order(who, split); order != "" && who != b.Entry.Person {
				a.Orders++
				if order == b.Begun.Key {
					a.Right++
				}
			}
		}
	}
	if len(a.Splits) == 0 {
		return a, nil
	}
	last := a.Splits[len(a.Splits)-1]
	if a.Expected, err = Expect(b.Begun.Method, b.Brew(), a.Masses[last]); err != nil {
		return a, err
	}
	a.Measured, a.Known = Measure(float64(b.Begun.Dose), a.Masses[last], tds)
	a.Known = a.Known && a.Weighed
	a.judge()
	return a, nil
}

// judge sets where the shot should end and compares the yields.
func (a *Account) judge() {
	yield := float64(a.Begun.Yield)
	var said []Tasting
	for _, row := range a.Rows {
		said = append(said, row.Said)
	}
	a.Verdict = End(yield, a.Masses, palate(a.Coffee.Aim), said)
	step := math.Round(yield / 9)
	ends := []float64{yield - step, yield, yield + step}
	if a.Verdict.Way != Stay && !slices.Contains(ends, a.Verdict.Yield) {
		ends = append(ends, a.Verdict.Yield)
		slices.Sort(ends)
	}
	for _, end := range ends {
		if cup, _, err := At(a.Begun.Method, a.Brew(), end); err == nil {
			a.Yields = append(a.Yields, ending{end, cup})
		}
	}
}

// palate is how much of a fault sour and bitter are in a coffee that is aimed
// to be bright or rich; assumed.
func palate(aim bar.Aim) Palate {
	p := Palate{Sour: 1, Bitter: 1}
	switch aim {
	case bar.Bright:
		p.Sour = 0.5
	case bar.Rich:
		p.Bitter = 0.5
	case bar.NoAim, bar.Round:
	}
	return p
}

// EnoughSplits is how many splits a conclusion takes: one is noisy.
const EnoughSplits = 2

// A Likeness is how alike the bar's people taste in one family: said or not
// said, or by the scores from 0 to 5.
type Likeness struct {
	Of     bar.Scale
	Scores bool
	agree.Agreement
}

// OthersThan counts who has tasted at the table besides the one who pours.
func (a Account) OthersThan(who bar.PersonID) int {
	others := map[bar.PersonID]bool{}
	for _, row := range a.Rows {
		if row.Who != who {
			others[row.Who] = true
		}
	}
	return len(others)
}
