package taste

import (
	"math"
	"sync"
)

// spread returns the points of a coffee whose extraction answers to time by 1: an
// even spread, the same for every coffee.
//
//nolint:gochecknoglobals // made once, never changed
var spread = sync.OnceValue(func() *[points]point {
	var all [points]point
	for i := range all {
		z := quasi(i)
		all[i] = point{
			extraction: spotSD * z[0] * (1 + spotTail*z[0]*z[0]),
			strength:   strengthSD * z[1],
			answer:     math.Exp(answerSD * z[2]),
			ratio:      math.Exp(ratioSD * z[4]),
			holds:      math.Exp((edge+edgeSD*z[3])/edgeWidth + edgeFar),
		}
	}
	return &all
})

// quasi returns point i of an even spread of standard normals in five
// dimensions: the additive recurrence of the powers of the root of x⁶ = x + 1.
func quasi(i int) (z [5]float64) {
	const root = 1.1347241384015194
	step := 1.0
	for d := range z {
		step /= root
		_, u := math.Modf(0.5 + step*float64(i+1))
		z[d] = math.Sqrt2 * math.Erfinv(2*u-1)
	}
	return z
}

// evenBeds returns the probability that a bed runs evenly, of each point at each
// time of a curve.
//
//nolint:gochecknoglobals // made once, never changed
var evenBeds = sync.OnceValue(func() *[points][bins]float64 {
	all, ways := new([points][bins]float64), spread()
	for k := range bins {
		past := math.Exp((span - float64(k)*width) / edgeWidth)
		for i := range all {
			all[i][k] = 1 - ways[i].uneven(past)
		}
	}
	return all
})
