package layers

import (
	"math"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
)

// An Estimate is what is expected, and the ends of the range that four cups in
// five should be in.
type Estimate struct{ X, Low, High float64 }

// Outside reports whether x is not in the range.
func (e Estimate) Outside(x float64) bool { return !(e.Low <= x && x <= e.High) }

// An Expected is what a cup should hold.
type Expected struct {
	Mass  float64  // g
	Share Estimate // % of the shot's solids
	TDS   Estimate // %
	EY    Estimate // % of the dose
}

// What is not known of a coffee and of one split of it, as standard deviations
// of logarithms. That of solubles and of their rate is package extraction's;
// that of a cup is assumed: a whole cup's solids scatter by 2.5 % (Schmieder
// 2023), a cut's strength at a set time by 22 to 37 % (Waszkiewicz), of which
// weighing the cup takes away what the flow did.
const (
	solublesSpread = 0.10
	rateSpread     = 0.50
	cutSpread      = 0.08
	filterSpread   = 0.25   // of a cut of a pour-over, which hands pour and no study divides
	inFourOfFive   = 1.2816 // standard deviations to either side, standard normal
)

// Expect returns what cups of so many grams, caught one after the other from
// the beginning of a brew, should hold. It is an error of package extraction
// if b is no brew.
func Expect(m bar.Method, b extraction.Brew, masses [Cups]float64) ([Cups]Expected, error) {
	var all [Cups]Expected
	middle, err := hold(params(m), b, masses)
	if err != nil {
		return all, err
	}
	cut := cutSpread
	if m == bar.PourOver {
		cut = filterSpread
	}
	// How much what a cup holds changes with each thing that is not known.
	solubles, rate := params(m), params(m)
	solubles.Fast *= math.Exp(solublesSpread)
	solubles.Slow *= math.Exp(solublesSpread)
	rate.SlowRate *= math.Exp(rateSpread)
	bySolubles, err := hold(solubles, b, masses)
	if err != nil {
		return all, err
	}
	byRate, err := hold(rate, b, masses)
	if err != nil {
		return all, err
	}
	for i := range all {
		of := func(value func(Held) float64) Estimate {
			x := value(middle[i])
			if !(x > 0) {
				return Estimate{}
			}
			spread := math.Hypot(cut, math.Hypot(math.Log(value(bySolubles[i])/x), math.Log(value(byRate[i])/x)))
			half := math.Exp(inFourOfFive * spread)
			return Estimate{X: x, Low: x / half, High: x * half}
		}
		all[i] = Expected{
			Mass:  middle[i].Mass,
			Share: of(func(h Held) float64 { return h.Share }),
			TDS:   of(func(h Held) float64 { return h.TDS }),
			EY:    of(func(h Held) float64 { return h.EY }),
		}
	}
	return all, nil
}

// hold returns what cups hold by the model.
func hold(p extraction.Params, b extraction.Brew, masses [Cups]float64) ([Cups]Held, error) {
	var all [Cups]Held
	total := 0.0
	for _, m := range masses {
		total += m
	}
	if total > b.Yield { // all that the cups caught came out of it
		longer, err := p.RunOn(b, total)
		if err != nil {
			return all, err
		}
		b = longer
	}
	c, err := p.Pour(b)
	if err != nil {
		return all, err
	}
	from, solids := 0.0, 0.0
	for i, m := range masses {
		cup := c.Cup(from, from+m)
		all[i] = Held{Mass: cup.Mass, Solids: cup.Solids, TDS: cup.TDS, EY: cup.EY}
		from, solids = from+m, solids+cup.Solids
	}
	for i := range all {
		all[i].Share = share(all[i].Solids, solids)
	}
	return all, nil
}

// At returns the strength in % and the extraction yield in % of the dose of a
// brew that is stopped at another yield in g.
func At(m bar.Method, b extraction.Brew, yield float64) (extraction.Cup, extraction.Brew, error) {
	p := params(m)
	on, err := p.RunOn(b, yield)
	if err != nil {
		return extraction.Cup{}, on, err
	}
	c, err := p.Pour(on)
	return c.Whole(), on, err
}
