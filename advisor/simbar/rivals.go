package simbar

import (
	"math"
	"strings"
)

// A rule is a rule of thumb: it follows the clock into the window and then the
// taste, or keeps after so many shots in a row inside it.
type rule struct {
	table  Table
	inARow int // 0: by taste
	asked  int // the shot last asked about
	far    func(r *rule, shots []Shot, miss float64) float64
	small  func(r *rule) float64 // steps of a move by taste
}

// OneNotch moves one step towards the window, then one step by taste.
func OneNotch() Player { return &rule{far: oneStep, small: one} }

// Graded moves half a dial unit's worth, double that beyond 6 s and again beyond
// 10 s, then half a unit by taste. A step is the least it moves.
func Graded() Player { return &rule{far: gradedSteps, small: halfUnit} }

// Proportional moves a step for each 3 s missed, then one step by taste.
func Proportional() Player { return &rule{far: proportionalSteps, small: one} }

// Secant takes the seconds a step is worth from the last two settings, within
// 0.3 and 15 s, and 3 s before there are two; then one step by taste.
func Secant() Player { return &rule{far: secantSteps, small: one} }

// OneNotchInARow is OneNotch, but keeps after n shots in a row inside the window
// whatever their taste.
func OneNotchInARow(n int) Player { return &rule{far: oneStep, small: one, inARow: n} }

// GradedInARow is Graded, but keeps after n shots in a row inside the window
// whatever their taste.
func GradedInARow(n int) Player { return &rule{far: gradedSteps, small: halfUnit, inARow: n} }

func one(*rule) float64 { return 1 }

func halfUnit(r *rule) float64 {
	if !r.table.Dial.Numbered {
		return 1
	}
	return max(1, math.Round(0.5/r.table.Dial.Step))
}

func oneStep(*rule, []Shot, float64) float64 { return 1 }

func gradedSteps(r *rule, _ []Shot, miss float64) float64 {
	units := 0.5
	if miss > 6 {
		units *= 2
	}
	if miss > 10 {
		units *= 2
	}
	if !r.table.Dial.Numbered {
		return 2 * units
	}
	return units / r.table.Dial.Step
}

func proportionalSteps(_ *rule, _ []Shot, miss float64) float64 { return miss / 3 }

func secantSteps(r *rule, shots []Shot, miss float64) float64 {
	last := shots[len(shots)-1]
	for i := len(shots) - 2; i >= 0; i-- {
		if steps := r.table.Dial.Steps(shots[i].Set.Grind, last.Set.Grind); steps != 0 {
			worth := (seconds(last) - seconds(shots[i])) / steps
			return miss / min(max(worth, 0.3), 15)
		}
	}
	return miss / 3
}

// seconds returns a shot's time; one that was given up takes a minute at least.
func seconds(s Shot) float64 {
	if s.Choked {
		return max(60, s.Time)
	}
	return s.Time
}

// Start implements Player.
func (r *rule) Start(t Table) { r.table, r.asked = t, 0 }

// Next implements Player.
func (r *rule) Next(shots []Shot) Move {
	last := shots[len(shots)-1]
	if !r.inside(last) {
		miss := seconds(last) - r.table.Recipe.Middle()
		steps := max(1, math.Round(r.far(r, shots, math.Abs(miss))))
		return r.table.turn(last, math.Copysign(steps, -miss))
	}
	if r.inARow > 0 {
		return Move{Keep: r.row(shots) >= r.inARow, Setting: same(last)}
	}
	if len(last.Tastings) == 0 {
		// Once: who still says nothing will not answer; the shot is pulled again.
		ask := r.asked != last.Number
		r.asked = last.Number
		return Move{Ask: ask, Setting: same(last)}
	}
	return r.byTaste(last)
}

// byTaste answers a shot inside the window.
func (r *rule) byTaste(last Shot) Move {
	switch h := hear(last); {
	case h.sour > h.bitter:
		return r.table.turn(last, r.small(r))
	case h.bitter > h.sour:
		return r.table.turn(last, -r.small(r))
	case h.sour > 0: // both: nobody can tell which way
		return Move{Setting: same(last)}
	case h.thin > 0:
		return pour(last, -2)
	case h.strong > 0:
		return pour(last, 2)
	}
	return Move{Keep: true, Setting: same(last)}
}

// inside reports whether a shot ran within the window.
func (r *rule) inside(s Shot) bool {
	return !s.Choked && r.table.Recipe.Low <= s.Time && s.Time <= r.table.Recipe.High
}

// row returns how many of the last shots, at one setting, ran inside.
func (r *rule) row(shots []Shot) int {
	last := shots[len(shots)-1]
	n := 0
	for i := len(shots) - 1; i >= 0 && r.inside(shots[i]) && shots[i].Set.Grind == last.Set.Grind; i-- {
		n++
	}
	return n
}

// turn turns the grinder by so many steps, + is finer, and purges it.
func (t Table) turn(last Shot, steps float64) Move {
	s := same(last)
	s.Grind = t.Dial.Turn(s.Grind, steps)
	s.Purge = s.Grind != last.Set.Grind
	return Move{Setting: s}
}

// same returns the setting of last, to be pulled again.
func same(last Shot) Setting {
	s := last.Set
	s.Purge = false
	return s
}

// pour changes the yield by so many g.
func pour(last Shot, by float64) Move {
	s := same(last)
	s.Yield += by
	return Move{Setting: s}
}

// heard is what was said of a shot: 1 is plain, 0.5 a bit, 2 very.
type heard struct {
	sour, bitter, thin, strong float64
	praise, uneven             bool
}

// hear reads the words of all tasters, the strongest of each.
func hear(s Shot) heard {
	h := heard{uneven: s.Spurted}
	for _, t := range s.Tastings {
		for _, word := range t.Words {
			h.word(word)
		}
	}
	return h
}

// word takes one word into h.
func (h *heard) word(word string) {
	degree := 1.0
	word, bit := strings.CutPrefix(word, "a bit ")
	if bit {
		degree = 0.5
	}
	word, very := strings.CutPrefix(word, "very ")
	if very {
		degree = 2
	}
	switch word {
	case "sour":
		h.sour = max(h.sour, degree)
	case "bitter", "dry":
		h.bitter = max(h.bitter, degree)
	case "thin":
		h.thin = max(h.thin, degree)
	case "strong":
		h.strong = max(h.strong, degree)
	case "uneven":
		h.uneven = true
	case "balanced", "sweet":
		h.praise = true
	}
}
