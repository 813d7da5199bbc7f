package extraction

import "math"

// A cell is a slice of the bed.
type cell struct {
	c    float64 // g/g, of the liquid between the grains
	fast float64 // g left
	slow float64 // g left
}

// A bed is what water passes from the first cell to the last.
type bed struct {
	cells   [maxCells]cell
	n       int
	between float64 // g of liquid in a cell between its grains
	within  float64 // g of liquid in a cell within its grains
	fills   float64 // g/g, of liquid that a gram of solids saturates
}

// newBed returns a dry bed of dose grams.
func (p Params) newBed(dose float64) bed {
	share := dose / float64(p.Cells)
	b := bed{n: p.Cells, between: p.Between * share, within: p.Within * share, fills: 1 / p.Saturation}
	for i := range p.Cells {
		b.cells[i] = cell{fast: p.Fast * share, slow: p.Slow * share}
	}
	return b
}

// A release is the share of each pool that a step lets go into fresh water.
type release struct{ fast, slow float64 }

// releaseIn returns the release of so many seconds, at rates times warmth.
func (p Params) releaseIn(seconds, warmth float64) release {
	return release{
		fast: -math.Expm1(-p.FastRate * warmth * seconds),
		slow: -math.Expm1(-p.SlowRate * warmth * seconds),
	}
}

// wash passes grams of liquid of concentration c through x, which holds held
// grams of its own, and returns the concentration that leaves: the c' of
//
//	held·(c' - x.c) = grams·(c - c') + f·(1 - c'/saturation) + s - g·c'
func (b *bed) wash(x *cell, r release, held, grams, c float64) float64 {
	f, s, g := r.fast*x.fast, r.slow*x.slow, r.slow*b.within
	each := 1 / (held + grams + f*b.fills + g) // which need not wait for c
	x.c = (held*x.c+f+s)*each + grams*each*c
	x.fast -= f * (1 - x.c*b.fills)
	x.slow -= s - g*x.c
	return x.c
}

// pass sends grams of fresh water through the first n cells and returns the
// concentration that leaves the last of them.
func (b *bed) pass(n int, r release, grams float64) float64 {
	c := 0.0
	for i := range n {
		c = b.wash(&b.cells[i], r, b.between, grams, c)
	}
	return c
}

// wet fills the dry bed in so many seconds.
func (b *bed) wet(p Params, seconds, warmth float64) {
	r := p.releaseIn(seconds/float64(b.n), warmth)
	for front := range b.n {
		c := b.pass(front, r, b.between)
		b.wash(&b.cells[front], r, 0, b.between, c)
	}
}

// The step of a pour is a share of the dose, as it must be small against the
// liquid in a cell and not against the cup; filter brews take wider ones.
const (
	stepsPerRatio = 80
	minSteps      = 80
	maxSteps      = 640
)

// Pour computes the curve of b: what is in the cup at each moment.
func (p Params) Pour(b Brew) (Curve, error) {
	if err := p.check(); err != nil {
		return Curve{}, err
	}
	if err := b.check(); err != nil {
		return Curve{}, err
	}
	flow := p.flowOf(b)
	steps := int(min(max(math.Ceil(stepsPerRatio*b.Yield/b.Dose), minSteps), maxSteps))
	grams := b.Yield / float64(steps)
	warmth := p.warmth(b)

	bed := p.newBed(b.Dose)
	bed.wet(p, flow.firstDrip, warmth)
	solids := make([]float64, steps+1)
	for i := range steps {
		seconds := grams / flow.rate((float64(i)+0.5)*grams)
		out := bed.pass(bed.n, p.releaseIn(seconds, warmth), grams)
		solids[i+1] = solids[i] + out*grams
	}
	return Curve{dose: b.Dose, yield: b.Yield, flow: flow, solids: solids}, nil
}
