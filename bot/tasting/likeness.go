package tasting

import (
	"shothand/advisor/agree"
	"shothand/advisor/bar"
	"shothand/advisor/layers"
)

// Likenesses returns how alike the bar's people taste, over the cups of all its
// tastings before others were shown, where there are cups enough to say; and
// how many cups two or more have tasted.
func (r Records) Likenesses() (all []layers.Likeness, both int, err error) {
	tables, err := r.All()
	if err != nil {
		return nil, 0, err
	}
	said := r.cups(tables, func(s bar.Note, f bar.Scale) float64 {
		if layers.Named(s, f) {
			return 1
		}
		return 0
	})
	scores := r.cups(tables, scoreGiven)
	for i, f := range layers.Families() {
		nominal, ok := agree.Judge(family(said, i), agree.Nominal)
		both = nominal.Units
		if ok {
			all = append(all, layers.Likeness{Of: f, Scores: false, Agreement: nominal})
		}
		if ordinal, ok := agree.Judge(family(scores, i), agree.Ordinal); ok {
			all = append(all, layers.Likeness{Of: f, Scores: true, Agreement: ordinal})
		}
	}
	return all, both, nil
}

// scoreGiven returns the score that was given, [agree.Missing] for none.
func scoreGiven(s bar.Note, f bar.Scale) float64 {
	for _, x := range s.Scores {
		if x.Of == f {
			return x.X
		}
	}
	return agree.Missing()
}

// family returns the units of one family of those that cups returns.
func family(units [][]float64, at int) [][]float64 {
	var of [][]float64
	for i := at; i < len(units); i += len(layers.Families()) {
		of = append(of, units[i])
	}
	return of
}

// cups returns for each cup of all tastings and each family what value
// has of each person, [agree.Missing] of those who did not taste it or had been
// shown what the others said.
func (r Records) cups(tables []layers.Table, value func(bar.Note, bar.Scale) float64) [][]float64 {
	var units [][]float64
	for _, b := range tables {
		for _, split := range b.Begun.Shown {
			if !b.Begun.IsStruck(split) && !b.OfPair() {
				units = append(units, cupUnits(b, r.People, split, value)...)
			}
		}
	}
	return units
}

// units are cups of one split.
func cupUnits(b layers.Table, people []bar.Person, split int, value func(bar.Note, bar.Scale) float64) [][]float64 {
	var units [][]float64
	for cup := range bar.Layer(layers.Cups) {
		for _, f := range layers.Families() {
			var unit []float64
			for _, p := range people {
				x := agree.Missing()
				if s, ok := b.Of(p.ID, split).Note(cup); ok && s.Tasted() && !b.Late(p.ID, split) {
					x = value(s, f)
				}
				unit = append(unit, x)
			}
			units = append(units, unit)
		}
	}
	return units
}
