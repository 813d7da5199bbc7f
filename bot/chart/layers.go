package chart

// A Layers is a coffee tasted cup by cup, in the order in which it came.
type Layers struct {
	Title, Under string
	Cups         []LayerCup
	Words        RowWords
	Head         string
}

// A LayerCup is one of the cups.
type LayerCup struct {
	Name     string // "early, 12.1 g"
	Said     string
	Share    float64 // measured, of all that was dissolved; NaN where nobody measured
	Expected float64 // NaN for nothing expected
	Low      float64 // around Expected, both 0 for none
	High     float64
}

func (d Layers) sheet(l look) sheet {
	r := Rows{Title: d.Title, Under: d.Under, Head: d.Head, From: 0, To: 100, Words: d.Words}
	for _, c := range d.Cups {
		r.Rows = append(r.Rows, Row{
			Name: c.Name, Note: c.Said, X: 100 * c.Share, Against: 100 * c.Expected, Low: 100 * c.Low, High: 100 * c.High,
		})
	}
	return r.sheet(l)
}
