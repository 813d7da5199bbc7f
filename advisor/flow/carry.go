package flow

import "math"

// Carried is what coffees have taught of their grinder. The evidence of several
// coffees is their product.
type Carried struct {
	// Odds is, for each point of the grid, how much likelier their shots have
	// made it than it was before.
	Odds [cells]float64
	// Scatter is their squared noise, each shot's added up, and Shots how many
	// shots stand behind it.
	Scatter, Shots float64
}

// widen is the sd of log slope between two coffees on one grinder, assumed:
// another bean breaks a little differently.
const widen = 0.10

// Carry returns what f's own shots have taught, without what it began with.
func (f *Filter) Carry() *Carried {
	var c Carried
	for i := range f.cells {
		at := f.cells[i].index()
		c.Odds[at] = f.cells[i].weight() / f.prior[at]
	}
	c.Shots = f.noise.Shots - f.began.Shots
	c.Scatter = f.noise.Shots*f.noise.Variance - f.began.Shots*f.began.Variance
	return &c
}

// Times returns the evidence of c and d together.
func (c *Carried) Times(d *Carried) *Carried {
	both := Carried{Scatter: c.Scatter + d.Scatter, Shots: c.Shots + d.Shots}
	for i := range both.Odds {
		both.Odds[i] = c.Odds[i] * d.Odds[i]
	}
	return &both
}

// Widened returns c as it bears on another coffee.
func (c *Carried) Widened() *Carried {
	spacing := math.Log(slopeHigh/slopeLow) / (slopes - 1)
	wide := Carried{Scatter: c.Scatter, Shots: c.Shots}
	for i := range slopes {
		norm := 0.0
		for from := range slopes {
			z := float64(i-from) * spacing / widen
			k := math.Exp(-0.5 * z * z)
			norm += k
			for j := range retentions {
				wide.Odds[i*retentions+j] += k * c.Odds[from*retentions+j]
			}
		}
		for j := range retentions {
			wide.Odds[i*retentions+j] /= norm
		}
	}
	return &wide
}

// noise returns n with the evidence of c.
func (c *Carried) noise(n Noise) Noise {
	shots := n.Shots + c.Shots
	return Noise{Variance: max((n.Shots*n.Variance+c.Scatter)/shots, leastNoise*leastNoise), Shots: shots}
}
