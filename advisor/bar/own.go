package bar

import (
	"encoding/json"
	"maps"
	"slices"
)

// OwnWords are the words a bar has taught and what each means there. They are
// never changed, only replaced.
type OwnWords map[string]string

// NewOwnWords returns the words of a list. Of a word listed twice the last
// counts.
func NewOwnWords(list []Own) OwnWords {
	words := OwnWords{}
	for _, o := range list {
		if word := Normal(o.Word); word != "" {
			words[word] = o.Means
		}
	}
	return words
}

// List returns the words, in their order.
func (o OwnWords) List() []Own {
	var list []Own
	for _, word := range slices.Sorted(maps.Keys(o)) {
		list = append(list, Own{Word: word, Means: o[word]})
	}
	return list
}

// Equal reports whether the words are the same and mean the same.
func (o OwnWords) Equal(p OwnWords) bool { return maps.Equal(o, p) }

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
	means, ok := o[Normal(word)]
	return means, ok
}

// Teach returns the words with one more, or one that means something else now.
func (o OwnWords) Teach(word, means string) OwnWords {
	return NewOwnWords(append(o.List(), Own{Word: word, Means: means}))
}

// Forget returns the words without one.
func (o OwnWords) Forget(word string) OwnWords {
	left := NewOwnWords(o.List())
	delete(left, Normal(word))
	return left
}

// Restore returns the words without the change from before to after, word by
// word, and none that was changed again.
func (o OwnWords) Restore(before, after OwnWords) OwnWords {
	now := NewOwnWords(o.List())
	for word := range merged(before, after) {
		old, had := before[word]
		mid, has := after[word]
		last, kept := now[word]
		switch {
		case old == mid && had == has, last != mid || kept != has: // not changed, or changed again
		case had:
			now[word] = old
		default:
			delete(now, word)
		}
	}
	return now
}

func merged(a, b OwnWords) OwnWords {
	all := OwnWords{}
	maps.Copy(all, a)
	maps.Copy(all, b)
	return all
}

// An Own is a word of a bar's own, and what it means there.
type Own struct {
	Word  string `json:"word"`            // as it is said: one word, in its normal form
	Means string `json:"means,omitempty"` // a term of the lexicon; empty: no word of taste
}
