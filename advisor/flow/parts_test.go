package flow

import (
	"math"
	"math/rand/v2"
	"testing"
)

// observeClean learns from s as if no shot could be an outlier.
func (f *Filter) observeClean(s Shot) {
	h := [3]float64{1, s.LogDose, s.LogOut}
	for i := range f.cells {
		c := &f.cells[i]
		b := &c.branch[0]
		b.w *= math.Exp(b.observe(h, s.LogTime-c.b*s.Grind[c.retention], f.noise.Variance+s.Extra))
	}
	f.normalise()
}

// What the outlier branch earns: among shots of which one in twelve channels,
// the belief about the steady time is nearer to the truth with it than without.
func TestOutlierBranchEarnsItsPlace(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 4))
	var with, without float64
	const bars, shots = 60, 6
	for range bars {
		f, g := New(Unknown(28), nil), New(Unknown(28), nil)
		level, slope := math.Log(28)+0.4*dice.NormFloat64(), 0.04*math.Exp(0.4*dice.NormFloat64())
		for range shots {
			s := plain(float64(dice.IntN(7)-3), 1)
			s.LogTime = level + slope*s.Grind[0] + 0.05*dice.NormFloat64()
			if dice.Float64() < 1./12 {
				s.LogTime -= 0.35
			}
			f.Observe(s)
			g.observeClean(s)
		}
		with += math.Abs(f.Steady(0, 0).Mean(0)-level) / bars
		without += math.Abs(g.Steady(0, 0).Mean(0)-level) / bars
	}
	t.Logf("after %d shots the log time is missed by %.4f, without the branch by %.4f", shots, with, without)
	if !(with < 0.9*without) {
		t.Errorf("missed by %.4f with the branch, %.4f without", with, without)
	}
}
