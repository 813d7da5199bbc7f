package parse

import "math"

// backBy takes a move that names no direction but back, "went back one", "back two
// clicks". Where the dial came from, the bar's book knows.
func (s *sheet) backBy(i int, moved bool) int {
	if !s.at(i).is("back", "zurück", "indietro", "atrás", "arrière", "trás", "terug") || s.shot.Grind.Said {
		return 0
	}
	j := s.skip(i+1, "by", "um", "di", "de", "d'un", "a")
	x, n := countOf(s.at(j)), 1
	if a := s.amount(j); a.n > 0 && !a.vague {
		x, n = a.x, a.n
	}
	end := s.skip(j+n, stepWords()...)
	counted := end > j+n
	if x <= 0 || x > 9 || !moved && !counted || directionOf(s.at(end)) != 0 {
		return 0
	}
	s.setGrind(Grind{Relative: true, Odd: true, Back: true, X: x, Text: s.text[s.tokens[i].start:s.tokens[end-1].end()]})
	return end - i
}

// upOrDown reads "up one" and "down two clicks" alone. Which way that is, of the
// numbers or of the grind, has to be asked.
func (s *sheet) upOrDown() (g Grind, ok bool) {
	i := 0
	for s.used != nil && i < len(s.used) && s.used[i] {
		i++
	}
	i = s.skip(i, "i", "went", "gone", "moved", "turned", "turn", "it", "the", "grinder", "dial", ",", ":")
	if !s.at(i).is("up", "down") {
		return g, false
	}
	j := s.skip(i+1, "by")
	x, n := countOf(s.at(j)), 1
	if a := s.amount(j); a.n > 0 && !a.vague {
		x, n = a.x, a.n
	}
	end := s.skip(j+n, stepWords()...)
	if x <= 0 || x > 9 || x != math.Trunc(x) || s.skip(end, ".", "!") != len(s.tokens) {
		return g, false
	}
	return Grind{Said: true, Relative: true, Odd: true, Back: true, X: x, Text: s.text[s.tokens[i].start:s.tokens[end-1].end()]}, true
}
