package advisor

import (
	"math"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/taste"
)

// What a taste step is. A step of extraction is taken as 1.1 points of yield,
// what two single shots must differ by to mean anything (from the scatter of
// 0.41 points in Smrke 2024); a step of strength as a fifth of it, the
// difference tasters notice in filter coffee (Frost 2019). That both carry over
// to espresso as clearly noticeable is assumed.
const (
	extractionStep = 1.1
	strengthStep   = 0.182 // log 1.2

	// between is by how much the usual coffee answers more to time than the
	// model does: it pours like the coffee of Smrke 2024, which gains 2.0 points
	// for each unit of log time; that of Egidi 2024 gains 3.7.
	between = 1.3
)

// A spot is where a cup stands from one at the recipe: logarithms of its time at
// the recipe's dose and yield, of its yield and of its dose, against the
// recipe's.
type spot struct{ time, yield, dose float64 }

// A response is how the taste of a coffee answers, in taste steps for each unit
// of those logarithms, and the cup at its recipe.
type response struct {
	cup                  extraction.Cup
	extraction, strength spot
}

// respond works out the response at a recipe, of a coffee that has been
// measured so.
func respond(r bar.Recipe, readings []extraction.Reading) response {
	p := extraction.Default()
	if len(readings) > 0 {
		if fitted, err := extraction.Fit(p, readings); err == nil {
			p = fitted
		}
	}
	s, err := p.Slopes(extraction.Brew{Dose: float64(r.Dose), Yield: float64(r.Yield), Time: math.Exp(middle(r))})
	if err != nil {
		return usualResponse()
	}
	steps := s.Cup.EY / extractionStep
	return response{
		cup:        s.Cup,
		extraction: spot{between * s.EY.Time * steps, s.EY.Yield * steps, s.EY.Dose * steps},
		strength:   spot{s.TDS.Time / strengthStep, s.TDS.Yield / strengthStep, s.TDS.Dose / strengthStep},
	}
}

// usualResponse is that of 18 g to 36 g in 28 s by the extraction model, for a
// recipe the model cannot pour.
func usualResponse() response {
	return response{
		cup:        extraction.Cup{EY: 19.2, TDS: 9.6},
		extraction: spot{2.6, 4.3, -2.9},
		strength:   spot{0.6, -4.1, 4.6},
	}
}

// dot returns the sum of the products.
func (s spot) dot(t spot) float64 { return s.time*t.time + s.yield*t.yield + s.dose*t.dose }

// place returns where a cup at s stands from one at the recipe.
func (p response) place(s spot) taste.Place {
	return taste.Place{Extraction: p.extraction.dot(s), Strength: p.strength.dot(s)}
}

// shift returns what yield and dose bring, beside time.
func (p response) shift(s spot) taste.Place {
	s.time = 0
	return p.place(s)
}

// measured returns where a cup stands whose strength was measured.
func (p response) measured(ey, tds float64) taste.Place {
	return taste.Place{Extraction: (ey - p.cup.EY) / extractionStep, Strength: math.Log(tds/p.cup.TDS) / strengthStep}
}

// readings returns what was measured of a coffee.
func readings(entries []bar.Entry, coffee bar.CoffeeID) []extraction.Reading {
	var list []extraction.Reading
	for _, e := range entries {
		s, ok := e.What.(bar.Shot)
		if !ok || s.Coffee != coffee || !(s.TDS > 0) || s.Yield.From != bar.Said || s.Time.From != bar.Said || s.Yield.Rough {
			continue
		}
		if ey, err := extraction.Yield(float64(s.TDS), float64(s.Yield.X), float64(s.Dose.X)); err != nil || ey >= extraction.BadYield {
			continue // one of the numbers is wrong
		}
		list = append(list, extraction.Reading{TDS: float64(s.TDS), Brew: extraction.Brew{
			Dose: float64(s.Dose.X), Yield: float64(s.Yield.X), Time: float64(s.Time.X),
		}})
	}
	return list
}
