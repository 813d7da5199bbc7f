package chart

import (
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A Day is a day's shots by the clock, a panel a coffee.
type Day struct {
	Title, Under string
	Coffees      []DayCoffee
	Words        DayWords
}

// A DayCoffee is one coffee of a day.
type DayCoffee struct {
	Name      string
	Head      string  // above its panel, with the unit
	Low, High float64 // s, the window; both 0 for none
	Shots     []Timed
	Called    float64 // hour at which it was called dialled in, NaN for never
}

// A Timed is a shot at an hour of the day.
type Timed struct {
	Hour, Time float64 // h since midnight, s
	Choked     bool
}

// DayWords are what stands in a day's keys.
type DayWords struct{ Window, Shot, Choked, Called, Foot string }

func (d Day) sheet(l look) sheet {
	s := sheet{title: d.Title, under: d.Under}
	hours := nothing()
	choked, called, window := false, false, false
	for _, c := range d.Coffees {
		hours.add(c.Called)
		for _, x := range c.Shots {
			hours.add(x.Hour)
		}
	}
	h := hours.wide(0.04, 1)
	for _, c := range d.Coffees {
		times := nothing()
		times.window(c.Low, c.High)
		for _, x := range c.Shots {
			times.add(x.Time)
			choked = choked || x.Choked
		}
		t := times.wide(0.12, 10)
		p := newPlot(l, h.low, h.high, t.low, t.high)
		if proper(c.Low, c.High) {
			p.Add(l.lying(c.Low, c.High))
			window = true
		}
		p.Add(axes{look: l, x: clock(h), y: ticks(t.low, t.high, 4)}, l.edges(c.Low, c.High))
		if drawable(c.Called) {
			called = true
			p.Add(l.upright(c.Called))
		}
		p.Add(l.timed(c.Shots))
		s.panels = append(s.panels, panel{head: c.Head, left: 38, right: 12, height: 190, plot: p})
	}
	if n := len(s.panels); n > 0 {
		s.panels[n-1].foot = d.Words.Foot
	}
	if window {
		s.keys = append(s.keys, areaKey(l.aim, l.edge, d.Words.Window))
	}
	s.keys = append(s.keys, markKey(disc, l.first, d.Words.Shot))
	if choked {
		s.keys = append(s.keys, markKey(cross, l.second, d.Words.Choked))
	}
	if called {
		s.keys = append(s.keys, uprightKey(stroke(l.second, 2.4), d.Words.Called))
	}
	return s
}

// upright draws a line from top to bottom.
func (l look) upright(x float64) plotFunc {
	return func(c draw.Canvas, trX, _ func(float64) vg.Length) {
		c.StrokeLine2(stroke(l.second, 2.4), trX(x), c.Min.Y, trX(x), c.Max.Y)
	}
}

// timed draws shots at their hours.
func (l look) timed(shots []Timed) plotFunc {
	return func(c draw.Canvas, trX, trY func(float64) vg.Length) {
		for _, x := range shots {
			if !(x.Time > 0 && drawable(x.Time)) {
				continue
			}
			l.shot(c, x.Choked, vg.Point{X: trX(x.Hour), Y: trY(x.Time)})
		}
	}
}

// day is the length of a day in minutes.
const day = 24 * 60

// clock returns round times of day, those after midnight too.
func clock(h span) []tick {
	step := 0.25
	for _, s := range []float64{0.25, 0.5, 1, 2, 3, 4, 6} {
		if step = s; (h.high-h.low)/s <= 5 {
			break
		}
	}
	var list []tick
	for x := math.Ceil(h.low/step) * step; x <= h.high; x += step {
		minutes := (int(math.Round(x*60))%day + day) % day
		list = append(list, tick{x, fmt.Sprintf("%02d:%02d", minutes/60, minutes%60)})
	}
	return list
}

// A Drift is how a setting runs, shot by shot: what was believed of each, and
// how it came.
type Drift struct {
	Title, Under string
	Low, High    float64 // s, the window; both 0 for none
	Shots        []Run   // oldest first
	Alarm        int     // the shot at which it was told, from 1; 0 for none
	Words        DriftWords
}

// A Run is one shot of a Drift.
type Run struct {
	Time           float64 // s; NaN where not known
	Mid, Low, High float64 // s, believed of it before; 0 for nothing
	Moved          bool    // the setting was changed before it
}

// DriftWords are what stands in the keys of a Drift.
type DriftWords struct{ Window, Believed, Shot, Moved, Alarm, Time string }

func (d Drift) sheet(l look) sheet {
	s := sheet{title: d.Title, under: d.Under}
	t := d.times()
	p := newPlot(l, 0.5, float64(max(len(d.Shots), 2))+0.5, t.low, t.high)
	if proper(d.Low, d.High) {
		p.Add(l.lying(d.Low, d.High))
		s.keys = append(s.keys, areaKey(l.aim, l.edge, d.Words.Window))
	}
	p.Add(axes{look: l, x: whole(ticks(1, float64(len(d.Shots)), 6)), y: ticks(t.low, t.high, 5)}, d.beliefs(l), l.edges(d.Low, d.High))
	if d.Alarm > 0 {
		p.Add(l.upright(float64(d.Alarm)))
	}
	p.Add(d.runs(l))
	s.panels = []panel{{head: d.Words.Time, foot: d.Words.Shot, left: 38, right: 12, height: 330, plot: p}}
	s.keys = append(s.keys, areaKey(l.belief, nil, d.Words.Believed), markKey(disc, l.first, d.Words.Shot))
	if slices.ContainsFunc(d.Shots, func(r Run) bool { return r.Moved }) {
		s.keys = append(s.keys, markKey(ring, l.second, d.Words.Moved))
	}
	if d.Alarm > 0 {
		s.keys = append(s.keys, uprightKey(stroke(l.second, 2.4), d.Words.Alarm))
	}
	return s
}

// times returns the times to be shown: the window, the shots and what was
// believed of them, but not all of a belief that is far wider than those.
func (d Drift) times() span {
	seen := nothing()
	seen.window(d.Low, d.High)
	for _, r := range d.Shots {
		seen.add(r.Time)
		if proper(r.Low, r.High) {
			seen.add(r.Mid)
		}
	}
	seen = seen.wide(0.05, 10)
	most := span{seen.low / 1.2, seen.high * 1.2}
	for _, r := range d.Shots {
		if proper(r.Low, r.High) {
			seen.add(max(r.Low, most.low), min(r.High, most.high))
		}
	}
	return seen.wide(0.05, 10)
}

// whole leaves out ticks between whole numbers.
func whole(list []tick) []tick {
	return slices.DeleteFunc(list, func(t tick) bool { return t.x != math.Trunc(t.x) })
}

// beliefs draws what was believed of each shot.
func (d Drift) beliefs(l look) plotFunc {
	return func(c draw.Canvas, trX, trY func(float64) vg.Length) {
		half := (trX(2) - trX(1)) * 0.42
		for i, r := range d.Shots {
			if x := trX(float64(i + 1)); proper(r.Low, r.High) {
				box(c, l.belief, x-half, trY(r.Low), x+half, trY(r.High))
			}
		}
	}
}

// runs draws the shots.
func (d Drift) runs(l look) plotFunc {
	return func(c draw.Canvas, trX, trY func(float64) vg.Length) {
		for i, r := range d.Shots {
			if !(r.Time > 0 && drawable(r.Time)) {
				continue
			}
			shape, clr := disc, l.first
			if r.Moved {
				shape, clr = ring, l.second
			}
			mark(c, shape, clr, vg.Point{X: trX(float64(i + 1)), Y: trY(r.Time)})
		}
	}
}

// A Curve is the time of a coffee over the dial: what has been learnt, and the
// shots it was learnt from.
type Curve struct {
	Title, Under string
	Low, High    float64 // s, the window; both 0 for none
	Points       []Point // by position
	Shots        []Pulled
	Words        CurveWords
}

// A Point is the steady time believed at a position of the dial.
type Point struct{ Dial, Mid, Low, High float64 }

// A Pulled is a shot at a position of the dial.
type Pulled struct {
	Dial, Time float64 // s
	Old        bool    // of another day than the last
}

// longest is the s up to which a curve is always shown.
const longest = 75

// CurveWords are what stands beside a Curve.
type CurveWords struct {
	Foot, Window, Learnt, Band, Shot, Old, Time string
	Comma                                       bool // numbers are written with one
}

func (d Curve) sheet(l look) sheet {
	s := sheet{title: d.Title, under: d.Under}
	times, dials := nothing(), nothing()
	times.window(d.Low, d.High)
	for _, x := range d.Shots {
		times.add(x.Time)
		dials.add(x.Dial)
	}
	d.Points = slices.DeleteFunc(slices.Clone(d.Points), func(p Point) bool {
		return !(drawable(p.Dial) && drawable(p.Mid) && drawable(p.Low) && drawable(p.High))
	})
	for _, p := range d.Points {
		dials.add(p.Dial)
		times.add(min(p.Mid, longest))
	}
	t, g := times.wide(0.08, 10), dials.wide(0.02, 1e-6)
	p := newPlot(l, g.low, g.high, max(t.low, 0), t.high)
	if proper(d.Low, d.High) {
		p.Add(l.lying(d.Low, d.High))
		s.keys = append(s.keys, areaKey(l.aim, l.edge, d.Words.Window))
	}
	p.Add(d.band(l), axes{look: l, x: withComma(ticks(g.low, g.high, 7), d.Words.Comma), y: ticks(max(t.low, 0), t.high, 5)})
	p.Add(l.edges(d.Low, d.High), l.curve(len(d.Points), func(i int) (x, y float64) { return d.Points[i].Dial, d.Points[i].Mid }), d.pulled(l))
	s.panels = []panel{{head: d.Words.Time, foot: d.Words.Foot, left: 38, right: 14, height: 360, plot: p}}
	s.keys = append(s.keys, lineKey(stroke(l.ink, 2.4), d.Words.Learnt), areaKey(l.belief, nil, d.Words.Band), markKey(disc, l.first, d.Words.Shot))
	if slices.ContainsFunc(d.Shots, func(x Pulled) bool { return x.Old }) {
		s.keys = append(s.keys, markKey(ring, l.quiet, d.Words.Old))
	}
	return s
}

// band draws the interval around the curve.
func (d Curve) band(l look) plotFunc {
	return func(c draw.Canvas, trX, trY func(float64) vg.Length) {
		var outline []vg.Point
		for _, p := range d.Points {
			outline = append(outline, vg.Point{X: trX(p.Dial), Y: trY(p.High)})
		}
		for _, p := range slices.Backward(d.Points) {
			outline = append(outline, vg.Point{X: trX(p.Dial), Y: trY(p.Low)})
		}
		if len(outline) > 3 {
			c.FillPolygon(l.belief, c.ClipPolygonXY(outline))
		}
	}
}

// pulled draws the shots, those of the last day on top.
func (d Curve) pulled(l look) plotFunc {
	return func(c draw.Canvas, trX, trY func(float64) vg.Length) {
		draw := func(old bool, s shape, clr color.Color) {
			for _, x := range d.Shots {
				if x.Old == old && x.Time > 0 && drawable(x.Time) && drawable(x.Dial) {
					mark(c, s, clr, vg.Point{X: trX(x.Dial), Y: trY(x.Time)})
				}
			}
		}
		draw(true, ring, l.quiet)
		draw(false, disc, l.first)
	}
}

// A Cost is what mornings cost, over the weeks.
type Cost struct {
	Title, Under string
	Mornings     []Morning // by day
	Weeks        []string  // names of the weeks, in order
	Words        CostWords
}

// A Morning is one coffee dialled in.
type Morning struct {
	Week  float64 // since the first, 0.5 for its middle
	Shots float64
}

// CostWords are what stands beside a Cost.
type CostWords struct{ Head, Foot, Morning, Mean string }

func (d Cost) sheet(l look) sheet {
	s := sheet{title: d.Title, under: d.Under}
	shots := nothing()
	shots.add(0)
	weeks := len(d.Weeks)
	for _, m := range d.Mornings {
		shots.add(m.Shots)
		weeks = max(weeks, int(m.Week)+1)
	}
	t := span{0, max(shots.high*1.12, 4)}
	p := newPlot(l, 0, float64(max(weeks, 1)), t.low, t.high)
	var x []tick
	for i, name := range d.Weeks {
		x = append(x, tick{float64(i) + 0.5, name})
	}
	p.Add(axes{look: l, x: x, y: whole(ticks(0, t.high, 5)), bare: true}, d.mornings(l, weeks))
	s.panels = []panel{{head: d.Words.Head, foot: d.Words.Foot, left: 32, right: 8, height: 300, plot: p}}
	s.keys = []key{markKey(ring, l.first, d.Words.Morning), lineKey(stroke(l.second, 4), d.Words.Mean)}
	return s
}

// mornings draws a ring a morning and a bar at each week's mean.
func (d Cost) mornings(l look, weeks int) plotFunc {
	return func(c draw.Canvas, trX, trY func(float64) vg.Length) {
		for _, m := range d.Mornings {
			mark(c, ring, l.first, vg.Point{X: trX(m.Week), Y: trY(m.Shots)})
		}
		for w := range weeks {
			sum, n := 0.0, 0.0
			for _, m := range d.Mornings {
				if int(m.Week) == w {
					sum += m.Shots
					n++
				}
			}
			if n > 0 {
				y := trY(sum / n)
				c.StrokeLine2(stroke(l.second, 4), trX(float64(w)+0.12), y, trX(float64(w)+0.88), y)
			}
		}
	}
}
