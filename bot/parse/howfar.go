package parse

import (
	"math"
	"strings"
)

// farAt takes how far the dial was moved: "two and a half clicks", "+2", "a few".
func (s *sheet) farAt(m *moving, i int) int {
	if m.x > 0 || m.vague {
		return 0
	}
	t := s.at(i)
	x, n := 0.0, 0
	switch {
	case t.kind == noiseToken && t.start > 0 && s.text[t.start-1] == '+' && digits(t.text) > 0:
		x, n, m.signed = decimal(strings.Replace(t.text, ",", ".", 1)), 1, true
	case t.is("+", "-") && s.isNumber(i+1) && s.at(i+1).num.form == plainForm && s.at(i-1).kind != numberToken:
		x, n, m.signed = math.Abs(first(s.at(i+1).num)), 2, true
	case t.kind == numberToken && t.num.form == plainForm && t.num.vals[0] > 0:
		x, n = t.num.vals[0], 1
	default:
		x, n = s.fewAt(m, i)
	}
	if n == 0 {
		return 0
	}
	if more := s.halves(i + n); more > 0 {
		x, n = x+0.5, n+more
	}
	end := s.skip(i+n, "of", "a", "more", "full", "whole", "di", "de")
	steps := s.skip(end, append(stepWords(), moreSteps()...)...)
	switch {
	case steps > end:
		m.counted, n = true, steps-i
	case s.at(end).is("number", "numbers", "turn", "turns", "mm", "zahl", "giro", "tour", "vuelta", "volta"):
		m.vague, n = true, end+1-i
	case x == 0 && !m.vague:
		return 0
	}
	m.x = x
	return n
}

// fewAt takes a number in words, and those that are none: "a few".
func (s *sheet) fewAt(m *moving, i int) (x float64, n int) {
	j := s.skip(i, "a", "about", "maybe", "like", "roughly", "ein", "eine", "einen", "um", "um", "un", "una", "uns")
	step := func(k int) bool { return s.at(k).is(stepWords()...) || s.at(k).is(moreSteps()...) }
	switch t := s.at(j); {
	case t.is("half", "mezzo", "mezza", "halben", "halbe", "halber", "demi", "medio", "media", "meio", "meia"):
		return 0.5, s.skip(j+1, "a") - i
	case t.is("quarter", "viertel"):
		m.vague = true
		return 0, s.skip(j+1, "of", "a") - i
	case t.is("couple", "pair", "par"), t.is("paio"):
		return 2, j + 1 - i
	case t.is("few", "several", "some", "lot", "lots", "bunch", "loads", "much", "way", "paar", "qualche", "quelques", "algunos", "unos", "alguns", "viel", "molto", "mucho", "beaucoup", "muito") && (j > i || step(j+1) || isWay(s.at(j+1))):
		m.vague = true
		return 0, j + 1 - i
	case countOf(t) > 0 && (i == j):
		return countOf(t), j + 1 - i
	case t.is("full", "whole", "single") && (step(j+1) || s.at(j+1).is("number", "turn")):
		return 1, j + 1 - i
	}
	if j > i && (step(j) || countOf(s.at(i)) > 0 && isWay(s.at(s.skip(j, mores()...)))) {
		return 1, j - i
	}
	return 0, 0
}

// halves takes "and a half".
func (s *sheet) halves(i int) int {
	return s.phrase(i, "and a half") + s.phrase(i, "e mezzo") + s.phrase(i, "e mezza") + s.phrase(i, "y medio") + s.phrase(i, "et demi") + s.phrase(i, "e meio")
}
