package simbar

import "math"

// A Table is what anybody who stands at the grinder can see.
type Table struct {
	Dial   Dial
	Recipe Recipe
	Start  Setting // where the grinder stands when the run begins

	Day         int  // 0 on the first day of the run
	SameGrinder bool // as in the run before
	SameCoffee  bool // as in the run before
	People      int  // numbered from 1
}

// A Dial is the scale of a grinder.
type Dial struct {
	Step     float64 // in dial units; 1 where there are no numbers
	Finer    float64 // the sign of a move that grinds finer: -1 or +1
	Numbered bool    // false: positions are steps from the start, + is finer
	Min, Max float64 // the ends, both 0 if nobody knows them
}

// Turn returns where the dial stands when it is turned from d by so many steps,
// + is finer, rounded to whole steps and kept within the ends.
func (d Dial) Turn(from, steps float64) float64 {
	to := math.Round((from+d.Finer*math.Round(steps)*d.Step)*1e6) / 1e6
	if d.Min < d.Max {
		to = min(max(to, d.Min), d.Max)
	}
	return to
}

// Steps returns how many steps finer than from the dial is at to.
func (d Dial) Steps(from, to float64) float64 { return (to - from) / d.Step * d.Finer }

// A Recipe is what the coffee is aimed at.
type Recipe struct {
	Dose, Yield float64 // g
	Low, High   float64 // s
	Soft        bool    // nobody typed the window
}

// Middle returns the middle of the window in s.
func (r Recipe) Middle() float64 { return (r.Low + r.High) / 2 }

// A Setting is what is ordered for a shot.
type Setting struct {
	Grind float64 // as on the dial
	Dose  float64 // g
	Yield float64 // g
	Purge bool    // asked for
	Care  bool    // a puck prepared with extra care
}

// A Shot is one shot as the bar reports it.
type Shot struct {
	Number int     // from 1
	Set    Setting // as ordered, moved to what dial and basket allow, or not done where Untold
	Grind  float64 // as read off the dial, which may be wrong
	Untold bool    // nobody read the dial: Grind is what was ordered
	Dose   float64 // g
	Yield  float64 // g, as ordered unless Weighed
	Time   float64 // s as the clock shows, or when somebody gave up on it

	Weighed bool
	Purge   Telling
	Choked  bool // given up: almost nothing came
	Spurted bool // seen to spurt or to run in streaks

	Person   int       // who pulled it, from 1
	Tastings []Tasting // none if nobody said anything
}

// A Telling is what was said about purging the grinder.
type Telling int

// What can be said of it.
const (
	Unsaid Telling = iota
	Purged
	NotPurged
)

// A Tasting is what one person said of a shot, in plain English: "sour", "very
// sour", "a bit thin", "balanced".
type Tasting struct {
	Person int // from 1
	Words  []string
}

// finite returns x, or other if x is no number to work with.
func finite(x, other float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return other
	}
	return x
}
