package taste

import "math"

// Leans is how likely the cups of other coffees are under each leaning of each
// taster.
type Leans map[uint64][nodes]float64

// carried is how much of what other coffees taught of a taster counts here: people
// lean a little otherwise with each coffee. Assumed.
const carried = 0.8

// Leans adds to l what b has taught of how each of its tasters leans.
func (b *Belief) Leans(l Leans) {
	b.Settle()
	for k, taster := range b.tasters {
		o, sum := b.heard[k], [nodes]float64{}
		for i, w := range b.weights {
			if w < nothing {
				continue
			}
			for n, q := range o.lean[i] {
				sum[n] += w * float64(q) / share(n)
			}
		}
		known, ok := l[taster]
		for n := range sum {
			if !ok {
				known[n] = 1
			}
			known[n] *= math.Pow(sum[n], carried)
		}
		l[taster] = known
	}
}

// Know lets b begin with how its tasters lean.
func (b *Belief) Know(l Leans) {
	for k, taster := range b.tasters {
		if known, ok := l[taster]; ok {
			b.heard[k].know(known)
			b.stale = true
		}
	}
}

// know lets the opinion be that of a taster who leans so.
func (o *opinion) know(known [nodes]float64) {
	total := 0.0
	for n := range known {
		total += known[n] * share(n)
	}
	if !(total > 0) {
		return
	}
	for n := range known {
		known[n] /= total
	}
	for i := range o.sum {
		q := known
		o.learn(i, &q)
	}
}
