package parse

import (
	"math"
	"slices"
)

// tightened takes a move of the dial that its verb tells, "tightened it by two", "ho
// stretto di due", "cierro dos puntos". How far "tightened the grinder" is has to be asked.
func (s *sheet) tightened(i int) int {
	start := i
	if verb := s.turningAt(i); verb > i {
		if _, now := s.turnOf(s.at(verb)); now { // "gonna open it up 2"
			i = verb
		}
	}
	sign, now := s.turnOf(s.at(i))
	j := s.skip(i+1, "it", "up", "by", "di", "de", "d", "'", "du", "il", "el", "le", "o", "the", "grinder", "macinino", "moulin", "molino", "moinho")
	x := max(countOf(s.at(j)), s.amount(j).x)
	if sign == 0 || s.shot.Grind.Said {
		return 0
	}
	if j > i+1 && s.at(j-1).is(grinderWords()...) && s.skip(j, ".", "!") == len(s.tokens) {
		s.setGrind(Grind{Relative: true, Odd: true, X: sign, Text: s.text[s.tokens[i].start:s.tokens[j-1].end()]})
		return j - start
	}
	if !(x > 0) || x > 9 {
		return 0
	}
	end := s.skip(j+max(1, s.amount(j).n), stepWords()...)
	if s.at(end).is("number", "numbers") { // of the dial, or steps
		s.setGrind(Grind{Relative: true, Odd: true, X: sign, Text: s.text[s.tokens[i].start:s.tokens[end].end()]})
		return end + 1 - start
	}
	counted := s.at(end - 1).is(stepWords()...)
	if s.at(i).is("opened", "closed", "open", "close", "opening", "closing") && !counted && !s.at(i+1).is("it", "the", "grinder") &&
		!(s.at(j-1).is("up") && x <= 3 && end == len(s.tokens)) { // "opened by 7", but "opened up 1"
		return 0
	}
	if now && !counted && j == i+1 && !s.at(j).is("d'un") { // "apro 2 sacchi"
		return 0
	}
	s.setGrind(Grind{Relative: true, X: sign * x, Text: s.text[s.tokens[i].start:s.tokens[end-1].end()]})
	return end - start
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
	case t.is("tighten", "tightening", "close", "closing", "stringo", "stringi", "stringendo", "chiudo", "chiudendo", "serre", "resserre", "ferme", "cierro", "cerrando", "aprieto", "apretando", "fecho", "fechando", "apertando"):
		return 1, true
	case t.is("loosening", "open", "opening", "apro", "aprendo", "allargo", "allargando", "desserre", "ouvre", "j'ouvre", "abro", "abriendo", "abrindo", "aflojo", "aflojando", "alargo", "afrouxo"):
		return -1, true
	}
	return 0, false
}

// ofShops are verbs of turning that are said of doors and of shops as well.
func ofShops() []string {
	return []string{"close", "closing", "open", "opening", "chiudo", "chiudendo", "ferme", "cierro", "cerrando", "fecho", "fechando", "apro", "aprendo", "ouvre", "j'ouvre", "abro", "abriendo", "abrindo"}
}

// turnsALittle reads a verb of turning and "a little", and no more: "apro un filo", "je serre un
// peu". How far that is has to be asked.
func (s *sheet) turnsALittle() (g Grind, ok bool) {
	verb := s.turningAt(0)
	sign, now := s.turnOf(s.at(verb))
	if sign == 0 || !now {
		return g, false
	}
	i := verb + 1
	for s.at(i).is("it", "up", "the", "lo", "la", "le", "il", "el", "o", "a") && !s.at(i+1).is("bit", "little", "touch", "tad", "hair", "smidge") || s.at(i).is(grinderWords()...) || i < len(s.used) && s.used[i] {
		i++
	}
	little := s.skip(i, littles()...)
	end := s.skip(little, append([]string{".", "!", "so", "then", "ora", "adesso", "jetzt", "maintenant", "ahora", "agora"}, dialWords()...)...)
	measured := slices.ContainsFunc(s.tokens[i:little], isLittle)
	if end < len(s.tokens) || !measured && (s.at(verb).is(ofShops()...) || little > verb+1) {
		return g, false
	}
	return Grind{Said: true, Relative: true, Odd: true, X: sign, Text: s.text}, true
}

// turningAt returns where a verb of turning stands, behind who does it and that it is being
// done: "sto", "i'm gonna".
func (s *sheet) turningAt(i int) int {
	for i < len(s.used) && s.used[i] {
		i++
	}
	return s.skip(i, "i", "i'm", "im", "i'll", "ill", "we", "we're", "we'll", "gonna", "going", "to", "ok", "so", "just", ",", "je", "on", "j", "'", "vais", "io", "sto", "stiamo", "lo", "yo", "estoy", "estamos", "voy", "eu", "estou", "vou", "a", "ich")
}

// turningTo returns how many tokens from i on say that a dial is being turned to the place behind
// them, "opening it up to 5.4", "apro a 5,1", and which way.
func (s *sheet) turningTo(i int) (n int, way float64) {
	verb := s.turningAt(i)
	sign, now := s.turnOf(s.at(verb))
	to := s.skip(verb+1, "it", "up", "down", "back", "the", "lo", "la", "le", "il", "el", "o")
	for to < len(s.used) && s.used[to] {
		to++
	}
	if sign == 0 || !now || !s.at(to).is("to", "a", "à", "al", "auf", "para", "pra", "até", "hasta", "fino") || !s.dialLike(to+1) {
		return 0, 0
	}
	x := s.tokens[to+1]
	if !OneDecimal(x.text) && !(first(x.num) == math.Trunc(first(x.num)) && s.dialNear(to+1) && !s.at(verb).is(ofShops()...)) {
		return 0, 0
	}
	return to + 1 - i, sign
}
