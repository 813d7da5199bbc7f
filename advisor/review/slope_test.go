package review

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// Two means differ by Welch's t: of 1, 2, 3, 4, 5 and 2, 4, 6, 8, 10 by −3, with
// s² = 2.5/5 + 10/5 and 25/17 · 4 = 5.88 degrees of freedom, worked out by hand. Those
// that never scatter differ by what they differ.
func TestDifference(t *testing.T) {
	got := difference([]float64{1, 2, 3, 4, 5}, []float64{2, 4, 6, 8, 10})
	half := distuv.StudentsT{Sigma: 1, Nu: 100.0 / 17}.Quantile(0.95) * math.Sqrt(2.5)
	if !(math.Abs(got.Mid+3) < 1e-12 && math.Abs(got.Low+3+half) < 1e-12 && math.Abs(got.High+3-half) < 1e-12) {
		t.Errorf("%+v, want −3 ± %v", got, half)
	}
	if got := difference([]float64{2, 2}, []float64{1, 1, 1}); got.Low != 1 || got.High != 1 {
		t.Errorf("of what never scatters: %+v", got)
	}
}

// The mean of few values is drawn to none, of many it is theirs; with a flat
// prior and no prior scatter to speak of it is Student's.
func TestMean(t *testing.T) {
	few := mean([]float64{3}, []float64{1}, priorTime, scatterTime)
	var x, w []float64
	for range 400 {
		x, w = append(x, 2, 4), append(w, 1, 1)
	}
	many := mean(x, w, priorTime, scatterTime)
	// One value of 3 with scatter 2 and prior 4: 16/(16+4) of it.
	if !(math.Abs(few.Mid-2.4) < 1e-9 && few.Low < 0) {
		t.Errorf("of one: %+v", few)
	}
	if !(math.Abs(many.Mid-3) < 0.01 && many.High-many.Low < 0.15) {
		t.Errorf("of many: %+v", many)
	}
	if got := mean(nil, nil, 1, 1); got != (Estimate{}) {
		t.Errorf("of none: %+v", got)
	}
}
