package review

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// A Trend is whether mornings take other than those of the span before.
type Trend int

// The trends.
const (
	NoTrend Trend = iota // too few mornings to say
	Alike                // as far as can be told from chance
	Fewer                // shots
	More
)

// compared returns whether a morning takes fewer shots than one of the span before,
// where 9 in 10 of the interval of the difference is on one side.
func compared(now, before []Morning) Trend {
	if len(now) < Few || len(before) < Few {
		return NoTrend
	}
	switch d := difference(shotsOf(now), shotsOf(before)); {
	case d.High < 0:
		return Fewer
	case d.Low > 0:
		return More
	}
	return Alike
}

func shotsOf(list []Morning) (shots []float64) {
	for _, m := range list {
		shots = append(shots, float64(m.Shots))
	}
	return shots
}

// difference returns by how much the mean of x is above that of y, which may
// scatter otherwise: Welch's t, with the freedom of Satterthwaite,
//
//	s² = a + b,  a = s²x/nx,  b = s²y/ny,  freedom = (a + b)² / (a²/(nx − 1) + b²/(ny − 1))
func difference(x, y []float64) Estimate {
	mx, sx := stat.MeanVariance(x, nil)
	my, sy := stat.MeanVariance(y, nil)
	nx, ny := float64(len(x)), float64(len(y))
	a, b := sx/nx, sy/ny
	e := Estimate{Mid: mx - my, N: len(x) + len(y)}
	half := 0.0
	if a+b > 0 {
		freedom := (a + b) * (a + b) / (a*a/(nx-1) + b*b/(ny-1))
		half = distuv.StudentsT{Sigma: 1, Nu: freedom}.Quantile(0.95) * math.Sqrt(a+b)
	}
	e.Low, e.High = e.Mid-half, e.Mid+half
	return e
}
