package review

import (
	"math"
	"testing"
)

// eightSchools returns the effects of coaching on a test in eight schools, with
// their standard errors (Rubin 1981, as in Gelman et al., Bayesian Data
// Analysis, table 5.2), each divided by its error so that the noise is 1.
func eightSchools(mid layer, between []width) *pooling {
	effects := []float64{28, 8, -3, 7, -1, 1, 18, 12}
	errors := []float64{15, 10, 16, 11, 9, 11, 10, 18}
	one := &pooling{noise: []width{{1, 1}}, layers: []layer{mid, {columns: 8, widths: between}}}
	for i, x := range effects {
		one.rows = append(one.rows, map[int]float64{0: 1 / errors[i], 1 + i: 1 / errors[i]})
		one.y, one.scale = append(one.y, x/errors[i]), append(one.scale, 1)
	}
	return one
}

func school(i int) []float64 {
	c := make([]float64, 9)
	c[0], c[1+i] = 1, 1
	return c
}

// grid returns widths from near 0 to a highest, as probable as density says.
func grid(highest float64, density func(float64) float64) []width {
	var list []width
	const cells = 200
	for i := range cells {
		x := highest * (float64(i) + 0.5) / cells
		list = append(list, width{x, density(x)})
	}
	return list
}

// The eight schools with flat priors, against the 25, 50 and 75 % points that
// table 5.3 of Bayesian Data Analysis prints: remembered values, from 200 draws
// there, so that a point is one or two wide.
func TestEightSchools(t *testing.T) {
	want := [][3]float64{
		{7, 10, 16},
		{3, 8, 12},
		{2, 7, 11},
		{4, 8, 11},
		{1, 5, 10},
		{2, 6, 10},
		{7, 10, 15},
		{3, 8, 13},
	}
	post := eightSchools(layer{1, 0, []width{{1000, 1}}}, grid(60, func(float64) float64 { return 1 })).solve()
	for i, row := range want {
		m := post.of(school(i))
		for k, share := range []float64{0.25, 0.5, 0.75} {
			if x := m.quantile(share); !(math.Abs(x-row[k]) <= 1.5) {
				t.Errorf("school %c: %.0f %% point %.1f, printed %.0f", 'A'+i, 100*share, x, row[k])
			}
		}
	}
}

// The eight schools where the middle is N(0, 5) and the sd between them a half
// Cauchy of 5, as Stan's manual has it: the mean of the middle is 4.4 and that
// of school A 6.2 (remembered values of its reference draws).
func TestEightSchoolsOfStan(t *testing.T) {
	cauchy := func(x float64) float64 { return 1 / (1 + x*x/25) }
	post := eightSchools(layer{1, 0, []width{{5, 1}}}, grid(100, cauchy)).solve()
	if got := post.of([]float64{1, 0, 0, 0, 0, 0, 0, 0, 0}).mean(); !(math.Abs(got-4.4) < 0.1) {
		t.Errorf("the middle is %.2f", got)
	}
	if got := post.of(school(0)).mean(); !(math.Abs(got-6.2) < 0.2) {
		t.Errorf("school A is %.2f", got)
	}
}

// Where the widths are known a school is drawn to the middle by as much as its
// own error is the larger part, exactly: by the formulas of two normals (Gelman
// et al., equations 5.17 and 5.20).
func TestKnownWidths(t *testing.T) {
	const between = 8.0
	p := eightSchools(layer{1, 0, []width{{1e5, 1}}}, []width{{between, 1}})
	post := p.solve()
	var sum, weights float64
	rows, y := p.rows, p.y
	for i := range y {
		e := 1 / rows[i][0]
		w := 1 / (e*e + between*between)
		sum, weights = sum+w*y[i]*e, weights+w
	}
	middle := sum / weights
	for i := range y {
		e := 1 / rows[i][0]
		kept := between * between / (e*e + between*between)
		m := post.of(school(i))
		want := kept*y[i]*e + (1-kept)*middle
		spread := math.Sqrt(kept*e*e + (1-kept)*(1-kept)/weights)
		if !(math.Abs(m.mean()-want) < 1e-4 && math.Abs(m.sd()-spread) < 1e-4) {
			t.Errorf("school %c: %.5f ± %.5f, want %.5f ± %.5f", 'A'+i, m.mean(), m.sd(), want, spread)
		}
	}
}

// sd returns the standard deviation.
func (m mixture) sd() float64 {
	mid, sum, all := m.mean(), 0.0, 0.0
	for i, p := range m.parts {
		sum, all = sum+m.weights[i]*(p.Sigma*p.Sigma+(p.Mu-mid)*(p.Mu-mid)), all+m.weights[i]
	}
	return math.Sqrt(sum / all)
}
