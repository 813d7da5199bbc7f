package review

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// The slope of a line is its slope, and of the NIST StRD data set Norris the
// certified one (itl.nist.gov/div898/strd/lls/data/Norris), with its standard
// error in the width of the interval.
func TestSlope(t *testing.T) {
	x := []float64{
		0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6,
		556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
	}
	y := []float64{
		0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
		557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
	}
	got := slope(x, y)
	half := distuv.StudentsT{Sigma: 1, Nu: 34}.Quantile(0.95) * 0.429796848199937e-03
	if !(math.Abs(got.Mid-1.00211681802045) < 1e-10 && math.Abs(got.High-got.Mid-half) < 1e-10) {
		t.Errorf("slope %v ± %v", got.Mid, got.High-got.Mid)
	}
	if got := slope([]float64{1, 1}, []float64{2, 3}); !math.IsInf(got.High, 1) {
		t.Errorf("a slope of nothing: %v", got)
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
