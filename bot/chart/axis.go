package chart

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A tick is a place on an axis and what stands there.
type tick struct {
	x    float64
	text string
}

// An axes draws the rules of a panel and what stands at its edges.
type axes struct {
	look
	x, y []tick
	bare bool // no upright rules
}

// Plot implements plot.Plotter.
func (a axes) Plot(c draw.Canvas, p *plot.Plot) {
	trX, trY := p.Transforms(&c)
	rule := stroke(a.line, 1)
	quiet := style(small, a.quiet, false)
	for _, t := range a.y {
		y := trY(t.x)
		c.StrokeLine2(rule, c.Min.X, y, c.Max.X, y)
		c.FillText(at(quiet, draw.XRight), vg.Point{X: c.Min.X - 8, Y: y}, t.text)
	}
	last := vg.Length(math.Inf(-1))
	for _, t := range a.x {
		x := trX(t.x)
		if !a.bare {
			c.StrokeLine2(rule, x, c.Min.Y, x, c.Max.Y)
		}
		half := quiet.Width(t.text) / 2
		if x-half < last { // no label on top of another
			continue
		}
		last = x + half + 6
		c.FillText(at(quiet, draw.XCenter), vg.Point{X: x, Y: c.Min.Y - axisHeight/2}, t.text)
	}
}

// newPlot returns an empty plot over a range.
func newPlot(l look, xMin, xMax, yMin, yMax float64) *plot.Plot {
	p := plot.New()
	p.HideAxes()
	p.BackgroundColor = l.paper
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = xMin, xMax, yMin, yMax
	return p
}

// ticks returns about n round places between two ends.
func ticks(low, high float64, n int) []tick {
	step := niceStep((high - low) / float64(n))
	var list []tick
	for i := range mostTicks {
		x := (math.Ceil(low/step-1e-9) + float64(i)) * step
		if !(x <= high+1e-9) {
			break
		}
		list = append(list, tick{x, number(x)})
	}
	return list
}

// mostTicks is more than any axis has room for.
const mostTicks = 20

// niceStep returns the first of 1, 2, 5, 10, … times a power of ten that is at
// least x.
func niceStep(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 0) {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= x*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}

// number prints x without trailing zeros.
func number(x float64) string {
	if x < -0.005 {
		return "−" + number(-x)
	}
	return strconv.FormatFloat(math.Round(x*100)/100+0, 'f', -1, 64)
}

// withComma writes the labels with a comma for the point, where a language does.
func withComma(list []tick, comma bool) []tick {
	for i := range list {
		list[i].text = decimal(list[i].text, comma)
	}
	return list
}

func decimal(number string, comma bool) string {
	if comma {
		return strings.Replace(number, ".", ",", 1)
	}
	return number
}

// A span is a range that grows with what it holds.
type span struct{ low, high float64 }

func nothing() span { return span{math.Inf(1), math.Inf(-1)} }

// most is beyond what anybody measures at a bar; what is beyond is not drawn.
const most = 1e5

// drawable reports whether x can be placed on a sheet.
func drawable(x float64) bool { return math.Abs(x) < most }

// proper reports whether two ends enclose anything.
func proper(low, high float64) bool { return low < high && drawable(low) && drawable(high) }

// add lets s hold the values that can be drawn.
func (s *span) add(values ...float64) {
	for _, x := range values {
		if drawable(x) {
			s.low, s.high = min(s.low, x), max(s.high, x)
		}
	}
}

// window lets s hold a window, if there is one.
func (s *span) window(low, high float64) {
	if proper(low, high) {
		s.add(low, high)
	}
}

// wide returns s with a share of it on both ends, at least least wide.
func (s span) wide(share, least float64) span {
	if !(s.low <= s.high) {
		return span{0, least}
	}
	by := max((s.high-s.low)*share, (least-(s.high-s.low))/2)
	return span{s.low - by, s.high + by}
}
