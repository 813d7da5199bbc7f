package parse

import (
	"errors"
	"strings"
)

// Shots returns the texts of the shots that a message tells one after the other, "18 36 28 and
// 18 36 30"; none where one of them has to be asked about.
func Shots(text string, v Vocab) []string {
	s := newSheet(clean(text), v)
	s.run()
	c, ok := s.core()
	if !ok || s.unsure.Kind != Several {
		return nil
	}
	next := c.to
	for next < len(s.items) {
		if _, fits := s.coreAt(next); fits {
			break
		}
		next++
	}
	if next == len(s.items) {
		return nil
	}
	from := s.items[next].from
	for from > s.items[c.to-1].to && !s.tokens[from-1].is(",", ";", ".", "and", "und", "e", "y", "et", "then", "dann", "poi", "puis", "luego", "depois", "&", "+", "/") {
		from--
	}
	start := s.tokens[from].start
	first := strings.TrimRight(text[:start], " ,;.&+/\n")
	for _, and := range []string{" and", " und", " e", " y", " et", " then", " dann", " poi", " puis", " luego", " depois"} {
		first = strings.TrimRight(strings.TrimSuffix(first, and), " ,;.")
	}
	if head, rest, ok := strings.Cut(first, ":"); ok && newSheet(head, v).shot.Coffee == 0 && plainShot(rest, v) {
		first = rest // "two shots: 18 36 28"
	}
	parts := append([]string{strings.TrimSpace(first)}, Shots(text[start:], v)...)
	if len(parts) == 1 {
		parts = append(parts, strings.TrimSpace(text[start:]))
	}
	for _, part := range parts {
		if !plainShot(part, v) {
			return nil
		}
	}
	return parts
}

// plainShot reports whether a text is a shot that nothing has to be asked about.
func plainShot(text string, v Vocab) bool {
	m, err := Shorthand(text, v)
	p, ok := m.(Shot)
	return ok && err == nil && len(p.Doubt) == 0 && p.Stranger == "" && !p.Swapped && !p.Count && !p.Two
}

// IsSeveral reports whether a mistake is that a message tells more than one shot.
func IsSeveral(err error) bool {
	m, ok := errors.AsType[Mistake](err)
	return ok && m.Kind == Several
}
