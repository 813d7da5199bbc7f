package parse

import (
	"slices"
	"strings"
)

// Where a dial stands now, or what is left as it was, told in few words of one number.

// mostStanding is how many tokens such a message has at the most. Assumed.
const mostStanding = 8

// standsNow reads it.
func (s *sheet) standsNow() (Meaning, bool) {
	if s.numbers != 1 || s.asks() || len(s.tokens) < 3 || len(s.tokens) > mostStanding {
		return nil, false
	}
	if c, ok := s.keepsFigure(); ok {
		return c, true
	}
	for _, read := range []func() (Set, bool){s.aBitTo, s.behindNod, s.coffeeStands} {
		if set, ok := read(); ok {
			return set, true
		}
	}
	return nil, false
}

// behindNod reads it behind a word of assent: "ok it's on 5.0".
func (s *sheet) behindNod() (Set, bool) {
	if !s.at(0).is("ok", "okay", "alright", "cool", "k", "yep", "gut", "va", "bene", "vale", "d'accord") {
		return Set{}, false
	}
	m, err := Shorthand(strings.TrimLeft(s.text[s.tokens[0].end():], " ,.!"), s.vocab)
	set, is := m.(Set)
	return set, is && err == nil && set.Grind.Said
}

// coffeeStands reads it of the coffee that is ground there: "the owl's on 11 today". It is of
// now where a verb or a word of now says so.
func (s *sheet) coffeeStands() (Set, bool) {
	named := s.skip(0, "the", "der", "die", "la", "il", "le", "el", "o")
	for named < len(s.tokens) && s.used[named] {
		named++
	}
	is := s.skip(named, "'", "s", "'s", "is", "ist", "steht", "è", "sta", "est", "está", "esta", "é")
	at := s.skip(is, onWords()...)
	if s.shot.Coffee == 0 || at == is || !s.isNumber(at) {
		return Set{}, false
	}
	end := s.skip(at+1, append(nowWords(), "today", "this", "morning", "heute", "oggi", "stamattina", "aujourd'hui", "hoy", "hoje", ".", "!")...)
	verb := is > named || slices.ContainsFunc(s.tokens[:is], func(t token) bool { return strings.HasSuffix(t.low, "'s") })
	fraction := strings.ContainsAny(s.tokens[at].text, ".,")
	if end != len(s.tokens) || end == at+1 && !verb || fraction && !OneDecimal(s.tokens[at].text) {
		return Set{}, false
	}
	g := s.readDial(at, 1)
	g.Said = true
	return Set{Grind: g, Coffee: s.shot.Coffee, Grinder: s.shot.Grinder, Weak: true, Whole: !fraction && s.vocab.Steps[s.grinderMeant()] >= 1}, !g.Odd
}

// aBitTo reads a little way and behind it the place, near where who writes had the dial: "a bit
// finer, 5.1". The number is no amount: a bit was.
func (s *sheet) aBitTo() (Set, bool) {
	i := s.skip(0, append(setWords(), "made", "it", "i", "i've", "ok", "gone", "going", "took", "ho", "ich", "hab", "j'ai")...)
	j := s.skip(i, littles()...)
	way := s.skip(j, mores()...)
	sign := directionOf(s.at(way))
	at := s.skip(way+1, append(onWords(), ",", "-", "–", ":", "to", "auf", "now", "jetzt", "ora", "maintenant", "ahora", "agora")...)
	if j == i || sign == 0 || !s.dialNear(at) || s.tokens[at].num.form != plainForm || s.skip(at+1, "now", ".", "!") != len(s.tokens) {
		return Set{}, false
	}
	g := s.readDial(at, 1)
	g.Said, g.Way = true, sign
	return Set{Grind: g, Coffee: s.shot.Coffee, Grinder: s.shot.Grinder}, true
}

// keepsFigure reads that the dose or the yield is left as the last shot had it, whatever was
// advised: "no, staying at 38".
func (s *sheet) keepsFigure() (Correction, bool) {
	i := s.skip(0, "no", "nope", "nah", ",", "i'm", "im", "we're", "we", "i")
	verb := s.skip(i, "staying", "stay", "stays", "keeping", "keep", "leaving", "bleibe", "bleiben", "resto", "rimango", "reste", "sigo", "fico")
	at := s.skip(verb, append(onWords(), "it", "with", "bei")...)
	if verb == i || !s.isNumber(at) || s.dialLike(at) || s.skip(at+1, "g", ".", "!") != len(s.tokens) {
		return Correction{}, false
	}
	if x := first(s.tokens[at].num); x != s.vocab.Pulled.Yield && x != s.vocab.Pulled.Dose {
		return Correction{}, false
	}
	c := Correction{Still: true, Grind: s.readDial(at, 1)}
	c.Grind.Said = true
	return c, true
}
