package parse

import "strings"

// befores say, at the head of a message, that it is of the shot before the last; the
// longer stand before the shorter.
func befores() []string {
	return []string{
		"the one before that", "the one before last", "the one before", "one before that", "one before", "the shot before last", "the shot before that", "the shot before",
		"the previous one", "the previous shot", "the previous", "previous one", "previous shot", "previous", "the last but one", "second last", "second to last",
		"der davor", "die davor", "das davor", "der shot davor", "der vorige", "die vorige", "der vorherige", "der vorletzte", "die vorletzte", "vorletzter",
		"celui d'avant", "le précédent", "l'avant-dernier", "l'avant dernier", "quello prima", "quello di prima", "il precedente", "il penultimo",
		"el anterior", "el de antes", "el penúltimo", "o anterior", "o de antes", "o penúltimo",
	}
}

// ofEarlier reads what is said of the shot before the last: "the one before was 26",
// "previous was 25 not 28", "the one before was bitter".
func ofEarlier(s *sheet) (Meaning, bool) {
	from, n := s.skip(0, append(sorries(), "no", "oops", "wait", "ah", "and", "actually", ",", "nein", "non", "não")...), 0
	for _, words := range befores() {
		if n = s.phrase(from, words); n > 0 {
			break
		}
	}
	if n == 0 || s.asked() {
		return nil, false
	}
	plain := []byte(s.text)
	for _, t := range s.tokens[from : from+n] {
		copy(plain[t.start:t.end()], strings.Repeat(" ", len(t.text)))
	}
	m, err := understood(string(plain), s.vocab)
	switch w := m.(type) {
	case Correction:
		w.Before = true
		return w, err == nil && !w.Ignore && !w.Alone && !w.Weak && w.By == ""
	case Words:
		w.Before = true
		return w, err == nil && w.By == "" && !w.Both && !w.Set.Grind.Said
	case Shot, Call, Happened, CallIt, Set, Chatter:
	}
	return nil, false
}
