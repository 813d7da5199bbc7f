package review

import (
	"slices"

	"shothand/advisor"
	"shothand/advisor/agree"
	"shothand/advisor/bar"
)

// An Agreement is how well the tasters of the same shots agree on whether too
// little or too much came out of them.
type Agreement struct {
	agree.Agreement
	Enough bool // to say anything
	People int
}

// plain is how far from the middle, in taste steps, a cup is called under or
// over.
const plain = 0.5

// agreement returns it, over the shots that two people or more tasted.
func agreement(courses []Course, span Span) Agreement {
	var people []bar.PersonID
	var shots []advisor.Step
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
	a := Agreement{People: len(people)}
	a.Agreement, a.Enough = agree.Judge(values, agree.Ordinal)
	return a
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
