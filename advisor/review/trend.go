package review

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Trend is which way the cost of mornings goes.
type Trend int

// The trends.
const (
	NoTrend Trend = iota // that can be told from chance
	Falling
	Rising
)

// trendOf returns which way the shots of a morning go from week to week, by
// least squares, where 9 in 10 of the interval is on one side.
func trendOf(list []Morning) Trend {
	if len(list) < Few {
		return NoTrend
	}
	var x, y []float64
	for _, m := range list {
		day, _ := m.Day.Since(list[0].Day)
		x, y = append(x, float64(day)/7), append(y, float64(m.Shots))
	}
	switch s := slope(x, y); {
	case s.High < 0:
		return Falling
	case s.Low > 0:
		return Rising
	}
	return NoTrend
}

// slope returns the slope of y over x by least squares.
func slope(x, y []float64) Estimate {
	n := float64(len(x))
	var mx, my, xx, xy, yy float64
	for i := range x {
		mx += x[i] / n
		my += y[i] / n
	}
	for i := range x {
		xx += (x[i] - mx) * (x[i] - mx)
		xy += (x[i] - mx) * (y[i] - my)
		yy += (y[i] - my) * (y[i] - my)
	}
	if n < 3 || !(xx > 0) {
		return Estimate{N: len(x), Low: math.Inf(-1), High: math.Inf(1)}
	}
	b := xy / xx
	half := distuv.StudentsT{Sigma: 1, Nu: n - 2}.Quantile(0.95) * math.Sqrt(max(yy-b*xy, 0)/(n-2)/xx)
	return Estimate{Mid: b, Low: b - half, High: b + half, N: len(x)}
}
