package parse

import (
	"cmp"
	"slices"

	"shothand/advisor/bar"
)

// amend reads a number of the last shot put right by the form of the sentence, where
// putRight has not: "dose was 17.5", "no, 27s", "*36s". A number with neither unit nor
// label is Bare: which it is, the shot itself shows. Two may be put right at once:
// "dose was 18.3 and time 25".
func amend(s *sheet) (Meaning, bool) {
	if c, ok := numbersNamed(s); ok {
		return c, true
	}
	for i, t := range s.tokens {
		next := s.skip(i+1, "the", "die", "der", "il", "la", "le", "el", "o", "a")
		if i == 0 || !t.is("and", "und", "e", "et", "y", "&") || amended(s.at(next)) == 0 {
			continue
		}
		first, ok := amendOne(newSheet(s.text[:t.start], s.vocab))
		second, also := amendOne(newSheet("was "+s.text[s.tokens[next].start:], s.vocab))
		if a, b := first, second; ok && also && !a.Bare.Said && !b.Bare.Said {
			a.Dose, a.Yield, a.Time = cmp.Or(a.Dose, b.Dose), cmp.Or(a.Yield, b.Yield), cmp.Or(a.Time, b.Time)
			return a, true
		}
	}
	c, ok := amendOne(s)
	return c, ok
}

func amendOne(s *sheet) (Correction, bool) {
	none := Correction{}
	i := 0
	strength := 0
	at := false
	for ; s.at(i).kind == wordToken || s.at(i).kind == symbolToken || i < len(s.tokens) && s.used[i]; i++ {
		t := s.at(i)
		if at = strength == 2 && s.isNumber(i+1) && t.is("at", "on", "bei", "auf", "a", "à", "en", "em", "su"); at || i < len(s.tokens) && s.used[i] && s.shot.Coffee != 0 && s.shot.Grinder == 0 {
			continue
		}
		if t.is("actually", "eigentlich") && s.isNumber(i+1) {
			strength = 2
			continue
		}
		if t.is("no", "nope", "nah", "actually", "nein", "non", "not", "nicht", "nee", "não", "nao", "doch", "wait", "anzi", "i") || t.is(sorries()...) {
			strength = max(strength, 1)
			continue
		}
		if strength == 2 && t.is("more", "like", "rather", "eher", "piuttosto", "plutôt", "más", "mais", "bien") { // "was more like 38 out"
			continue
		}
		if t.is("make") && s.at(i+1).is("that", "it") {
			strength = 2
			continue
		}
		if t.is("scrap", "forget", "ignore", "disregard") && s.at(i+1).is("that", "it") {
			strength = 2
			continue
		}
		if t.is(wasWords()...) || t.is("typo", "oops", "ops", "ups", "oups", "hoppla", "sbagliato", "errore", "falsch", "erreur", "error", "erro", "forgot", "meant", "meinte", "correction", "correct", "korrektur", "*") {
			strength = 2
			continue
		}
		if sigh(t) || t.is("that", "it", "the", ",", ":", ".", ";", "-", "should", "be", "es", "das", "la", "el", "il", "le", "o", "het", "of", "shot", "one", "last", "this") {
			continue
		}
		break
	}
	if s.at(i).is("scale") && s.at(i+1).is("says", "said", "shows", "showed", "read", "reads") {
		i, strength = i+2, 2
	}
	place := amended(s.at(i))
	if s.at(i).is("yield's", "dose's", "time's") {
		strength = 2
	}
	if place != 0 {
		i = s.skip(i+1, ":", "=", "of", "is", "was", "should", "shoulda", "should've", "have", "be", "been", "actually", "war", "era", "était")
		if s.at(i-1).is("was", "be", "been", "shoulda", "actually", "war", "era", "était") {
			strength = 2
		}
	}
	q, n := s.one(i)
	var was Number
	if s.at(i-1).is("not", "non", "nicht", "pas") && s.at(i+n).is(",") && s.isNumber(i+n+1) { // "not 27, 26"
		if right, m := s.one(i + n + 1); n > 0 && m > 0 {
			i, q, n, strength, was = i+n+1, right, m, 2, q.number()
		}
	}
	if j := s.rightOf(i + n); n > 0 && j > 0 { // "27 was wrong, 26"
		right, m := s.one(j)
		i, q, n, strength, was = j, right, m, 2, q.number()
	}
	if n > 0 && s.longest(i+n, itWas()) > 0 {
		strength = 2
	}
	only := n > 0 && i == 0 && s.butNot(i+n) // "27 not 28"
	_, m := s.behind(i + n)
	if labelled := n > 0 && m > 0 && i == 0 && s.butNot(s.skip(i+n+m, ",")); only || labelled { // "37 out not 36"
		strength = 2
	}
	if end := s.skip(i+n, ","); strength == 0 && (q.unit == gram || q.unit == second) && (s.at(end).is("actually", "eigentlich") || s.at(end).is(sorries()...)) {
		strength = 2 // "27.5s actually"
	}
	if n > 0 && i == 0 && s.at(n).is("*") && n+1 == len(s.tokens) { // "36*"
		s.tokens[n].low, strength = ",", 2
	}
	if strength == 0 && place != 0 && s.butNot(i+n) {
		strength = 2 // "dose 18.5 not 18"
	}
	if n == 0 || strength == 0 || s.lettered(i) && q.unit != second {
		return none, false
	}
	dial := s.readDial(i, n)
	i += n
	if place == 0 {
		var m int
		if place, m = s.behind(i); s.at(i).is("in") && (i+1 == len(s.tokens) || s.at(i+1).is(",", ".") || s.at(i+1).is(denials()...)) {
			place, m = dosePlace, 1
		}
		i += m
	}
	i = s.skip(i, ",", "sorry", "actually")
	if s.at(i).is("not", "nicht", "pas", "non", "no", "niet", "não") {
		other, n := s.one(i + 1)
		if n == 0 {
			return none, false
		}
		was = other.number()
		i, strength = i+1+n, 2
	}
	i += s.longest(i, itWas())
	i = s.skip(i, slices.Concat(sighs(), sorries(), []string{".", "!", ",", "after", "all", "though", "then", "oops"})...)
	weak := i == len(s.tokens) && !s.settles(q, place, strength)
	if i < len(s.tokens) || weak && (q.unit != noUnit || q.rough) {
		return none, false
	}
	c, ok := correctionOf(q, place)
	if at && (!c.Bare.Said || !was.Said) { // "was at 5.4" alone is a dial's
		return none, false
	}
	c.Of, c.Was = s.shot.Coffee, was
	if c.Bare.Said {
		c.Only, c.Weak = only || at, weak
	}
	if c.Bare.Said && !c.Mass {
		c.Grind = dial
		c.Grind.Said = true
	}
	return c, ok
}

