package parse

import (
	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// told returns the marks that words of taste say already.
func told(words []bar.Word) bar.Marks {
	for _, w := range words {
		if markOf(token{&piece{kind: wordToken, low: w.Term}}) == bar.Spurted && (w.Than || !w.Not) {
			return bar.Spurted
		}
	}
	return 0
}

// denied prints the denial of a word. "Not bad" is more than that: praise.
func denied(term string) string {
	words, _ := taste.Default().Read("not " + term)
	if len(words) == 1 && words[0].Term != term {
		return "no " + term
	}
	return "not " + term
}

// WordText prints a word of taste with its degree, so that it is read as w
// again.
func WordText(w bar.Word) string {
	text := w.Term
	switch {
	case w.Than && w.Not:
		text = "less " + text
	case w.Than:
		text = "more " + text
	case w.Not:
		text = denied(text)
	}
	switch d := w.Degree; {
	case d < 0.4:
		return "barely " + text
	case d < 0.75:
		return "a bit " + text
	case d < 1.25:
		return text
	case d < 1.75:
		return "very " + text
	}
	return "way too " + text
}
