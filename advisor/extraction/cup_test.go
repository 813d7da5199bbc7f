package extraction

import (
	"math"
	"testing"
)

// Cups beyond the curve hold what there is, and turned or absent ones nothing.
func TestCupOutsideTheCurve(t *testing.T) {
	c := pour(t, Default(), Brew{Dose: 18, Yield: 36, Time: 28})
	whole := c.Whole()
	for _, test := range []struct {
		from, to float64
		want     Cup
	}{
		{-5, 36, whole},
		{0, 100, whole},
		{math.NaN(), math.Inf(1), whole},
		{20, 20, Cup{}},
		{24, 12, Cup{}},
		{40, 50, Cup{}},
		{0, math.NaN(), Cup{}},
	} {
		if got := c.Cup(test.from, test.to); got != test.want {
			t.Errorf("from %g to %g g: %+v, want %+v", test.from, test.to, got, test.want)
		}
	}
	if got := (Curve{}).Cup(0, 10); got != (Cup{}) {
		t.Errorf("an empty curve holds %+v", got)
	}
}
