package layers

import "shothand/advisor/taste"

// A Layer is one of the cups.
type Layer int

// The cups of a split, in order, and the whole shot that stands beside them.
const (
	Early Layer = iota
	Middle
	Late
	Whole
)

// String names l, as people type it and the records keep it; empty for none of
// them.
func (l Layer) String() string {
	switch l {
	case Early:
		return "early"
	case Middle:
		return "middle"
	case Late:
		return "late"
	case Whole:
		return "whole"
	}
	return ""
}

// Cups is how many cups a split has.
const Cups = 3

// A Scale is what a taster may give a cup from 0 to 5.
type Scale int

// The scales.
const (
	Sour Scale = iota
	Bitter
	Sweet
	Body
	Dry
)

// String names s, as people type it and the records keep it; empty for none of
// them.
func (s Scale) String() string {
	switch s {
	case Sour:
		return "sour"
	case Bitter:
		return "bitter"
	case Sweet:
		return "sweet"
	case Body:
		return "body"
	case Dry:
		return "dry"
	}
	return ""
}

// MostScore is the top of a scale.
const MostScore = 5

// A Score is what a cup was given on a scale.
type Score struct {
	Of Scale
	X  float64 // 0 to 5
}

// A Note is what was said of one cup. What was not said is zero.
type Note struct {
	Of     Layer
	Mass   float64 // g in the cup
	TDS    float64 // %
	Words  []taste.Word
	Unread []string // words nobody could place
	Scores []Score
}

// Tasted reports whether anything was said of the taste.
func (s Note) Tasted() bool { return len(s.Words) > 0 || len(s.Scores) > 0 }

// A Tasting is what one person said of the cups of one split.
type Tasting struct {
	Taster uint64
	Split  int // from 1
	Sips   []Note
}

// Note returns what was said of a cup.
func (t Tasting) Note(l Layer) (Note, bool) {
	for _, s := range t.Sips {
		if s.Of == l {
			return s, true
		}
	}
	return Note{}, false
}

// Complete reports whether all three cups were tasted.
func (t Tasting) Complete() bool {
	for l := range Layer(Cups) {
		if s, ok := t.Note(l); !ok || !s.Tasted() {
			return false
		}
	}
	return true
}

// With returns t with a newer tasting's cups in place of the same cups. A cup
// whose weight or strength alone is told keeps what was said of its taste.
func (t Tasting) With(newer Tasting) Tasting {
	sips := append([]Note{}, t.Sips...)
	for _, s := range newer.Sips {
		i := 0
		for i < len(sips) && sips[i].Of != s.Of {
			i++
		}
		if i == len(sips) {
			sips = append(sips, s)
			continue
		}
		sips[i] = sips[i].with(s)
	}
	t.Sips = sips
	return t
}

// with returns s with what newer says in its place.
func (s Note) with(newer Note) Note {
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
