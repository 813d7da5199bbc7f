package agree

import (
	"math"
	"slices"
)

// Counts are the coincidences of values: how often two of them met in one
// thing, each meeting weighed by one less than the values of that thing.
type counts struct {
	levels   []float64   // the values there are, ascending
	together [][]float64 // by level and level
	totals   []float64   // by level
	pairable float64     // values of things that two or more have judged
}

// count counts the coincidences of values.
func count(values [][]float64) counts {
	c := counts{}
	for _, unit := range values {
		if u := present(unit); len(u) > 1 {
			c.levels = append(c.levels, u...)
		}
	}
	slices.Sort(c.levels)
	c.levels = slices.Compact(c.levels)
	c.together = make([][]float64, len(c.levels))
	for i := range c.together {
		c.together[i] = make([]float64, len(c.levels))
	}
	c.totals = make([]float64, len(c.levels))
	for _, unit := range values {
		c.add(present(unit))
	}
	return c
}

// add counts the values of one thing.
func (c *counts) add(unit []float64) {
	if len(unit) < 2 {
		return
	}
	for i, x := range unit {
		k, _ := slices.BinarySearch(c.levels, x)
		c.totals[k]++
		c.pairable++
		for j, y := range unit {
			if l, _ := slices.BinarySearch(c.levels, y); i != j {
				c.together[k][l] += 1 / float64(len(unit)-1)
			}
		}
	}
}

// present returns the values of one thing that are not missing.
func present(unit []float64) []float64 {
	return slices.DeleteFunc(slices.Clone(unit), math.IsNaN)
}

// squared returns the squared distance of level i to a higher level j.
func (c *counts) squared(m Metric, i, j int) float64 {
	switch m {
	case Nominal:
		return 1
	case Ordinal:
		d := -(c.totals[i] + c.totals[j]) / 2
		for _, n := range c.totals[i : j+1] {
			d += n
		}
		return d * d
	case Interval:
		d := c.levels[j] - c.levels[i]
		return d * d
	case Ratio:
		d := (c.levels[j] - c.levels[i]) / (c.levels[j] + c.levels[i])
		return d * d
	}
	return math.NaN()
}
