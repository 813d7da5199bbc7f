package parse

import "slices"

// gives say what a coffee came to: "tide gave 40 in 26".
func gives() []string {
	return []string{
		"gave", "gives", "giving", "yielded", "yields", "produced", "poured", "pulling", "ran", "gab", "gibt", "ergab", "ergibt",
		"dato", "dà", "fatto", "donné", "donne", "dio", "dado", "deu",
	}
}

// gave reads a shot that says so of its yield and its time, and one of both without a word
// of that: "tide 40 for 26". What "it" gave is of a shot that was told.
func (s *sheet) gave() (Meaning, bool) {
	i := slices.IndexFunc(s.tokens, func(t token) bool { return t.is(gives()...) })
	from := i + 1
	if i < 0 {
		i = slices.IndexFunc(s.tokens, func(t token) bool { return t.kind == numberToken })
		from = i
	}
	if i < 0 || s.numbers < 2 || s.asks() || !s.onlyNamesBefore(i) {
		return nil, false
	}
	head := s.text[:s.tokens[i].start]
	j := s.skip(from, "me", "us", "about", "like", "out", "mir", "uns", "circa", "etwa", "environ")
	if !s.isNumber(j) {
		return nil, false
	}
	for k := j + 1; k < len(s.tokens); k++ {
		if s.at(k).is("for", "per", "für", "pour", "por") && s.isNumber(k+1) && s.at(k-1).kind != symbolToken && (from > i || s.shot.Coffee != 0 && s.numbers == 2) {
			return newSheet(head+s.text[s.tokens[j].start:s.tokens[k].start]+"in "+s.text[s.tokens[k+1].start:], s.vocab).plainShot()
		}
	}
	if from == i {
		return nil, false
	}
	return newSheet(head+s.text[s.tokens[j].start:], s.vocab).plainShot()
}

// plainShot reads a message that can be nothing but a shot.
func (s *sheet) plainShot() (Meaning, bool) {
	m, err := s.asTyped()
	_, ok := m.(Shot)
	return m, err == nil && ok
}

// onlyNamesBefore reports whether only names, numbers with their units, and words with which
// a shot begins stand before token i.
func (s *sheet) onlyNamesBefore(i int) bool {
	for k, t := range s.tokens[:i] {
		if !s.used[k] && t.kind == wordToken && unitOf(t.low) == noUnit && !s.opening(t) && !t.is("the", "is", "was", "has", "have", "first", "ha", "hat", "a", "and", "ok", "now", "just", "in") {
			return false
		}
	}
	return true
}
