package parse

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
)

// rest returns what a short message says when names and the given words are
// left out, as lower-case words. It gives up, with false, at anything that
// is neither a word nor a stop.
func (s *sheet) rest(numbers bool, without ...string) ([]string, bool) {
	var out []string
	for i, t := range s.tokens {
		switch {
		case s.used[i], t.is(without...), t.is(".", ",", "!", ";", ":", "@"):
		case t.kind == wordToken, numbers && t.kind == numberToken, numbers && t.is("+"):
			out = append(out, t.low)
		default:
			return nil, false
		}
		if len(out) > 6 {
			return nil, false
		}
	}
	return out, true
}

// correction reads what puts the last shot right: "still 5.2", "was 5.1",
// "that was decaf", "ignore that".
func correction(s *sheet) (Meaning, bool) {
	if c, ok := whosePulled(s); ok {
		return c, true
	}
	if rest, ok := s.rest(false); ok && len(rest) == 0 && s.shot.Coffee != 0 && s.shot.Grinder == 0 && s.unsure.Kind == 0 {
		return Correction{Coffee: s.shot.Coffee, Alone: true}, true
	}
	if s.ofTheNext() {
		return Correction{Coffee: s.shot.Coffee, Alone: true, Next: true}, true
	}
	if s.coffeeItIs() {
		return Correction{Coffee: s.shot.Coffee, Alone: true}, true
	}
	if s.notThatCoffee() {
		return Correction{Wrong: true, Of: s.shot.Coffee}, true
	}
	if s.unsure.Kind != 0 || s.asked() || !s.corrects() {
		return nil, false
	}
	rest, ok := s.rest(true, slices.Concat(sighs(), wasWords(), sorries(), []string{
		"that", "it", "still", "forgot", "actually", "sorry", "no", "on", "at", "the", "grind", "setting", "dial",
		"it's", "its", "one", "shot", "last", "oops", "set", "to", "a", "is", "ground", "though", "of", "with", "wait", "der", "die", "den", "letzte", "letzter", "letzten", "doch", "gar", "sondern", "quello", "l'ultimo", "el", "último", "ese", "le", "dernier", "o", "esse", "sino", "bensì", "i", "mean", "meant", "coffee",
		"should", "shoulda", "be", "been", "have", "say", "nope", "after", "all", "nein", "non", "não", "nee", "das", "es",
	})...)
	coffee, or, not, rest := s.either(rest)
	for _, wrong := range []string{"falscher kaffee", "caffè sbagliato", "mauvais café", "café equivocado", "café errado"} {
		if s.lows(0, 2) == wrong && len(s.tokens) == 2 {
			return Correction{Wrong: true}, true
		}
	}
	if len(rest) == 1 && rest[0] == "wrong" && s.shot.Coffee == 0 && s.holds("coffee") {
		return Correction{Wrong: true}, true
	}
	if len(rest) == 1 && rest[0] == "wrong" && s.shot.Coffee != 0 { // "wrong coffee, that was tide"
		rest = nil
	}
	if !ok {
		return nil, false
	}
	c := Correction{Coffee: coffee, Or: or, Not: not, Grinder: s.shot.Grinder}
	if slices.Equal(rest, []string{"wrong", "grinder"}) || slices.Equal(rest, []string{"other", "grinder"}) {
		c.Other = c.Grinder == 0
		return c, true
	}
	if len(rest) > 0 && !s.dialOnly(&c, rest) {
		return nil, false
	}
	c.Still = c.Grind.Said && s.holds("still")
	return c, c.Grind.Said || c.Coffee != 0 || c.Grinder != 0
}

// ofTheNext reports whether a message says no more than of which coffee the next shot
// is: "tide next", "on tide now", "switching to tide", "tide first".
func (s *sheet) ofTheNext() bool {
	if s.shot.Coffee == 0 || s.shot.Grinder != 0 || s.unsure.Kind != 0 || s.asked() {
		return false
	}
	rest, ok := s.rest(false, "on", "to", "up", "with", "one", "shot", "time", "i'm", "im", "we're", "doing", "over", "the", "a", "con", "mit", "auf", "zu", "à", "sur", "em", "de", "para", "je", "wir", "ich", "nous", "i", "we", "an", "please", "pls", "bitte", "der", "den", "il", "la", "le", "el", "o", "per", "par", "pelo", "com")
	if !ok || len(rest) != 1 {
		return false
	}
	return slices.Contains([]string{
		"next", "now", "switching", "moving", "back", "onto", "nächster", "nächstes", "jetzt", "weiter", "prossimo", "ora", "adesso", "prochain", "maintenant", "siguiente", "ahora", "próximo", "agora",
		"first", "starting", "start", "beginning", "erst", "zuerst", "erstmal", "fang", "fange", "fangen", "beginne", "prima", "comincio", "cominciamo", "inizio", "iniziamo",
		"primero", "empiezo", "empezamos", "d'abord", "commence", "commençons", "primeiro", "começo", "começamos",
		"changed", "changing", "cambié", "cambio", "cambiamos", "paso", "passo", "passiamo", "passe", "passons", "wechsle", "wechseln", "mudei", "mudo", "passamos",
	}, rest[0])
}

