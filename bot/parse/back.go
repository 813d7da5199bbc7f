package parse

import (
	"math"
	"slices"
	"strings"
)

// backBy takes a move that names no direction but back, "went back one", "back two
// clicks". Where the dial came from, the bar's book knows.
func (s *sheet) backBy(i int, moved bool) int {
	if !s.at(i).is(backs()...) || s.shot.Grind.Said {
		return 0
	}
	j := s.skip(i+1, "by", "um", "di", "de", "d'un", "a")
	x, n := countOf(s.at(j)), 1
	if a := s.amount(j); a.n > 0 && !a.vague {
		x, n = a.x, a.n
	}
	end := s.skip(j+n, stepWords()...)
	counted := end > j+n
	alone := i == 0 && x <= 3 && x == math.Trunc(x) && j == 1 && end == len(s.tokens) // "back 5" may be somebody's, in minutes
	if x <= 0 || x > 9 || !moved && !counted && !alone || directionOf(s.at(end)) != 0 {
		return 0
	}
	s.setGrind(Grind{Relative: true, Odd: true, Back: true, X: x, Text: s.text[s.tokens[i].start:s.tokens[end-1].end()]})
	return end - i
}

// upOrDown reads "up one" and "down two clicks" alone. Which way that is, of the
// numbers or of the grind, has to be asked.
func (s *sheet) upOrDown() (g Grind, ok bool) {
	i := 0
	for s.used != nil && i < len(s.used) && s.used[i] {
		i++
	}
	i = s.skip(i, "i", "went", "gone", "moved", "turned", "turn", "it", "the", "grinder", "dial", ",", ":")
	if !s.at(i).is(upsAndDowns()...) {
		return g, false
	}
	j := s.skip(i+1, "by", "um", "di", "de", "d'un")
	x, n := countOf(s.at(j)), 1
	if a := s.amount(j); a.n > 0 && !a.vague {
		x, n = a.x, a.n
	}
	end := s.skip(j+n, stepWords()...)
	if s.at(0).is("turn") && s.at(end-1).is("bit", "touch", "little", "tad") { // the music
		return g, false
	}
	if x <= 0 || x > 9 || x > 1 && x != math.Trunc(x) || s.skip(end, ".", "!") != len(s.tokens) {
		return g, false
	}
	return Grind{Said: true, Relative: true, Odd: true, Back: true, X: x, Text: s.text[s.tokens[i].start:s.tokens[end-1].end()]}, true
}

// oneMore reads that a dial was turned once more, as it was last: "another notch", "encore un
// cran". Which way that was, the bar's book knows.
func (s *sheet) oneMore() (g Grind, ok bool) {
	i := s.skip(0, "ok", "and", "went", "gone", "did", "then", "now", "just", "und", "e", "et", "y")
	more := s.skip(i, "another", "nother", "'nother", "one", "yet", "more", "noch", "mal", "ein", "einen", "eine", "un", "un'", "uno", "una", "altro", "altra", "ancora", "encore", "autre", "otro", "otra", "más", "mais", "um", "uma", "outro", "outra", "de", "plus")
	end := s.skip(more, append(stepWords(), moreSteps()...)...)
	again := slices.ContainsFunc(s.tokens[i:more], func(t token) bool {
		return t.is("another", "nother", "'nother", "more", "noch", "altro", "altra", "ancora", "encore", "autre", "otro", "otra", "más", "mais", "outro", "outra")
	})
	if way := directionOf(s.at(s.skip(end, mores()...))); again && end > more && way != 0 && s.skip(s.skip(end, mores()...)+1, ".", "!", "now", "then") == len(s.tokens) {
		return Grind{Said: true, Relative: true, X: way, Text: s.text}, true // "another notch finer"
	}
	if !again || end == more || s.skip(end, ".", "!", "now", "then", "again") < len(s.tokens) {
		return g, false
	}
	return Grind{Said: true, Relative: true, Odd: true, Again: true, X: 1, Text: s.text}, true
}

// onTheWay takes what stands before the place to which a dial was moved: the way
// there, "down to 4.9", where that number has a fraction; and behind it, why: "by mistake".
func (s *sheet) onTheWay(i int) int {
	if n := s.phrase(i, "by mistake") + s.phrase(i, "by accident"); n > 0 && s.shot.Grind.Said {
		return n
	}
	to := s.skip(i+1, "it", "up", "down", "back")
	if s.at(i).is("up", "down", "back", "going") && s.at(to).is("to") && s.isNumber(to+1) && strings.ContainsAny(s.at(to+1).text, ".,") {
		return to + 1 - i
	}
	return 0
}
