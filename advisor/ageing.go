package advisor

import (
	"math"
	"time"

	"shothand/advisor/ageing"
	"shothand/advisor/bar"
)

// AgeingOf returns how the times of a coffee go with its age, as of now.
func AgeingOf(h bar.History, id bar.CoffeeID, now time.Time) (t ageing.Trend) {
	if r, ok := (*Memory)(nil).replay(h, id, now); ok {
		t = ageing.Of(r.dayMeans())
	}
	return t
}

// A stand is a setting at which nothing else has changed: where the grinder
// stood, and in which stretch between two things that happened to the bar.
type stand struct {
	grind  float64
	opened int
	before bool // the roast date the coffee has now
}

// dayMeans returns the means of the days at each setting, in their order.
func (r *replay) dayMeans() [][]ageing.Day {
	by := map[stand]int{}
	var all [][]ageing.Day
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
		if n == 0 || all[i][n-1].Day != p.Day {
			all[i], n = append(all[i], ageing.Day{Day: p.Day}), n+1
		}
		d := &all[i][n-1]
		d.Shots++
		d.Seconds += (p.time - d.Seconds) / float64(d.Shots)
	}
	return all
}

// byRecipe reports whether a shot was pulled by the recipe, so that its time can
// be laid beside others.
func byRecipe(s bar.Shot, r bar.Recipe) bool {
	const odd = bar.Practice | bar.Single | bar.Choked | bar.Stopped | bar.Spurted | bar.First | bar.NotPurged | bar.Unplaced
	return s.Marks&odd == 0 && s.Time.From == bar.Said && r.Yield > 0 &&
		math.Abs(float64(s.Dose.X-r.Dose)) <= 0.5 && math.Abs(float64(s.Yield.X/r.Yield-1)) <= 0.1
}
