package bar

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
)

// OwnWords are the words a bar has taught and what they mean there, in a form
// that can be compared: "gribbly=sour" a line, in the order of the words.
type OwnWords string

// NewOwnWords returns the words of a list. Of a word listed twice the last
// counts.
func NewOwnWords(list []Own) OwnWords {
	means := map[string]string{}
	for _, o := range list {
		if word := Normal(o.Word); word != "" {
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
func (o OwnWords) List() []Own {
	var list []Own
	for line := range strings.Lines(string(o)) {
		word, means, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "=")
		list = append(list, Own{Word: word, Means: means})
	}
	return list
}

// MarshalJSON lists the words, in their order.
func (o OwnWords) MarshalJSON() ([]byte, error) { return json.Marshal(o.List()) }

// UnmarshalJSON sets o to the words of a list.
func (o *OwnWords) UnmarshalJSON(data []byte) error {
	var list []Own
	err := json.Unmarshal(data, &list)
	*o = NewOwnWords(list)
	return err
}

// Means returns what a word means, or false if it was not taught.
func (o OwnWords) Means(word string) (string, bool) {
	means, ok := o.Meanings()[Normal(word)]
	return means, ok
}

// Meanings returns what each word means.
func (o OwnWords) Meanings() map[string]string {
	means := map[string]string{}
	for _, own := range o.List() {
		means[own.Word] = own.Means
	}
	return means
}

// Teach returns the words with one more, or one that means something else now.
func (o OwnWords) Teach(word, means string) OwnWords {
	return NewOwnWords(append(o.List(), Own{Word: word, Means: means}))
}

// Forget returns the words without one.
func (o OwnWords) Forget(word string) OwnWords {
	means := o.Meanings()
	delete(means, Normal(word))
	return ownWords(means)
}

// Restore returns the words without the change from before to after, word by
// word, and none that was changed again.
func (o OwnWords) Restore(before, after OwnWords) OwnWords {
	was, is, now := before.Meanings(), after.Meanings(), o.Meanings()
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

// An Own is a word of a bar's own, and what it means there.
type Own struct {
	Word  string `json:"word"`            // as it is said: one word, in its normal form
	Means string `json:"means,omitempty"` // a term of the lexicon; empty: no word of taste
}
