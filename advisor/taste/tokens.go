package taste

import (
	"strings"
	"unicode"
)

// A token is a word of a text, or a mark between words.
type token struct {
	word string // normal form; empty for a mark
	raw  string // as typed, lower case
	mark rune   // ',' ends a clause, '/' joins
}

// tokenize cuts text into lower-case words and marks. Hyphens part words,
// apostrophes vanish within them; numbers, pictures and the rest are dropped.
func tokenize(text string) []token {
	var (
		tokens    []token
		word, raw strings.Builder
	)
	flush := func() {
		if startsWithLetter(word.String()) {
			tokens = append(tokens, token{word: word.String(), raw: strings.TrimRight(raw.String(), "'’")})
		}
		word.Reset()
		raw.Reset()
	}
	for _, r := range strings.ToLower(text) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r) && word.Len() > 0:
			word.WriteRune(r)
			raw.WriteRune(r)
		case (r == '\'' || r == '’') && word.Len() > 0:
			raw.WriteRune(r)
		default:
			flush()
			if m := markOf(r); m != 0 {
				tokens = append(tokens, token{mark: m})
			}
		}
	}
	flush()
	return tokens
}

// markOf returns what r does between words, or 0 for nothing.
func markOf(r rune) rune {
	switch r {
	case ',', ';', '.', ':', '!', '?', '\n', '(', ')', '–', '—':
		return ','
	case '/', '|':
		return '/'
	case '&', '+':
		return '&'
	}
	return 0
}

func startsWithLetter(s string) bool { return strings.IndexFunc(s, unicode.IsLetter) == 0 }

// normal returns the form in which phrases are compared: lower case, without
// apostrophes, one space where anything else stands between words.
func normal(phrase string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(phrase) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r):
			if gap && b.Len() > 0 {
				b.WriteByte(' ')
			}
			gap = false
			b.WriteRune(r)
		case r == '\'' || r == '’':
		default:
			gap = true
		}
	}
	return b.String()
}
