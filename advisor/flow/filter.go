package flow

import (
	"math"
	"slices"
)

// What the model believes of the world besides its grid; all assumed, with the
// sizes that a prototype over simulated bars was tested with.
const (
	walk       = 0.006 // sd of the level's step from shot to shot, log time
	overnight  = 0.04  // sd of the level's jump from day to day, log time
	mostNights = 10    // after which a coffee is as little known as it will be
	outliers   = 0.03  // share of shots that are no witness of the setting
	outlierSD  = 0.30  // sd of such a shot besides the noise, log time
	changes    = 0.015 // share of shots before which something happened that nobody told
	changeSD   = 0.15  // sd of what it moves the level by, log time
	surprising = 1.5   // sd off what was expected, from which a change is thought of
	branches   = 3     // kept in each cell, and what a shot may be
	faint      = 1e-7  // weight below which a cell is dropped
)

// A Shot is one shot as the filter sees it.
type Shot struct {
	Grind   Effective // steps from the filter's reference, + is finer
	LogDose float64   // log(dose/reference)
	LogOut  float64   // log(yield/reference)
	LogTime float64   // log s
	Beyond  bool      // the time is a lower bound: the shot choked
	Extra   float64   // variance of log time besides the noise: rounding, a rough yield
	Odd     float64   // how likely it is no witness of its setting, by what else is known of it; see outliers
	Doubt   float64   // the noise's variance is multiplied by 1 + Doubt: 1 is half a witness
}

// A Filter is what the shots so far say of one coffee on one grinder.
// Its methods change it; Clone it to keep one.
type Filter struct {
	prior [cells]float64 // weights before the first shot
	cells []cell
	began Noise // before the first shot
	noise Noise
	seen  bool // a shot
	still bool // see Prior
}

// A cell is one point of the grid.
type cell struct {
	slope, retention int
	b                float64
	n                int // branches in use
	branch           [branches]branch
}

// A branch is one history of which shots were outliers and before which the
// level changed.
type branch struct {
	w    float64  // weight; those of all cells sum to 1
	last surprise // of the last shot, if it was no outlier
	gauss
}

// New returns a filter that has seen nothing. Carried, from Carry, is what
// other coffees have taught of the grinder, or nil.
func New(p Prior, carried *Carried) *Filter {
	f := &Filter{cells: make([]cell, 0, cells), noise: usualNoise(), still: p.Still}
	if carried != nil {
		f.noise = carried.noise(f.noise)
	}
	start := gauss{
		m: [3]float64{p.Level, p.Dose, p.Yield},
		p: [6]float64{0: p.LevelSD * p.LevelSD, 3: p.DoseSD * p.DoseSD, 5: p.YieldSD * p.YieldSD},
	}
	for i := range slopes {
		for j := range retentions {
			c := cell{slope: i, retention: j, b: slopeAt(i), n: 1}
			c.branch[0] = branch{w: p.weight(i, j), gauss: start}
			if carried != nil {
				c.branch[0].w *= carried.Odds[c.index()]
			}
			f.cells = append(f.cells, c)
		}
	}
	f.began = f.noise
	f.normalise()
	for i := range f.cells {
		f.prior[f.cells[i].index()] = f.cells[i].weight()
	}
	return f
}

// index returns the cell's place in the grid.
func (c *cell) index() int { return c.slope*retentions + c.retention }

// weight returns the sum of the branches' weights.
func (c *cell) weight() float64 {
	w := 0.0
	for i := range c.n {
		w += c.branch[i].w
	}
	return w
}

// Clone returns a copy that shares nothing with f.
func (f *Filter) Clone() *Filter {
	g := *f
	g.cells = append([]cell(nil), f.cells...)
	return &g
}

// Wait lets the level walk: between two shots, and over so many nights, in which
// the coffee ages and the weather changes.
func (f *Filter) Wait(nights int) {
	f.Loosen(walk*walk + float64(min(nights, mostNights))*overnight*overnight)
}

// Loosen adds variance to the level, in square log time: something happened.
func (f *Filter) Loosen(variance float64) {
	for i := range f.cells {
		c := &f.cells[i]
		for j := range c.n {
			c.branch[j].p[0] += variance
		}
	}
}

