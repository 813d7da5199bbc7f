package parse

// tightened takes a move of the dial that its verb tells, "tightened it by two", "ho
// stretto di due", "cierro dos puntos". How far "tightened the grinder" is has to be asked.
func (s *sheet) tightened(i int) int {
	sign, now := s.turnOf(s.at(i))
	j := s.skip(i+1, "it", "up", "by", "di", "de", "d", "'", "du", "il", "el", "le", "o", "the", "grinder", "macinino", "moulin", "molino", "moinho")
	x := max(countOf(s.at(j)), s.amount(j).x)
	if sign == 0 || s.shot.Grind.Said {
		return 0
	}
	if j > i+1 && s.at(j-1).is(grinderWords()...) && s.skip(j, ".", "!") == len(s.tokens) {
		s.setGrind(Grind{Relative: true, Odd: true, X: sign, Text: s.text[s.tokens[i].start:s.tokens[j-1].end()]})
		return j - i
	}
	if !(x > 0) || x > 9 {
		return 0
	}
	end := s.skip(j+max(1, s.amount(j).n), stepWords()...)
	if s.at(end).is("number", "numbers") { // of the dial, or steps
		s.setGrind(Grind{Relative: true, Odd: true, X: sign, Text: s.text[s.tokens[i].start:s.tokens[end].end()]})
		return end + 1 - i
	}
	counted := s.at(end - 1).is(stepWords()...)
	if s.at(i).is("opened", "closed") && !counted && !s.at(i+1).is("it", "the", "grinder") { // "opened by 7"
		return 0
	}
	if now && !counted && j == i+1 && !s.at(j).is("d'un") { // "apro 2 sacchi"
		return 0
	}
	s.setGrind(Grind{Relative: true, X: sign * x, Text: s.text[s.tokens[i].start:s.tokens[end-1].end()]})
	return end - i
}

// turnOf is 1 for a verb that says that the grinder was made finer, -1 for coarser,
// else 0, and whether it is being done. "Aperto" is opened in Italian and I tighten in
// Portuguese.
func (s *sheet) turnOf(t token) (sign float64, now bool) {
	switch {
	case t.is("aperto") && (s.vocab.Language == "pt" || s.vocab.Language != "it" && s.holds("dois", "duas", "um", "três", "ponto", "pontos", "clique", "cliques")):
		return 1, true
	case t.is("tightened", "nipped", "closed", "stretto", "chiuso", "serré", "resserré", "cerrado", "cerré", "apretado", "apreté", "apertado", "apertei", "fechado", "fechei"):
		return 1, false
	case t.is("loosened", "opened", "allargato", "aperto", "desserré", "ouvert", "abierto", "abrí", "aflojado", "aflojé", "aberto", "abri", "alargado", "alarguei"):
		return -1, false
	case t.is("tighten", "tightening", "closing", "stringo", "stringi", "chiudo", "serre", "resserre", "ferme", "cierro", "aprieto", "fecho"):
		return 1, true
	case t.is("loosening", "opening", "apro", "allargo", "desserre", "ouvre", "j'ouvre", "abro", "aflojo", "alargo", "afrouxo"):
		return -1, true
	}
	return 0, false
}
