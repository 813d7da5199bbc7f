package flow

import "math"

// The grid. Points of the slope are spaced evenly in its logarithm over what a
// step can be worth, 0.3 to 10 s of a shot of 28 s.
const (
	slopes     = 24
	retentions = 5
	cells      = slopes * retentions

	slopeLow  = 0.15 / 28
	slopeHigh = Steepest
)

// Steepest is the most a step is worth, in log time: 10 s of a shot of 28 s.
const Steepest = 10.0 / 28

// A Prior is what is believed before the first shot.
type Prior struct {
	Level, LevelSD float64 // log s, at the reference grind, dose and yield
	Slope, SlopeSD float64 // of log b, b in log time a step
	Dose, DoseSD   float64 // exponent c
	Yield, YieldSD float64 // exponent d
	Still          bool    // the level changes by itself only a little: nothing happens that nobody told
}

// Unknown is the prior of a grinder nobody has told anything of, for a coffee
// aimed at target seconds.
//
// Slope: a step is worth 0.3 to 10 s, and about 1.1 s more often than not
// (assumed). Exponents: 5 to 9 s of wetting before the first drip (Foster 2025
// finds the bed saturated at 6.7 s), and flow that speeds up as the bed
// extracts, make time grow less than in proportion to the yield; a deeper bed
// resists more and drinks more, so it grows more than in proportion to the
// dose. Level: the first shot of a coffee is off by a factor of 1.5 (assumed).
func Unknown(target float64) Prior {
	return Prior{
		Level: math.Log(target), LevelSD: 0.45,
		Slope: math.Log(1.1 / 28), SlopeSD: 1.0,
		Dose: 1.5, DoseSD: 0.5,
		Yield: 0.75, YieldSD: 0.15,
	}
}

// Worth returns p with the slope that a bar's word gives: one step changes a
// shot of target seconds by worth seconds, give or take a third.
func (p Prior) Worth(worth, target float64) Prior {
	b := min(max(worth/target, slopeLow), slopeHigh)
	p.Slope, p.SlopeSD = math.Log(b), 0.35
	return p
}

// wholeDial is what a dial is worth from end to end, in log time: from a gusher of
// 3 s to a shot of 160 s. Assumed.
const wholeDial = 4.0

// Over returns p with the slope of a dial of so many steps: the fewer there are, the
// more each is worth, give or take a factor of 2.2.
func (p Prior) Over(steps float64) Prior {
	p.Slope, p.SlopeSD = math.Log(min(max(wholeDial/steps, slopeLow), slopeHigh)), 0.8
	return p
}

// slopeAt returns grid point i of the slope, in log time a step.
func slopeAt(i int) float64 {
	return slopeLow * math.Pow(slopeHigh/slopeLow, float64(i)/(slopes-1))
}

// retentionAt returns grid point i of the share of old grounds in the dose
// after a change without a purge: 0 to 0.6. A well-mixed hold-up of 0 to 8 g
// under a dose of 18 g makes 0 to 0.4.
func retentionAt(i int) float64 { return 0.15 * float64(i) }

// weight returns the prior weight of a cell, not normalised.
func (p Prior) weight(slope, retention int) float64 {
	z := (math.Log(slopeAt(slope)) - p.Slope) / p.SlopeSD
	return math.Exp(-0.5*z*z) * [retentions]float64{0.24, 0.24, 0.22, 0.17, 0.13}[retention]
}

// hold returns how many grams of grounds a grinder holds back, well mixed, if
// a share of old grounds makes up the next dose: share = (R/D)·(1-exp(-D/R)).
func hold(share, dose float64) float64 {
	if !(share > 0) {
		return 0
	}
	low, high := 0.0, 1e3*dose
	for range 60 { // the share grows with R
		mid := (low + high) / 2
		if shareOf(mid, dose) < share {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// shareOf returns the share of old grounds in a dose from a grinder that holds
// back held grams: φ = (R/D)·(1-exp(-D/R)).
func shareOf(held, dose float64) float64 {
	if !(held > 0) {
		return 0
	}
	return held / dose * -math.Expm1(-dose/held)
}
