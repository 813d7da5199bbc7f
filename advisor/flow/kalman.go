package flow

import "math"

// A gauss is a normal belief about the three states level, c and d.
type gauss struct {
	m [3]float64 // mean
	p [6]float64 // covariance: 00 01 02 11 12 22
}

// spread returns P·h and h'·P·h.
func (g *gauss) spread(h [3]float64) (ph [3]float64, v float64) {
	ph[0] = g.p[0]*h[0] + g.p[1]*h[1] + g.p[2]*h[2]
	ph[1] = g.p[1]*h[0] + g.p[3]*h[1] + g.p[4]*h[2]
	ph[2] = g.p[2]*h[0] + g.p[4]*h[1] + g.p[5]*h[2]
	return ph, h[0]*ph[0] + h[1]*ph[1] + h[2]*ph[2]
}

// mean returns h'·m.
func (g *gauss) mean(h [3]float64) float64 {
	return h[0]*g.m[0] + h[1]*g.m[1] + h[2]*g.m[2]
}

// observe updates g with y = h'·x + noise of variance r, and returns the log of
// the density that g gave y before.
func (g *gauss) observe(h [3]float64, y, r float64) float64 {
	ph, v := g.spread(h)
	s := v + r
	e := y - g.mean(h)
	g.correct(ph, s, e, s)
	return -0.5 * (log2Pi + math.Log(s) + e*e/s)
}

// beyond updates g with y > bound, where y = h'·x + noise of variance r, and
// returns the log of the probability that g gave this before. The posterior is
// no longer normal; its first two moments are kept.
func (g *gauss) beyond(h [3]float64, bound, r float64) float64 {
	ph, v := g.spread(h)
	s := v + r
	sd := math.Sqrt(s)
	z := (bound - g.mean(h)) / sd
	tail := 0.5 * math.Erfc(z/math.Sqrt2)
	if !(tail > 1e-300) { // so far out that only the nearest point matters
		return g.observe(h, bound, r)
	}
	mills := math.Exp(-0.5*z*z) / math.Sqrt(2*math.Pi) / tail
	g.correct(ph, s, sd*mills, s*mills*(mills-z))
	return math.Log(tail)
}

// correct moves g along the gain ph/s for an innovation e that takes away the
// variance gone out of s.
func (g *gauss) correct(ph [3]float64, s, e, gone float64) {
	k := [3]float64{ph[0] / s, ph[1] / s, ph[2] / s}
	for i := range k {
		g.m[i] += k[i] * e
	}
	g.p[0] -= k[0] * k[0] * gone
	g.p[1] -= k[0] * k[1] * gone
	g.p[2] -= k[0] * k[2] * gone
	g.p[3] -= k[1] * k[1] * gone
	g.p[4] -= k[1] * k[2] * gone
	g.p[5] -= k[2] * k[2] * gone
}

// log2Pi is log 2π.
const log2Pi = 1.8378770664093454835606594728112
