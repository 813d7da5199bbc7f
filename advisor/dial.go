package advisor

import (
	"math"

	"shothand/advisor/bar"
)

// onDial reports whether the grinder can be set to steps, in its own count. A
// dial whose ends nobody has told is not turned below 0 from above it.
func (r *replay) onDial(steps float64) bool {
	g, to := r.grinder, r.grinder.At(steps-r.shift)
	numbered := r.placed && g.Step > 0 && !(g.Max > g.Min)
	return g.Holds(to) && !(numbered && to < -1e-9 && g.At(r.set()-r.shift) >= 0)
}

// fromTo returns what m changes, in the unit people read it in.
func (r *replay) fromTo(m move) (from, to float64, unit Unit) {
	switch {
	case m.lever == bar.Dose:
		return float64(r.doseUsed()), float64(m.dose), GramUnit
	case m.lever == bar.Yield:
		return float64(r.yieldUsed()), float64(m.yield), GramUnit
	case r.placed && r.grinder.Step > 0 && r.grinder.Finer != bar.Unknown && !r.adrift():
		return r.reading(r.set()), r.reading(m.steps), DialUnit
	default:
		return 0, math.Round((m.steps-r.set())*100) / 100, StepUnit
	}
}

// adrift reports whether nobody knows where the dial stands since the last shot.
func (r *replay) adrift() bool {
	return len(r.pulls) > 0 && r.pulls[len(r.pulls)-1].shot.Marks.Has(bar.Unplaced)
}

// reading returns what the dial shows at steps, rid of the noise of arithmetic.
func (r *replay) reading(steps float64) float64 {
	return math.Round(float64(r.grinder.At(steps-r.shift))*1e6)/1e6 + 0
}
