// Package ageing tells how the time of a coffee goes with its age: a straight line over
// the days since its roast or its bag.
package ageing

import (
	"math"

	"shothand/advisor/bar"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Trend is how a coffee's time goes with its age where nothing else has
// changed.
type Trend struct {
	Day   bar.Seconds // longer for each day, below 0 faster
	SD    bar.Seconds // its standard error
	Shots int
	Free  int         // days that the slope and the levels of the settings do not use up
	Mean  bar.Seconds // of the days
}

// enough is how many days must be left to speak of ageing: one setting on
// four days, say. Assumed. No study has measured it, so only a bar's own shots
// count.
const enough = 2

// Known reports whether there are days enough to speak of a trend.
func (t Trend) Known() bool { return t.Free >= enough }

// Shows reports whether a trend is more than what chance does one time in
// twenty, by Student's t.
func (t Trend) Shows() bool {
	return t.Known() && math.Abs(float64(t.Day)) > float64(t.SD)*distuv.StudentsT{Sigma: 1, Nu: float64(t.Free)}.Quantile(0.975)
}

// share is the share of its time by which a coffee must run faster each
// day to be flagged in the morning. Assumed.
const share = 0.015

// RunsOld reports whether the coffee runs so much faster each day that it will
// not be right where it stood yesterday.
func (t Trend) RunsOld() bool { return t.Shows() && t.Day < -share*t.Mean }

// A Day is the mean time of a day's shots at one setting. Shots of one day
// share that day's level, so the day counts, not the shot.
type Day struct {
	Day     bar.Day
	Seconds float64
	Shots   int
}

// Of returns how the times of a coffee go with its age: the common slope of the
// lines through the means of days, one line a setting.
func Of(settings [][]Day) Trend {
	var t Trend
	var xx, xy, yy float64
	days := 0
	for _, at := range settings {
		if len(at) < 2 {
			continue
		}
		var x, y []float64
		for _, d := range at {
			age, ok := d.Day.Since(at[0].Day)
			if !ok {
				continue
			}
			x, y = append(x, float64(age)), append(y, d.Seconds)
			t.Shots += d.Shots
			t.Mean += bar.Seconds(d.Seconds)
		}
		days += len(x)
		t.Free += len(x) - 1
		sxx, sxy, syy := moments(x, y)
		xx, xy, yy = xx+sxx, xy+sxy, yy+syy
	}
	t.Free--
	if !t.Known() || !(xx > 0) {
		return Trend{Shots: t.Shots}
	}
	slope := xy / xx
	t.Day, t.Mean = bar.Seconds(slope), t.Mean/bar.Seconds(days)
	t.SD = bar.Seconds(math.Sqrt(max(0, yy-slope*xy) / float64(t.Free) / xx))
	return t
}

// moments returns the sums of squares and products about the means.
func moments(x, y []float64) (xx, xy, yy float64) {
	n := float64(len(x))
	var mx, my float64
	for i := range x {
		mx, my = mx+x[i]/n, my+y[i]/n
	}
	for i := range x {
		xx, xy, yy = xx+(x[i]-mx)*(x[i]-mx), xy+(x[i]-mx)*(y[i]-my), yy+(y[i]-my)*(y[i]-my)
	}
	return xx, xy, yy
}
