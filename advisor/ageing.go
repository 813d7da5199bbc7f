package advisor

import (
	"math"
	"time"

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

// ageingFree is how many days must be left to speak of ageing: one setting on
// four days, say. Assumed. No study has measured it, so only a bar's own shots
// count.
const ageingFree = 2

// Known reports whether there are days enough to speak of a trend.
func (t Trend) Known() bool { return t.Free >= ageingFree }

// Shows reports whether a trend is more than what chance does one time in
// twenty, by Student's t.
func (t Trend) Shows() bool {
	return t.Known() && math.Abs(float64(t.Day)) > float64(t.SD)*distuv.StudentsT{Sigma: 1, Nu: float64(t.Free)}.Quantile(0.975)
}

// ageingShare is the share of its time by which a coffee must run faster each
// day to be flagged in the morning. Assumed.
const ageingShare = 0.015

// RunsOld reports whether the coffee runs so much faster each day that it will
// not be right where it stood yesterday.
func (t Trend) RunsOld() bool { return t.Shows() && t.Day < -ageingShare*t.Mean }

// A stand is a setting at which nothing else has changed: where the grinder
// stood, and in which stretch between two things that happened to the bar.
type stand struct {
	grind  float64
	opened int
	before bool // the roast date the coffee has now
}

// A dayMean is the mean time of a day's shots at one setting. Shots of one day
// share that day's level, so the day counts, not the shot.
type dayMean struct {
	day     bar.Day
	seconds float64
	shots   int
}

// AgeingOf returns how the times of a coffee go with its age, as of now.
func AgeingOf(h bar.History, id bar.CoffeeID, now time.Time) (t Trend) {
	if r, ok := (*Memory)(nil).replay(h, id, now); ok {
		t = r.ageing()
	}
	return t
}

// ageing returns how the coffee's times, at the recipe's dose and yield, go with
// its age: the common slope of the lines through the means of days, one line a
// setting.
func (r *replay) ageing() Trend {
	var t Trend
	var xx, xy, yy float64
	days := 0
	for _, at := range r.stands() {
		if len(at) < 2 {
			continue
		}
		var x, y []float64
		for _, d := range at {
			age, ok := d.day.Since(at[0].day)
			if !ok {
				continue
			}
			x, y = append(x, float64(age)), append(y, d.seconds)
			t.Shots += d.shots
			t.Mean += bar.Seconds(d.seconds)
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

// stands returns the means of the days at each setting, in their order.
func (r *replay) stands() [][]dayMean {
	by := map[stand]int{}
	var all [][]dayMean
	for _, p := range r.pulls {
		if math.IsNaN(p.time) || p.shot.Grinder != r.grinder.ID || !byRecipe(p.shot, r.coffee.Recipe) {
			continue
		}
		k := stand{p.grind, p.opened, p.Day < r.coffee.Roasted}
		i, ok := by[k]
		if !ok {
			i = len(all)
			by[k], all = i, append(all, nil)
		}
		n := len(all[i])
		if n == 0 || all[i][n-1].day != p.Day {
			all[i], n = append(all[i], dayMean{day: p.Day}), n+1
		}
		d := &all[i][n-1]
		d.shots++
		d.seconds += (p.time - d.seconds) / float64(d.shots)
	}
	return all
}

// moments returns the sums of squares and products about the means.
func moments(x, y []float64) (xx, xy, yy float64) {
	n := float64(len(x))
	var mx, my float64
	for i := range x {
		mx, my = mx+x[i]/n, my+y[i]/n
	}
	for i := range x {
		xx, xy, yy = xx+sq(x[i]-mx), xy+(x[i]-mx)*(y[i]-my), yy+sq(y[i]-my)
	}
	return xx, xy, yy
}

// byRecipe reports whether a shot was pulled by the recipe, so that its time can
// be laid beside others.
func byRecipe(s bar.Shot, r bar.Recipe) bool {
	const odd = bar.Practice | bar.Single | bar.Choked | bar.Stopped | bar.Spurted | bar.First | bar.NotPurged | bar.Unplaced
	return s.Marks&odd == 0 && s.Time.From == bar.Said && r.Yield > 0 &&
		math.Abs(float64(s.Dose.X-r.Dose)) <= 0.5 && math.Abs(float64(s.Yield.X/r.Yield-1)) <= 0.1
}
