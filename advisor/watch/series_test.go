package watch

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A series that jumps is said to have moved, that way, from about there, by
// about as much; and to be back once it is.
func TestSeriesMovesAndComesBack(t *testing.T) {
	s := Begin(math.Log(28), 0.0008)
	n := 0
	add := func(seconds float64, shots int) {
		for range shots {
			n++
			s.Add(n, math.Log(seconds), 0.0025)
		}
	}
	add(28, 10)
	if _, moved := s.Moved(); moved || s.Leans() != 0 {
		t.Fatal("moved while nothing did")
	}
	add(32, 8)
	m, moved := s.Moved()
	if !moved || m.Way != 1 || m.First != 11 || m.Nth != 1 {
		t.Fatalf("after a jump with shot 11: %+v, %v", m, moved)
	}
	if from, to := math.Exp(m.From), math.Exp(m.To); math.Abs(from-28) > 0.3 || math.Abs(to-32) > 0.3 {
		t.Errorf("from %.1f to %.1f s, want 28 to 32", from, to)
	}
	add(28, 8)
	if _, moved := s.Moved(); moved {
		t.Error("still moved when it is back")
	}
	add(24, 8)
	if m, moved := s.Moved(); !moved || m.Way != -1 || m.Nth != 2 {
		t.Errorf("the second time: %+v, %v", m, moved)
	}
}

// One shot, however odd, is no move.
func TestOneShotIsNoMove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Begin(3.3, 0.001)
		for n := range rapid.IntRange(0, 20).Draw(t, "before") {
			s.Add(n, 3.3, 0.0025)
		}
		s.Add(21, rapid.Float64().Draw(t, "odd"), 0.0025)
		if _, moved := s.Moved(); moved {
			t.Error("moved by one shot")
		}
	})
}

// Whatever comes in, what comes out is a number.
func TestSeriesStaysFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Begin(rapid.Float64Range(0, 6).Draw(t, "mean"), rapid.Float64Range(0, 1).Draw(t, "variance"))
		for n, x := range rapid.SliceOf(rapid.Float64()).Draw(t, "times") {
			s.Add(n+1, x, rapid.Float64Range(-1, 1).Draw(t, "noise"))
			if math.IsNaN(s.mean) || math.IsNaN(s.chart.High) || math.IsNaN(s.chart.Low) {
				t.Fatalf("after %g: %+v", x, s)
			}
		}
	})
}
