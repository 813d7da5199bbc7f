package parse

import (
	"math"
	"slices"
	"strings"

	"shothand/advisor/bar"
)

// What the numbers of a dial say of a move, where it is known to stand.

// fromTo reads "5.2 -> 4.9" alone, with the name of the grinder or the coffee before or
// behind it. Two whole numbers may be in and out, but where the dial is known to stand there.
func (s *sheet) fromTo() (Set, bool) {
	i := s.pastSmall(0)
	arrow := s.skip(i+1, "-", ">", "→")
	from, to := s.at(i), s.at(arrow)
	if arrow == i+1 || from.num.form != plainForm || to.num.form != plainForm || s.pastSmall(arrow+1) != len(s.tokens) || from.num.vals[0] < 0 {
		return Set{}, false
	}
	if at, known := s.stands(); !(known && at == first(from.num)) &&
		(!strings.ContainsAny(from.text+to.text, ".,") || first(to.num) >= leastLengthening*first(from.num)) {
		return Set{}, false
	}
	g := s.readDial(arrow, 1)
	g.Said = true
	return Set{Grind: g, Weak: true, Coffee: s.shot.Coffee, Grinder: s.shot.Grinder}, true
}

// pastSmall returns the first token from i on that is no name and no small word beside a move.
func (s *sheet) pastSmall(i int) int {
	for i < len(s.tokens) && (s.used[i] || s.tokens[i].kind == wordToken && s.saysNothingHere(s.tokens[i]) || s.tokens[i].is(grinderWords()...)) {
		i++
	}
	return i
}

// stands returns where the grinder that is named, or whose coffee is, is known to stand.
func (s *sheet) stands() (float64, bool) {
	at, ok := s.vocab.Stands[s.grinderMeant()]
	return at, ok
}

// grinderMeant is the one that is named, or whose coffee is, or 0.
func (s *sheet) grinderMeant() bar.GrinderID {
	if s.shot.Grinder != 0 {
		return s.shot.Grinder
	}
	return s.vocab.Recipes[s.shot.Coffee].Grinder
}

// onTheNumbers makes a place of a move up or down the numbers of a dial, "down .1", "+1",
// where it is known to stand. How far steps up or down go, "down a click", the grinder knows.
func (s *sheet) onTheNumbers(set Set) Set {
	g := set.Grind
	by := math.Abs(g.X)
	way, signed := s.numbersWay(g)
	if g.Back && !signed && !slices.ContainsFunc(s.tokens, isLittle) {
		set.Grind.Up = way
	}
	at, known := s.stands()
	part := by < 1 && by*2 != math.Trunc(by*2)
	switch step := s.vocab.Steps[s.grinderMeant()]; {
	case way == 0 || by == 0 || !part && !signed:
		return set
	case !known || by == math.Trunc(by) && step < 1: // a whole number may count steps
		set.Grind = Grind{Said: true, Relative: true, Odd: true, Back: true, Up: set.Grind.Up, X: by, Text: g.Text}
		return set
	}
	x := math.Round((at+way*by)*1e6) / 1e6
	set.Grind = Grind{Said: true, X: x, Text: digitsOf(x)}
	return set
}

// numbersWay is 1 where a move is up the numbers of a dial, -1 where it is down, 0 where it is
// of something else or nobody said; and whether a sign says so.
func (s *sheet) numbersWay(g Grind) (way float64, signed bool) {
	if !g.Relative && g.X < 0 { // "left -0.2"
		return -1, true
	}
	if !g.Back {
		return 0, false
	}
	for i, t := range s.tokens {
		switch signed := s.isNumber(i+1) && i > 0 && s.tokens[i-1].kind != numberToken; {
		case t.is(backs()...):
			return 0, false
		case t.is("+") && signed, t.kind == noiseToken && t.start > 0 && s.text[t.start-1] == '+':
			return 1, true
		case t.is("-") && signed:
			return -1, true
		case t.is(ups()...), t.is(raisings()...), t.is(climbsUp()...):
			way++
		case t.is(downs()...), t.is(lowerings()...), t.is(climbsDown()...):
			way--
		}
	}
	return max(-1, min(1, way)), false
}

// isHour reports whether where a dial of whole steps is said to stand is an hour of the day:
// "tide at 19.30".
func (s *sheet) isHour(g Grind) bool {
	hour, minute, two := strings.Cut(g.Text, ".")
	step := s.vocab.Steps[s.grinderMeant()]
	return two && !g.Relative && len(minute) == 2 && number(hour) < 24 && number(minute) < 60 && step >= 1 && step == math.Trunc(step)
}
