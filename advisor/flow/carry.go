package flow

import "math"

// Carried is what coffees have taught of their grinder: for each point of the
// grid, how much likelier their shots have made it than it was before. The
// evidence of several coffees is their product.
type Carried [cells]float64

// widen is the sd of log slope between two coffees on one grinder, assumed:
// another bean breaks a little differently.
const widen = 0.10

// Carry returns what f's own shots have taught, without what it began with.
func (f *Filter) Carry() *Carried {
	var c Carried
	for i := range f.cells {
		at := f.cells[i].index()
		c[at] = f.cells[i].weight() / f.prior[at]
	}
	return &c
}

// Times returns the evidence of c and d together.
func (c *Carried) Times(d *Carried) *Carried {
	var both Carried
	for i := range both {
		both[i] = c[i] * d[i]
	}
	return &both
}

// Widened returns c as it bears on another coffee.
func (c *Carried) Widened() *Carried {
	spacing := math.Log(slopeHigh/slopeLow) / (slopes - 1)
	var wide Carried
	for i := range slopes {
		norm := 0.0
		for from := range slopes {
			z := float64(i-from) * spacing / widen
			k := math.Exp(-0.5 * z * z)
			norm += k
			for j := range retentions * noises {
				wide[i*retentions*noises+j] += k * c[from*retentions*noises+j]
			}
		}
		for j := range retentions * noises {
			wide[i*retentions*noises+j] /= norm
		}
	}
	return &wide
}
