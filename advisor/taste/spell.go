package taste

import (
	"strings"
	"unicode/utf8"
)

// lookUp returns the meaning of one normal word: as listed, else with a
// letter drawn out ("soooour"), with an ending ("sourish", "sweeter",
// "bitterness"), else misspelt.
func (l *Lexicon) lookUp(word string) (meaning, bool) {
	if m, ok := l.spelt(word); ok || l.ordinary[word] {
		return m, ok
	}
	return l.nearest(word, l.singles, l.phrases)
}

// spelt is lookUp without what is misspelt.
func (l *Lexicon) spelt(word string) (meaning, bool) {
	if m, ok := l.phrases[word]; ok {
		return m, true
	}
	if l.ordinary[word] {
		return meaning{}, false
	}
	for most := 2; most >= 1; most-- {
		short := Squeeze(word, most)
		if m, ok := l.phrases[short]; ok && short != word {
			return m, true
		}
		if m, ok := l.ending(short); ok {
			return m, true
		}
	}
	return meaning{}, false
}

// Squeeze cuts every run of three or more of one letter to at most so many.
func Squeeze(word string, most int) string {
	var b strings.Builder
	runes := []rune(word)
	for i := 0; i < len(runes); {
		j := i
		for j < len(runes) && runes[j] == runes[i] {
			j++
		}
		n := j - i
		if n >= 3 {
			n = most
		}
		for range n {
			b.WriteRune(runes[i])
		}
		i = j
	}
	return b.String()
}

// ending returns the meaning of a listed word with an ending.
func (l *Lexicon) ending(word string) (meaning, bool) {
	if stem, ok := strings.CutSuffix(word, "ish"); ok {
		if m, ok := l.stem(stem); ok {
			m.degree = aBit
			return m, true
		}
	}
	if stem, ok := strings.CutSuffix(word, "ness"); ok {
		if m, ok := l.stem(stem); ok {
			return m, true
		}
	}
	if stem, ok := strings.CutSuffix(word, "er"); ok {
		if m, ok := l.stem(stem); ok && !m.than {
			if plain, slip := l.shortOf(word); slip && plain.entry != m.entry { // "biter" is bitter, not more biting
				return plain, true
			}
			m.than = true
			return m, true
		}
	}
	return meaning{}, false
}

// stem returns the word of taste that stem is the beginning of, before an
// ending: "sour", "chalki" (chalky), "thinn" (thin), "nic" (nice).
func (l *Lexicon) stem(stem string) (meaning, bool) {
	n := len(stem)
	if n < 2 {
		return meaning{}, false
	}
	forms := []string{stem, stem + "e"}
	if stem[n-1] == 'i' {
		forms = append(forms, stem[:n-1]+"y")
	}
	if stem[n-1] == stem[n-2] {
		forms = append(forms, stem[:n-1])
	}
	for _, form := range forms {
		if m, ok := l.phrases[form]; ok && m.role == term {
			return m, true
		}
	}
	return meaning{}, false
}

// nearest returns the meaning of a misspelt word of taste: the nearest form, no
// more than one edit away, or two if both have seven letters or more, that
// begins with the same letter. Where forms of two entries are equally near,
// there is none: an unread word is asked about, a wrong one misleads. What keeps a
// cup from being served is taken from one edit alone.
func (l *Lexicon) nearest(word string, forms []string, phrases map[string]meaning) (meaning, bool) {
	var (
		found meaning
		near  = 3
	)
	for _, form := range forms {
		if !strings.HasPrefix(word, form[:1]) {
			continue
		}
		m, most := phrases[form], allowed(word, form)
		if l.entries[m.entry].Fault == Cleaner {
			most = min(most, 1)
		}
		d := distance(word, form, most)
		switch {
		case d < near:
			found, near = m, d
		case d == near && d < 3 && m.entry != found.entry:
			found.role = 0
		}
	}
	for _, form := range forms { // "asty" may be ashy or tasty
		if near < 3 && form[1:] == word && phrases[form].entry != found.entry {
			found.role = 0
		}
	}
	found.misspelt = true
	return found, near < 3 && found.role == term
}

// shortOf returns the meaning of the listed word that this one is by a letter short of.
func (l *Lexicon) shortOf(word string) (meaning, bool) {
	for _, form := range l.singles {
		if len(form) == len(word)+1 && form[0] == word[0] && Edits(word, form) == 1 && !l.phrases[form].than {
			m := l.phrases[form]
			m.misspelt = true
			return m, true
		}
	}
	return meaning{}, false
}

// allowed returns how many edits may lie between a word and a form.
func allowed(word, form string) int {
	switch n := min(utf8.RuneCountInString(word), utf8.RuneCountInString(form)); {
	case n < 4:
		return 0
	case n < 7:
		return 1
	}
	return 2
}

// distance returns the edits between a and b, or 3 if that is more than most.
func distance(a, b string, most int) int {
	far := utf8.RuneCountInString(a) - utf8.RuneCountInString(b)
	if most == 0 || far > most || -far > most {
		return 3
	}
	if d := Edits(a, b); d <= most {
		return d
	}
	return 3
}

// Edits returns the number of letters added, dropped, changed or swapped with a
// neighbour between a and b.
func Edits(a, b string) int {
	x, y := []rune(a), []rune(b)
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}
