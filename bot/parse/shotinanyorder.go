package parse

import (
	"errors"
	"strconv"
	"strings"
)

// inAnyOrder reads three numbers of a shot that no other reader placed, in whatever words
// they stand: "took 25 for 36 out with 18 in, sour", "18 entra 36 sale 27 seg". Each is what
// the word beside it or its unit says, and the rest what they are near. It is read as if it
// had been typed plainly, and what it says besides with it.
func (s *sheet) inAnyOrder() (Meaning, bool) {
	if s.numbers != 3 || s.asks() || s.planned() || s.intends() || s.elsewhere() || s.unsure.Kind != 0 {
		return nil, false
	}
	var told [3]said
	var places [3]place
	n, strange := 0, 0
	var rest strings.Builder
	for i := 0; i < len(s.tokens); i++ {
		t := s.tokens[i]
		if t.kind == numberToken {
			q, m := s.one(i)
			if m == 0 || n == 3 || q.unit != noUnit && q.unit != gram && q.unit != second {
				return nil, false
			}
			told[n], places[n] = said{quantity: q, at: i, n: m}, s.placeBeside(i, m, q.unit)
			n++
			i += m - 1
			continue
		}
		h := hints()[t.low]
		if h == 0 && t.kind == wordToken && !s.used[i] && !s.lex.known(t.low) && !s.lex.filler(t.low) && unitOf(t.low) == noUnit {
			strange++
		}
		switch {
		case h&otherHint != 0, strange > 2, t.kind != wordToken && t.kind != symbolToken, t.is("+", "€", "$", "£"):
			return nil, false
		case t.kind == wordToken && !s.used[i] && (h.place() != 0 || h != 0 && !s.lex.known(t.low)), t.is(">", "→", "=", "-", "/"):
			continue
		}
		rest.WriteString(" " + t.text)
	}
	if n != 3 || places == [3]place{} { // three numbers alone may be of anything
		return nil, false
	}
	dose, yield, time, ok := s.placed(told, places)
	if !ok {
		return nil, false
	}
	number := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	m, err := newSheet(number(dose)+" "+number(yield)+" "+number(time)+rest.String(), s.vocab).asTyped()
	shot, ok := m.(Shot)
	return shot, ok && err == nil && shot.Dose.Said && shot.Yield.Said && shot.Time.Said
}

// placeBeside returns what the unit of a number or the word beside it says it is, 0 for
// nothing.
func (s *sheet) placeBeside(i, n int, u unit) place {
	if u == second {
		return timePlace
	}
	after, before := s.at(i+n), s.at(i-1)
	if after.is("in", "entra", "entrée", "entrata", "hinein") && !s.the(i+n+1) && !s.isNumber(i+n+1) {
		return dosePlace
	}
	for _, t := range []token{after, before, s.at(i - 2), s.at(i + n + 1)} {
		if p := hints()[t.low].place(); p != 0 && p != dialPlace {
			return p
		}
		if t.kind == numberToken {
			break
		}
	}
	return 0
}

// placed puts three numbers where they belong: those that are named, and the others where
// they alone may be. Where several ways are left, the usual order is one of them.
func (s *sheet) placed(told [3]said, places [3]place) (dose, yield, time float64, ok bool) {
	recipe := s.recipe()
	may := func(i int, p place) bool {
		x := told[i].vals[0]
		switch {
		case places[i] != 0:
			return places[i] == p
		case p == dosePlace:
			return apart(x, float64(recipe.Dose)) < farDose
		case p == yieldPlace:
			return apart(x, float64(recipe.Yield)) < farFromRecipe
		}
		return told[i].unit == noUnit && aShot(x)
	}
	found := 0
	for n, order := range [][3]int{{0, 1, 2}, {1, 0, 2}, {0, 2, 1}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} { // of dose, yield and time
		if !may(order[0], dosePlace) || !may(order[1], yieldPlace) || !may(order[2], timePlace) {
			continue
		}
		if found++; found == 1 {
			dose, yield, time = told[order[0]].vals[0], told[order[1]].vals[0], told[order[2]].vals[0]
		}
		if n == 0 {
			return dose, yield, time, true
		}
	}
	return dose, yield, time, found == 1
}

// farDose is how far a dose may lie from the recipe's to be known as one, as a logarithm.
// Assumed.
const farDose = 0.25

// misplaced reports whether a message with three numbers was not read as a shot that has them.
func (s *sheet) misplaced(m Meaning, err error) bool {
	switch w := m.(type) {
	case Shot:
		other := w.Grind.Said || w.TDS.Said || w.Water.Said || w.Drip.Said || w.Ratio.Said
		return s.numbers == 3 && w.Dose.Said && w.Yield.Said && !w.Time.Said && !other && len(w.Doubt) == 0
	case Chatter:
		return true
	case nil:
		mistake, ok := errors.AsType[Mistake](err)
		return ok && mistake.Kind == Unclear
	case Words, Call, Correction, Happened, CallIt, Set:
	}
	return false
}
