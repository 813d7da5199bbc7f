package taste

import (
	"math"
	"slices"

	"shothand/advisor/bar"
)

// A Place is where a cup stands from another, in taste steps.
type Place struct{ Extraction, Strength float64 }

// A Response is how the cups of a coffee answer to time, in taste steps for each
// unit of log time by grind alone.
type Response struct{ Extraction, Strength float64 }

// A Cup is what is known of a cup besides its words: what became of the bed, and
// where it stands from a cup of the recipe's dose and yield in the middle of the
// window.
type Cup struct {
	Time     float64 // log time at the recipe's dose and yield, from the window's middle
	Expected float64 // the same, as its setting is believed to run
	Shift    Place   // what its yield and dose bring, beside its time
	Measured bool    // its strength was measured: Shift is all there is to it
	Odds     float64 // of an uneven bed against an even one, by how it ran and what contradicts itself
}

// What is believed of any coffee at its recipe, in taste steps and log time. All
// assumed: a roaster's recipe is sensible, not right.
const (
	spotSD     = 1.0  // of extraction in the middle of the window
	spotTail   = 0.06 // by how much its tail is longer than a normal's
	strengthSD = 0.9
	answerSD   = 0.45 // of the logarithm of how much extraction answers to time
	ratioSD    = 0.25 // the same for yield and dose
	edge       = 0.6  // log time past the middle from which the bed begins to channel
	edgeSD     = 0.25
	leanE      = 0.35 // how far tasters differ in what they call under and over
	leanS      = 0.30 // and weak and strong
)

// How a bed channels: by chance, and more and more past its edge. Assumed.
const (
	byChance  = 0.03
	pastEdge  = 0.5
	edgeWidth = 0.12
	edgeFar   = 2.2
)

const (
	points     = 768
	nodes      = 9 // of one taster's lean: three of extraction times three of strength
	nothing    = 1e-9
	neverLeans = 1e-30 // how likely a leaning is at least, so that it stays a number
)

// A point is one way a coffee may be.
type point struct {
	extraction, strength float64 // of the cup in the middle of the window, from a good one
	answer               float64 // extraction's to time
	ratio                float64 // what yield and dose bring, as a factor
	holds                float64 // odds of an even bed in the middle, against past its edge
}

// A Belief is what the tasters of a coffee have taught of how its cups taste: a
// fixed set of ways it may be, and for each taster the likelihood of all they
// said under nine leanings. It does no sampling.
type Belief struct {
	lexicon  *Lexicon
	strength float64 // what strength answers to time
	points   *[points]point
	tasters  []uint64
	heard    []*opinion // of each taster
	nobody   [points]float32
	weights  [points]float64
	stale    bool
}

// An opinion is what one taster said: of each point its log likelihood, and how
// likely each leaning of the taster is there.
type opinion struct {
	lean [points][nodes]float32
	sum  [points]float32
}

// NewBelief returns the belief about a coffee that answers so, before any
// tasting. Wide is by how much less its recipe is trusted than one that
// somebody typed: 1 is not at all less.
func (l *Lexicon) NewBelief(r Response, wide float64) *Belief {
	b := &Belief{lexicon: l, strength: r.Strength, points: new([points]point), stale: true}
	*b.points = *spread()
	for i := range b.points {
		b.points[i].extraction *= wide
		b.points[i].answer *= r.Extraction
	}
	return b
}

// Clone returns a belief that shares nothing with b that either changes.
func (b *Belief) Clone() *Belief {
	c := *b
	c.tasters = slices.Clone(b.tasters)
	c.heard = make([]*opinion, len(b.heard))
	for i, said := range b.heard {
		copied := *said
		c.heard[i] = &copied
	}
	return &c
}

// Learn takes in what one taster said of a cup. A doubtful cup counts for half.
func (b *Belief) Learn(t Tasting, c Cup, doubtful bool) {
	past := math.Exp(-c.Expected / edgeWidth)
	for _, words := range b.lexicon.people([]Tasting{t}) {
		o, h := b.of(t.Taster), hear(words, c.Odds)
		for i := range b.points {
			p := &b.points[i]
			q := h.likelihoods(p.place(c, b.strength), p.uneven(past))
			if doubtful {
				for n := range q {
					q[n] = math.Sqrt(q[n])
				}
			}
			if o != nil {
				o.learn(i, &q)
			} else {
				b.nobody[i] += float32(math.Log(overall(&q)))
			}
		}
		b.stale = true
	}
}

// Serve takes in that a cup was served for a day, at the time that was expected of
// its setting, and that the bar opens with it again: as good as one person's
// praise. Common practice, no source.
func (b *Belief) Serve(c Cup) {
	c.Time, c.Odds, c.Measured = c.Expected, 1, false
	b.Learn(Tasting{Words: []bar.Word{{Term: "balanced", Degree: 1}}}, c, false)
}

// place returns where a cup of this coffee stands from a good one.
func (p *point) place(c Cup, strength float64) Place {
	at := Place{p.extraction + p.ratio*c.Shift.Extraction, p.strength + p.ratio*c.Shift.Strength}
	if c.Measured {
		return Place{p.extraction + c.Shift.Extraction, p.strength + c.Shift.Strength}
	}
	at.Extraction += p.answer * c.Time
	at.Strength += strength * c.Time
	return at
}

// uneven returns the probability that a bed runs unevenly where the setting is
// expected to run so long: past is exp(-expected/edgeWidth).
func (p *point) uneven(past float64) float64 { return byChance + pastEdge/(1+p.holds*past) }

// share returns the weight of node n.
func share(n int) float64 {
	w := [3]float64{1. / 6, 2. / 3, 1. / 6}
	return w[n%3] * w[n/3]
}

