package layers

import (
	"math"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
)

// Filter is a single cup poured over: 18 g to about 320 g of water at about
// 94 °C in three minutes. Common practice, no source.
const (
	filterDose    = 18.0
	filterWater   = 320.0
	filterSeconds = 180.0
	filterCelsius = 94.0
	filterWets    = 30.0 // s before the first drops, common practice, no source
)

// FilterWater returns the water in g for a beverage of a pour-over in g.
func FilterWater(dose, beverage float64) float64 { return beverage + extraction.DripKept*dose }

// DefaultFilter is a pour-over that nobody has described.
func DefaultFilter() extraction.Brew {
	return extraction.Brew{
		Dose: filterDose, Yield: math.Round(filterWater - extraction.DripKept*filterDose),
		Time: filterSeconds, FirstDrip: filterWets, Water: filterCelsius,
	}
}

// A Cut is where a cup ends.
type Cut struct {
	Grams   float64 // of beverage since the first cup began
	Seconds float64 // about, from pump on or from the first water
}

// Plan returns where the three cups of a brew end: an espresso at equal
// weights, a pour-over at equal times, each minute of three. It is an error of
// package extraction if b is no brew.
func Plan(m bar.Method, b extraction.Brew) ([Cups]Cut, error) {
	var cuts [Cups]Cut
	c, err := params(m).Pour(b)
	if err != nil {
		return cuts, err
	}
	for i := range cuts {
		share := float64(i+1) / Cups
		if m == bar.PourOver {
			cuts[i] = Cut{Grams: c.Mass(b.Time * share), Seconds: b.Time * share}
		} else {
			cuts[i] = Cut{Grams: b.Yield * share, Seconds: c.Time(b.Yield * share)}
		}
	}
	return cuts, nil
}

// Masses returns what the cups between cuts weigh, in g.
func Masses(cuts [Cups]Cut) [Cups]float64 {
	var m [Cups]float64
	from := 0.0
	for i, c := range cuts {
		m[i], from = c.Grams-from, c.Grams
	}
	return m
}

// params returns the constants of a method. Those of a pour-over are chosen so
// that one of common practice lies in the classic box, 18 to 22 % of the dose at
// 1.15 to 1.35 % TDS (Lockhart 1957, as in Batali 2020, Sci Rep 10:16450):
// coarser grains give more slowly and less at once, and they stand in a slurry
// that mixes. How its solids divide over the cups is held to nothing published.
func params(m bar.Method) extraction.Params {
	p := extraction.Default()
	if m == bar.PourOver {
		p.Quicken = 0 // water that is poured on does not quicken as under pressure
		p.Fast, p.Slow, p.SlowRate = 0.06, 0.20, 0.008
		p.Between, p.Cells = 1.5, 4
	}
	return p
}
