package agree

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// units turns judges in rows into things in rows; 0 is missing.
func units(judges ...[]float64) [][]float64 {
	all := make([][]float64, len(judges[0]))
	for i := range all {
		for _, j := range judges {
			x := j[i]
			if x == 0 {
				x = Missing()
			}
			all[i] = append(all[i], x)
		}
	}
	return all
}

func TestAlphaOfPublishedMatrices(t *testing.T) {
	// Krippendorff, Computing Krippendorff's Alpha-Reliability: four judges and
	// twelve things; matrix as in irr's kripp.alpha, values to three decimals there.
	twelve := units(
		[]float64{1, 2, 3, 3, 2, 1, 4, 1, 2, 0, 0, 0},
		[]float64{1, 2, 3, 3, 2, 2, 4, 1, 2, 5, 0, 3},
		[]float64{0, 3, 3, 3, 2, 3, 4, 2, 2, 5, 1, 0},
		[]float64{1, 2, 3, 3, 2, 4, 4, 1, 2, 5, 1, 0},
	)
	// The same author's three judges and fifteen things; values from memory.
	fifteen := units(
		[]float64{0, 0, 0, 0, 0, 3, 4, 1, 2, 1, 1, 3, 3, 0, 3},
		[]float64{1, 0, 2, 1, 3, 3, 4, 3, 0, 0, 0, 0, 0, 0, 0},
		[]float64{0, 0, 2, 1, 3, 4, 4, 0, 2, 1, 1, 3, 3, 0, 4},
	)
	for _, test := range []struct {
		name   string
		values [][]float64
		metric Metric
		want   float64
	}{
		{"twelve, nominal", twelve, Nominal, 0.743421},
		{"twelve, ordinal", twelve, Ordinal, 0.815388},
		{"twelve, interval", twelve, Interval, 0.849107},
		{"twelve, ratio", twelve, Ratio, 0.797403},
		{"fifteen, nominal", fifteen, Nominal, 0.691358},
		{"fifteen, interval", fifteen, Interval, 0.810845},
	} {
		got, ok := Alpha(test.values, test.metric)
		if !ok || !(math.Abs(got-test.want) < 1e-6) {
			t.Errorf("%s: %v, %v; want %v", test.name, got, ok, test.want)
		}
	}
}

func TestTooFewToSay(t *testing.T) {
	if a, ok := Judge(units([]float64{1, 2, 1}, []float64{1, 2, 2}), Nominal); ok || a.Units != 3 {
		t.Errorf("three things: %+v, %v", a, ok)
	}
	if _, ok := Alpha(units([]float64{1, 1}, []float64{1, 1}), Nominal); ok {
		t.Error("nobody differed, and alpha is defined")
	}
	if _, ok := Alpha(nil, Nominal); ok {
		t.Error("nothing was judged, and alpha is defined")
	}
}

// The order of judges and of things does not matter, and alpha is at most 1.
func TestAlphaLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(10, 20).Draw(t, "things")
		values := make([][]float64, n)
		for i := range values {
			values[i] = rapid.SliceOfN(rapid.SampledFrom([]float64{0, 1, 2, 3, Missing()}), 3, 3).Draw(t, "thing")
		}
		m := rapid.SampledFrom([]Metric{Nominal, Ordinal, Interval}).Draw(t, "metric")
		a, ok := Judge(values, m)
		turned := make([][]float64, n)
		for i, u := range values {
			turned[n-1-i] = []float64{u[2], u[0], u[1]}
		}
		b, ok2 := Judge(turned, m)
		if ok != ok2 || math.Abs(a.Alpha-b.Alpha) > 1e-9 || math.Abs(a.Low-b.Low) > 1e-9 {
			t.Errorf("%+v, %v; turned %+v, %v", a, ok, b, ok2)
		}
		if ok && !(a.Low <= a.Alpha && a.Alpha <= a.High && a.High <= 1) {
			t.Errorf("not in order: %+v", a)
		}
	})
}

// Where all judge all, alpha is Fleiss' kappa with a correction for few values:
// 1 − kappa = (1 − alpha)·n/(n − 1). Ten things, fourteen judges, five grades;
// kappa 0.20993070442195522 (statsmodels' own test, after Fleiss 1971).
func TestAlphaAgainstFleiss(t *testing.T) {
	table := [][]int{
		{0, 0, 0, 0, 14},
		{0, 2, 6, 4, 2},
		{0, 0, 3, 5, 6},
		{0, 3, 9, 2, 0},
		{2, 2, 8, 1, 1},
		{7, 7, 0, 0, 0},
		{3, 2, 6, 3, 0},
		{2, 5, 3, 2, 2},
		{6, 5, 2, 1, 0},
		{0, 2, 2, 3, 7},
	}
	values := make([][]float64, len(table))
	for i, row := range table {
		for grade, judges := range row {
			for range judges {
				values[i] = append(values[i], float64(grade))
			}
		}
	}
	alpha, ok := Alpha(values, Nominal)
	const n, want = 140, 0.20993070442195522
	if got := 1 - (1-alpha)*n/(n-1); !ok || !(math.Abs(got-want) < 1e-12) {
		t.Errorf("kappa %v, %v; want %v", got, ok, want)
	}
}

// For two judges, alpha and Cohen's kappa have the same disagreement and expect
// another: alpha that of any two values, kappa that of one value of each judge.
// Two judges, three grades, 200 things; kappa (0.70 − 0.41)/(1 − 0.41) = 0.492
// (Cohen 1960, Educational and Psychological Measurement 20:37; table and result
// from memory, the result worked again by hand).
func TestAlphaAgainstCohen(t *testing.T) {
	table := [3][3]int{{88, 14, 18}, {10, 40, 10}, {2, 6, 12}}
	var values [][]float64
	var one, other, both [3]float64
	for i, row := range table {
		for j, things := range row {
			for range things {
				values = append(values, []float64{float64(i), float64(j)})
			}
			one[i] += float64(things) / 200
			other[j] += float64(things) / 200
		}
	}
	byEach, byAny := 1.0, 1.0
	for i := range both {
		both[i] = (one[i] + other[i]) / 2
		byEach -= one[i] * other[i]
		byAny -= both[i] * both[i]
	}
	alpha, ok := Alpha(values, Nominal)
	const n, want = 400, (0.70 - 0.41) / (1 - 0.41)
	if got := 1 - (1-alpha)*byAny*n/(n-1)/byEach; !ok || !(math.Abs(got-want) < 1e-12) {
		t.Errorf("kappa %v, %v; want %v", got, ok, want)
	}
}
