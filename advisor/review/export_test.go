package review

import "gonum.org/v1/gonum/stat/distuv"

// Judged is what is said of a change to finer that was made so often, with so
// many cups of ten more right, give or take an sd.
func Judged(uses int, cups, sd float64) Effect {
	e := Effect{Kind: Finer, Uses: uses}
	e.judge(mixture{[]float64{1}, []distuv.Normal{{Mu: cups / 10, Sigma: sd / 10}}})
	return e
}
