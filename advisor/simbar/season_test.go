package simbar

import "testing"

// A season begins each morning where it ended, is the same each time, and does
// not stay where it was.
func TestSeason(t *testing.T) {
	times := func() (list []float64) {
		for _, w := range NewSeason(3, 6, 4) {
			w.Begin()
			if from := w.Table().Start; w.Before != nil && from.Grind != w.Before.Shots()[1].Set.Grind {
				t.Errorf("day %d starts at %g", w.Table().Day, from.Grind)
			}
			s := w.Table().Start
			list = append(list, w.Pull(s).Time)
			s.Grind = w.Table().Dial.Turn(s.Grind, 1)
			w.Pull(s)
		}
		return list
	}
	first, second := times(), times()
	if len(first) != 6 {
		t.Fatalf("%d mornings", len(first))
	}
	differ := false
	for i := range first {
		if first[i] != second[i] {
			t.Errorf("day %d: %g, then %g", i, first[i], second[i])
		}
		differ = differ || first[i] != first[0]
	}
	if !differ {
		t.Error("all mornings are alike")
	}
}