// Observe learns from s.
func (f *Filter) Observe(s Shot) {
	top, kinds := math.Inf(-1), f.kinds(s.Odd)
	noise := f.noise.Variance * (1 + s.Doubt)
	for i := range f.cells {
		f.cells[i].observe(s, noise, kinds)
		top = max(top, f.cells[i].branch[0].w) // keep puts the likeliest first
	}
	for i := range f.cells {
		c := &f.cells[i]
		for j := range c.n {
			c.branch[j].w = math.Exp(c.branch[j].w - top)
		}
	}
	f.normalise()
	f.seen = true
	if !s.Beyond {
		f.noise.learn(f.surprise(s))
	}
}

// surprise returns what the shot just seen, s, says of the noise, over all that
// is believed of it.
func (f *Filter) surprise(s Shot) surprise {
	var all surprise
	for i := range f.cells {
		c := &f.cells[i]
		for j := range c.n {
			b := &c.branch[j]
			all.share += b.w * b.last.share
			all.excess += b.w * b.last.excess / (1 + s.Doubt)
		}
	}
	return all
}

// normalise drops what is too faint to matter and makes the weights sum to 1.
func (f *Filter) normalise() {
	faintest := faint * f.total()
	f.cells = slices.DeleteFunc(f.cells, func(c cell) bool { return !(c.weight() > faintest) })
	total := f.total()
	for i := range f.cells {
		c := &f.cells[i]
		for j := range c.n {
			c.branch[j].w /= total
		}
	}
}

// total returns the sum of all weights.
func (f *Filter) total() float64 {
	total := 0.0
	for i := range f.cells {
		total += f.cells[i].weight()
	}
	return total
}

// A kind is what a shot may be: how often it is so, the variance of its time
// besides the noise, and that of what the level has moved by before it.
type kind struct{ share, scatter, moved float64 }

// kinds returns them for a shot that is so likely no witness: clean, no witness,
// clean after a change that nobody told. There is nothing to change before the first shot.
func (f *Filter) kinds(odd float64) [branches]kind {
	odd, changed := max(odd, outliers), changes
	if !f.seen || f.still {
		changed = 0
	}
	return [branches]kind{{share: (1 - odd) * (1 - changed)}, {share: odd, scatter: outlierSD * outlierSD}, {share: (1 - odd) * changed, moved: changeSD * changeSD}}
}

// observe splits each branch of c by what the shot may be, and keeps the
// likeliest. It leaves the weights' logarithms in w.
func (c *cell) observe(s Shot, noise float64, kinds [branches]kind) {
	split := make([]branch, 0, branches*branches)
	h := [3]float64{1, s.LogDose, s.LogOut}
	y := s.LogTime - c.b*s.Grind[c.retention]
	r := noise + s.Extra
	for i := range c.n {
		was := &c.branch[i]
		_, spread := was.spread(h)
		e := y - was.mean(h)
		calm := !s.Beyond && e*e < surprising*surprising*(spread+r)
		for _, k := range kinds {
			if !(k.share > 0) || calm && k.moved > 0 { // for speed: it would say the same
				continue
			}
			b := *was
			b.p[0] += k.moved
			b.last = surprise{}
			if k.scatter == 0 {
				b.last = surprised(e, spread+k.moved+r, noise)
			}
			b.w = math.Log(was.w*k.share) + b.see(h, y, r+k.scatter, s.Beyond)
			split = append(split, b)
		}
	}
	c.keep(split)
}

// see updates b with a time, exact or a lower bound.
func (b *branch) see(h [3]float64, y, noise float64, beyond bool) float64 {
	if beyond {
		return b.beyond(h, y, noise)
	}
	return b.observe(h, y, noise)
}

// keep puts the likeliest of split into c.
func (c *cell) keep(split []branch) {
	c.n = min(len(split), branches)
	for i := range c.n {
		best := i
		for j := i + 1; j < len(split); j++ {
			if split[j].w > split[best].w {
				best = j
			}
		}
		split[i], split[best] = split[best], split[i]
		c.branch[i] = split[i]
	}
}
