package advisor_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"shothand/advisor/simbar"
)

// A figure is something to reach, and what was reached.
type figure struct {
	what          string
	got           float64
	reach, beyond float64 // NaN where there is none
	least         bool    // both are least values, not most
	format        string
}

// short is the verdict on a figure that misses what it has to reach.
const short = "short"

// verdict says how f stands.
func (f figure) verdict() string {
	switch {
	case f.good(f.beyond):
		return "beyond"
	case f.isShort():
		return short
	case math.IsNaN(f.reach):
		return "-"
	}
	return "met"
}

// is writes what was reached.
func (f figure) is() string {
	if math.IsInf(f.got, 1) {
		return "wrong more often"
	}
	return fmt.Sprintf(f.format, f.got)
}

// isShort reports whether f misses what it has to reach.
func (f figure) isShort() bool { return !math.IsNaN(f.reach) && !f.good(f.reach) }

// good reports whether f is at least as good as limit.
func (f figure) good(limit float64) bool {
	if f.least {
		return f.got >= limit
	}
	return f.got <= limit
}

// How figures are written.
const (
	inShots   = "%.0f"
	inPercent = "%.1f %%"
	inTimes   = "%.2f ×"
)

// none is no limit.
var none = math.NaN()

// figures returns what c reached of all there is to reach.
func (c *card) figures() []figure {
	return slices.Concat(c.familyFigures(byAdvisor), c.familyFigures(byShot), c.barFigures(), c.coverFigures())
}

// familyFigures returns those of the rows of the family, for the advisor with
// one way of telling the taste.
func (c *card) familyFigures(name string) []figure {
	var list []figure
	for _, r := range []struct {
		row                              simbar.Row
		median, p90, medianMore, p90More float64
	}{
		{simbar.Cold, 6, 8, 5, 7},
		{simbar.PurgedTold, 5, 7, 4, 6},
		{simbar.KnownGrinder, 3, 5, none, none},
		{simbar.NextMorning, 3, 4, 2, none},
	} {
		s := c.at(r.row, name)
		list = append(list,
			figure{what: fmt.Sprintf("%s: %s, median shots", name, r.row), got: s.Median, reach: r.median, beyond: r.medianMore, format: inShots},
			figure{what: fmt.Sprintf("%s: %s, p90", name, r.row), got: s.P90, reach: r.p90, beyond: r.p90More, format: inShots})
	}
	known := c.at(simbar.KnownGrinder, name)
	list = append(list,
		figure{what: name + ": known grinder, within 3 shots", got: 100 * known.Within3, reach: none, beyond: 80, least: true, format: inPercent},
		figure{what: name + ": wrong first keeps, worst base row", got: 100 * c.worst(baseRows(), name), reach: 5, beyond: 4, format: inPercent},
		figure{what: name + ": wrong first keeps, worst stress row", got: 100 * c.worst(simbar.StressRows(), name), reach: 12, beyond: 7, format: inPercent},
		figure{what: name + ": shots against graded, cold", got: c.againstGraded(simbar.Cold, name), reach: 0.65, beyond: 0.55, format: inTimes},
		figure{what: name + ": shots against graded, known grinder", got: c.againstGraded(simbar.KnownGrinder, name), reach: 0.40, beyond: 0.33, format: inTimes})
	return list
}

// againstGraded returns the advisor's mean shots against those of the graded
// steps that keep after three shots in a row inside, the fewest that bring its
// wrong keeps to about 5 %. It counts at equal wrong keeps: where the advisor
// keeps wrongly more often than its rival, no ratio stands for it.
func (c *card) againstGraded(row simbar.Row, name string) float64 {
	advised, rival := c.at(row, name), c.at(row, inARow)
	if advised.Wrong > rival.Wrong {
		return math.Inf(1)
	}
	return advised.Mean / rival.Mean
}

// worst returns the largest share of wrong first keeps in rows.
func (c *card) worst(rows []simbar.Row, name string) float64 {
	worst := 0.0
	for _, row := range rows {
		worst = max(worst, c.at(row, name).Wrong)
	}
	return worst
}

// baseRows returns the rows of the family that do not strain the filter.
func baseRows() []simbar.Row {
	return slices.DeleteFunc(simbar.FamilyRows(), func(r simbar.Row) bool { return slices.Contains(simbar.StressRows(), r) })
}

