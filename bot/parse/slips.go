package parse

import (
	"regexp"
	"slices"
	"strings"
)

// letterOne is a number of two digits whose first was typed as a letter: "l8".
var letterOne = regexp.MustCompile(`^[lI|][0-9]$`)

// slipped reads what a thumb made of a shot's numbers: "l8 36 28" as 18, and "18,36 in 28"
// as two numbers, where those are the recipe's and no third stands for the yield.
func (s *sheet) slipped() *sheet {
	n := 0
	for _, t := range s.tokens {
		if t.kind == numberToken {
			n++
		}
	}
	for i := range s.tokens {
		t := s.tokens[i]
		switch {
		case n > 1 && t.kind == wordToken && letterOne.MatchString(t.text) && i+1 < len(s.tokens) && s.tokens[i+1].kind == numberToken:
			t.kind, t.num = numberToken, plain(10+float64(t.text[len(t.text)-1]-'0'))
		case n == 2 && t.num.form == plainForm && strings.Contains(t.text, ","):
			s.asPair(t, ",")
		case n == 2 && t.num.form == colonForm && i+2 < len(s.tokens) && s.tokens[i+1].is("in", "en", "em") && s.tokens[i+2].kind == numberToken: // "18:36 in 31"
			s.asPair(t, ":")
		}
	}
	return s
}

// asPair makes one numeral dose and yield where it holds what the recipe says they are.
func (s *sheet) asPair(t token, between string) {
	dose, yield, _ := strings.Cut(t.text, between)
	if r := s.recipe(); len(dose) == 2 && len(yield) == 2 && apart(decimal(dose), float64(r.Dose)) <= 2*doseStray && apart(decimal(yield), float64(r.Yield)) <= 2*yieldStray {
		t.num = numeral{form: dashForm, vals: []float64{decimal(dose), decimal(yield)}}
	}
}

// rating is a mark out of five or ten: "4/5".
var rating = regexp.MustCompile(`^[0-9](\.5)?/(5|10)$`)

// rated sets a mark that was given to the cup aside: "18 36 27 4/5".
func (s *sheet) rated() {
	for i, t := range s.tokens {
		if i < 2 || t.kind != numberToken || s.tokens[i-1].end() >= t.start {
			continue
		}
		to := i + 1
		for to < len(s.tokens) && s.tokens[to].start == s.tokens[to-1].end() {
			to++
		}
		if text := s.text[t.start:s.tokens[to-1].end()]; rating.MatchString(text) {
			s.shot.Aside = append(s.shot.Aside, text)
			s.hold(i, to-i)
		}
	}
}

// inTheCup makes "36 out" of "36 in tazza" and its like.
func inTheCup(tokens []token) []token {
	for i := 1; i+1 < len(tokens); i++ {
		n := 2
		if tokens[i+1].is("der", "die", "the", "la", "a") {
			n = 3
		}
		cup := i+n-1 < len(tokens) && tokens[i+n-1].is("cup", "tazza", "tazzina", "taza", "tasse", "chávena", "chavena", "xícara", "xicara")
		if !cup || !tokens[i].is("in", "en", "na", "nella", "dans") || tokens[i-1].kind != numberToken && unitOf(tokens[i-1].low) != gram {
			continue
		}
		out := tokens[i]
		out.low = "out"
		return slices.Concat(tokens[:i], []token{out}, inTheCup(tokens[i+n-1:])[1:])
	}
	return tokens
}
