package review

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// A layer is a group of coefficients that come from one normal distribution,
// how wide being unknown:
//
//	y = Xθ + noise,  noise of a sort ~ N(0, σ²),  θ of a layer ~ N(mid, width²)
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
// are not 0, with their values. They come in sorts, each with noise of its own.
type pooling struct {
	sorts  []sort
	layers []layer
}

// A sort is rows whose noise is alike.
type sort struct {
	rows  []map[int]float64
	y     []float64
	noise []width
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
	var grid [][]width
	for _, l := range p.layers {
		n += l.columns
		grid = append(grid, l.widths)
	}
	var all []products
	for _, s := range p.sorts {
		all = append(all, s.products(n))
		grid = append(grid, s.noise)
	}
	var post posterior
	var logs []float64
	each(grid, 0, nil, func(chosen []float64, prior float64) {
		mean, factor, log := p.cell(all, n, chosen[:len(p.layers)], chosen[len(p.layers):])
		post.means, post.factors = append(post.means, mean), append(post.factors, factor)
		logs = append(logs, log+prior)
	})
	post.weights = shares(logs)
	return post
}

// Products are all that the posterior needs of a sort's rows.
type products struct {
	xx   *mat.SymDense
	xy   *mat.VecDense
	yy   float64
	rows int
}

func (s sort) products(n int) products {
	p := products{mat.NewSymDense(n, nil), mat.NewVecDense(n, nil), 0, len(s.rows)}
	for i, row := range s.rows {
		for a, x := range row {
			for b, z := range row {
				if a <= b {
					p.xx.SetSym(a, b, p.xx.At(a, b)+x*z)
				}
			}
			p.xy.SetVec(a, p.xy.AtVec(a)+x*s.y[i])
		}
		p.yy += s.y[i] * s.y[i]
	}
	return p
}

// each calls f with every choice of one width of each list, and the log of how
// probable it is beforehand.
func each(grid [][]width, prior float64, chosen []float64, f func([]float64, float64)) {
	if len(chosen) == len(grid) {
		f(chosen, prior)
		return
	}
	for _, w := range grid[len(chosen)] {
		each(grid, prior+math.Log(w.prior), append(slices.Clip(chosen), w.sd), f)
	}
}

// cell returns the posterior where the widths are known, and the log of the
// density of the data there.
func (p *pooling) cell(all []products, n int, widths, noise []float64) (*mat.VecDense, *mat.Cholesky, float64) {
	precision, b := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	square, log, at := 0.0, 0.0, 0
	for i, s := range all {
		weight := 1 / (noise[i] * noise[i])
		var part mat.SymDense
		part.ScaleSym(weight, s.xx)
		precision.AddSym(precision, &part)
		b.AddScaledVec(b, weight, s.xy)
		square += weight * s.yy
		log -= float64(s.rows) * math.Log(noise[i])
	}
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
	factor.Factorize(precision)
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
