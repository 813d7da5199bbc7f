package layers

import "math"

// OrderChance is how often a guess puts three cups in their order: 1 of 6.
const OrderChance = 1.0 / 6

// PairChance is how often a guess picks one cup of two.
const PairChance = 1.0 / 2

// ByChance returns how likely it is that at least right of n guesses are right
// which each are so with probability p: the binomial tail.
func ByChance(right, n int, p float64) float64 {
	sum := 0.0
	for k := max(right, 0); k <= n; k++ {
		lc, _ := math.Lgamma(float64(n) + 1)
		lk, _ := math.Lgamma(float64(k) + 1)
		lr, _ := math.Lgamma(float64(n-k) + 1)
		sum += math.Exp(lc-lk-lr) * math.Pow(p, float64(k)) * math.Pow(1-p, float64(n-k))
	}
	return min(sum, 1)
}
