package parse

import (
	"strings"

	"shothand/advisor/bar"
)

// eventRight reads that what was told of the bar was of something else, or did not happen:
// "that was a new bag of tide not harbour", "not a new bag", "it was tide's bag".
func eventRight(s *sheet) (Meaning, bool) {
	if s.asks() || s.numbers > 0 {
		return nil, false
	}
	from, not := 0, false
	for ; from < len(s.tokens); from++ {
		t := s.at(from)
		if t.is("no", "not", "wasn't", "wasnt", "isn't", "didn't", "didnt", "never", "non", "nicht", "kein", "keine", "keinen", "pas", "não") {
			not = not || !s.at(from+1).is(",", "wait", "actually", "sorry", "that", "it")
			continue
		}
		if !t.is(wasWords()...) && !t.is("that", "it", "this", "there", "is", "wait", "actually", "sorry", "oops", ",", "i", "mean", "meant", "es", "das", "un", "une", "una", "uma") {
			break
		}
	}
	to := len(s.tokens)
	for i := from + 1; i < to; i++ {
		if s.at(i).is("not", "nicht", "non", "pas", "não") || s.phrase(i, "instead of") > 0 || s.at(i).is(sorries()...) || s.at(i).is("no") && s.second() > i {
			to = i
		}
	}
	if from == to || from == len(s.tokens) {
		return nil, false
	}
	text := strings.TrimRight(s.text[s.tokens[from].start:s.tokens[to-1].end()], " ,")
	part := newSheet(text, s.vocab)
	m, ok := happened(part)
	h, is := m.(Happened)
	if !ok || !is {
		if h, ok = part.bagOf(from > 0 || to < len(s.tokens)); !ok {
			return nil, false
		}
		h.Instead, h.Weak = true, true
	}
	h.Not, h.Instead = not, h.Instead || from > 0 || to < len(s.tokens)
	return h, h.Not || h.Instead && (h.Coffee != 0 || h.Grinder != 0)
}

// bagOf reads "tide's bag" and "the bag was tide" behind a new bag that was told.
func (s *sheet) bagOf(more bool) (Happened, bool) {
	bag, was := false, more
	for i, t := range s.tokens {
		switch {
		case s.used[i]:
			was = was || strings.HasSuffix(t.low, "'s")
		case t.is("bag", "sacco", "tüte", "sac", "paquet", "bolsa", "saco"):
			bag = true
		case t.is(wasWords()...), t.is("is"):
			was = true
		case !t.is("the", "of", "one", "a", "new", "for", ".", "!", ",", "il", "di", "die", "von", "le", "de", "la", "o", "do", "da"):
			return Happened{}, false
		}
	}
	return Happened{Event: bar.NewBag, Coffee: s.shot.Coffee}, bag && was && s.shot.Coffee != 0
}

// ranOut reads that a coffee is out of its hopper, and what came into it: "harbour's run
// out", "heron's out, swapped to night owl on right".
func ranOut(s *sheet) (Meaning, bool) {
	if s.asks() || s.numbers > 0 || s.shot.Coffee == 0 || s.unsure.Kind != 0 {
		return nil, false
	}
	end := len(s.tokens)
	for i, t := range s.tokens {
		if i > 0 && t.is(",", ";", ".", "so", "and") && i+1 < len(s.tokens) {
			end = i
			break
		}
	}
	head := s
	if end < len(s.tokens) {
		head = newSheet(s.text[:s.tokens[end].start], s.vocab)
	}
	if head.shot.Coffee == 0 || !head.isOut(end == len(s.tokens)) {
		return nil, false
	}
	if end == len(s.tokens) {
		return Happened{Event: bar.HopperLow, Coffee: s.shot.Coffee}, true
	}
	m, ok := happened(newSheet(s.text[s.tokens[end].end():], s.vocab))
	h, is := m.(Happened)
	return h, ok && is && h.Event == bar.Swapped && h.Coffee != 0
}

// isOut reports whether a message says that its coffee is out, and no more. Alone,
// "tide's out" may be of the sea.
func (s *sheet) isOut(alone bool) bool {
	rest, ok := s.rest(false, "is", "the", "we", "we're", "i'm", "just", "has", "have", "all", "are", "now", "hopper", "è", "ist", "est", "está", "ha", "se", "of", "di", "l'", "il", "le", "el", "o", "der", "fast", "nearly", "almost")
	if !ok {
		return false
	}
	switch strings.Join(rest, " ") {
	case "out", "empty", "gone", "done":
		return !alone || s.at(0).is("out", "we're", "we") && s.holds("of")
	case "run out", "ran out", "finished", "running out", "running out on", "running low", "running low on", "low on", "getting low", "getting low on", "going low", "finito", "finita", "leer", "alle", "fini", "vide", "acabó", "terminado", "acabou", "agotado", "esaurito":
		return true
	}
	return false
}
