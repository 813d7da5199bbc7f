package review

import (
	"math"
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
	TooFew   Verdict = iota // to say
	Works                   // here
	Unproven                // could be chance
	Useless                 // less than chance alone would do
)

// Few is how many uses a verdict needs.
const Few = 5

// An Effect is what came of one kind of change.
type Effect struct {
	Kind     Kind
	Advised  int
	Followed int
	Time     Estimate // s, + is longer, beyond what was believed without a change
	Taste    Estimate // taste steps nearer to the middle
	ByTime   bool     // uses are judged by the clock, or else by the cup
	Uses     int      // that can be judged
	Moved    int      // of them as foretold
	Control  float64  // share of the repeated shots that look as if they had
	Controls int      // repeated shots
	Sure     float64  // probability that it moves more often than they do
	Verdict  Verdict
	When     []time.Time // of the shots after those that were followed
}

// Priors of mean effects and of the scatter of one witness; assumed, and of
// little weight beside a few uses.
const (
	priorTime, scatterTime   = 4.0, 2.0 // s
	priorTaste, scatterTaste = 1.0, 1.0 // taste steps
	priorUses                = 4
	sureEnough               = 0.9
	nearEnough               = 0.5  // taste steps nearer that count as moved, or half of the way where it is less
	slight                   = 0.02 // a change foretold to move less than this share of the time cannot be judged by it
)

// effects returns what came of each kind that was advised.
func effects(uses []use, control []witness) []Effect {
	var list []Effect
	for _, kind := range Kinds() {
		e := Effect{Kind: kind, ByTime: kind.byTime(), Controls: len(control)}
		var done []witness
		for _, u := range uses {
			if u.kind != kind {
				continue
			}
			e.Advised++
			if u.followed {
				e.Followed++
				done = append(done, u.witness)
				e.When = append(e.When, u.at)
			}
		}
		if e.Advised == 0 {
			continue
		}
		e.Time, e.Taste = meanTime(done), meanTaste(done, control)
		e.judge(done, control)
		list = append(list, e)
	}
	return list
}

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

// meanTaste returns the mean of the effects on taste, beyond that of the
// repeated shots: what is believed of a cup lags behind what people say of it,
// so that those seem to get nearer to the middle as well.
func meanTaste(list, control []witness) Estimate {
	x, w := nearers(list)
	e := mean(x, w, priorTaste, scatterTaste)
	y, v := nearers(control)
	base := mean(y, v, math.Inf(1), scatterTaste)
	if e.Low == e.High || base.Low == base.High {
		return e
	}
	half := math.Hypot(e.High-e.Low, base.High-base.Low) / 2
	e.Mid -= base.Mid
	e.Low, e.High = e.Mid-half, e.Mid+half
	return e
}

// nearers returns the effects on taste and their weights.
func nearers(list []witness) (x, w []float64) {
	for _, v := range list {
		if !math.IsNaN(v.nearer) {
			x, w = append(x, v.nearer), append(w, v.heard*v.heard)
		}
	}
	return x, w
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

// judge counts the uses that moved as foretold, and what chance would do.
func (e *Effect) judge(done, control []witness) {
	chance, chances := 0.0, 0.0
	for _, u := range done {
		goal, ok := e.goal(u)
		if !ok {
			continue
		}
		e.Uses++
		if goal(u) {
			e.Moved++
		}
		for _, c := range control {
			if e.ByTime && math.IsNaN(c.log) || !e.ByTime && math.IsNaN(c.nearer) {
				continue
			}
			chances++
			if goal(c) {
				chance++
			}
		}
	}
	if e.Uses == 0 {
		return
	}
	n := chances / float64(e.Uses) // repeated shots that could be compared with
	if chances > 0 {
		e.Control = chance / chances
	}
	moved := e.Control * n
	c := (1 + moved) / (2 + n)
	e.Sure = above(
		distuv.Beta{Alpha: priorUses*c + float64(e.Moved), Beta: priorUses*(1-c) + float64(e.Uses-e.Moved)},
		distuv.Beta{Alpha: 1 + moved, Beta: 1 + n - moved})
	switch {
	case e.Uses < Few:
		e.Verdict = TooFew
	case e.Sure > sureEnough:
		e.Verdict = Works
	case e.Sure < 1-sureEnough:
		e.Verdict = Useless
	default:
		e.Verdict = Unproven
	}
}

// goal returns what a witness has to show to have moved as use u was foretold
// to, or false if u cannot be judged.
func (e *Effect) goal(u witness) (func(witness) bool, bool) {
	if !e.ByTime {
		return func(w witness) bool { return w.nearer >= min(nearEnough, w.off/2) }, !math.IsNaN(u.nearer)
	}
	f := u.foretold
	if math.IsNaN(u.log) || !(math.Abs(f) > slight) {
		return nil, false
	}
	return func(w witness) bool { return w.log/f >= 0.5 }, true
}

// above returns the probability that a is above b.
func above(a, b distuv.Beta) float64 {
	const cells = 2000
	p := 0.0
	last := 0.0
	for i := 1; i <= cells; i++ {
		x := float64(i) / cells
		f := b.CDF(x)
		p += (f - last) * a.Survival(x-0.5/cells)
		last = f
	}
	return p
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
