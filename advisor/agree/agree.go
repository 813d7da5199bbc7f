// Package agree measures how well people agree who judge the same things:
// Krippendorff's alpha, for any number of judges who may leave things out.
//
//	alpha = 1 − D_observed / D_expected
//
// D_observed is the mean squared difference of two values of the same thing,
// D_expected that of any two values. Alpha is 1 where all agree and 0 where
// they agree as often as strangers would. Its interval is a jackknife over the
// things judged, not over the judges and not a bootstrap, which does poorly
// with few of them (Hughes, arXiv 2210.13265).
package agree

import (
	"math"
	"slices"
)

// A Metric is how far two values lie apart.
type Metric int

// The metrics.
const (
	Nominal  Metric = iota // the same or not
	Ordinal                // by how many values lie between
	Interval               // by their difference
	Ratio                  // by their difference over their sum
)

// Missing is the value of what somebody has not judged.
func Missing() float64 { return math.NaN() }

// Enough is how many things must have been judged by two people or more
// before alpha says anything; common practice, no source.
const Enough = 10

// An Agreement is alpha with the ends of its 95 % interval.
type Agreement struct {
	Alpha, Low, High float64
	Units            int // things that two or more have judged
}

// Alpha returns Krippendorff's alpha of values, which hold for each thing what
// each judge gave it, or [Missing]. It is false where alpha is not defined: if
// no thing was judged twice or nobody ever differed.
func Alpha(values [][]float64, m Metric) (float64, bool) {
	c := count(values)
	if c.pairable < 2 {
		return 0, false
	}
	observed, expected := 0.0, 0.0
	for i := range c.levels {
		for j := range i {
			d := c.squared(m, j, i)
			observed += 2 * c.together[i][j] * d
			expected += 2 * c.totals[i] * c.totals[j] * d
		}
	}
	expected /= c.pairable - 1
	if !(expected > 0) {
		return 0, false
	}
	return 1 - observed/expected, true
}

// Judge returns alpha of values with its interval. It is false where alpha is
// not defined or where fewer than [Enough] things were judged twice: too few to
// say.
func Judge(values [][]float64, m Metric) (Agreement, bool) {
	var units [][]float64
	for _, u := range values {
		if len(present(u)) > 1 {
			units = append(units, u)
		}
	}
	a := Agreement{Units: len(units)}
	alpha, ok := Alpha(units, m)
	if a.Alpha = alpha; !ok || len(units) < Enough {
		return a, false
	}
	half := halfWidth(units, m, alpha)
	a.Low, a.High = alpha-half, math.Min(1, alpha+half)
	return a, true
}

// halfWidth returns half of the 95 % interval of alpha by the jackknife.
func halfWidth(units [][]float64, m Metric, alpha float64) float64 {
	var pseudo []float64
	n := float64(len(units))
	for i := range units {
		without, ok := Alpha(slices.Concat(units[:i], units[i+1:]), m)
		if !ok {
			without = 1 // all that is left is alike
		}
		pseudo = append(pseudo, n*alpha-(n-1)*without)
	}
	mean, sum := 0.0, 0.0
	for _, x := range pseudo {
		mean += x / n
	}
	for _, x := range pseudo {
		sum += (x - mean) * (x - mean)
	}
	return 1.96 * math.Sqrt(sum/(n-1)/n)
}
