package advisor

import (
	"testing"

	"shothand/advisor/bar"
	"shothand/advisor/why"
)

// A little out of the window, taste is asked for before the time moves anything,
// but once: who posts numbers alone gets what the numbers say.
func TestTasteIsAskedForOnceOutsideTheWindow(t *testing.T) {
	for _, first := range []struct {
		seconds bar.Seconds
		asked   bool
	}{{24, true}, {32, true}, {18, false}, {45, false}} {
		s := newStage(lower(), recipe())
		if a := s.pull(5, first.seconds, ""); because(a, why.Untasted) != first.asked {
			t.Errorf("first shot of %v s: %v", first.seconds, a.Reasons)
		}
		if a := s.pull(5, first.seconds, ""); because(a, why.Untasted) {
			t.Errorf("second shot of %v s, nobody tasted the first: %v", first.seconds, a.Reasons)
		}
	}
}

// Advice follows what a taught word means.
func TestTaughtWordsAreJudged(t *testing.T) {
	s := newStage(lower(), recipe())
	s.silent(5, 28, "gribbly")
	s.Entries[0].Raw = "18 36 28 grind 5 gribbly"
	if a, _ := Advise(s.History, 1, s.now); !because(a, why.Untasted) {
		t.Errorf("before it was taught: %v", a.Reasons)
	}
	s.Bar.Words = s.Bar.Words.Teach("gribbly", "sour")
	if a, _ := Advise(s.History, 1, s.now); !because(a, why.UnderExtracted) {
		t.Errorf("after: %v", a.Reasons)
	}
}
