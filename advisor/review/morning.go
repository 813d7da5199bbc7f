package review

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"shothand/advisor/bar"
)

// A Morning is what it cost to dial one coffee in on one day.
type Morning struct {
	Day     bar.Day
	Coffee  bar.CoffeeID
	Shots   int // to the one it was called dialled in by
	Grams   float64
	Minutes float64 // from the first shot to the call
}

// mornings returns the days of the span on which the coffee was called dialled
// in. Days without a call are not counted: nobody knows when they were done.
func (c Course) mornings(span Span, calls []bar.Entry) []Morning {
	called := map[bar.Day]bar.Entry{}
	for _, e := range calls {
		d, ok := e.What.(bar.Dialled)
		if _, before := called[e.Day]; ok && !before && d.Coffee == c.Coffee.ID && span.own(e) {
			called[e.Day] = e
		}
	}
	byDay := map[bar.Day]*Morning{}
	first := map[bar.Day]bar.Entry{}
	var days []bar.Day
	for _, s := range c.Trail.Steps {
		day := s.Entry.Day
		call, ok := called[day]
		if !ok || s.Entry.At.After(call.At) || s.Shot.Marks.Has(bar.Practice) {
			continue
		}
		m := byDay[day]
		if m == nil {
			m = &Morning{Day: day, Coffee: c.Coffee.ID}
			byDay[day], first[day] = m, s.Entry
			days = append(days, day)
		}
		m.Shots++
		m.Grams += float64(s.Shot.Dose.X)
		m.Minutes = call.At.Sub(first[day].At).Minutes()
	}
	var list []Morning
	for _, d := range days {
		list = append(list, *byDay[d])
	}
	return list
}

// A Trend is which way the cost of mornings goes.
type Trend int

// The trends.
const (
	NoTrend Trend = iota // that can be told from chance
	Falling
	Rising
)

// A Cost is what mornings cost.
type Cost struct {
	N                     int
	Shots, Grams, Minutes float64 // a morning, in the mean
	Most                  int     // shots of the dearest
	Slope                 Estimate
	Trend                 Trend
}

// cost returns what mornings cost, and the change in shots from one week to the
// next by least squares, with its 90 % interval.
func cost(list []Morning) Cost {
	c := Cost{N: len(list)}
	if c.N == 0 {
		return c
	}
	var x, y []float64
	for _, m := range list {
		c.Shots += float64(m.Shots) / float64(c.N)
		c.Grams += m.Grams / float64(c.N)
		c.Minutes += m.Minutes / float64(c.N)
		c.Most = max(c.Most, m.Shots)
		day, _ := m.Day.Since(list[0].Day)
		x, y = append(x, float64(day)/7), append(y, float64(m.Shots))
	}
	c.Slope = slope(x, y)
	switch {
	case c.N < Few:
	case c.Slope.High < 0:
		c.Trend = Falling
	case c.Slope.Low > 0:
		c.Trend = Rising
	}
	return c
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
