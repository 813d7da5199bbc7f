package chart

import (
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A DialIn is how a coffee was dialled in: a row a shot, from the top, with its
// time beside the window and its yield beside the recipe's.
type DialIn struct {
	Title, Under string
	Low, High    float64 // s, the window; both 0 for none
	Yield        float64 // g, the recipe's; 0 for none
	Shots        []Shot  // oldest first; the last MostShots are drawn
	Words        Words
}

// A Shot is a row.
type Shot struct {
	Name        string  // at the left: which shot, or where the dial stood
	Time, Yield float64 // s, g; NaN where not known
	Low, High   float64 // s, that it was believed to take; both 0 for nothing
	Changed     string  // what was changed before it, or empty
	Said        string  // of its taste, or empty
	Choked      bool
}

// Words are what stands in the keys of a picture.
type Words struct {
	Names, Window, Believed, Shot, Choked, Yield string
	Time, Mass                                   string // what is measured, with its unit
	Comma                                        bool   // numbers are written with one
}

// MostShots is how many rows are drawn at most.
const MostShots = 12

func (d DialIn) sheet(l look) sheet {
	shots := d.Shots[max(0, len(d.Shots)-MostShots):]
	s := sheet{title: d.Title, under: d.Under}
	times, yields := nothing(), nothing()
	times.window(d.Low, d.High)
	if d.Yield > 0 && drawable(d.Yield) {
		yields.add(d.Yield)
	}
	for _, x := range shots {
		times.add(x.Time)
		yields.add(x.Yield)
		if proper(x.Low, x.High) { // a wide belief must not squeeze the shots together
			times.add(min(x.Low, x.Time), max(x.High, x.Time))
		}
	}
	t, y := times.wide(0.08, 10), yields.wide(0.15, 6)
	n := len(shots)
	height := vg.Length(rowHeight * max(n, 1))
	const leftRoom, yieldRoom = 74, 112
	main := newPlot(l, t.low, t.high, -float64(max(n, 1)), 0)
	if proper(d.Low, d.High) {
		main.Add(l.standing(d.Low, d.High))
		s.keys = append(s.keys, areaKey(l.aim, l.edge, d.Words.Window))
	}
	main.Add(axes{look: l, x: ticks(t.low, t.high, 5)}, l.uprightEdges(d.Low, d.High), d.rows(l, shots), d.namesHead(l))
	side := newPlot(l, y.low, y.high, main.Y.Min, 0)
	side.Add(axes{look: l, x: withComma(ends(y, d.Yield), d.Words.Comma)}, d.yields(l, shots))
	s.panels = []panel{{
		head: d.Words.Time, left: leftRoom, right: yieldRoom + 14, height: height, plot: main,
		beside: &panel{head: d.Words.Mass, left: width - 2*margin - yieldRoom, height: height, plot: side},
	}}
	s.keys = append(s.keys, areaKey(l.belief, nil, d.Words.Believed), markKey(disc, l.first, d.Words.Shot))
	if slices.ContainsFunc(shots, func(x Shot) bool { return x.Choked }) {
		s.keys = append(s.keys, markKey(cross, l.second, d.Words.Choked))
	}
	s.keys = append(s.keys, markKey(diamond, l.second, d.Words.Yield))
	return s
}

// namesHead says above the shots' names what they are.
func (d DialIn) namesHead(l look) plotFunc {
	return func(c draw.Canvas, _, _ func(float64) vg.Length) {
		c.FillText(style(small, l.quiet, false), vg.Point{X: margin, Y: c.Max.Y + headHeight/2 + 3}, d.Words.Names)
	}
}

// ends returns the recipe's yield as the one tick, or two round ones.
func ends(s span, yield float64) []tick {
	if yield > 0 && drawable(yield) {
		return []tick{{yield, number(yield) + " g"}} // so that nobody takes it for one of the times beside it
	}
	return ticks(s.low, s.high, 2)
}

// rowHeight is how high a row of a mark and its words is.
const rowHeight = 62

// rowAt is how far down its row a mark stands.
const rowAt = 0.38

// rows draws the shots' names, beliefs, times and words.
func (d DialIn) rows(l look, shots []Shot) plotFunc {
	return func(c draw.Canvas, trX, trY func(float64) vg.Length) {
		name, words := style(textSize, l.ink, true), style(small, l.ink, false)
		changed := style(small, l.second, true)
		for i, s := range shots {
			y := trY(-float64(i) - rowAt)
			if i > 0 {
				top := trY(-float64(i))
				c.StrokeLine2(stroke(l.line, 1), margin, top, width-margin, top)
			}
			c.FillText(name, vg.Point{X: margin, Y: y}, fit(s.Name, name, c.Min.X-margin-6))
			if proper(s.Low, s.High) {
				box(c, l.belief, trX(s.Low), y-8, trX(s.High), y+8)
			}
			if s.Time > 0 && drawable(s.Time) {
				l.shot(c, s.Choked, vg.Point{X: trX(s.Time), Y: y})
			}
			under, x := trY(-float64(i)-0.76), vg.Length(margin)
			if end := d.wordsEnd(s, changed, words); end > margin { // nothing may run through the words
				box(c, l.paper, c.Min.X, under-11, end+6, under+11)
			}
			if s.Changed != "" {
				text := fit(s.Changed, changed, c.Max.X-x)
				c.FillText(changed, vg.Point{X: x, Y: under}, text)
				x += changed.Width(text) + 10
			}
			if s.Said != "" && c.Max.X-x > 40 {
				c.FillText(words, vg.Point{X: x, Y: under}, fit(s.Said, words, c.Max.X-x))
			}
		}
	}
}

// wordsEnd returns where a shot's words end, if they fit.
func (d DialIn) wordsEnd(s Shot, changed, words draw.TextStyle) vg.Length {
	end := margin + words.Width(s.Said)
	if s.Changed != "" {
		end += changed.Width(s.Changed) + 10
	}
	return end
}

// yields draws the shots' yields with their numbers.
func (d DialIn) yields(l look, shots []Shot) plotFunc {
	return func(c draw.Canvas, trX, trY func(float64) vg.Length) {
		words := at(style(small, l.quiet, false), draw.XCenter)
		for i, s := range shots {
			if !(s.Yield > 0 && drawable(s.Yield)) {
				continue
			}
			x := trX(s.Yield)
			mark(c, diamond, l.second, vg.Point{X: x, Y: trY(-float64(i) - rowAt)})
			text := decimal(number(s.Yield), d.Words.Comma)
			half := words.Width(text) / 2
			x = min(max(x, c.Min.X+half), c.Max.X-half)
			c.FillText(words, vg.Point{X: x, Y: trY(-float64(i) - 0.76)}, text)
		}
	}
}