// butNot reports whether a number that it is not stands at i: "27 not 28".
func (s *sheet) butNot(i int) bool {
	return s.at(i).is("not", "nicht", "pas", "non", "no", "não") && s.isNumber(i+1)
}

// rightOf returns where the right number stands behind one that is said to be wrong, 0 where
// none is: ", it was 26" in "27 was wrong, it was 26".
func (s *sheet) rightOf(i int) int {
	j := s.skip(i, append(wasWords(), "is", "ist", "è", "est", "es", "está", "é", "estaba", "estava", "out", "in", "sec", "secs")...)
	if j == i || !s.at(j).is("wrong", "falsch", "sbagliato", "sbagliata", "faux", "mal", "equivocado", "incorrecto", "errado", "incorrect") {
		return 0
	}
	j = s.skip(j+1, append(wasWords(), ",", ".", ";", "-", "it", "its", "it's", "is", "should", "be", "es", "das", "sollte", "sein", "richtig", "ist", "è", "sono", "ma", "but", "c'est", "son", "é", "são")...)
	if !s.isNumber(j) {
		return 0
	}
	return j
}

// itWas say behind a number what a shot was: "27 it was".
func itWas() []string {
	return []string{"it was", "it is", "it should be", "war es", "war's", "wars", "era", "c'était", "fue", "foi"}
}

// sorries are what people say before they put something right.
func sorries() []string {
	return []string{
		"sorry", "scusa", "scusate", "scusami", "entschuldige", "entschuldigung", "excusez", "excuse", "pardon", "désolé", "désolée",
		"perdón", "perdon", "perdona", "perdonad", "desculpa", "desculpe", "desculpem",
	}
}

// behind tells which number of a shot the words behind it name, and how many tokens
// they are: "19 di dose".
func (s *sheet) behind(i int) (place, int) {
	j := s.skip(i, "di", "de")
	if p := amended(s.at(j)); p != 0 {
		return p, j + 1 - i
	}
	return 0, 0
}

// wasWords say what a shot was.
func wasWords() []string {
	return []string{
		"was", "were", "war", "waren", "era", "eran", "eram", "erano", "foi", "foram", "fue", "fueron", "était", "etait", "étaient", "c'était", "c'etait", "c'étaient",
	}
}

// amended tells which number of a shot a word names.
func amended(t token) place {
	switch {
	case t.is("dosis"):
		return dosePlace
	case t.is("tijd"):
		return timePlace
	case t.is("in"):
		return 0
	}
	if p := label(t); p != waterPlace {
		return p
	}
	return 0
}

// settles reports whether so much of a correction was said that it is none of
// the talk of a day, such as "no, 3".
func (s *sheet) settles(q quantity, p place, strength int) bool {
	return strength == 2 || p != 0 || q.unit == gram || q.unit == second
}

// correctionOf makes a correction of a number and its place, 0 for none.
func correctionOf(q quantity, p place) (Correction, bool) {
	if p == 0 && q.unit == second {
		p = timePlace
	}
	c, ok := Correction{}, false
	switch p {
	case dosePlace:
		c.Dose, ok = q.dose()
	case yieldPlace:
		c.Yield, ok = q.yield()
	case timePlace:
		c.Time, ok = q.time()
	case waterPlace, inPlace, dialPlace:
	default:
		c.Bare, c.Mass = q.number(), q.unit == gram
		ok = q.unit == noUnit || q.unit == gram
	}
	return c, ok
}

// Fits reports whether a shot can have these numbers.
func Fits(dose, yield, time Number, m bar.Marks) error { return Trio{dose, yield, time}.check(m) }
