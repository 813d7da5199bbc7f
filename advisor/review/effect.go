package review

import (
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat/distuv"
)

// An Estimate is a mean with the ends of its 90 % interval, from N witnesses.
type Estimate struct {
	Mid, Low, High float64
	N              int
}

// A Verdict is what may be said of a kind of change.
type Verdict int

// The verdicts.
const (
	Open    Verdict = iota // more uses are needed
	Helps                  // here
	Nothing                // that we could see, and we would have
	Harms                  // more cups are wrong after it
)

// Few is how many uses a verdict needs.
const Few = 5

// An Effect is what came of one kind of change.
type Effect struct {
	Kind    Kind
	Uses    int
	Right   float64  // of them, cups that were right; one that is a bit off counts in part
	Left    float64  // of them, cups that would have been right with nothing changed
	Cups    Estimate // cups of ten that are right beyond those
	Sure    float64  // probability that more are right after it than without
	Verdict Verdict
	More    int         // uses that would about settle an open one
	Time    Estimate    // s, + is longer, beyond what was believed without a change
	When    []time.Time // oldest first
}

// When a kind is said to help or to do nothing.
const (
	sureEnough = 0.90
	sureHarms  = 0.98 // who leaves a cup alone may have had a better reason than who changes it
	noMatter   = 2.0  // cups of ten: less than that makes no matter; assumed
)

// effects returns what came of each kind of change, the most cups first.
func effects(uses []use) []Effect {
	d := newDesign(uses)
	if d == nil {
		return nil
	}
	post := d.solve()
	var list []Effect
	for _, kind := range Kinds() {
		e := Effect{Kind: kind}
		var clock []witness
		for _, u := range uses {
			if u.kind != kind {
				continue
			}
			e.Uses++
			e.Right += u.right
			e.When = append(e.When, u.at)
			clock = append(clock, u.witness)
		}
		if e.Uses == 0 {
			continue
		}
		slices.SortFunc(e.When, time.Time.Compare)
		e.Time = meanTime(clock)
		e.judge(post.of(d.effect(uses, kind)).ofUses(e.Uses))
		list = append(list, e)
	}
	slices.SortStableFunc(list, func(a, b Effect) int { return rank(a) - rank(b) })
	return list
}

// differ is by what part of its mean effect one use of a kind differs from the
// next, sd: a change that was made the wrong way does no good, one that was made after a
// cup that was only a bit off does little. Where a kind does nothing, no use of
// it does anything. Assumed, and a little less than on the simulated bars, where
// the rest shows in the cups.
const differ = 0.5

// rank puts what can be said before what cannot.
func rank(e Effect) int {
	return slices.Index([]Verdict{Helps, Harms, Nothing, Open}, e.Verdict)
}

// judge says what may be said of a kind whose effect, in shares of a cup, is m.
func (e *Effect) judge(m mixture) {
	e.Cups = Estimate{10 * m.mean(), 10 * m.quantile(0.05), 10 * m.quantile(0.95), e.Uses}
	e.Left = min(max(e.Right-m.mean()*float64(e.Uses), 0), float64(e.Uses))
	e.Sure = m.above(0)
	switch {
	case e.Uses < Few:
	case e.Sure > sureEnough:
		e.Verdict = Helps
	case e.Sure < 1-sureHarms && e.Kind != Care: // care does no harm: that was what it was called for
		e.Verdict = Harms
	case -noMatter < e.Cups.Low && e.Cups.High < noMatter:
		e.Verdict = Nothing
	}
	if e.Verdict == Open {
		e.More = e.more()
	}
}

// more returns how many uses would settle an open kind, if the mean stays where it
// is and the interval narrows as 1/√n: it has to leave none on one side by as much
// as the verdicts ask, or to lie within what makes no matter, whichever is sooner.
func (e *Effect) more() int {
	normal := distuv.UnitNormal
	z, helps, harms := normal.Quantile(0.95), normal.Quantile(sureEnough), normal.Quantile(sureHarms)
	far := max(noMatter-math.Abs(e.Cups.Mid), e.Cups.Mid*z/helps)
	if e.Kind != Care {
		far = max(far, -e.Cups.Mid*z/harms)
	}
	if far = max(far, 0.1); e.Uses < Few {
		far = noMatter // nobody knows the mean yet
	}
	half := max((e.Cups.High-e.Cups.Low)/2, z*oneCup/math.Sqrt(float64(e.Uses)))
	n := float64(e.Uses) * (half / far) * (half / far)
	return int(max(math.Ceil(n)-float64(e.Uses), float64(Few-e.Uses), 1))
}

// oneCup is by how much one cup differs at the least from what would have been, in
// cups of ten, sd; from the noise that simulated bars show. After a few uses the
// interval is narrower, because it leans on the other kinds.
const oneCup = 4.5

// Priors of the mean effect on time and of the scatter of one shot; assumed, and
// of little weight beside a few uses.
const (
	priorTime, scatterTime = 4.0, 2.0 // s
	priorUses              = 4
)

// meanTime returns the mean of the effects on time.
func meanTime(list []witness) Estimate {
	var x, w []float64
	for _, v := range list {
		if !math.IsNaN(v.seconds) {
			x, w = append(x, v.seconds), append(w, v.weight)
		}
	}
	return mean(x, w, priorTime, scatterTime)
}

// mean returns the posterior of the mean of x, weighted by w, with a prior
// N(0, prior) of it and one of the scatter that weighs as four values:
//
//	s² = (4 scatter² + Σ w (x − x̄)²) / (4 + Σw − 1),  B = prior² / (prior² + s²/Σw)
//	mean = B x̄, its sd √B s/√Σw, Student's t with 4 + Σw − 1 degrees of freedom
func mean(x, w []float64, prior, scatter float64) Estimate {
	e := Estimate{N: len(x)}
	var sum, n float64
	for i := range x {
		sum += w[i] * x[i]
		n += w[i]
	}
	if !(n > 0.5) {
		return e
	}
	middle, squares := sum/n, 0.0
	for i := range x {
		squares += w[i] * (x[i] - middle) * (x[i] - middle)
	}
	freedom := priorUses + max(n-1, 0)
	variance := (priorUses*scatter*scatter + squares) / freedom / n
	kept := 1 / (1 + variance/(prior*prior))
	half := distuv.StudentsT{Sigma: 1, Nu: freedom}.Quantile(0.95) * math.Sqrt(kept*variance)
	e.Mid = kept * middle
	e.Low, e.High = e.Mid-half, e.Mid+half
	return e
}

// scatter returns by how much single shots at one setting differ: the sd of
// their times, as a share of the time believed, at their mean time. Its
// interval is that of χ².
func scatter(control []witness) Estimate {
	var sum, n, at float64
	count := 0
	for _, w := range control {
		if !math.IsNaN(w.log) {
			sum += w.weight * w.log * w.log
			n += w.weight
			at += w.mid
			count++
		}
	}
	if count < Few || !(n > 1) {
		return Estimate{N: count}
	}
	sd := func(x float64) float64 { return math.Sqrt(x) * at / float64(count) }
	chi := distuv.ChiSquared{K: n}
	return Estimate{Mid: sd(sum / n), Low: sd(sum / chi.Quantile(0.95)), High: sd(sum / chi.Quantile(0.05)), N: count}
}
