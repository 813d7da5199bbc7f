package taste

import (
	"math"
	"slices"
)

// A Place is where a cup stands from another, in taste steps.
type Place struct{ Extraction, Strength float64 }

// A Prior is what is believed of a coffee's cups at its recipe before anybody
// has tasted one, in taste steps about a good one: either the recipe is near, or
// its extraction is far off.
type Prior struct {
	Near, Far float64 // sd of extraction
	Strength  float64 // sd of strength, in both cases
	Misplaced float64 // probability of the second
}

// A Belief is what the tasters of a coffee have taught of where a cup at its
// recipe stands: a grid of extraction and strength, and for each taster the
// likelihood of all they said under three leanings. Words count wherever their
// cup stood.
type Belief struct {
	lexicon *Lexicon
	prior   Prior
	tasters []uint64
	heard   []*[biases]plane // of each taster, by leaning
	stale   bool
	near    sums // of the belief that the recipe is near
	far     sums
}

// sums are prefix sums of a plane: the mass of all cells before a corner.
type sums [(side + 1) * (side + 1)]float64

// NewBelief returns the belief before any tasting.
func (l *Lexicon) NewBelief(p Prior) *Belief { return &Belief{lexicon: l, prior: p, stale: true} }

// Clone returns a belief that shares nothing with b.
func (b *Belief) Clone() *Belief {
	c := *b
	c.tasters = slices.Clone(b.tasters)
	c.heard = make([]*[biases]plane, len(b.heard))
	for i, said := range b.heard {
		copied := *said
		c.heard[i] = &copied
	}
	return &c
}

// Learn takes in what one taster said of a cup that stands at a place from one
// at the recipe. A doubtful cup, of a bed that was not even, counts for half.
func (b *Belief) Learn(t Tasting, at Place, doubtful bool) {
	for _, words := range b.lexicon.people([]Tasting{t}) {
		likelihood := b.of(t.Taster)
		n := 0
		for bias := range gaussHermite() {
			for _, w := range words {
				w.temper(&likelihood[n], bias, at, doubtful)
			}
			n++
		}
		rescale(likelihood)
		b.stale = true
	}
}

// rescale keeps the largest of the numbers at 1: only their ratios count.
func rescale(p *[biases]plane) {
	top := 0.0
	for n := range p {
		for _, q := range p[n] {
			top = max(top, q)
		}
	}
	for n := range p {
		for c := range p[n] {
			p[n][c] /= top
		}
	}
}

// of returns what a taster has said, by leaning.
func (b *Belief) of(taster uint64) *[biases]plane {
	for i, known := range b.tasters {
		if known == taster && taster != 0 {
			return b.heard[i]
		}
	}
	fresh := new([biases]plane)
	for n := range fresh {
		for c := range fresh[n] {
			fresh[n][c] = 1
		}
	}
	b.tasters, b.heard = append(b.tasters, taster), append(b.heard, fresh)
	return fresh
}

// temper multiplies p by the probability of the word, or by its square root if
// the word counts for half.
func (s said) temper(p *plane, bias float64, at Place, doubtful bool) {
	byE, byS := s.odds(bias, 0, at)
	half := doubtful || s.Than
	for i, against := range byE {
		row := p[i*side : (i+1)*side]
		for j := range row {
			q := lapse + (1-2*lapse)/(1+against*byS[j])
			if s.Not {
				q = 1 - q
			}
			if half {
				q = math.Sqrt(q)
			}
			row[j] *= q
		}
	}
}

// Fade takes a share off all that was learnt: time has passed.
func (b *Belief) Fade(share float64) {
	for _, leanings := range b.heard {
		for n := range leanings {
			for c, q := range leanings[n] {
				leanings[n][c] = math.Pow(q, 1-share)
			}
		}
	}
	b.stale = true
}

// Settle brings what is asked of b up to date, so that until it learns again
// many goroutines may ask at once.
func (b *Belief) Settle() {
	if !b.stale {
		return
	}
	var all plane
	for c := range all {
		all[c] = 1
	}
	for _, leanings := range b.heard {
		var said plane
		n := 0
		for _, weight := range gaussHermite() {
			for c, q := range leanings[n] {
				said[c] += weight * q
			}
			n++
		}
		top := 0.0
		for _, q := range said {
			top = max(top, q)
		}
		for c := range all {
			all[c] *= said[c] / top
		}
	}
	total := 0.0
	var near, far plane
	for i := range side {
		e := coordinate(i)
		pNear := (1 - b.prior.Misplaced) * bell(e, b.prior.Near)
		pFar := b.prior.Misplaced * bell(e, b.prior.Far)
		for j := range side {
			c := i*side + j
			s := bell(coordinate(j), b.prior.Strength)
			near[c], far[c] = all[c]*pNear*s, all[c]*pFar*s
			total += near[c] + far[c]
		}
	}
	b.near.add(&near, total)
	b.far.add(&far, total)
	b.stale = false
}

// bell is the density of a normal, but for a factor.
func bell(x, sd float64) float64 { return math.Exp(-x*x/(2*sd*sd)) / sd }

// add sums up p, divided by total.
func (s *sums) add(p *plane, total float64) {
	for i := range side {
		row := 0.0
		for j := range side {
			row += p[i*side+j] / total
			s[(i+1)*(side+1)+j+1] = s[i*(side+1)+j+1] + row
		}
	}
}

// before returns the mass before a corner, in cells of the grid.
func (s *sums) before(i, j float64) float64 {
	i, j = min(max(i, 0), side), min(max(j, 0), side)
	a, b := min(int(i), side-1), min(int(j), side-1)
	x, y := i-float64(a), j-float64(b)
	at := func(a, b int) float64 { return s[a*(side+1)+b] }
	return (1-x)*((1-y)*at(a, b)+y*at(a, b+1)) + x*((1-y)*at(a+1, b)+y*at(a+1, b+1))
}

// box returns the mass within one taste step of a good cup, seen from a place.
func (s *sums) box(at Place) float64 {
	cell := func(x float64) float64 { return (x+reach)/pitch + 0.5 }
	e0, e1 := cell(-1-at.Extraction), cell(1-at.Extraction)
	s0, s1 := cell(-1-at.Strength), cell(1-at.Strength)
	return s.before(e1, s1) - s.before(e0, s1) - s.before(e1, s0) + s.before(e0, s0)
}

// Right returns the probability that a cup at a place from one at the recipe is
// within one taste step of a good one, where the recipe is near and where it is
// far off: the two are parts of one probability.
func (b *Belief) Right(at Place) (near, far float64) {
	b.Settle()
	return b.near.box(at), b.far.box(at)
}

// Far returns the probability that the recipe is far off.
func (b *Belief) Far() float64 {
	b.Settle()
	return b.far[len(b.far)-1]
}

// Mean returns where a cup at the recipe stands, in the mean.
func (b *Belief) Mean() Place {
	b.Settle()
	var m Place
	both := func(i, j int) float64 { return b.near[i*(side+1)+j] + b.far[i*(side+1)+j] }
	for i := range side {
		m.Extraction += coordinate(i) * (both(i+1, side) - both(i, side))
		m.Strength += coordinate(i) * (both(side, i+1) - both(side, i))
	}
	return m
}
