package flow

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Shots that scatter as they are believed to leave the noise where it is, wilder
// ones raise it and calmer ones lower it; it never falls below what any bar has,
// and every shot makes it surer.
func TestNoiseFollowsTheScatter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := Noise{
			Variance: math.Pow(rapid.Float64Range(leastNoise, 0.15).Draw(t, "sd"), 2),
			Shots:    rapid.Float64Range(1, 60).Draw(t, "shots"),
		}
		known := rapid.Float64Range(0, 0.05).Draw(t, "variance of the level")
		e := rapid.Float64Range(-0.6, 0.6).Draw(t, "error")
		v, was := n.Variance+known, n
		n.learn(surprised(e, v, n.Variance))
		switch {
		case !(n.Variance >= leastNoise*leastNoise), !(n.Shots > was.Shots), n.Shots > was.Shots+1:
			t.Fatalf("%+v after %+v", n, was)
		case e*e > v && !(n.Variance > was.Variance), e*e < v && n.Variance > was.Variance:
			t.Fatalf("an error of %g where %g was expected: %g after %g", e, math.Sqrt(v), n.Variance, was.Variance)
		case !(n.next() > n.Variance):
			t.Fatal("one shot is foretold as if the noise were known")
		}
	})
}

// A long run of shots teaches what they scatter by, from either side.
func TestNoiseIsLearnt(t *testing.T) {
	t.Parallel()
	for _, sd := range []float64{0.03, 0.05, 0.09} {
		n := usualNoise()
		for i := range 400 {
			e := sd * math.Sqrt2 * math.Sin(float64(i)*2.399963) // whose mean square is sd²
			n.learn(surprised(e, n.Variance, n.Variance))
		}
		if got := math.Sqrt(n.Variance); !(math.Abs(got/sd-1) < 0.05) {
			t.Errorf("%.3f where shots scatter by %.3f", got, sd)
		}
	}
}
