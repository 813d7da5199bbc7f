package advisor

import (
	"math"
	"time"

	"shothand/advisor/bar"
)

// Chances are how likely a cup of a coffee is right by how long it ran, at the
// recipe's dose and the yield that is meant: that it is within a taste step of the
// best and its bed held, by all that was said of its cups.
type Chances struct {
	Curve []Chance // second by second
	Shots []Timed  // the last ones, oldest first
}

// A Chance is how likely a cup of that time is right.
type Chance struct {
	Time  bar.Seconds
	Right float64
}

// A Timed is a shot that was timed, and what was said of it.
type Timed struct {
	Time          bar.Seconds // at the recipe's dose and yield
	Liked, Blamed bool        // neither where nobody said anything
}

// What chances show.
const (
	chancesFrom = 10 // s
	chancesTo   = 60
	lastTimed   = 8 // shots
)

// Chances returns them, or none for a coffee that is not known.
func (m *Memory) Chances(h bar.History, id bar.CoffeeID, now time.Time) Chances {
	r, ok := m.replay(h, id, now)
	if !ok {
		return Chances{}
	}
	var c Chances
	curve := r.likely(r.yieldUsed(), r.coffee.Recipe.Dose)
	for t := chancesFrom; t <= chancesTo; t++ {
		c.Curve = append(c.Curve, Chance{bar.Seconds(t), curve.At(math.Log(float64(t)) - middle(r.coffee.Recipe))})
	}
	for _, p := range r.pulls {
		if math.IsNaN(p.time) || choked(p.shot, r.coffee.Recipe) {
			continue
		}
		blamed := r.blamed(p)
		c.Shots = append(c.Shots, Timed{bar.Seconds(p.time), p.reading.Tasted && !blamed, p.reading.Tasted && blamed})
	}
	c.Shots = c.Shots[max(0, len(c.Shots)-lastTimed):]
	return c
}
