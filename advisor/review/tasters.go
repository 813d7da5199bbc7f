package review

import (
	"math"
	"slices"

	"shothand/advisor"
	"shothand/advisor/agree"
	"shothand/advisor/bar"
)

// An Agreement is how well the tasters of the same shots agree on whether too
// little or too much came out of them.
type Agreement struct {
	agree.Agreement
	Enough bool    // to say anything
	Pairs  int     // of two that tasted the same shot
	Same   int     // of them, that found the same
	Chance float64 // of them, that would find the same if each answer were drawn by chance
}

// plain is how far from the middle, in taste steps, a cup is called under or
// over.
const plain = 0.5

// agreement returns it, over the shots that two people or more tasted.
func agreement(courses []Course, span Span) Agreement {
	var people []bar.PersonID
	var shots []advisor.TrailShot
	for _, c := range courses {
		for _, s := range c.Trail.Steps {
			if len(s.Cups) < 2 || !span.Holds(s.Entry) {
				continue
			}
			shots = append(shots, s)
			for _, cup := range s.Cups {
				if !slices.Contains(people, cup.Person) {
					people = append(people, cup.Person)
				}
			}
		}
	}
	var values [][]float64
	for _, s := range shots {
		row := make([]float64, len(people))
		for i, who := range people {
			row[i] = agree.Missing()
			for _, cup := range s.Cups {
				if cup.Person == who {
					row[i] = side(cup.Read.Extraction)
				}
			}
		}
		values = append(values, row)
	}
	var a Agreement
	a.Agreement, _ = agree.Judge(values, agree.Ordinal)
	a.Enough = a.Units >= agree.Enough
	a.pair(values)
	return a
}

// pair counts how often two find the same of a shot, and how often they would if
// their answers were any two of all.
func (a *Agreement) pair(values [][]float64) {
	answers, all := map[float64]float64{}, 0.0
	for _, row := range values {
		said := slices.DeleteFunc(slices.Clone(row), math.IsNaN)
		if len(said) < 2 {
			continue
		}
		for i, x := range said {
			answers[x]++
			all++
			for _, y := range said[:i] {
				a.Pairs++
				a.Same += one(x == y)
			}
		}
	}
	for _, n := range answers {
		a.Chance += float64(a.Pairs) * n * (n - 1) / (all * (all - 1))
	}
}

// side returns −1 for under-extracted, +1 for over, 0 for neither.
func side(extraction float64) float64 {
	switch {
	case extraction < -plain:
		return -1
	case extraction > plain:
		return 1
	}
	return 0
}
