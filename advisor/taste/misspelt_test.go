package taste

import (
	"slices"
	"testing"

	"shothand/advisor/bar"
)

// A thumb's slip in a plain word of taste, a letter dropped, doubled or swapped with the
// next, is never read as a taste of the opposite direction: it is that word, or asked about.
func TestSlipsNeverTurnRound(t *testing.T) {
	l, slips := Default(), turnedRound(t, Default(), Default().singles, Default().phrases)
	for _, tongue := range l.tongues {
		slips += turnedRound(t, l.In(tongue.lang), tongue.singles, tongue.phrases)
	}
	if slips < 10000 {
		t.Errorf("%d slips, want 10000", slips)
	}
}

// turnedRound reads the slips of words of one language, and returns how many there are.
func turnedRound(t *testing.T, l *Lexicon, forms []string, phrases map[string]meaning) (slips int) {
	t.Helper()
	for _, form := range forms {
		if phrases[form].than {
			continue
		}
		meant := l.entries[phrases[form].entry]
		for _, slip := range slipsOf(form) {
			if listedAnywhere(l, slip) { // "tart" and "tar"
				continue
			}
			words, _ := l.Read(slip)
			if slips++; slices.ContainsFunc(words, func(w bar.Word) bool { return opposite(l, meant, w) }) {
				t.Errorf("%s: %q, a slip of %q, is read as %+v", l.home, slip, form, words)
			}
		}
	}
	return slips
}

// listedAnywhere reports whether a word is one of the lexicon's as it stands.
func listedAnywhere(l *Lexicon, word string) bool {
	_, listed := l.phrases[word]
	return listed || slices.ContainsFunc(l.tongues, func(t *tongue) bool {
		_, listed := t.phrases[word]
		return listed
	})
}

// slipsOf returns a word with each letter dropped, doubled and swapped with the next.
func slipsOf(word string) (list []string) {
	r := []rune(word)
	for i := range r {
		list = append(list, string(r[:i])+string(r[i+1:]), string(r[:i+1])+string(r[i:]))
		if i+1 < len(r) && r[i] != r[i+1] {
			list = append(list, string(r[:i])+string(r[i+1])+string(r[i])+string(r[i+2:]))
		}
	}
	return list
}

// opposite reports whether a word as it was read says the opposite of an entry.
func opposite(l *Lexicon, meant Entry, read bar.Word) bool {
	e, _ := l.Entry(read.Term)
	sign := 1.0
	if read.Not {
		sign = -1
	}
	against := func(a, b float64) bool { return a*b*sign < 0 && min(a*a, b*b) > 0.01 }
	return against(meant.Extraction, e.Extraction) || against(meant.Strength, e.Strength) || against(meant.Praise, e.Praise)
}