// overall returns the mean over the leanings of a taster who is not known.
func overall(q *[nodes]float64) float64 {
	return ((q[0]+q[2])+(q[6]+q[8]))/36 + ((q[1]+q[3])+(q[5]+q[7]))/9 + q[4]*4/9
}

// of returns what a taster has said so far, nil for nobody in particular.
func (b *Belief) of(taster uint64) *opinion {
	if taster == 0 {
		return nil
	}
	if i := slices.Index(b.tasters, taster); i >= 0 {
		return b.heard[i]
	}
	o := newOpinion()
	b.tasters, b.heard = append(b.tasters, taster), append(b.heard, o)
	return o
}

// newOpinion returns that of a taster who has said nothing.
func newOpinion() *opinion {
	o := new(opinion)
	for i := range o.lean {
		for n := range o.lean[i] {
			o.lean[i][n] = float32(share(n))
		}
	}
	return o
}

// learn takes in the likelihood of what was said, by leaning, at point i.
func (o *opinion) learn(i int, q *[nodes]float64) {
	lean, total := &o.lean[i], 0.0
	for n := range q {
		q[n] *= float64(lean[n])
		total += q[n]
	}
	each := 1 / total
	for n := range q {
		lean[n] = float32(max(q[n]*each, neverLeans))
	}
	o.sum[i] += float32(math.Log(total))
}

// fade leaves a share of what was said at each point.
func (o *opinion) fade(left float64) {
	for i := range o.lean {
		lean, total := &o.lean[i], 0.0
		var q [nodes]float64
		for n := range q {
			q[n] = share(n) * math.Exp(left*math.Log(float64(lean[n])/share(n)))
			total += q[n]
		}
		for n := range q {
			lean[n] = float32(q[n] / total)
		}
		o.sum[i] = float32(left*float64(o.sum[i]) + math.Log(total))
	}
}

// Fade takes a share off all that was learnt: time has passed.
func (b *Belief) Fade(share float64) {
	for i := range b.nobody {
		b.nobody[i] *= float32(1 - share)
	}
	for _, o := range b.heard {
		o.fade(1 - share)
	}
	b.stale = true
}

// Settle brings what is asked of b up to date, so that until it learns again
// many goroutines may ask at once.
func (b *Belief) Settle() {
	if !b.stale {
		return
	}
	top := math.Inf(-1)
	for i := range b.weights {
		sum := float64(b.nobody[i])
		for _, o := range b.heard {
			sum += float64(o.sum[i])
		}
		b.weights[i] = sum
		top = max(top, sum)
	}
	total := 0.0
	for i, w := range b.weights {
		b.weights[i] = math.Exp(w - top)
		total += b.weights[i]
	}
	for i := range b.weights {
		b.weights[i] /= total
	}
	b.stale = false
}

// Mean returns where the cup in the middle of the window stands, in the mean.
func (b *Belief) Mean() Place {
	b.Settle()
	var m Place
	for i, w := range b.weights {
		m.Extraction += w * b.points[i].extraction
		m.Strength += w * b.points[i].strength
	}
	return m
}

// right returns the log times from the middle of the window between which an even
// cup of this coffee is within a taste step of a good one.
func (p *point) right(shift, target Place, strength float64) (low, high float64) {
	e := p.extraction + p.ratio*shift.Extraction - target.Extraction
	s := p.strength + p.ratio*shift.Strength - target.Strength
	low, high = (-1-e)/p.answer, (1-e)/p.answer
	if strength > nothing {
		low, high = max(low, (-1-s)/strength), min(high, (1-s)/strength)
	} else if math.Abs(s) > 1 {
		return 0, -1
	}
	return low, high
}

// Outside returns the probability that no time between low and high is right,
// log time from the middle of the window, for a cup of the recipe's dose and yield.
func (b *Belief) Outside(low, high float64, target Place) float64 {
	b.Settle()
	sum := 0.0
	for i, w := range b.weights {
		if from, to := b.points[i].right(Place{}, target, b.strength); from > to || from > high || to < low {
			sum += w
		}
	}
	return sum
}

// The times a curve spans, in log time from the middle of the window.
const (
	span  = 1.6
	bins  = 161
	width = 2 * span / (bins - 1)
)

// A Curve is how likely a cup is right, by its log time from the middle of the
// window.
type Curve [bins]float64

// Curve returns that of cups whose yield and dose bring shift, for a coffee
// whose good cup is meant to stand at target.
func (b *Belief) Curve(shift, target Place) *Curve {
	b.Settle()
	var c Curve
	even := evenBeds()
	for i, w := range b.weights {
		if w < nothing {
			continue
		}
		low, high := b.points[i].right(shift, target, b.strength)
		from := max(0, int(math.Ceil((low+span)/width)))
		to := min(bins-1, int(math.Floor((high+span)/width)))
		for k := from; k <= to; k++ {
			c[k] += w * even[i][k]
		}
	}
	return &c
}

// Right returns the probability that a setting is right whose log time from the
// middle of the window is believed to be about mean, give or take sd.
func (c *Curve) Right(mean, sd float64) float64 {
	sd = max(sd, width/4)
	from := max(0, int((mean-5*sd+span)/width))
	to := min(bins-1, int((mean+5*sd+span)/width)+1)
	sum, below := 0.0, phi((float64(from)*width-span-width/2-mean)/sd)
	for k := from; k <= to; k++ {
		above := phi((float64(k)*width - span + width/2 - mean) / sd)
		sum += c[k] * (above - below)
		below = above
	}
	return sum
}

// At returns how likely a cup of that log time from the middle is right.
func (c *Curve) At(x float64) float64 {
	k := int(math.Round((x + span) / width))
	if k < 0 || k >= bins {
		return 0
	}
	return c[k]
}

// phi is the distribution function of the standard normal.
func phi(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
