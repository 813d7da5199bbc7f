package parse

import (
	"math"
	"slices"
	"strings"
)

// halfSaid returns a shot to ask about where a message has two numbers that fit the
// recipe and no more, "18 36", or one that may be a time, and how it tasted: "27 sour".
func (s *sheet) halfSaid() (Meaning, bool) {
	s.forWhom()
	words, unread := s.readWords(len(s.tokens))
	unread = slices.DeleteFunc(unread, s.saysNothing)
	if s.bare() != s.count() || s.labels > 0 || len(unread) > 0 || s.holds("?") || s.planned() || s.social() || s.elsewhere() || !s.together() {
		return nil, false
	}
	x, r := s.inOrder(), s.recipe()
	dose, second, place := x[0], x[s.order()[1]], float64(r.Yield)
	near := func(a, of, stray float64) bool { return apart(a, of) <= 2*stray }
	if s.order()[1] == 2 {
		place = math.Sqrt(float64(r.Low * r.High))
	}
	switch said := func(v float64) Number { return Number{X: v, Said: true} }; {
	case s.count() == 1:
		if len(words) == 0 && !s.again() || dose < 0.6*float64(r.Low) || dose > 1.5*float64(r.High) {
			return nil, false
		}
		s.shot.Time, s.shot.Refers = said(dose), true
	case s.count() != 2:
		return nil, false
	case near(dose, float64(r.Dose), doseStray) && near(second, place, yieldStray):
		s.shot.Dose, s.shot.Yield = said(dose), said(second)
		if s.order()[1] == 2 {
			s.shot.Yield, s.shot.Time = Number{}, said(second)
		}
	case s.order()[1] == 1 && near(dose, float64(r.Yield), yieldStray) && 0.75*float64(r.Low) <= second && second <= 1.5*float64(r.High):
		s.shot.Yield, s.shot.Time = said(dose), said(second)
	case len(words) > 0 && near(second, float64(r.Dose), doseStray) && near(dose, float64(r.Yield), yieldStray):
		s.shot.Dose, s.shot.Yield = said(second), said(dose)
	default:
		return nil, false
	}
	s.shot.Words, s.shot.Half, s.shot.Doubt = words, true, []string{cut(s.text)}
	return s.shot, Check(s.shot) == nil
}

// BareTime reads a number alone that may be the time of a shot: "27", "27.5".
func BareTime(text string) (Number, bool) {
	figures := 0
	for field := range strings.FieldsSeq(text) {
		if isDigit(rune(field[0])) {
			figures++
		}
	}
	if figures > 2 { // more than "27 ± 1" holds
		return Number{}, false
	}
	x, err := Position(strings.TrimSpace(text))
	return Number{X: x, Said: true}, err == nil && aShot(x)
}

// aShot reports whether a bare number is a time in s such as shots take.
func aShot(x float64) bool { return 12 <= x && x <= 60 }

// mostTalk is how many strange words may stand before the time of a shot, so that
// it is asked about. Assumed.
const mostTalk = 4

// timeInTalk returns a shot to ask about where somebody talks of one and says its
// time and how it tastes: "forgot to weigh, 26 s, sour".
func (s *sheet) timeInTalk(fits bool) (Meaning, bool) {
	if bare := !s.timed() && s.holds("shot", "espresso"); fits && !bare || len(s.items) != 1 || !s.timed() && !bare || s.labels > 0 || s.elsewhere() || s.planned() || s.waits() {
		return nil, false
	}
	x := s.items[0].vals[0]
	strange := s.strangers()
	words, unread := s.readWords(len(s.tokens))
	if len(words) == 0 && s.shot.Coffee == 0 || len(strange)+len(unread) > mostTalk || !aShot(x) {
		return nil, false
	}
	s.shot.Words, s.shot.Doubt = words, slices.DeleteFunc(unread, s.saysNothing)
	if len(s.shot.Doubt) == 0 {
		s.shot.Doubt = strange
	}
	if fits { // a number without a unit, beside the word "shot"
		s.shot.Doubt = []string{s.tokens[s.items[0].from].text}
	}
	return s.shot, s.assign() && Check(s.shot) == nil && len(s.shot.Doubt) > 0
}

// doseInTalk returns a shot to ask about where somebody talks of one and says its dose
// and its time: "forgot the yield, 18 in 27s".
func (s *sheet) doseInTalk() (Meaning, bool) {
	if s.count() != 1 || len(s.items) != 1 || s.items[0].unit != noUnit || s.said() != 1 || !s.shot.Time.Said || s.elsewhere() || s.planned() || s.waits() {
		return nil, false
	}
	dose, x, strange := s.items[0].vals[0], s.shot.Time.X, s.strangers()
	words, unread := s.readWords(len(s.tokens))
	if len(strange) == 0 || len(strange)+len(unread) > mostTalk || apart(dose, float64(s.recipe().Dose)) > 2*doseStray || !aShot(x) {
		return nil, false
	}
	s.shot.Dose = Number{X: dose, Said: true}
	s.shot.Words, s.shot.Doubt = words, strange
	return s.shot, Check(s.shot) == nil
}
