package flow

import "math"

// A Mixture is a belief about the logarithm of a time: a sum of normals.
type Mixture []Normal

// A Normal is one part of a mixture.
type Normal struct{ Weight, Mean, SD float64 }

// A Steady is the belief about the mean time of shots once the old grounds are
// gone, at any grind: what a setting is worth, without the noise of one shot.
type Steady []line

// A line is one part of it: log time is normal about mean + slope·grind.
type line struct{ weight, mean, slope, sd float64 }

// slight is the weight below which a part of a belief is left out of sums.
const slight = 1e-4

// Steady returns that belief at a dose and a yield.
func (f *Filter) Steady(logDose, logOut float64) Steady {
	h := [3]float64{1, logDose, logOut}
	var s Steady
	total := 0.0
	for i := range f.cells {
		c := &f.cells[i]
		w := c.weight()
		if w < slight {
			continue
		}
		m, v := c.moments(h)
		s = append(s, line{w, m, c.b, math.Sqrt(v)})
		total += w
	}
	for i := range s {
		s[i].weight /= total
	}
	return s
}

// moments returns the mean and the variance of h'·state in c. Its branches
// differ little in what they say of the future: one normal stands for them.
func (c *cell) moments(h [3]float64) (mean, variance float64) {
	var w, m, v float64
	for j := range c.n {
		b := &c.branch[j]
		mean := b.mean(h)
		_, spread := b.spread(h)
		w += b.w
		m += b.w * mean
		v += b.w * (spread + mean*mean)
	}
	m /= w
	return m, max(v/w-m*m, 1e-12)
}

// Below returns the probability that the time at a grind is less than exp(x).
func (s Steady) Below(grind, x float64) float64 {
	p := 0.0
	for i := range s {
		l := &s[i]
		p += l.weight * phi((x-l.mean-l.slope*grind)/l.sd)
	}
	return p
}

// Mean returns the mean of log time at a grind.
func (s Steady) Mean(grind float64) float64 {
	sum := 0.0
	for i := range s {
		sum += s[i].weight * (s[i].mean + s[i].slope*grind)
	}
	return sum
}

// Variance returns the variance of log time at a grind.
func (s Steady) Variance(grind float64) float64 {
	mean, v := s.Mean(grind), 0.0
	for i := range s {
		l := &s[i]
		d := l.mean + l.slope*grind - mean
		v += l.weight * (l.sd*l.sd + d*d)
	}
	return v
}

// Slopes returns the belief about what one step is worth, in log time.
func (f *Filter) Slopes() Mixture {
	mix := make(Mixture, 0, len(f.cells))
	for i := range f.cells {
		mix = append(mix, Normal{Weight: f.cells[i].weight(), Mean: f.cells[i].b})
	}
	return mix
}

// Next returns the belief about the time of one shot: noise, outliers and a change
// that nobody told included. Its LogTime and Beyond are not looked at.
func (f *Filter) Next(s Shot) Mixture {
	h := [3]float64{1, s.LogDose, s.LogOut}
	kinds := f.kinds(0)
	mix := make(Mixture, 0, len(kinds)*len(f.cells))
	for i := range f.cells {
		c := &f.cells[i]
		w := c.weight()
		if w < slight {
			continue
		}
		mean, v := c.moments(h)
		mean += c.b * s.Grind[c.retention]
		v += f.noise.next()*(1+s.Doubt) + s.Extra
		for _, k := range kinds {
			mix = append(mix, Normal{w * k.share, mean, math.Sqrt(v + k.scatter + k.moved)})
		}
	}
	total := 0.0
	for _, n := range mix {
		total += n.Weight
	}
	for i := range mix {
		mix[i].Weight /= total
	}
	return mix
}

// Odd returns the probability that s, not yet observed, is an outlier rather than
// clean, if nothing changed before it.
func (f *Filter) Odd(s Shot) float64 {
	var by [branches]float64
	for i, n := range f.Next(s) {
		by[i%branches] += n.Weight * density(s.LogTime, n.Mean, n.SD)
	}
	if clean, odd := by[0], by[1]; clean+odd > 0 {
		return odd / (clean + odd)
	}
	return 1
}

// Density returns how likely a log time is, up to a factor that is the same for all
// mixtures. It is never 0, however far out.
func (m Mixture) Density(x float64) float64 {
	sum := 1e-12
	for _, n := range m {
		sum += n.Weight * density(x, n.Mean, n.SD)
	}
	return sum
}

func density(x, mean, sd float64) float64 {
	z := (x - mean) / sd
	return math.Exp(-0.5*z*z) / sd
}

// Below returns the probability that the time is less than exp(x).
func (m Mixture) Below(x float64) float64 {
	p, t := 0.0, phiTable()
	for _, n := range m {
		p += n.Weight * phiBy(t, (x-n.Mean)/n.SD)
	}
	return p
}

// Mean returns the mean of the logarithm.
func (m Mixture) Mean() float64 {
	sum := 0.0
	for _, n := range m {
		sum += n.Weight * n.Mean
	}
	return sum
}

// Quantile returns x such that Below(x) is p.
func (m Mixture) Quantile(p float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, n := range m {
		low = min(low, n.Mean-9*n.SD)
		high = max(high, n.Mean+9*n.SD)
	}
	below, above := -p, 1-p // by how much the probability is off at low and at high
	x, was := (low+high)/2, 0.0
	for range 100 {
		off := m.Below(x) - p
		if math.Abs(off) < 1e-13 || high-low < 1e-12 {
			break
		}
		if off < 0 {
			low, below = x, off
		} else {
			high, above = x, off
		}
		switch { // the end that stays counts for less, or the chord would creep along
		case off < 0 && was < 0:
			above /= 2
		case off > 0 && was > 0:
			below /= 2
		}
		x, was = low+(high-low)*below/(below-above), off
	}
	return x
}

// Grounds returns the mean of the share of old grounds after a change without a
// purge, and of the noise, sd of log time.
func (f *Filter) Grounds() (old, noise float64) {
	for i := range f.cells {
		c := &f.cells[i]
		old += c.weight() * retentionAt(c.retention)
	}
	return old, math.Sqrt(f.noise.Variance)
}

// Exponents returns the mean of c and d: how time answers to dose and yield.
func (f *Filter) Exponents() (dose, yield float64) {
	for i := range f.cells {
		c := &f.cells[i]
		for j := range c.n {
			dose += c.branch[j].w * c.branch[j].m[1]
			yield += c.branch[j].w * c.branch[j].m[2]
		}
	}
	return dose, yield
}
