package advisor

import (
	"maps"
	"slices"
	"strings"

	"shothand/advisor/taste"
)

// OwnWords are the words a bar has taught and what they mean there, in a form
// that can be compared: "gribbly=sour" a line, in the order of the words.
type OwnWords string

// NewOwnWords returns the words of a list. Of a word listed twice the last
// counts.
func NewOwnWords(list []taste.Own) OwnWords {
	means := map[string]string{}
	for _, o := range list {
		if word := taste.Normal(o.Word); word != "" {
			means[word] = o.Means
		}
	}
	return ownWords(means)
}

func ownWords(means map[string]string) OwnWords {
	var lines []string
	for _, word := range slices.Sorted(maps.Keys(means)) {
		lines = append(lines, word+"="+means[word])
	}
	return OwnWords(strings.Join(lines, "\n"))
}

// List returns the words, in their order.
func (o OwnWords) List() []taste.Own {
	var list []taste.Own
	for line := range strings.Lines(string(o)) {
		word, means, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "=")
		list = append(list, taste.Own{Word: word, Means: means})
	}
	return list
}

// Means returns what a word means, or false if it was not taught.
func (o OwnWords) Means(word string) (string, bool) {
	means, ok := o.meanings()[taste.Normal(word)]
	return means, ok
}

func (o OwnWords) meanings() map[string]string {
	means := map[string]string{}
	for _, own := range o.List() {
		means[own.Word] = own.Means
	}
	return means
}

// Teach returns the words with one more, or one that means something else now.
func (o OwnWords) Teach(word, means string) OwnWords {
	return NewOwnWords(append(o.List(), taste.Own{Word: word, Means: means}))
}

// Forget returns the words without one.
func (o OwnWords) Forget(word string) OwnWords {
	means := o.meanings()
	delete(means, taste.Normal(word))
	return ownWords(means)
}

// Restore returns the words without the change from before to after, word by
// word, and none that was changed again.
func (o OwnWords) Restore(before, after OwnWords) OwnWords {
	was, is, now := before.meanings(), after.meanings(), o.meanings()
	for word := range merged(was, is) {
		old, had := was[word]
		mid, has := is[word]
		last, kept := now[word]
		switch {
		case old == mid && had == has, last != mid || kept != has: // not changed, or changed again
		case had:
			now[word] = old
		default:
			delete(now, word)
		}
	}
	return ownWords(now)
}

func merged(a, b map[string]string) map[string]string {
	all := maps.Clone(a)
	maps.Copy(all, b)
	return all
}

// Heard returns h with the bar's own words put for what they mean, also where
// they were said before anybody had taught them. What was said is read again
// for how much and whether it was denied. Heard changes nothing of h, and
// nothing of what it has returned.
func (h History) Heard() History {
	means := h.Bar.Words.meanings()
	if len(means) == 0 {
		return h
	}
	lexicon := taste.Default().With(h.Bar.Words.List())
	h.Entries = slices.Clone(h.Entries)
	for i, e := range h.Entries {
		switch w := e.What.(type) {
		case Shot:
			w.Words, w.Unread = heard(lexicon, means, w.Words, w.Unread, e.Raw)
			h.Entries[i].What = w
		case Words:
			w.Words, w.Unread = heard(lexicon, means, w.Words, w.Unread, e.Raw)
			h.Entries[i].What = w
		case Told, Dialled, Setting, Held, Layers, Sips:
		}
	}
	return h
}

// heard returns words and unread ones with what they mean.
func heard(l *taste.Lexicon, means map[string]string, words []taste.Word, unread []string, raw string) ([]taste.Word, []string) {
	own := func(word string) bool { _, ok := means[taste.Normal(word)]; return ok }
	late := slices.ContainsFunc(unread, own)
	if !late && !slices.ContainsFunc(words, func(w taste.Word) bool { return own(w.Term) }) {
		return words, unread
	}
	said := slices.Clone(words)
	if late {
		unread = slices.DeleteFunc(slices.Clone(unread), own)
		read, _ := l.Read(raw)
		said = append(said, slices.DeleteFunc(read, func(w taste.Word) bool { return !own(w.Term) })...)
	}
	for i, w := range said {
		if m, ok := means[w.Term]; ok {
			said[i].Term = m
		}
	}
	return slices.DeleteFunc(said, func(w taste.Word) bool { return w.Term == "" }), unread
}
