package layers

import (
	"math"
	"testing"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
)

// triangle is how often a guess finds the odd one of three cups.
const triangle = 1.0 / 3

const schmieder = "Schmieder 2023, Foods 12:2871, centre point: 20 g to 40 g, doi 10.3390/foods12152871"

// thirds is the brew of that study. Its flow was set at 1.9 g/s.
func thirds(t *testing.T) (extraction.Brew, [Cups]float64) {
	t.Helper()
	b := extraction.Brew{Dose: 20, Yield: 40, Time: 28}
	return b, [Cups]float64{40. / 3, 40. / 3, 40. / 3}
}

// Equal thirds hold what was measured of thirds: the values lie in the range,
// and the middle of each share in the band over that study's 15 experiments.
func TestThirdsAgainstTheWorld(t *testing.T) {
	b, masses := thirds(t)
	got, err := Expect(bar.Espresso, b, masses)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct{ share, tds, low, high float64 }{ // schmieder
		{59.4, 17.37, 58.1, 66.9}, {27.7, 8.10, 24.3, 28.2}, {12.9, 3.77, 8.8, 13.7},
	} {
		e := got[i]
		if e.Share.Outside(want.share) || e.TDS.Outside(want.tds) {
			t.Errorf("cup %d: %+v; %s has %v %% of the solids, %v %% TDS", i, e, schmieder, want.share, want.tds)
		}
		if !(want.low-1.5 <= e.Share.X && e.Share.X <= want.high+1.5) {
			t.Errorf("cup %d: share %.1f, published %v to %v", i, e.Share.X, want.low, want.high)
		}
	}
}

// What was measured of that study's thirds is put together to its whole cup.
func TestThirdsBalance(t *testing.T) {
	b, masses := thirds(t)
	cups, ok := Measure(b.Dose, masses, [Cups]float64{17.37, 8.10, 3.77})
	if !ok {
		t.Fatal("not measured")
	}
	for i, want := range []float64{59.4, 27.7, 12.9} { // schmieder
		if !(math.Abs(cups[i].Share-want) < 0.05) {
			t.Errorf("share of cup %d: %v, want %v", i, cups[i].Share, want)
		}
	}
	whole := Together(cups)
	// (17.37+8.10+3.77)/3 = 9.75 %, EY 19.49 % by the same study's curve.
	if !(math.Abs(whole.TDS-9.75) < 0.005) || !(math.Abs(whole.EY-19.49) < 0.02) {
		t.Errorf("together %+v", whole)
	}
	if !Balances(whole.Mass, 40) || !Agrees(whole.TDS, 9.75) || Balances(36, 40) || Agrees(8.5, 9.75) {
		t.Error("balance")
	}
	if w := Water(10, 17.37, 3.77); !(math.Abs(w-36.07) < 0.01) { // 10·(17.37/3.77 − 1), by hand
		t.Errorf("water %v", w)
	}
}

func TestCaffeineByThird(t *testing.T) {
	whole, err := extraction.Caffeine(20, 0, 40)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct{ share, mg float64 }{{53.3, 98.4}, {29.9, 55.2}, {16.8, 31.0}} { // schmieder
		r, err := extraction.Caffeine(20, float64(i)*40/3, float64(i+1)*40/3)
		if err != nil {
			t.Fatal(err)
		}
		if !(math.Abs(100*r.High/whole.High-want.share) < 0.05) || !(r.Low <= want.mg && want.mg <= r.High) {
			t.Errorf("third %d: %+v mg, want %v mg, %v %%", i, r, want.mg, want.share)
		}
	}
}

func TestChances(t *testing.T) {
	for _, test := range []struct {
		right, n int
		p, want  float64
	}{
		// Exact binomial sums, by hand: order of three cups.
		{1, 1, OrderChance, 1. / 6},
		{2, 2, OrderChance, 1. / 36},
		{3, 4, OrderChance, 4./216*5/6 + 1./1296},
		{2, 3, OrderChance, 3./36*5/6 + 1./216},
		{8, 12, triangle, 0.018758},
		{0, 5, 0.5, 1},
		{3, 3, PairChance, 0.125},
	} {
		if got := ByChance(test.right, test.n, test.p); !(math.Abs(got-test.want) < 1e-6) {
			t.Errorf("%d of %d at %v: %v, want %v", test.right, test.n, test.p, got, test.want)
		}
	}
}

// The fewest right answers for p ≤ 0.05. Triangle as in ISO 4120's table, from
// memory, and the exact binomial; two cups, one-sided, exact binomial.
func TestFewestRight(t *testing.T) {
	fewest := func(n int, p float64) int {
		for k := range n + 1 {
			if ByChance(k, n, p) <= 0.05 {
				return k
			}
		}
		return n + 1
	}
	for n, want := range map[int]int{3: 3, 4: 4, 5: 4, 6: 5, 7: 5, 8: 6, 9: 6, 10: 7, 12: 8, 15: 9, 18: 10, 20: 11, 24: 13, 30: 15, 36: 18} {
		if got := fewest(n, triangle); got != want {
			t.Errorf("triangle of %d: %d, want %d", n, got, want)
		}
	}
	for n, want := range map[int]int{5: 5, 8: 7, 10: 9, 12: 10, 20: 15} {
		if got := fewest(n, PairChance); got != want {
			t.Errorf("pairs of %d: %d, want %d", n, got, want)
		}
	}
}

// Common practice, no source: the first drops come at about 8 to 9 s, a long
// double of about 35 s is cut at 15 and 25 s, flow speeds up, and a pour-over
// is cut each minute and stopped at three.
func TestPlan(t *testing.T) {
	b := extraction.Brew{Dose: 18, Yield: 40, Time: 35, FirstDrip: 8.5}
	cuts, err := Plan(bar.Espresso, b)
	if err != nil {
		t.Fatal(err)
	}
	if c := cuts; !(13 <= c[0].Seconds && c[0].Seconds <= 21) || !(22 <= c[1].Seconds && c[1].Seconds <= 29) || !(math.Abs(c[2].Seconds-35) < 0.01) {
		t.Errorf("cuts %+v", cuts)
	}
	if first, second := cuts[1].Seconds-cuts[0].Seconds, cuts[2].Seconds-cuts[1].Seconds; !(second < first) {
		t.Errorf("flow does not speed up: %v then %v s", first, second)
	}
	filter := DefaultFilter()
	cuts, err = Plan(bar.PourOver, filter)
	if err != nil {
		t.Fatal(err)
	}
	if cuts[0].Seconds != 60 || cuts[1].Seconds != 120 || cuts[2].Seconds != 180 || !(cuts[0].Grams < filter.Yield/3) {
		t.Errorf("cuts of a pour-over: %+v", cuts)
	}
	// The classic box: Lockhart 1957, as in Batali 2020, Sci Rep 10:16450.
	whole, _, err := At(bar.PourOver, filter, filter.Yield)
	if err != nil || !(18 <= whole.EY && whole.EY <= 22) || !(1.15 <= whole.TDS && whole.TDS <= 1.35) {
		t.Errorf("a pour-over of %+v, %v", whole, err)
	}
	if w := FilterWater(filter.Dose, filter.Yield); !(math.Abs(w-320) < 1) {
		t.Errorf("water %v", w)
	}
}
