package flow

import "math"

// A Setup is where a shot would be pulled.
type Setup struct {
	Grind   float64 // steps from the filter's reference, + is finer
	LogDose float64 // log(dose/reference)
	LogOut  float64 // log(yield/reference)
}

// A Mixture is a belief about the logarithm of a time: a sum of normals.
type Mixture []Normal

// A Normal is one part of a mixture.
type Normal struct{ Weight, Mean, SD float64 }

// Steady returns the belief about the mean time of shots at s once the old
// grounds are gone: what a setting is worth, without the noise of one shot.
func (f *Filter) Steady(s Setup) Mixture {
	h := [3]float64{1, s.LogDose, s.LogOut}
	mix := make(Mixture, 0, len(f.cells))
	for i := range f.cells {
		c := &f.cells[i]
		// The branches of a cell differ little in what they say of its future;
		// one normal with their mean and variance stands for them.
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
		mix = append(mix, Normal{w, m + c.b*s.Grind, math.Sqrt(max(v/w-m*m, 1e-12))})
	}
	return mix
}

// Slopes returns the belief about what one step is worth, in log time.
func (f *Filter) Slopes() Mixture {
	mix := make(Mixture, 0, len(f.cells))
	for i := range f.cells {
		mix = append(mix, Normal{Weight: f.cells[i].weight(), Mean: f.cells[i].b})
	}
	return mix
}

// Next returns the belief about the time of one shot, noise and outliers
// included. Its LogTime, Beyond are not looked at.
func (f *Filter) Next(s Shot) Mixture {
	h := [3]float64{1, s.LogDose, s.LogOut}
	mix := make(Mixture, 0, 2*len(f.cells)*branches)
	for i := range f.cells {
		c := &f.cells[i]
		noise := c.variance*(1+s.Doubt) + s.Extra
		for j := range c.n {
			b := &c.branch[j]
			_, v := b.spread(h)
			mean := b.mean(h) + c.b*s.Grind[c.retention]
			mix = append(mix,
				Normal{b.w * (1 - outliers), mean, math.Sqrt(v + noise)},
				Normal{b.w * outliers, mean, math.Sqrt(v + noise + outlierSD*outlierSD)})
		}
	}
	return mix
}

// Odd returns the probability that s, not yet observed, is an outlier.
func (f *Filter) Odd(s Shot) float64 {
	var odd, all float64
	for i, n := range f.Next(s) {
		d := n.Weight * density(s.LogTime, n.Mean, n.SD)
		all += d
		if i%2 == 1 {
			odd += d
		}
	}
	if !(all > 0) {
		return 1
	}
	return odd / all
}

func density(x, mean, sd float64) float64 {
	z := (x - mean) / sd
	return math.Exp(-0.5*z*z) / sd
}

// Below returns the probability that the time is less than exp(x).
func (m Mixture) Below(x float64) float64 {
	p := 0.0
	for _, n := range m {
		p += n.Weight * phi((x-n.Mean)/n.SD)
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
	for range 50 {
		mid := (low + high) / 2
		if m.Below(mid) < p {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// phi is the distribution function of the standard normal.
func phi(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

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
