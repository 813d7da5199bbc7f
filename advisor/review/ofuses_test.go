package review

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// What few uses did together scatters as the uses themselves do: drawn one by one,
// with the means of their kind drawn too, their means have the sd that is reckoned.
// A kind that does nothing for certain did nothing in any of its uses.
func TestOfUses(t *testing.T) {
	kind := mixture{[]float64{1}, []distuv.Normal{{Mu: 0.5, Sigma: 0.1}}}
	dice := rand.New(rand.NewPCG(3, 1))
	for _, n := range []int{1, 4, 16} {
		const draws = 40000
		var sum, squares float64
		for range draws {
			theta, own := 0.5+0.1*dice.NormFloat64(), 0.0
			for range n {
				own += (theta + differ*theta*dice.NormFloat64()) / float64(n)
			}
			sum, squares = sum+own, squares+own*own
		}
		mean := sum / draws
		sd := math.Sqrt(squares/draws - mean*mean)
		got := kind.ofUses(n)
		if !(math.Abs(got.mean()-mean) < 0.005 && math.Abs(got.sd()/sd-1) < 0.03) {
			t.Errorf("%d uses: %.3f ± %.3f, drawn %.3f ± %.3f", n, got.mean(), got.sd(), mean, sd)
		}
	}
	nothing := mixture{[]float64{1}, []distuv.Normal{{Mu: 0, Sigma: 1e-6}}}
	if sd := nothing.ofUses(1).sd(); sd > 2e-6 {
		t.Errorf("one use of what does nothing: ± %v", sd)
	}
}
