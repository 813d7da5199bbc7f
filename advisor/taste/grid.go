package taste

import (
	"iter"
	"math"
)

// The grid: side points from -reach to +reach taste steps, on both axes.
const (
	side  = 41
	reach = 3.0
	pitch = 2 * reach / (side - 1)
)

// A plane holds a number for each (extraction, strength), extraction first.
type plane [side * side]float64

// A grid is the belief about a shot, once if the bed was even and once if it
// was not. Each plane sums to 1.
type grid struct {
	prior, even, uneven plane
}

// newGrid returns the prior: standard normal on both axes.
func newGrid() *grid {
	g := new(grid)
	var bell [side]float64
	for i := range bell {
		bell[i] = math.Exp(-coordinate(i) * coordinate(i) / 2)
	}
	for i, e := range bell {
		for j, s := range bell {
			g.prior[i*side+j] = e * s
		}
	}
	g.prior.normalize()
	g.even, g.uneven = g.prior, g.prior
	return g
}

// coordinate returns the taste steps of a line of the grid.
func coordinate(i int) float64 { return -reach + pitch*float64(i) }

// measure multiplies both planes by the likelihoods of what was measured.
func (g *grid) measure(m Measured) {
	ey := gauge(m.EY, m.EYTarget, m.EYSD, m.EYStep, usualStepEY)
	tds := gauge(m.TDS, m.TDSTarget, m.TDSSD, m.TDSStep, usualStepTDS)
	for _, p := range []*plane{&g.even, &g.uneven} {
		for i := range side {
			for j := range side {
				p[i*side+j] *= ey[i] * tds[j]
			}
		}
		p.normalize()
	}
}

// gauge returns the likelihood of a measurement on each line of the grid; all
// 1 if there is none. What lies beyond the grid is taken to lie on its edge,
// and no measurement is finer than the grid.
func gauge(x, target, sd, step, usual float64) [side]float64 {
	if !(step > 0) || math.IsInf(step, 1) {
		step = usual
	}
	z := (x - target) / step
	here := x > 0 && target > 0 && sd > 0 && !math.IsInf(x, 1) && !math.IsInf(target, 1)
	z = min(max(z, -reach), reach)
	width := max(sd/step, pitch)
	var line [side]float64
	for i := range line {
		line[i] = 1
		if here {
			d := (coordinate(i) - z) / width
			line[i] = math.Exp(-d * d / 2)
		}
	}
	return line
}

// taste multiplies both planes by the likelihood of all that one taster said,
// over the taster's unknown bias, and returns what the words together say of
// the bed, in log odds of an even one, beyond what each says alone: sour beside
// bitter is likelier in an uneven bed, sour beside tart is not.
func (g *grid) taste(words []said) float64 {
	together := 0.0
	for _, h := range []struct {
		belief *plane
		sign   float64
		apart  float64
		counts float64
	}{{&g.even, +1, 0, 1}, {&g.uneven, -1, streams, unevenWeight}} {
		likelihood, alone := likelihoods(words, h.apart, &g.prior)
		together += h.sign * (math.Log(dot(&g.prior, likelihood)) - alone)
		for c := range h.belief {
			h.belief[c] *= math.Pow(likelihood[c], h.counts)
		}
		h.belief.normalize()
	}
	return together
}

// likelihoods returns the likelihood of the words on the grid, if the bed ran
// in streams so far apart, and the sum of the logarithms of what each word's
// would be alone under the prior.
func likelihoods(words []said, apart float64, prior *plane) (all *plane, alone float64) {
	all = new(plane)
	single := make([]float64, len(words))
	for bias, weight := range gaussHermite() {
		var product plane
		for c := range product {
			product[c] = 1
		}
		for n, w := range words {
			single[n] += weight * w.multiply(&product, bias, apart, prior)
		}
		for c := range all {
			all[c] += weight * product[c]
		}
	}
	for _, p := range single {
		alone += math.Log(p)
	}
	return all, alone
}

// gaussHermite yields the three points of the bias and their weights, exact
// for polynomials up to the fifth degree.
func gaussHermite() iter.Seq2[float64, float64] {
	return func(yield func(float64, float64) bool) {
		far := math.Sqrt(3) * biasSD
		_ = yield(-far, 1./6) && yield(0, 2./3) && yield(far, 1./6)
	}
}

// lapse is the probability that anything is said, or left unsaid, of any cup.
// It keeps every word possible everywhere, so that no set of words is beyond
// what numbers can hold.
const lapse = 1e-4

// multiply multiplies p by the probability of the word and returns that
// probability's mean under the prior. The curve's exponent is a sum of terms
// of one axis each, so that the grid needs no exponential.
func (s said) multiply(p *plane, bias, apart float64, prior *plane) (mean float64) {
	byE, byS := s.odds(bias, apart, Place{})
	floor, span := lapse, 1-2*lapse
	if s.Not {
		floor, span = 1-lapse, -span
	}
	var row [side]float64
	for i, against := range byE {
		for j := range row {
			row[j] = floor + span/(1+against*byS[j])
		}
		if s.Than {
			for j := range row {
				row[j] = math.Sqrt(row[j]) // to the power of thanWeight
			}
		}
		cells, weights := (*[side]float64)(p[i*side:]), (*[side]float64)(prior[i*side:])
		for j, q := range row {
			cells[j] *= q
			mean += weights[j] * q
		}
	}
	return mean
}

// odds returns the odds against the word: their product over the two axes.
//
// The grid lies about the place of the cup.
//
// In an uneven bed, a word that leans to one side is heard in the stream that
// fits it best, a word of the centre must hold of both.
func (s said) odds(bias, apart float64, at Place) (byE, byS [side]float64) {
	sharp := math.Hypot(s.Extraction, s.Strength)
	centre := s.Centre * s.Degree
	from := s.From + degreeStep*(s.Degree-1)
	offset := centre - sharp*from + math.Abs(s.Extraction)*apart
	for i := range side {
		x, y := coordinate(i)+at.Extraction, coordinate(i)+at.Strength
		wide := math.Abs(x) + apart
		byE[i] = math.Exp(-offset - s.Extraction*(x+bias) + centre*wide*wide)
		byS[i] = math.Exp(-s.Strength*y + centre*y*y)
	}
	return byE, byS
}

// normalize scales p to sum 1.
func (p *plane) normalize() {
	sum := 0.0
	for _, x := range p {
		sum += x
	}
	for c := range p {
		p[c] /= sum
	}
}

func dot(p, q *plane) float64 {
	sum := 0.0
	for c := range p {
		sum += p[c] * q[c]
	}
	return sum
}

// read puts the mean and the spread of the belief into r, the two planes
// weighed by r.Even.
func (g *grid) read(r *Reading) {
	var e, ee, s, ss float64
	for i := range side {
		for j := range side {
			c := i*side + j
			p := r.Even*g.even[c] + (1-r.Even)*g.uneven[c]
			x, y := coordinate(i), coordinate(j)
			e += p * x
			ee += p * x * x
			s += p * y
			ss += p * y * y
		}
	}
	r.Extraction, r.ExtractionSD = e, math.Sqrt(ee-e*e)
	r.Strength, r.StrengthSD = s, math.Sqrt(ss-s*s)
}