// barFigures returns those of the rows of bars.
func (c *card) barFigures() []figure {
	cost := func(l *line) float64 { return l.Cost }
	wrong := func(l *line) float64 { return l.Wrong }
	best := math.Inf(1)
	for _, rule := range thumbs() {
		best = min(best, c.overBars(rule.name, cost))
	}
	dials := c.at(simbar.ManyDials, byAdvisor)
	return []figure{
		{what: "bars: mean cost against the best rule of thumb", got: c.overBars(byAdvisor, cost) / best, reach: 0.60, beyond: 0.50, format: inTimes},
		{what: "bars: mean cost against a good habit", got: c.times(byAdvisor), reach: 1.0, beyond: 0.85, format: inTimes},
		{what: "bars: wrong keeps, mean of the rows", got: 100 * c.overBars(byAdvisor, wrong), reach: 6, beyond: 3, format: inPercent},
		{what: "bars: wrong keeps against the habit's", got: c.overBars(byAdvisor, wrong) / c.overBars(habit, wrong), reach: 1. / 3, beyond: none, format: inTimes},
		{what: "many dials: first moves that choke", got: 100 * dials.firstMoves, reach: 2, beyond: 0.5, format: inPercent},
	}
}

// overBars returns the mean over the rows of bars.
func (c *card) overBars(name string, of func(*line) float64) float64 {
	return meanOf(simbar.BarRows(), func(r simbar.Row) float64 { return of(c.at(r, name)) })
}

// times returns the mean cost of a player against the habit's.
func (c *card) times(name string) float64 {
	cost := func(l *line) float64 { return l.Cost }
	return c.overBars(name, cost) / c.overBars(habit, cost)
}

// doubt returns the standard error, over the bars of each row, of a player's mean
// cost less so many times the habit's on the same bars.
func (c *card) doubt(name string, times float64) float64 {
	sum := 0.0
	rows := simbar.BarRows()
	for _, row := range rows {
		own, beside := c.at(row, name), c.at(row, habit)
		var left []float64
		for i, r := range own.results {
			left = append(left, r.Cost()-times*beside.results[i].Cost())
		}
		mean := meanOf(left, func(x float64) float64 { return x })
		n := float64(len(left))
		sum += meanOf(left, func(x float64) float64 { return (x - mean) * (x - mean) }) / (n - 1)
	}
	return math.Sqrt(sum) / float64(len(rows))
}

// coverFigures returns how far the 90 % intervals of any shot were from what
// they say.
func (c *card) coverFigures() []figure {
	var list []figure
	add := func(where string, of *calibration, reaches bool) {
		low, high := 1.0, 0.0
		for _, f := range of[firstForetold:] {
			low, high = min(low, covered(f, 0.9)), max(high, covered(f, 0.9))
		}
		least := figure{what: "90 % intervals: least cover of a shot, " + where, got: 100 * low, reach: none, beyond: 87, least: true, format: inPercent}
		most := figure{what: "90 % intervals: most cover of a shot, " + where, got: 100 * high, reach: none, beyond: 95, format: inPercent}
		if reaches {
			least.reach, least.beyond = 87, none
			most.reach, most.beyond = 95, none
		}
		list = append(list, least, most)
	}
	add("base rows", c.base, true)
	add("8 % noise", c.noisy, false)
	return list
}

// How a figure stands, on and beside its limits.
func TestVerdict(t *testing.T) {
	for _, test := range []struct {
		figure
		want string
	}{
		{figure{got: 5, reach: 6, beyond: 5}, "beyond"},
		{figure{got: 6, reach: 6, beyond: 5}, "met"},
		{figure{got: 6.1, reach: 6, beyond: 5}, short},
		{figure{got: math.NaN(), reach: 6, beyond: 5}, short},
		{figure{got: math.Inf(1), reach: 0.65, beyond: none}, short},
		{figure{got: 87, reach: 87, beyond: none, least: true}, "met"},
		{figure{got: 86.9, reach: 87, beyond: none, least: true}, short},
		{figure{got: 79, reach: none, beyond: 80, least: true}, "-"},
		{figure{got: 80, reach: none, beyond: 80, least: true}, "beyond"},
	} {
		if got := test.verdict(); got != test.want {
			t.Errorf("%g, to reach %g and beyond %g: %s, want %s", test.got, test.reach, test.beyond, got, test.want)
		}
	}
}

// A list names figures, and why they are short.
func TestListedShorts(t *testing.T) {
	got := listedShorts("\na: b, median shots | because\nc\n")
	if !got["a: b, median shots"] || !got["c"] || got["because"] {
		t.Errorf("listed: %v", got)
	}
}
