package parse

import (
	"math"

	"shothand/advisor/bar"
)

// Where the numbers of a shot belong that have no label.

// assign gives each waiting number a place: units first, then the bar's order.
func (s *sheet) assign() bool {
	var bare, mass []quantity
	s.weights = !s.shot.Dose.Said && !s.shot.Yield.Said
	for _, it := range s.items {
		for _, v := range it.vals {
			q := quantity{vals: []float64{v}, unit: it.unit, rough: it.rough}
			switch it.unit {
			case noUnit:
				bare = append(bare, q)
			case second:
				s.put(timePlace, q)
			case millilitre, fluidOunce:
				s.put(yieldPlace, q)
			case gram, ounce:
				mass = append(mass, q)
			case celsius, fahrenheit, percent, pressure: // their rules leave what is no figure of a shot, "0-10C"
				s.clash = true
			}
		}
	}
	s.assignMass(mass, bare)
	s.assignBare(bare)
	return !s.clash
}

// assignMass places grams: dose then yield, or whichever is free, or nearer
// to the recipe.
func (s *sheet) assignMass(mass, bare []quantity) {
	for i, q := range mass {
		switch {
		case s.shot.Dose.Said:
			s.put(yieldPlace, q)
		case s.shot.Yield.Said, i+1 < len(mass), len(bare) > 0 && s.items[0].unit == q.unit:
			s.put(dosePlace, q)
		default:
			s.put(s.nearer(q), q)
		}
	}
}

// nearer tells whether a mass is a dose or a yield.
func (s *sheet) nearer(q quantity) place {
	dose, _ := q.dose()
	yield, _ := q.yield()
	r := s.recipe()
	if apart(dose.X, float64(r.Dose)) < apart(yield.X, float64(r.Yield)) {
		return dosePlace
	}
	return yieldPlace
}

// apart is how far two amounts are from each other, as a logarithm.
func apart(a, b float64) float64 { return math.Abs(math.Log(a / b)) }

// assignBare places bare numbers in the bar's order in what is free.
func (s *sheet) assignBare(bare []quantity) {
	if len(bare) == 1 {
		s.put(s.lonePlace(bare[0]), bare[0])
		return
	}
	choked := s.shot.Marks.Has(bar.Choked)
	if len(bare) == 2 && choked && s.said() == 0 && bare[1].vals[0] > bare[0].vals[0] {
		s.put(dosePlace, bare[0])
		s.put(timePlace, bare[1])
		return
	}
	i := 0
	byRatio := s.shot.Ratio.Said && len(bare) == 2 && s.said() == 0 // which says the yield: "18.5 1:2.2 30"
	for _, slot := range s.order() {
		p := []place{dosePlace, yieldPlace, timePlace}[slot]
		if i < len(bare) && !s.has(p) && (p != yieldPlace || !byRatio) {
			s.put(p, bare[i])
			i++
		}
	}
	s.clash = s.clash || i < len(bare)
}

// has reports whether a place is taken.
func (s *sheet) has(p place) bool {
	switch p {
	case dosePlace:
		return s.shot.Dose.Said
	case yieldPlace:
		return s.shot.Yield.Said
	case timePlace:
		return s.shot.Time.Said
	case waterPlace, inPlace, dialPlace:
	}
	return false
}

// lonePlace is where a single bare number belongs: the one place left, the
// time of a shot that was otherwise the same, or what the recipe makes likely.
func (s *sheet) lonePlace(q quantity) place {
	switch {
	case !s.shot.Time.Said && (s.said() == 2 || s.said() == 0 || s.shot.Same):
		return timePlace
	case s.shot.Dose.Said:
		return yieldPlace
	case s.shot.Yield.Said:
		if r := s.recipe(); !s.shot.Time.Said && apart(q.vals[0], float64(r.Dose)) > 3*doseStray && aShot(q.vals[0]) && q.unit == noUnit {
			return timePlace
		}
		return dosePlace
	}
	return s.nearer(q)
}
