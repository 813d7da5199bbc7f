package chart

import (
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// plotFunc is a plotter of one function.
type plotFunc func(c draw.Canvas, trX, trY func(float64) vg.Length)

// Plot implements plot.Plotter.
func (f plotFunc) Plot(c draw.Canvas, p *plot.Plot) {
	trX, trY := p.Transforms(&c)
	f(c, trX, trY)
}

// box fills a rectangle given by its corners.
func box(c draw.Canvas, fill color.Color, x0, y0, x1, y1 vg.Length) {
	x0, x1 = min(max(x0, c.Min.X), c.Max.X), min(max(x1, c.Min.X), c.Max.X)
	y0, y1 = min(max(y0, c.Min.Y), c.Max.Y), min(max(y1, c.Min.Y), c.Max.Y)
	c.FillPolygon(fill, []vg.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}})
}

// lying draws an area across the whole panel between two heights.
func (l look) lying(low, high float64) plotFunc {
	return func(c draw.Canvas, _, trY func(float64) vg.Length) {
		box(c, l.aim, c.Min.X, trY(low), c.Max.X, trY(high))
	}
}

// edges draws its borders, above what else covers it, if it is proper.
func (l look) edges(low, high float64) plotFunc {
	return func(c draw.Canvas, _, trY func(float64) vg.Length) {
		if !proper(low, high) {
			return
		}
		for _, y := range []float64{low, high} {
			c.StrokeLine2(l.dashed(), c.Min.X, trY(y), c.Max.X, trY(y))
		}
	}
}

// standing draws an area from top to bottom.
func (l look) standing(low, high float64) plotFunc {
	return func(c draw.Canvas, trX, _ func(float64) vg.Length) {
		box(c, l.aim, trX(low), c.Min.Y, trX(high), c.Max.Y)
	}
}

// uprightEdges draws its borders, above what else covers it, if it is proper.
func (l look) uprightEdges(low, high float64) plotFunc {
	return func(c draw.Canvas, trX, _ func(float64) vg.Length) {
		if !proper(low, high) {
			return
		}
		for _, x := range []float64{low, high} {
			c.StrokeLine2(l.dashed(), trX(x), c.Min.Y, trX(x), c.Max.Y)
		}
	}
}

// curve draws a line through n points.
func (l look) curve(n int, at func(i int) (x, y float64)) plotFunc {
	return func(c draw.Canvas, trX, trY func(float64) vg.Length) {
		var line []vg.Point
		for i := range n {
			x, y := at(i)
			line = append(line, vg.Point{X: trX(x), Y: trY(y)})
		}
		if n > 1 {
			c.StrokeLines(stroke(l.ink, 2.4), c.ClipLinesXY(line)...)
		}
	}
}

func (l look) dashed() draw.LineStyle {
	return draw.LineStyle{Color: l.edge, Width: 1.2, Dashes: []vg.Length{5, 4}}
}

// A shape is what a mark looks like.
type shape int

const (
	disc shape = iota
	ring
	diamond
	cross
)

// mark draws a mark.
func mark(c draw.Canvas, s shape, clr color.Color, at vg.Point) {
	g := draw.GlyphStyle{Color: clr, Radius: dotSize}
	switch s {
	case disc:
		g.Shape = draw.CircleGlyph{}
	case ring:
		c.SetLineStyle(stroke(clr, 2.2))
		var p vg.Path
		p.Move(vg.Point{X: at.X + dotSize, Y: at.Y})
		p.Arc(at, dotSize, 0, 2*math.Pi)
		p.Close()
		c.Stroke(p)
		return
	case diamond:
		const r = dotSize * 1.25
		c.FillPolygon(clr, []vg.Point{{X: at.X - r, Y: at.Y}, {X: at.X, Y: at.Y + r}, {X: at.X + r, Y: at.Y}, {X: at.X, Y: at.Y - r}})
		return
	case cross:
		const r = dotSize * 0.9
		c.StrokeLine2(stroke(clr, 2.4), at.X-r, at.Y-r, at.X+r, at.Y+r)
		c.StrokeLine2(stroke(clr, 2.4), at.X-r, at.Y+r, at.X+r, at.Y-r)
		return
	}
	c.DrawGlyphNoClip(g, at)
}

// shot draws a shot that was timed, or one that choked.
func (l look) shot(c draw.Canvas, choked bool, at vg.Point) {
	if choked {
		mark(c, cross, l.second, at)
		return
	}
	mark(c, disc, l.first, at)
}

// areaKey is the key of an area of a colour, with its border if it has one.
func areaKey(fill, border color.Color, text string) key {
	return key{text: text, draw: func(c draw.Canvas, at vg.Point) {
		box(c, fill, at.X-12, at.Y-8, at.X+12, at.Y+8)
		if border != nil {
			for _, x := range []vg.Length{at.X - 12, at.X + 12} {
				c.StrokeLine2(stroke(border, 1.2), x, at.Y-8, x, at.Y+8)
			}
		}
	}}
}

// markKey is the key of a mark.
func markKey(s shape, clr color.Color, text string) key {
	return key{text: text, draw: func(c draw.Canvas, at vg.Point) { mark(c, s, clr, at) }}
}

// uprightKey is the key of a line that stands.
func uprightKey(s draw.LineStyle, text string) key {
	return key{text: text, draw: func(c draw.Canvas, at vg.Point) { c.StrokeLine2(s, at.X, at.Y-11, at.X, at.Y+11) }}
}

// lineKey is the key of a line.
func lineKey(s draw.LineStyle, text string) key {
	return key{text: text, draw: func(c draw.Canvas, at vg.Point) { c.StrokeLine2(s, at.X-12, at.Y, at.X+12, at.Y) }}
}
