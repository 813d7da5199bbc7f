package parse

import (
	"cmp"
	"slices"
)

// denying makes "not 27, 29" of "wasn't 27, was 29", of "was not 27 but 29" and of "forget
// the 27, was 29", and drops why: "was 5.3, only went one".
func denying(tokens []token) []token {
	is := func(i int, words ...string) bool { return i < len(tokens) && tokens[i].is(words...) }
	number := func(i int) bool { return i < len(tokens) && tokens[i].kind == numberToken }
	skip := func(i int, words ...string) int {
		for is(i, words...) {
			i++
		}
		return i
	}
	for i := range tokens {
		if is(i, "only") && is(i+1, "went", "moved", "turned") && i > 1 && is(0, "was", "no", "that") && slices.ContainsFunc(tokens[:i], func(t token) bool { return t.kind == numberToken }) {
			end := i
			for end > 1 && tokens[end-1].is("actually", ",", "i", "as", "because", "cos") {
				end--
			}
			return tokens[:end]
		}
	}
	i := skip(0, "no", "sorry", "oops", "ah", ",", "it", "that", "time", "dose", "yield", "es", "das", "c'")
	at := i
	switch {
	case is(i, "wasn't", "wasnt", "isn't", "isnt"):
		at++
	case is(i, "was", "war", "era", "is") && is(i+1, "not", "nicht", "keine"), is(i, "non", "no", "não") && is(i+1, "era", "erano", "eran", "eram"), is(i, "forget", "scrap", "ignore") && is(i+1, "the"):
		at += 2
	default:
		return tokens
	}
	if unit := skip(at+1, "g", "s", "sec", "secs"); number(at) {
		to := skip(unit, ",", ";", "but", "it", "its", "it's", "was", "is", "rather", "sondern", "ma", "sino", "mas", "era", "erano", "war", "waren")
		if to > unit && number(to) {
			not, comma := tokens[i], tokens[to-1]
			not.low, not.kind, comma.low, comma.kind = "not", wordToken, ",", symbolToken
			return slices.Concat(tokens[:i], []token{not, tokens[at], comma}, tokens[to:])
		}
	}
	return tokens
}

// numbersNamed reads which number is which: "27 was the yield, 36 the time".
func numbersNamed(s *sheet) (c Correction, ok bool) {
	i := s.skip(0, append(sorries(), "no", "oops", ",", "the")...)
	named := 0
	for i < len(s.tokens) {
		q, n := s.one(i)
		if n == 0 {
			return c, false
		}
		j := s.skip(i+n, "was", "is", "were", "war", "era", "était", "es", "é", "è")
		verb := j > i+n
		j = s.skip(j, "the", "die", "der", "das", "la", "il", "le", "el", "a", "o", "my")
		place := amended(s.at(j))
		if place == 0 || !verb && named == 0 {
			return c, false
		}
		one, fits := correctionOf(q, place)
		if !fits {
			return c, false
		}
		c.Dose, c.Yield, c.Time = cmp.Or(c.Dose, one.Dose), cmp.Or(c.Yield, one.Yield), cmp.Or(c.Time, one.Time)
		named++
		i = s.skip(j+1, ",", "and", "und", "e", "et", "y", ".", "!")
	}
	return c, named > 0
}

// notThatCoffee returns the coffee that a message says a shot was not of, and nothing
// more: "not harbour", "that wasn't tide".
func (s *sheet) notThatCoffee() bool {
	if s.shot.Coffee == 0 || s.shot.Grinder != 0 || s.unsure.Kind != 0 || s.asked() || s.second() >= 0 {
		return false
	}
	rest, ok := s.rest(false, append(sorries(), "that", "it", "this", "the", "last", "one", "shot", "letzte", "der", "l'ultimo", "el", "último", "o", "le", "dernier", "no", "oops", "was", "ah", "wait", "das", "es", "war", "era", "c'était", "es", "é")...)
	return ok && len(rest) == 1 && slices.Contains([]string{"not", "wasn't", "wasnt", "nicht", "kein", "pas", "non", "não"}, rest[0])
}

// coffeeItIs reports whether a message says of which coffee a shot was, its name first:
// "harbour it is btw".
func (s *sheet) coffeeItIs() bool {
	if s.shot.Coffee == 0 || s.shot.Grinder != 0 || s.unsure.Kind != 0 || s.asked() || !s.used[0] {
		return false
	}
	rest, ok := s.rest(false, append(sighs(), "was", "then", "after", "all", "actually", "sorry")...)
	return ok && slices.Equal(rest, []string{"it", "is"}) || ok && slices.Equal(rest, []string{"it"}) && s.holds("was")
}