// either returns the coffee that a correction names, the other where it names two, the one
// that is denied, and what is left of the rest: "that was tide, not harbour".
func (s *sheet) either(rest []string) (coffee, or, not bar.CoffeeID, left []string) {
	second := s.second()
	if coffee = s.shot.Coffee; second < 0 || !slices.Contains(rest, s.tokens[second].low) {
		return coffee, 0, 0, rest
	}
	or = s.coffeeOf(s.tokens[second])
	first := slices.IndexFunc(s.tokens, func(t token) bool { return s.coffeeOf(t) == coffee })
	denied := func(i int) bool {
		return i > 0 && s.tokens[i-1].is("not", "wasn't", "wasnt", "nicht", "kein", "mica", "non", "pas", "no", "não")
	}
	switch {
	case denied(first):
		coffee, or, not = or, 0, coffee
	case denied(second):
		or, not = 0, or
	}
	left = slices.DeleteFunc(slices.Clone(rest), func(word string) bool {
		return word == s.tokens[second].low || slices.Contains([]string{"and", "or", "&", "und", "oder", "e", "o", "y", "et", "ou", "not", "wasn't", "wasnt", "nicht", "kein", "mica", "pas"}, word)
	})
	return coffee, or, not, left
}

// corrects reports whether the message sounds like a correction: "was",
// "still" or "actually" are in it, or it is a labelled dial alone.
func (s *sheet) corrects() bool {
	if s.shot.Coffee != 0 && (s.at(0).is(sorries()...) || s.at(0).is("no", "nope", "nein", "non", "não", "nee")) { // "no, tide"
		return true
	}
	for i, t := range s.tokens {
		if t.is(wasWords()...) || t.is("still", "actually", "mean", "meant", "wasn't", "wasnt", "shoulda") || t.is("should") && s.at(i+1).is("be", "have") || i == 0 && t.is("not") && s.second() >= 0 || t.is("wrong", "falscher", "sbagliato", "mauvais", "equivocado", "errado") && (len(s.tokens) == 2) {
			return true
		}
	}
	return false
}

// dialOnly reads a rest that is one position of a dial, or one move.
func (s *sheet) dialOnly(c *Correction, rest []string) bool {
	for i := range s.tokens {
		if s.used[i] {
			continue
		}
		scratch := *s
		scratch.shot = Shot{}
		if n := scratch.step(i, false); n > 0 && covers(s.tokens[i:i+n], rest) {
			c.Grind = scratch.shot.Grind
			return true
		}
		if n := s.dialLength(i, s.holds("grind", "setting", "dial")); n > 0 && covers(s.tokens[i:i+n], rest) {
			c.Grind = s.readDial(i, n)
			c.Grind.Said = true
			return true
		}
	}
	return false
}

// covers reports whether tokens are all of rest.
func covers(tokens []token, rest []string) bool {
	var low []string
	for _, t := range tokens {
		if t.kind == wordToken || t.kind == numberToken || t.is("+") {
			low = append(low, t.low)
		}
	}
	return strings.HasSuffix(strings.Join(low, " "), strings.Join(rest, " "))
}

// apologies makes "sorry" of "my bad" and "i beg your pardon".
func (s *sheet) apologies() {
	for i, t := range s.tokens {
		if !t.is("beg", "my", "forgive", "pardon", "excuse") {
			continue
		}
		for _, said := range []string{"beg your pardon", "my bad", "my mistake", "my fault", "forgive me", "pardon me", "excuse me"} {
			n := strings.Count(said, " ") + 1
			if len(s.tokens) <= n || s.lows(i, n) != said {
				continue
			}
			s.tokens[i].low = "sorry"
			for j := i + 1; j < i+n; j++ {
				s.tokens[j].low, s.tokens[j].kind = ",", symbolToken
			}
			break
		}
	}
}

// holds reports whether a token is one of the words.
func (s *sheet) holds(words ...string) bool {
	for _, t := range s.tokens {
		if t.is(words...) {
			return true
		}
	}
	return false
}

// noes take back what stands before them.
func noes() []string { return []string{"no", "nope", "nah", "nein", "non", "não"} }
