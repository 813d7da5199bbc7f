package review

import (
	"math"

	"shothand/advisor"
	"shothand/advisor/bar"
)

// A Record is how good the advice itself was.
type Record struct {
	Said     int // advices that a shot came after
	Followed int // of them
	Keeps    int // "keep" that two shots or more came after, unchanged, the same day
	Wrong    int // of those, what the shots after spoke against
	Bins     []Bin
}

// A Bin is the advices whose foretold times missed by so many of the widths
// that were foretold: how good the intervals are at every level.
type Bin struct {
	Level float64 // the share of shots that should lie within
	Share float64 // that did
	N     int
}

// levels are the levels at which intervals are held to the shots.
func levels() []float64 { return []float64{0.5, 0.8, 0.9, 0.95} }

// add takes a course into r.
func (r *Record) add(c Course, span Span) {
	for _, p := range c.pairs(span) {
		r.Said++
		if !c.followed(p) {
			continue
		}
		r.Followed++
		if p.said.Lever == bar.Keep {
			r.kept(c, p)
		}
	}
	r.calibrate(c, span)
}

// off is how many seconds outside its window a shot has to be to speak against
// a "keep": two single shots differ by as much.
const off = 2

// kept judges a "keep" by the two shots after it: both outside the window by
// more than two seconds to the same side, or both complained of.
func (r *Record) kept(c Course, p pair) {
	var after []advisor.TrailShot
	for _, s := range c.Trail.Steps {
		if s.Entry.At.After(p.before.Entry.At) && s.Entry.Day == p.before.Entry.Day {
			if s.Moved || len(after) == 2 {
				break
			}
			after = append(after, s)
		}
	}
	if len(after) < 2 {
		return
	}
	r.Keeps++
	a, b := outside(c.Coffee.Recipe, after[0]), outside(c.Coffee.Recipe, after[1])
	if a*b > 0 || c.complained(after[0]) && c.complained(after[1]) {
		r.Wrong++
	}
}

// outside returns −1 for a shot short of the window, +1 for one over it.
func outside(w bar.Recipe, s advisor.TrailShot) int {
	switch x := s.Shot.Time.X; {
	case s.Shot.Time.From == bar.None || s.Read.Praise > 0:
	case x < w.Low-off:
		return -1
	case x > w.High+off:
		return 1
	}
	return 0
}

// complained reports whether anything was held against a cup, and nobody praised it.
func (c Course) complained(s advisor.TrailShot) bool {
	return blamed(c.Coffee, s.Shot, s.Read) && !(s.Read.Praise > 0)
}

// calibrate holds the times believed before each shot against the shots.
func (r *Record) calibrate(c Course, span Span) {
	if r.Bins == nil {
		for _, l := range levels() {
			r.Bins = append(r.Bins, Bin{Level: l})
		}
	}
	for _, s := range c.in(span) {
		if !counts(s) || s.Shot.Time.From == bar.None || !(s.Foretold.Mid > 0) {
			continue
		}
		z := math.Abs(math.Log(float64(s.Shot.Time.X)/s.Foretold.Mid)) / (math.Log(s.Foretold.High/s.Foretold.Low) / (2 * 1.6449))
		for i := range r.Bins {
			b := &r.Bins[i]
			b.N++
			if z <= math.Sqrt2*math.Erfinv(b.Level) {
				b.Share += (1 - b.Share) / float64(b.N)
			} else {
				b.Share -= b.Share / float64(b.N)
			}
		}
	}
}

// Held returns how many of 100 shots took the time that was believed of them,
// where so many should have, and of how many shots.
func (r Record) Held() (share, level float64, shots int) {
	for _, b := range r.Bins {
		if b.Level == 0.8 {
			return b.Share, b.Level, b.N
		}
	}
	return 0, 0, 0
}
