package parse

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
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
		first, second := dayless(s.text[:t.start]), dayless(s.text[from:])
		one, is := s.sets(first)
		if !is {
			continue
		}
		if two, also := s.sets(second); also && (one.Grinder != two.Grinder || one.Coffee != two.Coffee) {
			one.Also, one.Both = &two, [2]string{cut(first), cut(second)}
			return one, true
		}
	}
	if i := slices.IndexFunc(s.tokens, func(t token) bool { return t.is(".", "!", ";") }); i > 0 && !numbered(s.tokens[:i]) { // "right im in. left 5.4, right 12"
		return newSheet(s.text[s.tokens[i].end():], s.vocab).settings()
	}
	return set, false
}

// dayless returns what was said of a dial without the day.
func dayless(text string) string {
	text = strings.TrimSpace(text)
	for _, when := range []string{" this morning", " this am", " today", " now", " heute", " heute früh", " stamattina", " oggi", " ce matin", " aujourd'hui", " esta mañana", " hoy", " hoje"} {
		text = strings.TrimSuffix(text, when)
	}
	return text
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
// dial since: "sour, trying 5.1 next", "bitter so opened it up 1", "new bag, 2 finer".
func tastedAndSet(s *sheet) (Meaning, bool) {
	if s.asked() || s.asks() || len(s.tokens) > mostRemarkTokens {
		return nil, false
	}
	for i, t := range s.tokens {
		if i == 0 || i+1 == len(s.tokens) || !t.is(",", ";", ".", "-", "–", "—", "and", "so", "then", "&", "+", "und", "dann", "also", "e", "poi", "quindi", "y", "luego", "así", "et", "puis", "donc", "depois", "então") {
			continue
		}
		head := s.text[:t.start]
		h, ok := happened(newSheet(head, s.vocab))
		if told, is := h.(Happened); ok && is {
			if told.Set, ok = s.setBehind(i, setting); ok {
				return told, true
			}
		}
		if m, ok := s.tastedBefore(i); ok {
			return m, true
		}
	}
	return s.tasteAndPlace()
}

// tastedBefore reads how a cup was before token i, and behind it what was done to the dial.
func (s *sheet) tastedBefore(i int) (Meaning, bool) {
	counted := numbered(s.tokens[i+1:]) || slices.ContainsFunc(s.tokens[i+1:], func(t token) bool { return countOf(t) > 0 })
	if !counted || numbered(s.tokens[:i]) {
		return nil, false
	}
	set, ok := s.setBehind(i, setting, movedInWords, (*sheet).turned)
	if !ok || !set.Grind.Said {
		return nil, false
	}
	m, err := newSheet(s.text[:s.tokens[i].start], s.vocab).understood()
	w, is := m.(Words)
	w.Set = set
	return w, is && err == nil
}

// tasteAndPlace reads how a cup was, and behind it a place alone that is near where the dial
// stands: "sour. 5.1". A shot that tastes well is left where it was.
func (s *sheet) tasteAndPlace() (Meaning, bool) {
	i := len(s.tokens) - 1
	if i < 1 || s.numbers != 1 || s.at(i-1).is(onWords()...) || !s.dialNear(i) || !OneDecimal(s.tokens[i].text) {
		return nil, false
	}
	m, err := newSheet(strings.TrimRight(s.text[:s.tokens[i].start], " ,;.:-–—"), s.vocab).understood()
	w, is := m.(Words)
	if !is || err != nil || len(w.Unread) > 0 || !complains(w.Words) {
		return nil, false
	}
	if first(s.tokens[i].num) != s.vocab.Pulled.Dial { // else it was pulled there
		w.Set = Set{Grind: s.readDial(i, 1), Grinder: s.shot.Grinder}
		w.Set.Grind.Said = true
	}
	return w, true
}

// complains reports whether words tell of a fault.
func complains(words []bar.Word) bool {
	return slices.ContainsFunc(words, func(w bar.Word) bool {
		e, ok := taste.Default().Entry(w.Term)
		return ok && !w.Not && (max(math.Abs(e.Extraction), math.Abs(e.Strength)) > 1 || e.Praise < 0)
	})
}

// setBehind reads what was done to a dial behind token i, where that is all that is said
// there.
func (s *sheet) setBehind(i int, readers ...func(*sheet) (Meaning, bool)) (Set, bool) {
	text := strings.TrimSpace(s.text[s.tokens[i].end():])
	for _, read := range readers {
		m, ok := read(newSheet(text, s.vocab))
		if set, is := m.(Set); ok && is {
			return set, true
		}
	}
	return s.sets(text)
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
