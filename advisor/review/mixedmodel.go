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
//	y = Xθ + noise,  noise of row i ~ N(0, (σ scale_i)²),  θ of a layer ~ N(mid, width²)
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
	scale  []float64 // of each row's noise
	noise  []width   // what σ may be
	layers []layer
}

// A posterior is what is known of θ: a mixture of normals, one for each choice
// of the widths, exact in each.
type posterior struct {
	weights []float64
	means   []*mat.VecDense
	factors []*mat.Cholesky // of the precision
}

// solve returns the posterior, over the grid of those widths that the data leave.
func (p *pooling) solve() posterior {
	grid, at := p.grid()
	var post posterior
	var logs []float64
	lists, _ := profile(grid, at)
	each(lists, 0, 0, nil, func(chosen []float64, prior float64) {
		c := at(chosen)
		post.means, post.factors = append(post.means, c.mean), append(post.factors, c.factor)
		logs = append(logs, c.log+prior)
	})
	post.weights = shares(logs)
	return post
}

// likeliest returns θ where the widths are the most probable ones.
func (p *pooling) likeliest() *mat.VecDense {
	grid, at := p.grid()
	_, best := profile(grid, at)
	return at(best).mean
}

// grid returns what each width may be, and the posterior where they are known.
func (p *pooling) grid() (grid [][]width, at func([]float64) cell) {
	n := 0
	for _, l := range p.layers {
		n += l.columns
		grid = append(grid, l.widths)
	}
	all := p.products(n)
	return append(grid, p.noise), func(chosen []float64) cell {
		return p.cell(all, n, chosen[:len(p.layers)], chosen[len(p.layers)])
	}
}

// unlikely is how much less probable than the best a choice of widths is that is
// left out.
const unlikely = 0.003

// A plausible width has the log by which it is less probable than the best of its
// list, where the others are the best.
type plausible struct {
	width
	loss float64
}

// profile looks for the most probable choice of a width of each list, one list
// after the other and three times over, and returns it and what the others lose by it.
func profile(grid [][]width, at func([]float64) cell) (lists [][]plausible, best []float64) {
	best = make([]float64, len(grid))
	for i, list := range grid {
		best[i] = list[len(list)/2].sd
	}
	lists = make([][]plausible, len(grid))
	for range 3 {
		for i, list := range grid {
			lists[i] = nil
			most := math.Inf(-1)
			before := best
			for _, w := range list {
				chosen := slices.Clone(before)
				chosen[i] = w.sd
				log := at(chosen).log + math.Log(w.prior)
				lists[i] = append(lists[i], plausible{w, log})
				if log > most {
					most, best = log, chosen
				}
			}
			for k := range lists[i] {
				lists[i][k].loss -= most
			}
		}
	}
	return lists, best
}

// A cell is the posterior where the widths are known, and the log of the density
// of the data there.
type cell struct {
	mean   *mat.VecDense
	factor *mat.Cholesky // of the precision
	log    float64
}

// each calls f with every choice of one width of each list that does not lose too
// much, and the log of how probable it is beforehand.
func each(grid [][]plausible, prior, loss float64, chosen []float64, f func([]float64, float64)) {
	if loss < math.Log(unlikely) {
		return
	}
	if len(chosen) == len(grid) {
		f(chosen, prior)
		return
	}
	for _, w := range grid[len(chosen)] {
		each(grid, prior+math.Log(w.prior), loss+w.loss, append(slices.Clip(chosen), w.sd), f)
	}
}

// Products are all that the posterior needs of the rows, each divided by its scale.
type products struct {
	xx   *mat.SymDense
	xy   *mat.VecDense
	yy   float64
	rows int
}

func (p *pooling) products(n int) products {
	all := products{mat.NewSymDense(n, nil), mat.NewVecDense(n, nil), 0, len(p.rows)}
	for i, row := range p.rows {
		weight := 1 / (p.scale[i] * p.scale[i])
		for a, x := range row {
			for b, z := range row {
				if a <= b {
					all.xx.SetSym(a, b, all.xx.At(a, b)+weight*x*z)
				}
			}
			all.xy.SetVec(a, all.xy.AtVec(a)+weight*x*p.y[i])
		}
		all.yy += weight * p.y[i] * p.y[i]
	}
	return all
}

// cell returns the posterior for such widths and such noise.
func (p *pooling) cell(all products, n int, widths []float64, noise float64) cell {
	precision, b := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	weight := 1 / (noise * noise)
	precision.ScaleSym(weight, all.xx)
	b.ScaleVec(weight, all.xy)
	square, log, at := weight*all.yy, -float64(all.rows)*math.Log(noise), 0
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
	return cell{mean, &factor, log - factor.LogDet()/2 - (square-mat.Dot(b, mean))/2}
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

// ofUses returns what is known of the mean of n single uses, where m is what the
// kind does in the mean. With θ of one part of m, the uses are N(θ, (differ θ)²) each.
func (m mixture) ofUses(n int) mixture {
	own := mixture{weights: m.weights}
	for _, p := range m.parts {
		square := p.Mu*p.Mu + p.Sigma*p.Sigma // the mean of θ²
		p.Sigma = math.Sqrt(p.Sigma*p.Sigma + differ*differ*square/float64(n))
		own.parts = append(own.parts, p)
	}
	return own
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
