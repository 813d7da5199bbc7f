package flow

import (
	"bytes"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

const reference = "../../testdata/reference/"

// near fails the test unless got is within relative of want.
func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// A filter whose prior is flat is least squares. NIST StRD, data set Norris,
// certified values to 15 digits. The predictor, up to 1,000, is taken in
// thousands, and a prior variance of 1e8 leaves six to eight digits.
func TestFlatFilterIsLeastSquares(t *testing.T) {
	g := gauss{p: [6]float64{0: 1e8, 3: 1e8}}
	var rows [][2]float64
	text, err := os.ReadFile(reference + "norris.dat")
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(text), "\n")[60:] {
		if f := strings.Fields(line); len(f) == 2 {
			y, _ := strconv.ParseFloat(f[0], 64)
			x, _ := strconv.ParseFloat(f[1], 64)
			rows = append(rows, [2]float64{x / 1000, y})
		}
	}
	if len(rows) != 36 {
		t.Fatalf("%d observations, want 36", len(rows))
	}
	for _, r := range rows {
		g.observe([3]float64{1, r[0], 0}, r[1], 1)
	}
	rss := 0.0
	for _, r := range rows {
		e := r[1] - g.mean([3]float64{1, r[0], 0})
		rss += e * e
	}
	s := math.Sqrt(rss / 34)
	near(t, "B0", g.m[0], -0.262323073774029, 1e-5)
	near(t, "B1", g.m[1]/1000, 1.00211681802045, 1e-8)
	near(t, "residual sd", s, 0.884796396144373, 1e-8)
	near(t, "sd of B0", s*math.Sqrt(g.p[0]), 0.232818234301152, 1e-6)
	near(t, "sd of B1", s*math.Sqrt(g.p[3])/1000, 0.429796848199937e-3, 1e-6)
}

// The local level model of the Nile: Durbin and Koopman 2012, as quoted in the
// tests of statsmodels (log likelihood with a1 = 0, P1 = 1e7) and KFAS (the
// level at t = 100).
func TestLocalLevelOfTheNile(t *testing.T) {
	text, err := os.ReadFile(reference + "nile.csv")
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	g := gauss{p: [6]float64{0: 1e7}}
	logLik := 0.0
	for i, row := range rows[1:] {
		y, err := strconv.ParseFloat(row[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		if i > 0 {
			g.p[0] += 1469.1
		}
		logLik += g.observe([3]float64{1, 0, 0}, y, 15099)
	}
	near(t, "log likelihood", logLik, -641.5856, 1e-7)
	near(t, "level", g.m[0], 798.3703, 1e-6)
	near(t, "its variance", g.p[0], 4032.16, 1e-5)
}

// A conjugate regression small enough for rational arithmetic: X = (1,0),
// (1,1), (1,2), y = 1, 2, 2, prior mean 0, precision I, a0 = 2, b0 = 1 give
// m = (0.8, 0.6), a = 3.5, b = 1.7, and at x = 3 a Student t of 7 degrees with
// location 2.6 and scale² 1.7/3.5·2.6 (derived by hand). The filter's standardised
// errors carry the sum of squares.
func TestConjugateRegression(t *testing.T) {
	g := gauss{p: [6]float64{0: 1, 3: 1}}
	b := 1.0
	for x, y := range []float64{1, 2, 2} {
		h := [3]float64{1, float64(x), 0}
		_, v := g.spread(h)
		e := y - g.mean(h)
		b += e * e / (v + 1) / 2
		g.observe(h, y, 1)
	}
	near(t, "intercept", g.m[0], 0.8, 1e-12)
	near(t, "slope", g.m[1], 0.6, 1e-12)
	near(t, "b", b, 1.7, 1e-12)
	at := [3]float64{1, 3, 0}
	_, v := g.spread(at)
	near(t, "location at 3", g.mean(at), 2.6, 1e-12)
	near(t, "scale² at 3", b/3.5*(v+1), 1.7/3.5*2.6, 1e-12)
}

// The share of old grounds of a well-mixed hold-up of R grams under a dose of
// 18 g: derived by hand, φ = (R/D)(1-exp(-D/R)), and exp(-5/2) of it after a
// purge of 5 g with R = 2 g.
func TestShareOfOldGrounds(t *testing.T) {
	for _, test := range []struct{ held, share float64 }{{2, 0.1111}, {5, 0.2702}, {8, 0.3976}} {
		if got := shareOf(test.held, 18); math.Abs(got-test.share) > 5e-5 {
			t.Errorf("share of %g g = %.5f, want %.4f", test.held, got, test.share)
		}
		near(t, "hold-up", hold(shareOf(test.held, 18), 18), test.held, 1e-9)
	}
	if got := shareOf(2, 18) * math.Exp(-5.0/2); math.Abs(got-0.0091) > 5e-5 {
		t.Errorf("share after a purge = %.5f, want 0.0091", got)
	}
}

// A normal mean and variance learnt together: the wings of nine midges in Hoff
// 2009, §5.3 (data and prior as printed there; mean 1.814 and variance 0.0153
// from memory, recomputed). In units of the unknown variance the prior mean has
// variance 1/κ0 and each observation 1; the filter's standardised errors carry
// the sum of squares.
func TestHoffsMidges(t *testing.T) {
	const kappa0, nu0, variance0 = 1, 1, 0.01
	g := gauss{m: [3]float64{1.9}, p: [6]float64{0: 1. / kappa0}}
	h := [3]float64{1, 0, 0}
	sum, nu := nu0*variance0, float64(nu0)
	for _, wing := range []float64{1.64, 1.70, 1.72, 1.74, 1.82, 1.82, 1.82, 1.90, 2.08} {
		_, v := g.spread(h)
		e := wing - g.mean(h)
		sum += e * e / (v + 1)
		nu++
		g.observe(h, wing, 1)
	}
	near(t, "mean", g.m[0], 1.814, 1e-12)
	near(t, "κn", 1/g.p[0], 10, 1e-12)
	near(t, "variance", sum/nu, 0.015324, 1e-6)
}
