package parse

import (
	"slices"
	"strings"
)

// callsIt reports whether a message says that a coffee is dialled in, or is not.
func (s *sheet) callsIt() bool {
	for i, t := range s.tokens {
		if t.is("dialled", "dialed") && s.at(i+1).is("in") {
			return true
		}
	}
	return false
}

// calledAt takes the position of "dialled in at 5.2".
func (s *sheet) calledAt() (g Grind) {
	for i := range s.tokens {
		if n := s.dialLength(i+1, false); s.at(i).is("at", "@", "on") && n > 0 && i+1+n == len(s.tokens) && s.callsIt() {
			g = s.readDial(i+1, n)
			g.Said = true
			s.hold(i, n+1)
			return g
		}
	}
	return g
}

// callIt reads that a coffee is dialled in, or is not: "dialled in", "harbour is dialled",
// "that's it, dialled", "noch nicht eingestellt".
func callIt(s *sheet) (Meaning, bool) {
	at := s.calledAt()
	rest, ok := s.rest(false, "is", "that", "that's", "thats", "it", "it's", "its", "we're", "we", "are", "all", "now", "and", "i", "the",
		"è", "é", "está", "ist", "est", "c'est", "ya", "já", "già", "déjà", "schon", "jetzt", "noch", "ancora", "encore", "todavía", "aún", "ainda", "call", "calling", "called", "happy", "with", "coffee", "looks", "yes", "ok", "okay", "good", "nice", "perfect", "great", "'s", "done", "a", "this", "for", "today", "us", "anymore", "any", "more",
		"yet", "quite", "actually", "sorry", "wait", "doch", "er", "il", "elle", "lo", "mehr", "plus")
	if !ok || s.unsure.Kind != 0 {
		return nil, false
	}
	head := s.skip(0, append(sorries(), "no", "nein", "non", "nope", "não", ",", "actually", "wait")...)
	for ; head >= 0 && s.shot.Coffee == 0; head-- {
		if slices.Contains(notYet(), strings.Trim(s.lows(head, len(s.tokens)-head), " .!")) {
			return CallIt{Not: true, Weak: true}, true
		}
	}
	if len(rest) == 0 {
		return CallIt{Coffee: s.shot.Coffee}, s.lows(0, 2) == "call it" && s.shot.Coffee == 0
	}
	denied := false
	rest = slices.DeleteFunc(rest, func(word string) bool {
		switch word {
		case "not", "isn't", "isnt", "aren't", "wasn't", "nicht", "pas", "n'est", "n'était", "não":
			denied = true
		case "no", "non": // what they deny follows: "no calibrado"; "no, not dialled" says so twice
			denied = denied || s.vocab.Language == "es" || s.vocab.Language == "it" || s.holds("calibrado", "punto")
		case "nein", "nope":
		default:
			return false
		}
		return true
	})
	switch strings.Join(rest, " ") {
	case "undial", "undialled", "un-dial":
		return CallIt{Coffee: s.shot.Coffee, Not: true}, true
	case "dialled", "dialled in", "dialed", "dialed in", "dialled-in", "dialed-in",
		"a punto", "punto", "calibrado", "eingestellt", "réglé", "regulado", "afinado":
		if !denied && s.at(0).is("no", "nein", "non", "nope") {
			return nil, false
		}
		if denied {
			at = Grind{}
		}
		return CallIt{Coffee: s.shot.Coffee, Grind: at, Not: denied, Yet: denied && s.holds("yet", "noch", "ancora", "encore", "todavía", "aún", "ainda")}, true
	}
	return nil, false
}

// notYet deny a call that was made just before.
func notYet() []string {
	return []string{
		"not yet", "it's not", "its not", "it isn't", "it isnt", "not quite yet", "noch nicht", "nicht mehr", "ist er nicht", "non ancora", "ancora no", "non lo è", "pas encore", "il ne l'est pas",
		"todavía no", "aún no", "no lo está", "ainda não", "não está",
	}
}
