package review_test

import (
	"math"
	"testing"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/review"
)

// Care of the puck is asked for where a morning's first shot is far from what was
// known, and there the next one is off as well: the setting has moved overnight.
// Care that does nothing is not blamed for that.
func TestCareIsNotBlamed(t *testing.T) {
	if raced {
		t.Skip("twelve simulated bars take minutes under the race detector")
	}
	sum, n, harms := 0.0, 0.0, 0
	for i := range uint64(12) {
		b := newBench(300+i, math.Log(30.0/26))
		for day := range 24 {
			b.morning(day)
		}
		for _, e := range b.review(t).Effects {
			if e.Kind != review.Care {
				continue
			}
			sum, n = sum+e.Cups.Mid, n+1
			if e.Verdict == review.Harms {
				harms++
			}
		}
	}
	t.Logf("care that does nothing claims %+.1f cups of ten, and does no good in %d of %.0f bars", sum/n, harms, n)
	if n < 10 || sum/n < -1.5 || harms > 0 {
		t.Errorf("care is blamed: %+.1f cups of ten, in %d of %.0f bars it does no good", sum/n, harms, n)
	}
}

// morning pulls a first shot, far off on two mornings in three, another with care,
// or now and then without, and then two where the dial was put right.
func (b *bench) morning(day int) {
	b.at = time.Date(2026, 3, 2+day, 6, 30, 0, 0, time.UTC)
	off := 0.0
	if b.dice.Float64() < 0.67 {
		off = math.Copysign(0.28, b.dice.Float64()-0.5)
	}
	settle := func(off float64) { b.level = off - b.worth*(5-b.dial)/0.1 }
	settle(off)
	b.tasted()
	if off == 0 {
		b.tasted()
		return
	}
	if b.dice.Float64() < 0.5 {
		b.said = append(b.said, review.Said{Shot: bar.EntryID(len(b.history.Entries)), Lever: bar.Prep})
	}
	b.tasted()
	b.turn(-math.Round(off / b.worth))
	b.tasted()
	b.tasted()
}

// tasted pulls a shot and says how it tastes: as the clock has it.
func (b *bench) tasted() {
	word := "balanced"
	switch s := b.pull(); {
	case s < 25:
		word = "sour"
	case s > 31:
		word = "bitter"
	}
	last := &b.history.Entries[len(b.history.Entries)-1]
	shot := last.What.(bar.Shot)
	shot.Words = []bar.Word{{Term: word, Degree: 1}}
	last.What = shot
}
