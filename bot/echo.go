package bot

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// echoed returns words of taste as they were typed: what is understood as gross
// was "horrible". Misspelt words, comparisons and other languages' words are
// said as they were understood.
func echoed(spoken []bar.Word, raw string) []string {
	typed := lowered(raw)
	words := []string{}
	for _, w := range spoken {
		if form := typedForm(w, typed); form != "" {
			w.Term = form
		}
		if s := wordText(w); !slices.Contains(words, s) {
			words = append(words, s)
		}
	}
	return words
}

// lowered returns the words of a text, in lower case, each between spaces.
func lowered(text string) string {
	text = strings.NewReplacer("'", "", "’", "").Replace(strings.ToLower(text))
	return " " + strings.Join(strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsMark(r) }), " ") + " "
}

// typedForm returns the form of a word that stands in a text, the longest, or
// nothing if the word itself does or none.
func typedForm(w bar.Word, typed string) string {
	e, ok := taste.Default().Entry(w.Term)
	if !ok || w.Than || strings.Contains(typed, " "+w.Term+" ") {
		return ""
	}
	plain := !w.Not && w.Degree == 1
	forms := slices.DeleteFunc(slices.Clone(e.Forms), func(form string) bool {
		return !strings.Contains(typed, " "+form+" ") || !plain && strings.Contains(form, " ")
	})
	if len(forms) == 0 {
		return ""
	}
	return slices.MaxFunc(forms, func(a, b string) int { return cmp.Compare(len(a), len(b)) })
}
