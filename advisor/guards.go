package advisor

import (
	"math"
	"slices"
)

// guarded returns the moves that every guard lets pass, and that the crew may
// make where it may make any.
func (s *situation) guarded(moves []move) []move {
	return slices.DeleteFunc(slices.Clone(moves), func(m move) bool {
		for _, guard := range s.guards() {
			if !guard(s, m) {
				return true
			}
		}
		return false
	})
}

// unevenSteps is how far the grind goes at most after a bed that ran unevenly.
const unevenSteps = 2

// A guard reports whether a move may be made at all. Guards bound; they never
// choose.
type guard func(*situation, move) bool

func (s *situation) guards() []guard {
	return []guard{notAgainstTheCup, notFromPraise, notPastTheWindow, betweenRefused}
}

// notAgainstTheCup: sour, in or below the window or with no time known, is never
// answered coarser or shorter; bitter, in or above it, never finer, and never
// longer unless it was strong too; weak is not made longer, nor coarser unless it
// was bitter too; strong not shorter, nor finer unless it was sour too. A bed that
// ran unevenly in or above the window is never answered finer, and never by the
// yield or the dose.
func notAgainstTheCup(s *situation, m move) bool {
	coarser, finer := m.steps < s.here.steps, m.steps > s.here.steps
	longer, shorter := m.yield > s.here.yield, m.yield < s.here.yield
	low, high := !s.timed() || !s.slow(), !s.timed() || !s.fast()
	switch {
	case s.last.uneven():
		away := finer && high || coarser && s.timed() && s.fast()
		return math.Abs(m.steps-s.here.steps) <= unevenSteps && !away && !longer && !shorter && m.dose == s.here.dose
	case s.sour() && low && (coarser || shorter):
		return false
	case s.bitter() && (high && finer || longer && !s.strong()):
		return false
	case s.weak() && (longer || coarser && !s.bitter()), s.strong() && (shorter || finer && !s.sour()):
		return false
	case !s.complained() && s.timed() && (s.fast() && coarser || s.slow() && finer):
		return false // nobody asked for it
	}
	return true
}

// notFromPraise: a praised cup in the window is never moved, nor one that nobody holds
// anything against the first time, nor are two praised in a row that were pulled
// alike; and praise outside the window never moves further away.
func notFromPraise(s *situation, m move) bool {
	prev, ok := s.earlier()
	again := ok && s.sameSetting(prev)
	switch {
	case s.praised() && (s.inside() || again && s.praisedCup(prev)):
		return false
	case s.praised():
		return s.timed() && (s.fast() && m.time >= s.here.time || s.slow() && m.time <= s.here.time)
	}
	return !s.liked() || !s.inside() || again && prev.reading.Tasted
}

// notPastTheWindow: no move is expected to end more than three seconds outside the
// window, further out than here, unless two cups that agree have said so.
func notPastTheWindow(s *situation, m move) bool {
	r := s.coffee.Recipe
	t := math.Exp(m.time)
	out := t < float64(r.Low)-pastWindow && m.time < s.here.time || t > float64(r.High)+pastWindow && m.time > s.here.time
	if !out {
		return true
	}
	under, over := s.agreed()
	return under && m.time > s.here.time || over && m.time < s.here.time
}

// agreed reports whether the last two tasted cups of today were both said to want
// more time in the bed, being under-extracted or weak, or both less.
func (s *situation) agreed() (under, over bool) {
	n, u, o := 0, 0, 0
	for _, p := range slices.Backward(s.today) {
		if !p.reading.Tasted || p.uneven() {
			continue
		}
		switch {
		case s.under(p), p.reading.Weak && !s.over(p):
			u++
		case s.over(p), s.heavy(p):
			o++
		}
		if n++; n == 2 {
			break
		}
	}
	return u == 2, o == 2
}

// betweenRefused: between a setting refused as sour and a finer one refused as
// bitter, or at which the bed ran unevenly a second time, the grind stays between
// them, and goes back to neither, until something happens.
func betweenRefused(s *situation, m move) bool {
	if m.steps == s.here.steps {
		return true
	}
	sour, bitter, finest := math.Inf(-1), math.Inf(1), math.Inf(1)
	for _, p := range s.pulls[min(s.opened, len(s.pulls)):] {
		if p.uneven() && p.Day == s.last.Day {
			if p.grind >= finest { // the second one so fine
				bitter = min(bitter, p.grind)
			}
			finest = min(finest, p.grind)
			continue
		}
		if p.Day != s.last.Day || !p.reading.Tasted || math.Abs(logRatio(p.shot.Yield, s.here.yield)) >= sameYield {
			continue
		}
		switch {
		case s.under(p):
			sour = max(sour, p.grind)
		case s.over(p):
			bitter = min(bitter, p.grind)
		}
	}
	if sour >= bitter || math.IsInf(sour, 0) || math.IsInf(bitter, 0) {
		return true
	}
	return sour+rounding < m.steps && m.steps < bitter-rounding
}
