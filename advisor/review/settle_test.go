package review_test

import (
	"math"
	"testing"

	"shothand/advisor/review"
)

// How many uses would settle an open kind follows from how wide its interval is:
// with as many, the same mean and an interval that narrows as 1/√n it is open no
// more, and with a good deal fewer it still is.
func TestMoreUsesSettle(t *testing.T) {
	for _, c := range []struct {
		uses     int
		cups, sd float64
	}{
		{28, 0.3, 2}, {28, 0, 3}, {12, 1, 2.5}, {40, -0.5, 2}, {8, 2, 3}, {8, -2.5, 2.5}, {20, 0.2, 1.2},
	} {
		e := review.Judged(c.uses, c.cups, c.sd)
		if e.Verdict != review.Open {
			t.Fatalf("%+v is not open", c)
		}
		after := func(more float64) review.Verdict {
			n := float64(c.uses) + more
			return review.Judged(int(n), c.cups, c.sd*math.Sqrt(float64(c.uses)/n)).Verdict
		}
		if v := after(float64(e.More) + 1); v == review.Open {
			t.Errorf("%+v: %d more are said to settle it, and do not", c, e.More)
		}
		if v := after(0.7*float64(e.More) - 1); v != review.Open {
			t.Errorf("%+v: %d more are said to settle it, and far fewer do", c, e.More)
		}
	}
}

// After a few uses the interval says little of how cups differ: what simulated
// bars show is the least that is reckoned with.
func TestFewUsesPromiseLittle(t *testing.T) {
	for _, cups := range []float64{0.5, -3, 4} {
		if e := review.Judged(2, cups, 1.5); e.More < 10 {
			t.Errorf("after two uses %d more are said to settle it", e.More)
		}
	}
}
