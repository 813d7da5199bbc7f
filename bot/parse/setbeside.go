package parse

import (
	"math"
	"strings"
	"unicode"

	"shothand/advisor/bar"
)

// What is said of a dial beside something else: another dial, a cup, what happened.

// settings reads where two grinders were put: "left at 5.0, right at 21".
func (s *sheet) settings() (set Set, ok bool) {
	if len(s.tokens) > mostRemarkTokens {
		return set, false
	}
	for i, t := range s.tokens {
		joint := t.is(",", ";", ".", "/", "and", "und", "et", "e", "y", "&")
		if !joint && t.kind != wordToken || !numbered(s.tokens[:i]) || !numbered(s.tokens[i:]) {
			continue
		}
		from := t.start // "left 5.2 right 15"
		if joint {
			from = t.end()
		}
		first, second := strings.TrimSpace(s.text[:t.start]), strings.TrimSpace(s.text[from:])
		for _, when := range []string{" this morning", " today", " now", " heute", " heute früh", " stamattina", " oggi", " ce matin", " aujourd'hui", " esta mañana", " hoy", " hoje"} {
			second = strings.TrimSuffix(second, when)
		}
		one, is := s.sets(first)
		if !is {
			continue
		}
		if two, also := s.sets(second); also && (one.Grinder != two.Grinder || one.Coffee != two.Coffee) {
			one.Also, one.Both = &two, [2]string{cut(first), cut(second)}
			return one, true
		}
	}
	return set, false
}

// sets reads where a text says that a named grinder, or the grinder of a named coffee, was
// put.
func (s *sheet) sets(text string) (Set, bool) {
	if !strings.ContainsFunc(text, unicode.IsLetter) { // it names nothing
		return Set{}, false
	}
	part := newSheet(text, s.vocab)
	m, ok := setting(part)
	set, is := m.(Set)
	if (!ok || set.Whole) && (part.shot.Grinder != 0 || part.shot.Coffee != 0) { // "right at 21"
		m, ok = setting(newSheet("now "+text, s.vocab))
		set, is = m.(Set)
	}
	return set, ok && is && (set.Grinder != 0 || set.Coffee != 0)
}

// tastedAndSet reads how a cup was, or what happened, and behind a stop what was done to the
// dial since: "sour, trying 5.1 next", "new bag, 2 finer".
func tastedAndSet(s *sheet) (Meaning, bool) {
	if s.asked() || s.asks() || len(s.tokens) > mostRemarkTokens {
		return nil, false
	}
	stopped := false
	for i, t := range s.tokens {
		stop := t.is(",", ";", ".")
		if i == 0 || i+1 == len(s.tokens) || !stop && !t.is("and", "so", "then", "&", "+", "und", "dann", "e", "poi", "y", "luego", "et", "puis", "depois") {
			continue
		}
		head := s.text[:t.start]
		h, ok := happened(newSheet(head, s.vocab))
		if told, is := h.(Happened); ok && is {
			if told.Set, ok = s.setBehind(i); ok {
				return told, true
			}
		}
		if stop && !stopped {
			stopped = true
			m, err := newSheet(head, s.vocab).understood()
			w, is := m.(Words)
			if w.Set, ok = s.setBehind(i); ok && is && err == nil && numbered(s.tokens[i+1:]) {
				return w, true
			}
		}
	}
	return nil, false
}

// setBehind reads what was done to a dial behind token i, where that is all that is said
// there.
func (s *sheet) setBehind(i int) (Set, bool) {
	text := s.text[s.tokens[i].end():]
	m, ok := setting(newSheet(text, s.vocab))
	set, is := m.(Set)
	if ok && is {
		return set, true
	}
	return s.sets(strings.TrimSpace(text))
}

// setBeside returns what was done to the dial by a message about a cup: "sour,
// went 2 finer". What somebody may only wish, "a bit finer", is left out.
func (s *sheet) setBeside() Set {
	g := s.shot.Grind
	if !g.Said || g.Odd || !s.holds(setWords()...) && (!g.Relative || !plainSteps(g)) {
		return Set{}
	}
	return Set{Grind: g, Grinder: s.shot.Grinder, Purged: s.shot.Marks.Has(bar.Purged)}
}

// plainSteps reports whether the steps of a move were counted.
func plainSteps(g Grind) bool {
	return g.X != math.Trunc(g.X) || math.Abs(g.X) > 1 || digits(g.Text) > 0
}
