package advisor

import (
	"math"
	"strconv"
	"testing"

	"shothand/advisor/bar"
)

// longStage is a bar with so many shots behind it, over days.
func longStage(shots int) *stage {
	s := newStage(lower(), recipe())
	for n := range shots {
		if n%20 == 19 {
			s.now = s.now.Add(22 * 60 * 60 * 1e9)
		}
		grind := bar.Dial(5 - 0.1*float64(n%3))
		seconds := 28 * math.Exp(0.045*float64(n%3)+0.05*math.Sin(float64(7*n)))
		s.silent(grind, bar.Seconds(math.Round(seconds)), words(seconds))
	}
	return s
}

// BenchmarkAdvise gives advice from cold, with so many shots in the history.
func BenchmarkAdvise(b *testing.B) {
	for _, shots := range []int{1, 20, 200} {
		b.Run(strconv.Itoa(shots), func(b *testing.B) {
			s := longStage(shots)
			b.ReportAllocs()
			for b.Loop() {
				Advise(s.History, 1, s.now)
			}
		})
	}
}

// BenchmarkAdviseOneNew gives advice on the 200th shot, where those before it are
// remembered.
func BenchmarkAdviseOneNew(b *testing.B) {
	s := longStage(200)
	before := s.History
	before.Entries = s.Entries[:199]
	b.ReportAllocs()
	for b.Loop() {
		b.StopTimer()
		m := NewMemory(4)
		m.Advise(before, 1, s.now)
		b.StartTimer()
		m.Advise(s.History, 1, s.now)
	}
}
