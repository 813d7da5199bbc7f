package parse

import (
	"slices"
	"strings"
)

// ofOthers reads how somebody else's shot tastes, in a sentence that says whose it is: "Jo's
// Harbour is a little sour.", "I tasted Jo's last one and it is balanced.", "the harbour jo
// just pulled is sour", "il tide di jo è buono". The shot has to be named: "jo's lovely" is
// of Jo.
func ofOthers(s *sheet) (Meaning, bool) {
	i, name := s.person()
	if name == "" || s.asked() || s.asks() || len(s.tokens) < 3 {
		return nil, false
	}
	from, to := i, i+1
	if s.at(i-1).is("di", "von", "de", "do", "da", "by") {
		from--
	}
	if j := s.skip(to, "just", "has", "ha", "hat", "a"); s.at(j).is("pulled", "made", "did", "fatto", "gezogen", "gemacht", "tiré", "fait", "hecho", "hizo", "tirou", "fez") {
		to = j + 1
	}
	one := s.skip(to, "last", "latest", "ultimo", "one", "shot", "pull", "espresso", "quello", "letzter")
	named := s.shot.Coffee != 0 && s.shot.Grinder == 0 && s.second() < 0 || one > to
	tried := s.longest(0, []string{"i tasted", "i tried", "just tasted", "just tried", "tasted", "tried", "ho assaggiato", "j'ai goûté", "he probado", "provei"})
	if to = s.skip(one, "and", "it", "e", "y", "et", "und", ","); !named {
		return nil, false
	}
	var rest []string
	for j, t := range s.tokens {
		if j >= tried && (j < from || j >= to) {
			rest = append(rest, t.text)
		}
	}
	m, err := newSheet(strings.Join(rest, " "), s.vocab).asTyped()
	w, ok := m.(Words)
	w.Of, w.Instead, w.Was = name, false, false
	return w, ok && err == nil && w.By == "" && !w.Own && len(w.Words) > 0 && len(w.Unread) == 0 && w.Marks == 0 && !w.Set.Grind.Said && !w.At.Said
}

// person finds the one of the bar's people that a message names, by the token: "jo", "jo's",
// "jos".
func (s *sheet) person() (i int, name string) {
	for i, t := range s.tokens {
		if s.used[i] || t.kind != wordToken {
			continue
		}
		if n := slices.IndexFunc(s.vocab.People, func(p string) bool {
			low := fold(p)
			return t.low == low || t.low == low+"'s" || t.low == low+"s" && len(low) > 1
		}); n >= 0 {
			return i, s.vocab.People[n]
		}
	}
	return 0, ""
}
