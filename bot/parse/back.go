package parse

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
