package taste

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"shothand/advisor/bar"
)

// A token is a word of a text, or a mark between words.
type token struct {
	word string // normal form; empty for a mark
	raw  string // as typed, lower case
	mark rune   // ',' ends a clause, '?' with a question, '/' joins
}

// tokenize cuts text into lower-case words and marks. Hyphens part words,
// apostrophes vanish within them, accents are dropped; numbers, pictures and
// the rest are left out. Where elided, an apostrophe parts an article or a
// pronoun that lost its vowel from its word: "l'acidité".
func tokenize(text string, elided bool) []token {
	var (
		tokens    []token
		word, raw []byte
	)
	flush := func() {
		if startsWithLetter(string(word)) {
			tokens = append(tokens, token{word: string(word), raw: strings.TrimRight(string(raw), "'’")})
		}
		word, raw = word[:0], raw[:0]
	}
	for _, r := range strings.ToLower(text) {
		switch {
		case unicode.IsMark(r) && len(word) > 0:
			raw = utf8.AppendRune(raw, r)
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			word = utf8.AppendRune(word, bar.Bare(r))
			raw = utf8.AppendRune(raw, r)
		case r == '\'' || r == '’':
			if elided && elides(string(word)) {
				flush()
			} else if len(word) > 0 {
				raw = utf8.AppendRune(raw, r)
			}
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

// elides reports whether word loses its last vowel before another, in French
// or Italian.
func elides(word string) bool {
	switch word {
	case "l", "d", "c", "j", "n", "s", "m", "t", "qu", "un", "all", "dell", "nell", "sull", "dall", "quest":
		return true
	}
	return false
}

// markOf returns what r does between words, or 0 for nothing.
func markOf(r rune) rune {
	switch r {
	case '?':
		return '?'
	case ',', ';', '.', ':', '!', '\n', '(', ')', '–', '—':
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
// apostrophes and accents, one space where anything else stands between words.
func normal(phrase string, elided bool) string {
	var words []string
	for _, t := range tokenize(phrase, elided) {
		if t.mark == 0 {
			words = append(words, t.word)
		}
	}
	return strings.Join(words, " ")
}

// spellings returns the normal forms of a phrase of another language: "süß" is
// typed "süss", "suess" and "suss" as well.
func spellings(phrase string) []string {
	if !strings.ContainsAny(phrase, "ßœæäöü") { // most, and the program starts with thousands of them
		return []string{normal(phrase, true)}
	}
	sharp := replaced(phrase, "ß", "ss", "œ", "oe", "æ", "ae")
	var forms []string
	for _, form := range []string{phrase, sharp, umlauts(phrase), umlauts(sharp)} {
		forms = append(forms, normal(form, true))
	}
	slices.Sort(forms)
	return slices.Compact(forms)
}

func umlauts(s string) string { return replaced(s, "ä", "ae", "ö", "oe", "ü", "ue") }

// replaced puts the second of each pair in the place of the first.
func replaced(s string, pairs ...string) string {
	for pair := range slices.Chunk(pairs, 2) {
		s = strings.ReplaceAll(s, pair[0], pair[1])
	}
	return s
}
