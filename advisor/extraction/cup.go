package extraction

// A Curve is what came out of the bed, gram by gram. The zero Curve is empty.
type Curve struct {
	dose, yield float64 // g
	flow        flow
	solids      []float64 // g in the cup at evenly spaced masses from 0 to yield
}

// A Cup is a beverage, whole or a cut of one.
type Cup struct {
	Mass   float64 // g
	Solids float64 // g
	TDS    float64 // % of Mass
	EY     float64 // % of the dose that the whole came from
}

// newCup returns the cup of solids in mass, from a dose, all in grams.
func newCup(mass, solids, dose float64) Cup {
	c := Cup{Mass: mass, Solids: solids}
	if mass > 0 {
		c.TDS = 100 * solids / mass
	}
	if dose > 0 {
		c.EY = 100 * solids / dose
	}
	return c
}

// Whole returns the cup that c filled.
func (c Curve) Whole() Cup { return c.Cup(0, c.yield) }

// Cup returns what is caught between two masses of beverage, in grams, in that
// order. What lies beyond the curve is not in the cup, and its Mass tells.
func (c Curve) Cup(from, to float64) Cup {
	from, to = c.within(from), c.within(to)
	if !(from < to) {
		return newCup(0, 0, c.dose)
	}
	return newCup(to-from, c.solidsAt(to)-c.solidsAt(from), c.dose)
}

// within returns the mass of c nearest to grams.
func (c Curve) within(grams float64) float64 {
	if !(grams > 0) { // nor NaN
		return 0
	}
	return min(grams, c.yield)
}

// solidsAt returns the solids in the first grams of beverage, which lie on c.
func (c Curve) solidsAt(grams float64) float64 {
	last := len(c.solids) - 1
	x := grams / c.yield * float64(last)
	i := min(int(x), last-1)
	return c.solids[i] + (x-float64(i))*(c.solids[i+1]-c.solids[i])
}

// Mass returns how much beverage is out, in grams, so many seconds from pump on.
func (c Curve) Mass(seconds float64) float64 { return c.within(c.flow.mass(seconds)) }

// Time returns when so many grams of beverage are out, in seconds from pump on.
func (c Curve) Time(grams float64) float64 {
	if !(c.yield > 0) {
		return 0
	}
	return c.flow.time(c.within(grams))
}
