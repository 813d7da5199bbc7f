package taste

import (
	"fmt"
	"strings"
)

// A tongue is what one language adds to English: its words stand before those
// of English, for a bar mixes them: "shot troppo bitter".
type tongue struct {
	lang    string
	phrases map[string]meaning
	longest int      // words in the longest phrase
	singles []string // one-word forms, ordered, that a misspelling may mean
}

func newTongue(lang string) *tongue {
	return &tongue{lang: lang, phrases: make(map[string]meaning)}
}

// add gives a phrase its meaning, which may not be given twice.
func (t *tongue) add(phrase string, m meaning) error {
	phrase, m.doubtful = strings.CutSuffix(phrase, "?")
	phrase, m.than = strings.CutSuffix(phrase, ">")
	phrase, bit := strings.CutSuffix(phrase, "~")
	if bit {
		m.degree = aBit
	}
	for _, key := range spellings(phrase) {
		if _, ok := t.phrases[key]; ok || key == "" {
			return fmt.Errorf("%s: %q is empty or listed twice", t.lang, phrase)
		}
		t.phrases[key] = m
		t.longest = max(t.longest, strings.Count(key, " ")+1)
	}
	return nil
}

// lookUp returns the meaning of a word that is not listed, with a letter drawn
// out or misspelt.
func (t *tongue) lookUp(l *Lexicon, word string) (meaning, bool) {
	for most := 2; most >= 1; most-- {
		if m, ok := t.phrases[Squeeze(word, most)]; ok {
			return m, true
		}
	}
	if l.ordinary[word] {
		return meaning{}, false
	}
	m, ok := l.nearest(word, t.singles, t.phrases)
	m.doubtful = true
	return m, ok
}
