package parse

import (
	"slices"

	"shothand/advisor/bar"
)

// tasteInTalk reads how a cup tastes in a whole sentence, where somebody has just pulled
// a shot and has not said it: "It was balanced, I would say.", "tastes super guys". It needs a
// verb of tasting, of being or of meaning so, and otherwise only small words: "the milk
// is sour" and "sweet, thanks" are of something else.
func (s *sheet) tasteInTalk() (Meaning, bool) {
	if !s.vocab.Untasted || s.asks() || len(s.tokens) > mostRemarkTokens || s.shot.Event != 0 {
		return nil, false
	}
	s.opined()
	said, mine := false, s.holds("i", "i'd", "id", "ich", "je", "io", "yo", "eu", "direi", "dirais", "diría", "diria", "trovo")
	for i, t := range s.tokens {
		switch {
		case s.used[i] || t.kind == symbolToken:
		case t.kind != wordToken, t.is(besideCups()...), mayStill(t) && !opinion(t.low):
			return nil, false
		default:
			said = said || t.is(tastingVerbs()...) || hints()[t.low]&wasHint != 0 || mine && opinion(t.low)
		}
	}
	words, unread := s.inCompany(s.readWords(len(s.tokens)))
	if !said || len(words) == 0 || !onlySmall(unread, softHint|wasHint|sorryHint|lastHint, slices.Concat(tastingVerbs(), sighs())) {
		return nil, false
	}
	return Words{Words: words, Marks: s.shot.Marks &^ bar.First, Coffee: s.shot.Coffee}, true
}

// opined passes over what stands before an opinion, where that says nothing of a taste: "having
// let it cool for a while i would say it is sweet".
func (s *sheet) opined() {
	for i := range s.tokens {
		if !s.opines(i) {
			continue
		}
		if words, _ := s.lex.read(s.leftover(i)); len(words) == 0 && s.numbers == 0 && !s.holds(besideCups()...) {
			s.hold(0, i)
		}
		return
	}
}

// opines reports whether token i is the verb of "i would say" or "i found".
func (s *sheet) opines(i int) bool {
	switch t := s.at(i); {
	case t.is("say", "call"):
		return s.at(i-1).is("i'd", "id") || s.at(i-1).is("would") && s.at(i-2).is("i")
	case t.is("sagen"):
		return s.holds("ich")
	default:
		return t.is("think", "reckon", "find", "found", "finde", "fand", "trouve", "trovo") && s.at(i-1).is("i", "ich", "je")
	}
}

// opinion reports whether a word belongs to what says whose opinion something is: "I would
// say", "würde ich sagen", "direi".
func opinion(word string) bool {
	return slices.Contains([]string{"would", "say", "call", "nennen", "definirei", "chiamerei", "llamaría", "chamaria", "appellerais", "think", "reckon", "guess", "find", "found", "würde", "würd", "sagen", "finde", "fand", "direi", "dirais", "diría", "diria", "trovo", "trouve"}, word)
}

// tastingVerbs say how a cup is or was.
func tastingVerbs() []string {
	return []string{
		"is", "was", "it's", "its", "that's", "tastes", "tasted", "tasting", "taste", "came", "drinks", "drank", "schmeckt", "schmeckte", "geschmeckt", "war", "ist", "è", "era", "sa", "sapeva", "es", "está", "estaba", "sabe", "sabía",
		"est", "c'est", "était", "c'était", "goûte", "é", "estava", "sabia",
	}
}

// besideCups are said to people, or of what is no cup.
func besideCups() []string {
	return []string{
		"thanks", "thank", "thx", "cheers", "danke", "grazie", "merci", "gracias", "obrigado", "obrigada", "you", "your", "du", "dein", "tu", "tuo", "ton", "te", "sei", "bist", "eres", "milk", "milch", "latte", "lait", "leche", "leite",
		"here", "there", "outside", "hier", "draußen", "qui", "fuori", "ici", "dehors", "aquí", "afuera", "aqui",
	}
}
