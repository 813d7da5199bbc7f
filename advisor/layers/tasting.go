package layers

import (
	"slices"

	"shothand/advisor/bar"
)

// Cups is how many cups a split has.
const Cups = 3

// MostScore is the top of a scale.
const MostScore = 5

// A Tasting is what one person said of the cups of one split.
type Tasting struct {
	Taster uint64
	Split  int // from 1
	Sips   []bar.Note
}

// Note returns what was said of a cup.
func (t Tasting) Note(l bar.Layer) (bar.Note, bool) {
	for _, s := range t.Sips {
		if s.Of == l {
			return s, true
		}
	}
	return bar.Note{}, false
}

// Complete reports whether all three cups were tasted.
func (t Tasting) Complete() bool {
	for l := range bar.Layer(Cups) {
		if s, ok := t.Note(l); !ok || !s.Tasted() {
			return false
		}
	}
	return true
}

// With returns t with a newer tasting's cups in place of the same cups. A cup
// whose weight or strength alone is told keeps what was said of its taste.
func (t Tasting) With(newer Tasting) Tasting {
	t.Sips = slices.Clone(t.Sips)
	for _, s := range newer.Sips {
		if i := slices.IndexFunc(t.Sips, func(old bar.Note) bool { return old.Of == s.Of }); i >= 0 {
			t.Sips[i] = with(t.Sips[i], s)
		} else {
			t.Sips = append(t.Sips, s)
		}
	}
	return t
}

// with returns s with what newer says in its place.
func with(s bar.Note, newer bar.Note) bar.Note {
	if newer.Mass > 0 {
		s.Mass = newer.Mass
	}
	if newer.TDS > 0 {
		s.TDS = newer.TDS
	}
	if newer.Tasted() || len(newer.Unread) > 0 {
		s.Words, s.Unread, s.Scores = newer.Words, newer.Unread, newer.Scores
	}
	return s
}
