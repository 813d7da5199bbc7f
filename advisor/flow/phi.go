package flow

import (
	"math"
	"sync"
)

// The table of phi: so many points for each unit, out to so many units.
const (
	phiDensity = 256
	phiReach   = 6
)

// phiTable returns phi at every point of the table, from 0 on.
//
//nolint:gochecknoglobals // made once, never changed
var phiTable = sync.OnceValue(func() *[phiDensity*phiReach + 2]float64 {
	var t [phiDensity*phiReach + 2]float64
	for i := range t {
		t[i] = 0.5 * math.Erfc(-float64(i)/phiDensity/math.Sqrt2)
	}
	return &t
})

// phi is the distribution function of the standard normal, by a table: choosing
// a move asks for it some hundred thousand times. It is off by less than 1e-6.
func phi(z float64) float64 { return phiBy(phiTable(), z) }

// phiBy is phi by its table, for who asks many times.
func phiBy(t *[phiDensity*phiReach + 2]float64, z float64) float64 {
	x := math.Abs(z) * phiDensity
	p := 1.0
	if x < phiReach*phiDensity {
		i := int(x)
		p = t[i] + (x-float64(i))*(t[i+1]-t[i])
	}
	if z < 0 {
		return 1 - p
	}
	return p
}
