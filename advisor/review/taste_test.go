package review_test

import (
	"math"
	"testing"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/review"
)

// sip returns the word for a cup that lies so many taste steps on the bitter
// side: whoever tastes it takes it for up to a step more or less (sd 0.6, about
// as sharp as the tasters of the simulated bars; assumed).
func (b *bench) sip(cup float64) []bar.Word {
	felt := cup + 0.6*b.dice.NormFloat64()
	word := bar.Word{Term: "sour", Degree: 1}
	if felt > 0 {
		word.Term = "bitter"
	}
	switch size := math.Abs(felt); {
	case size < 0.5:
		word.Term = "balanced"
	case size < 0.9:
		word.Degree = 0.5
	}
	return []bar.Word{word}
}

// pour pulls a shot of so many g at the setting, and tastes it.
func (b *bench) pour(yield bar.Grams, cup float64) {
	b.pull()
	e := &b.history.Entries[len(b.history.Entries)-1]
	s := e.What.(bar.Shot)
	s.Words = b.sip(cup)
	s.Time.X = bar.Seconds(math.Round(float64(s.Time.X)*math.Pow(float64(yield/s.Yield.X), 0.75)*10) / 10)
	s.Yield.X = yield
	e.What = s
}

// advise takes down an advice on the last shot.
func (b *bench) advise(l bar.Lever, from, to float64, u advisor.Unit) {
	b.said = append(b.said, review.Said{Shot: bar.EntryID(len(b.history.Entries)), At: b.at, Lever: l, From: from, To: to, Unit: u})
}

// A lever that is judged by the cup and makes it one taste step less sour, so
// that it is as it should be, is to be found within 30 uses in nine bars of ten;
// one that does nothing is called working in no more than one of ten. More in
// the cup is found in all. Care of the puck is found in every other one only:
// it leaves no trace in the numbers, so cups with it and without teach one and
// the same belief, which soon lies too near the middle for a cup to get nearer.
func TestRealTasteIsFound(t *testing.T) {
	if raced {
		t.Skip("takes minutes")
	}
	const bars, uses = 40, 30
	for _, test := range []struct {
		name        string
		kind        review.Kind
		yield       bar.Grams
		lever       bar.Lever
		worth       float64 // taste steps
		least, most int     // bars in which it is called working
	}{
		{"4 g more", review.Longer, 40, bar.Yield, 1, bars * 9 / 10, bars},
		{"4 g more that do nothing", review.Longer, 40, bar.Yield, 0, 0, bars / 10},
		{"care of the puck", review.Care, 36, bar.Prep, 1, bars * 4 / 10, bars},
		{"care of the puck that does nothing", review.Care, 36, bar.Prep, 0, 0, bars / 10},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			var found, inside, all int
			var sum float64
			for i := range uint64(bars) {
				b := newBench(2000+i, 0)
				for range uses {
					b.pour(36, -1)
					b.pour(36, -1)
					b.advise(test.lever, 36, float64(test.yield), advisor.GramUnit)
					b.pour(test.yield, -1+test.worth)
				}
				for _, e := range b.review(t).Effects {
					if e.Kind != test.kind {
						continue
					}
					all++
					sum += e.Taste.Mid
					if e.Verdict == review.Works {
						found++
					}
					if e.Taste.Low <= test.worth && test.worth <= e.Taste.High {
						inside++
					}
				}
			}
			t.Logf("called working in %d of %d, inside its interval in %d, mean %+.2f", found, all, inside, sum/float64(all))
			if all != bars || found < test.least || found > test.most {
				t.Errorf("called working in %d of %d bars, want %d to %d", found, all, test.least, test.most)
			}
			// 85 %, give or take two standard errors; more often is too wide, and no lie.
			if !(float64(inside) >= (0.85-2*math.Sqrt(0.9*0.1/bars))*bars) {
				t.Errorf("the effect is inside its interval in %d of %d bars", inside, all)
			}
		})
	}
}
