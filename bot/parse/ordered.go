package parse

import "slices"

// ordered reads that somebody is told to turn the dial by so many steps: "go 3 finer lena",
// "mach zwei klicks feiner".
func (s *sheet) ordered() (Set, bool) {
	if len(s.tokens) > mostOrdered || s.asks() || s.asked() {
		return Set{}, false
	}
	from, to := 0, len(s.tokens)
	for from < to && s.addressed(from) {
		from++
	}
	for to > from && s.addressed(to-1) {
		to--
	}
	if !s.at(from).is("go", "turn", "try", "make", "mach", "geh", "dreh", "stell", "vai", "fai", "metti", "ve", "haz", "pon", "gira", "va", "mets", "tourne", "faz", "põe", "roda") {
		return Set{}, false
	}
	first := s.skip(from+1, "it", "the", "grinder", "dial", "es", "sie", "die", "mal", "le", "lo", "la", "il", "o", "a")
	if first >= to {
		return Set{}, false
	}
	m, ok := setting(newSheet("went "+s.text[s.tokens[first].start:s.tokens[to-1].end()], s.vocab))
	set, is := m.(Set)
	g := set.Grind
	set.Order = true
	return set, ok && is && g.Relative && !g.Odd && (plainSteps(g) || g.X != 0 && first+2 < to)
}

// mostOrdered is how long such a message is at the most, in tokens. Assumed.
const mostOrdered = 10

// addressed reports whether token i says who is told, or only how.
func (s *sheet) addressed(i int) bool {
	return slices.Contains(s.vocab.People, s.at(i).low) || s.at(i).is(",", "!", ".", "please", "pls", "bitte", "per", "favore", "por", "favor", "s'il", "te", "plaît", "ok", "hey", "just", "then", "instead", "lieber")
}
