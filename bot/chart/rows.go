package chart

import (
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A Rows is named values below each other, each with what it is held against.
// Effects, calibration and layers are drawn so.
type Rows struct {
	Title, Under string
	Head         string // what goes along, with its unit
	From, To     float64
	Zero         bool // draw a rule at 0
	Rows         []Row
	Words        RowWords
}

// A Row is one of them.
type Row struct {
	Name      string
	Note      string  // below, in words
	X         float64 // NaN for none
	Low, High float64 // around X; both 0 for none
	Against   float64 // what X is held against, NaN for none
}

// RowWords are what stands in the keys of Rows; one that is empty is left out.
type RowWords struct{ Value, Interval, Against string }

func (d Rows) sheet(l look) sheet {
	s := sheet{title: d.Title, under: d.Under}
	p, height := d.plot(l)
	s.panels = []panel{{head: d.Head, left: 6, right: 16, height: height, plot: p}}
	add := func(text string, k key) {
		if text != "" {
			s.keys = append(s.keys, k)
		}
	}
	add(d.Words.Value, markKey(disc, l.first, d.Words.Value))
	add(d.Words.Interval, areaKey(l.belief, nil, d.Words.Interval))
	add(d.Words.Against, uprightKey(stroke(l.second, 4), d.Words.Against))
	return s
}

// plot returns the plot of the rows and its height.
func (d Rows) plot(l look) (*plot.Plot, vg.Length) {
	var tops []vg.Length // of each row, from above
	height := vg.Length(0)
	for _, r := range d.Rows {
		tops = append(tops, height)
		height += d.rowHeight(r)
	}
	height = max(height, 40)
	p := newPlot(l, d.From, d.To, -float64(height), 0)
	p.Add(axes{look: l, x: ticks(d.From, d.To, 5), bare: true}, plotFunc(func(c draw.Canvas, trX, trY func(float64) vg.Length) {
		for i, r := range d.Rows {
			d.row(l, r, c, trX, trY(-float64(tops[i])))
		}
	}))
	return p, height
}

// Heights within a row, in points.
const (
	rowName  = 32
	rowMarks = 28
	rowNote  = 24
	rowGap   = 12
)

func (d Rows) rowHeight(r Row) vg.Length {
	return rowName + rowMarks + rowGap + vg.Length(rowNote*len(wrap(r.Note, small, false)))
}

// row draws one row below y.
func (d Rows) row(l look, r Row, c draw.Canvas, trX func(float64) vg.Length, y vg.Length) {
	name := style(textSize, l.ink, true)
	c.FillText(name, vg.Point{X: margin, Y: y - rowName/2}, fit(r.Name, name, width-2*margin))
	y -= rowName
	mid := y - rowMarks/2
	c.StrokeLine2(stroke(l.line, 1), c.Min.X, mid, c.Max.X, mid)
	if d.Zero {
		c.StrokeLine2(stroke(l.quiet, 1.6), trX(0), y, trX(0), y-rowMarks)
	}
	if proper(r.Low, r.High) {
		box(c, l.belief, trX(r.Low), mid-8, trX(r.High), mid+8)
	}
	if drawable(r.Against) {
		c.StrokeLine2(stroke(l.second, 4), trX(r.Against), mid-12, trX(r.Against), mid+12)
	}
	if drawable(r.X) {
		mark(c, disc, l.first, vg.Point{X: trX(min(max(r.X, d.From), d.To)), Y: mid})
	}
	y -= rowMarks
	for _, line := range wrap(r.Note, small, false) {
		c.FillText(style(small, l.quiet, false), vg.Point{X: margin, Y: y - rowNote/2}, line)
		y -= rowNote
	}
}
