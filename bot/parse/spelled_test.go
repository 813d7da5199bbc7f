package parse

import (
	"testing"

	"shothand/advisor/taste"
)

func TestSpelled(t *testing.T) {
	for _, c := range []struct {
		text string
		x    float64
		rest string
	}{
		{"eighteen", 18, ""},
		{"Thirty six out", 36, " out"},
		{"thirty-six", 36, ""},
		{"thirty eighteen", 30, " eighteen"},
		{"eighteen six", 18, " six"},
		{"five point one", 5.1, ""},
		{"thirty six point five g", 36.5, " g"},
		{"twenty, six", 20, ", six"},
		{"siebenundzwanzig", 27, ""},
		{"Dreissig", 30, ""},
		{"fünf komma zwei", 5.2, ""},
		{"dix-huit", 18, ""},
		{"vingt et un", 21, ""},
		{"ventotto", 28, ""},
		{"trentasei", 36, ""},
		{"treinta y seis", 36, ""},
		{"vinte e sete", 27, ""},
		{"five", 0, "five"},
		{"five points", 0, "five points"},
		{"ten", 0, "ten"},
		{"once", 0, "once"},
		{"doce", 0, "doce"},
		{"twentyish", 0, "twentyish"},
		{"twenty2", 0, "twenty2"},
		{"", 0, ""},
	} {
		if x, n := spelled(c.text); x != c.x || c.text[n:] != c.rest {
			t.Errorf("%q is %g and %q, want %g and %q", c.text, x, c.text[n:], c.x, c.rest)
		}
	}
}

// No word of a number is one of taste, which it would hide.
func TestSpelledIsNoTaste(t *testing.T) {
	numbers := numberWords()
	for _, words := range []map[string]float64{numbers.whole, numbers.tens} {
		for word := range words {
			for _, e := range taste.Default().Entries() {
				for _, form := range append(e.Forms, e.Term) {
					if form == word {
						t.Errorf("%q is a word of taste", word)
					}
				}
			}
		}
	}
}
