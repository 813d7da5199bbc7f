package parse

import (
	"slices"
	"sync"

	"shothand/advisor/bar"
)

// leftIt reads that a dial was not moved: "left it", "haven't touched the grinder",
// "grind unchanged". It is a no with a word of turning, or a word that says so alone, and
// nothing else but small words.
func (s *sheet) leftIt() bool {
	if typed := s.tokens; len(typed) == 2 && typed[0].is("left") && typed[1].is("it") { // also where a grinder is called so
		s.shot.Grinder = 0
		return true
	}
	var no, turned, kept, left, dial bool
	answers := 0 // "nah left it"
	if s.at(0).is("no", "nah", "nope", "ok", "yeah") {
		answers = 1
		if s.at(1).is(",") {
			answers = 2
		}
	}
	if answers >= len(s.tokens) || !s.tokens[answers].is("left", "leaving") {
		answers = 0
	}
	for i, t := range s.tokens {
		switch {
		case i < answers:
		case t.is("left", "leaving") && s.at(i+1).is("it") && (i == answers || s.at(i-1).is("i'm", "im")):
			left, s.shot.Grinder = true, 0
		case s.used[i], t.is("im", "i'm"):
		case t.is("left") && s.holds("it", "dial", "grinder"):
			left = true
		case t.is("no") && s.at(i+1).is("moinho"): // Portuguese: on the
		case t.is(nots()...):
			no = true
		case t.is(turningWords()...), t.is(tweaks()...), t.is(turnings()...):
			turned = true
		case t.is("unchanged", "unverändert", "inchangé", "invariato", "invariata", "unadjusted", "untouched"),
			t.is("gelassen", "laissé", "lasciato", "dejé", "dejado", "deixei", "gelaten"):
			kept = true
		case t.is(grinderWords()...), t.is(dialWords()...):
			dial = true
		case t.is(leftBeside()...):
		default:
			return false
		}
	}
	switch {
	case no:
		return turned && !kept && !left && (dial || !s.holds("no", "nothing", "rien", "nada"))
	case left:
		return !turned && (s.holds("dial") || s.holds("it", "grinder") && !s.holds("i", "we"))
	}
	return kept && !turned && len(s.tokens) > 1 || kept && s.at(0).is("unverändert", "unchanged")
}

// untouched takes what a shot's message says before its numbers or behind them: that the
// dial was not moved, "didn't touch the grinder, 18 36 27".
func (s *sheet) untouched() {
	if s.numbers < 3 {
		return
	}
	first := slices.IndexFunc(s.tokens, func(t token) bool { return t.kind == numberToken })
	last := len(s.tokens) - 1
	for last >= 0 && s.tokens[last].kind != numberToken {
		last--
	}
	for from := range s.tokens {
		ends := from > last && s.tokens[from].is(",", ".", ";") // the clause behind it
		if from > 0 && !ends || from == 0 && first < 2 {
			continue
		}
		to := first
		if from > 0 {
			from, to = from+1, len(s.tokens)
		}
		for i := from; i < to; i++ {
			if s.tokens[i].is(",", ".", ";") {
				to = i
			}
		}
		if to-from < 2 {
			continue
		}
		part := newSheet(s.text[s.tokens[from].start:s.tokens[to-1].end()], s.vocab)
		if part.shot.Coffee == 0 && part.leftIt() {
			s.shot.Marks |= bar.Stuck
			s.hold(from, to-from)
			return
		}
	}
}

// nots deny what was done.
func nots() []string {
	return []string{
		"not", "didn't", "didnt", "haven't", "havent", "hasn't", "hasnt", "never", "nobody", "nothing", "without", "no", "non", "nessuno", "nicht", "nix", "niemand", "nichts", "pas", "n'ai", "personne", "rien", "nadie", "nada", "não", "ninguém", "niet",
	}
}

// turnings are words of turning behind a no.
func turnings() []string {
	return []string{"touch", "move", "change", "changed", "adjust", "turn", "turned", "changing", "touching", "moving", "cambiato", "cambiado", "cambié", "changé", "mudei", "mudado", "geändert", "verändert", "gewechselt", "veranderd", "aangeraakt", "toquei", "movi"}
}

// leftBeside may stand beside them.
//
//nolint:gochecknoglobals // made once, never changed
var leftBeside = sync.OnceValue(func() []string {
	return []string{
		"it", "i", "i've", "ive", "we", "we've", "the", "there", "as", "is", "that", "where", "was", "alone", "just", "so", "did", "have", "has", "had", "been", "yet", "at", "all", "on", "this", "same", "still", "though", "tho", "sorry", "btw", "anything", "then", "either", "of",
		"ich", "hab", "habe", "die", "den", "wir", "haben", "es", "noch", "am", "an", "der", "je", "j'ai", "y", "l'ai", "le", "la", "au", "ne", "ai", "comme", "ça", "ho", "l'ho", "il", "alla", "così", "com'era", "ancora", "lo", "el", "he", "al", "así", "igual", "o", "na", "no", "assim", "como", "estava", "ainda", "ik", "heb", "het", "de", "zo",
	}
})
