package review

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// A layer is a group of coefficients that come from one normal distribution,
// how wide being unknown:
//
//	y = Xθ + noise,  noise ~ N(0, σ²),  θ of a layer ~ N(mid, width²)
//
// Coefficients of nothing that is known beforehand have a layer of one wide
// width.
type layer struct {
	columns int
	mid     float64
	widths  []width // what the width may be
}

// A width is one value that a sd may have, and how probable it is beforehand.
type width struct{ sd, prior float64 }

// A pooling is such a model with its data. Rows are sparse: the columns that
// are not 0, with their values.
type pooling struct {
	rows   []map[int]float64
	y      []float64
	layers []layer
	noise  []width
}

// A posterior is what is known of θ: a mixture of normals, one for each choice
// of the widths, exact in each.
type posterior struct {
	weights []float64
	means   []*mat.VecDense
	factors []*mat.Cholesky // of the precision
}

// solve returns the posterior, over the grid of all widths.
func (p *pooling) solve() posterior {
	n := 0
	for _, l := range p.layers {
		n += l.columns
	}
	xx, xy, yy := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil), 0.0
	for i, row := range p.rows {
		for a, x := range row {
			for b, z := range row {
				if a <= b {
					xx.SetSym(a, b, xx.At(a, b)+x*z)
				}
			}
			xy.SetVec(a, xy.AtVec(a)+x*p.y[i])
		}
		yy += p.y[i] * p.y[i]
	}
	var post posterior
	var logs []float64
	p.each(0, 0, nil, func(chosen []float64, prior float64) {
		for _, s := range p.noise {
			mean, factor, log := p.cell(xx, xy, yy, chosen, s.sd)
			post.means, post.factors = append(post.means, mean), append(post.factors, factor)
			logs = append(logs, log+prior+math.Log(s.prior))
		}
	})
	post.weights = shares(logs)
	return post
}

// each calls f with every choice of a width for each layer.
func (p *pooling) each(at int, prior float64, chosen []float64, f func([]float64, float64)) {
	if at == len(p.layers) {
		f(chosen, prior)
		return
	}
	for _, w := range p.layers[at].widths {
		p.each(at+1, prior+math.Log(w.prior), append(chosen[:at:at], w.sd), f)
	}
}

// cell returns the posterior where the widths are known, and the log of the
// density of the data there.
func (p *pooling) cell(xx *mat.SymDense, xy *mat.VecDense, yy float64, widths []float64, noise float64) (*mat.VecDense, *mat.Cholesky, float64) {
	n := xy.Len()
	var precision mat.SymDense
	precision.ScaleSym(1/(noise*noise), xx)
	b := mat.NewVecDense(n, nil)
	b.ScaleVec(1/(noise*noise), xy)
	square, log, at := yy/(noise*noise), -float64(len(p.y))*math.Log(noise), 0
	for i, l := range p.layers {
		for range l.columns {
			inverse := 1 / (widths[i] * widths[i])
			precision.SetSym(at, at, precision.At(at, at)+inverse)
			b.SetVec(at, b.AtVec(at)+l.mid*inverse)
			square += l.mid * l.mid * inverse
			log -= math.Log(widths[i])
			at++
		}
	}
	var factor mat.Cholesky
	factor.Factorize(&precision)
	mean := mat.NewVecDense(n, nil)
	_ = factor.SolveVecTo(mean, b) // a prior holds every coefficient
	return mean, &factor, log - factor.LogDet()/2 - (square-mat.Dot(b, mean))/2
}

// shares returns weights that sum to 1, of their logs.
func shares(logs []float64) []float64 {
	most, sum := math.Inf(-1), 0.0
	for _, l := range logs {
		most = max(most, l)
	}
	list := make([]float64, len(logs))
	for i, l := range logs {
		list[i] = math.Exp(l - most)
		sum += list[i]
	}
	for i := range list {
		list[i] /= sum
	}
	return list
}

// of returns what is known of a sum of coefficients, as a mixture of normals.
func (p posterior) of(coefficients []float64) mixture {
	c := mat.NewVecDense(len(coefficients), coefficients)
	var m mixture
	for i, w := range p.weights {
		if w < 1e-6 {
			continue
		}
		var v mat.VecDense
		_ = p.factors[i].SolveVecTo(&v, c)
		m.weights = append(m.weights, w)
		m.parts = append(m.parts, distuv.Normal{Mu: mat.Dot(c, p.means[i]), Sigma: math.Sqrt(max(mat.Dot(c, &v), 1e-18))})
	}
	return m
}

// A mixture is several normals, each with its weight.
type mixture struct {
	weights []float64
	parts   []distuv.Normal
}

func (m mixture) mean() float64 {
	sum, all := 0.0, 0.0
	for i, p := range m.parts {
		sum, all = sum+m.weights[i]*p.Mu, all+m.weights[i]
	}
	return sum / all
}

// above returns the probability of more than x.
func (m mixture) above(x float64) float64 {
	sum, all := 0.0, 0.0
	for i, p := range m.parts {
		sum, all = sum+m.weights[i]*p.Survival(x), all+m.weights[i]
	}
	return sum / all
}

// quantile returns the value below which a share lies.
func (m mixture) quantile(share float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range m.parts {
		low, high = min(low, p.Mu-9*p.Sigma), max(high, p.Mu+9*p.Sigma)
	}
	for range 60 {
		if x := (low + high) / 2; m.above(x) > 1-share {
			low = x
		} else {
			high = x
		}
	}
	return (low + high) / 2
}

// sd returns the standard deviation.
func (m mixture) sd() float64 {
	mid, sum, all := m.mean(), 0.0, 0.0
	for i, p := range m.parts {
		sum, all = sum+m.weights[i]*(p.Sigma*p.Sigma+(p.Mu-mid)*(p.Mu-mid)), all+m.weights[i]
	}
	return math.Sqrt(sum / all)
}
