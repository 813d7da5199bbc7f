package chart

import (
	"image/color"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Chances is how likely a cup is right, by how long it ran, with the last shots.
type Chances struct {
	Title, Under string
	Low, High    float64  // s, the window
	Points       []Chance // by time
	Shots        []Tasted
	Words        ChancesWords
}

// A Chance is the probability that a cup of that time is right.
type Chance struct{ Time, Right float64 }

// A Tasted is a shot, and what was said of it.
type Tasted struct {
	Time          float64 // s, at the recipe's dose and yield
	Liked, Blamed bool    // neither where nobody said anything
}

// ChancesWords are what stands beside Chances.
type ChancesWords struct{ Head, Foot, Window, Liked, Blamed, Untasted string }

func (d Chances) sheet(l look) sheet {
	s := sheet{title: d.Title, under: d.Under}
	d.Points = slices.DeleteFunc(slices.Clone(d.Points), func(c Chance) bool { return !drawable(c.Time) || !drawable(c.Right) })
	times := nothing()
	for _, c := range d.Points {
		times.add(c.Time)
	}
	t := times.wide(0, 10)
	p := newPlot(l, t.low, t.high, 0, 100)
	if proper(d.Low, d.High) {
		p.Add(l.standing(d.Low, d.High))
		s.keys = append(s.keys, areaKey(l.aim, l.edge, d.Words.Window))
	}
	p.Add(axes{look: l, x: ticks(t.low, t.high, 6), y: ticks(0, 100, 5), bare: true}, l.uprightEdges(d.Low, d.High))
	p.Add(l.curve(len(d.Points), func(i int) (x, y float64) { return d.Points[i].Time, 100 * d.Points[i].Right }), d.shots(l))
	s.panels = []panel{{head: d.Words.Head, foot: d.Words.Foot, left: 38, right: 14, height: 300, plot: p}}
	for _, k := range d.marks(l) {
		if slices.ContainsFunc(d.Shots, k.of) {
			s.keys = append(s.keys, markKey(k.shape, k.color, k.text))
		}
	}
	return s
}

// shots draws each shot where its time lies on the curve.
func (d Chances) shots(l look) plotFunc {
	return func(c draw.Canvas, trX, trY func(float64) vg.Length) {
		for _, k := range d.marks(l) {
			for _, s := range d.Shots {
				if right, ok := d.at(s.Time); ok && k.of(s) {
					mark(c, k.shape, k.color, vg.Point{X: trX(s.Time), Y: trY(100 * right)})
				}
			}
		}
	}
}

// at returns how likely a cup of that time is right, between the points.
func (d Chances) at(time float64) (float64, bool) {
	for i := 1; i < len(d.Points); i++ {
		if a, b := d.Points[i-1], d.Points[i]; a.Time <= time && time <= b.Time && a.Time < b.Time {
			return a.Right + (b.Right-a.Right)*(time-a.Time)/(b.Time-a.Time), true
		}
	}
	return 0, false
}

// A verdict is the mark of the shots of which the same was said.
type verdict struct {
	shape shape
	color color.Color
	text  string
	of    func(Tasted) bool
}

func (d Chances) marks(l look) []verdict {
	return []verdict{
		{ring, l.quiet, d.Words.Untasted, func(s Tasted) bool { return !s.Liked && !s.Blamed }},
		{cross, l.second, d.Words.Blamed, func(s Tasted) bool { return s.Blamed }},
		{disc, l.first, d.Words.Liked, func(s Tasted) bool { return s.Liked && !s.Blamed }},
	}
}
