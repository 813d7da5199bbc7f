package history

import (
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// Heard returns h with the bar's own words put for what they mean, also where
// they were said before anybody had taught them. What was said is read again
// for how much and whether it was denied. Heard changes nothing of h, and
// nothing of what it has returned.
func Heard(h bar.History) bar.History {
	means := h.Bar.Words
	if len(means) == 0 {
		return h
	}
	lexicon := taste.Default().With(h.Bar.Words.List())
	h.Entries = slices.Clone(h.Entries)
	for i, e := range h.Entries {
		switch w := e.What.(type) {
		case bar.Shot:
			w.Words, w.Unread = heard(lexicon, means, w.Words, w.Unread, e.Raw)
			h.Entries[i].What = w
		case bar.Words:
			w.Words, w.Unread = heard(lexicon, means, w.Words, w.Unread, e.Raw)
			h.Entries[i].What = w
		case bar.Told, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
		}
	}
	return h
}

// heard returns words and unread ones with what they mean.
func heard(l *taste.Lexicon, means map[string]string, words []bar.Word, unread []string, raw string) ([]bar.Word, []string) {
	own := func(word string) bool { _, ok := means[bar.Normal(word)]; return ok }
	late := slices.ContainsFunc(unread, own)
	if !late && !slices.ContainsFunc(words, func(w bar.Word) bool { return own(w.Term) }) {
		return words, unread
	}
	said := slices.Clone(words)
	if late {
		unread = slices.DeleteFunc(slices.Clone(unread), own)
		read, _ := l.Read(raw)
		said = append(said, slices.DeleteFunc(read, func(w bar.Word) bool { return !own(w.Term) })...)
	}
	for i, w := range said {
		if m, ok := means[w.Term]; ok {
			said[i].Term = m
		}
	}
	return slices.DeleteFunc(said, func(w bar.Word) bool { return w.Term == "" }), unread
}
