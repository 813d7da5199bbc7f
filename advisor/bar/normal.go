package bar

import (
	"strings"
	"unicode"
)

// Normal returns the form in which words are compared: lower case, without
// apostrophes and accents, one space where anything else stands between words.
// What does not begin with a letter is left out.
func Normal(text string) string {
	low := strings.Map(func(r rune) rune {
		if r == '\'' || r == '’' || unicode.IsMark(r) {
			return -1
		}
		return Bare(r)
	}, strings.ToLower(text))
	words := strings.FieldsFunc(low, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	kept := words[:0]
	for _, w := range words {
		if strings.IndexFunc(w, unicode.IsLetter) == 0 {
			kept = append(kept, w)
		}
	}
	return strings.Join(kept, " ")
}
