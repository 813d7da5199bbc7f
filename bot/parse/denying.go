package parse

import (
	"cmp"
	"slices"
)

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
