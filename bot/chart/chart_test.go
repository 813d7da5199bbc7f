package chart

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"
	"pgregory.net/rapid"
)

var lookAt = flag.String("pictures", "", "a `directory` in which to put the sample pictures, to be looked at")

// samples are one picture of each kind, as a bar would get them.
func samples() map[string]Picture {
	nan := math.NaN()
	return map[string]Picture{
		"dial-in": DialIn{
			Title: "Harbour, dialled in on Monday 2 March", Under: "6 shots in 18 minutes, 109 g of coffee", Low: 25, High: 31, Yield: 36,
			Words: Words{"dial", "window 25–31 s", "believed before the shot, 9 in 10", "shot", "choked", "in the cup; the line is the recipe’s 36 g", "time, s", "yield, g", false},
			Shots: []Shot{
				{Name: "5.6", Time: 19, Yield: 36.4, Said: "very sour, thin"},
				{Name: "5.2", Time: 24, Yield: 35.1, Low: 18, High: 36, Changed: "finer", Said: "sour"},
				{Name: "4.4", Time: 62, Yield: 8, Low: 22, High: 38, Changed: "finer", Choked: true},
				{Name: "5.0", Time: 27, Yield: 36, Low: 22, High: 31, Changed: "coarser", Said: "a bit sour, sweet, and something that goes on for long"},
				{Name: "5.0", Time: nan, Yield: 37, Said: "balanced"},
				{Name: "5.0", Time: 28, Yield: 36.6, Low: 24, High: 32, Said: "balanced, sweet"},
			},
		},
		"day": Day{
			Title: "Monday 2 March", Under: "11 shots of two coffees", Words: DayWords{"window", "shot", "choked", "called dialled in", "time of day"},
			Coffees: []DayCoffee{
				{Name: "Harbour", Head: "Harbour: time, s", Low: 25, High: 31, Called: 6.9, Shots: []Timed{{6.5, 19, false}, {6.6, 24, false}, {6.7, 60, true}, {6.8, 27, false}, {9, 29, false}, {14, 33, false}}},
				{Name: "Tide", Head: "Tide: time, s", Low: 24, High: 29, Called: nan, Shots: []Timed{{7, 22, false}, {7.1, 26, false}, {10, 27, false}}},
			},
		},
		"drift": Drift{
			Title: "Harbour since it was dialled in", Under: "22 shots", Low: 25, High: 31, Alarm: 18, Shots: drifting(22),
			Words: DriftWords{"window 25–31 s", "believed before the shot, 9 in 10", "shot", "after a change", "told here", "time, s"},
		},
		"curve": Curve{
			Title: "Harbour on the left grinder", Under: "A step of 0.1 is worth about 1.9 s", Low: 25, High: 31, Points: falling(),
			Words: CurveWords{"dial, lower is finer", "window 25–31 s", "time learnt", "true time, 9 in 10", "shots of 2 March", "earlier shots", "time, s", false},
			Shots: []Pulled{{5.6, 19, true}, {5.2, 24, true}, {5, 27, false}, {5, 29, false}, {4.9, 30, false}},
		},
		"cost": Cost{
			Title: "What mornings cost", Under: "Harbour and Tide, six weeks",
			Words: CostWords{"shots to dialled in", "week of", "one coffee, one morning", "mean of the week"},
			Weeks: []string{"19 Jan", "26 Jan", "2 Feb", "9 Feb", "16 Feb", "23 Feb"}, Mornings: mornings(),
		},
		"chances": Chances{
			Title: "Harbour: how likely a cup is right", Under: "By all that was said of 6 cups", Low: 25, High: 31,
			Words:  ChancesWords{"right, of 100 such cups", "time, s", "window 25–31 s", "liked", "something held against it", "not tasted"},
			Points: bell(), Shots: []Tasted{{22, false, true}, {24.5, false, true}, {27, true, false}, {30, false, false}},
		},
		"effects": Rows{
			Title: "What the changes did", Under: "Beyond what the time would have done anyway", Head: "difference in time, s", From: -6, To: 8, Zero: true,
			Words: RowWords{"mean", "where it lies, 9 in 10", ""},
			Rows: []Row{
				{"Finer", "31 of 34 moved as foretold; repeats look so 3 times in 10: it works here", 3.1, 2.6, 3.6, nan},
				{"Coarser", "too few to say (4 uses)", -1.2, -4, 1.5, nan},
			},
		},
		"calibration": Rows{
			Title: "How the forecasts held", Under: "160 shots", Head: "shots within, of 100", From: 0, To: 100,
			Words: RowWords{"did lie within", "", "should lie within"},
			Rows:  []Row{{"5 in 10", "", 57, 0, 0, 50}, {"8 in 10", "", 84, 0, 0, 80}, {"9 in 10", "", 91, 0, 0, 90}},
		},
		"layers": Layers{
			Title: "Harbour, cup by cup", Under: "One shot over three cups, 2 March", Head: "share of what was dissolved, %",
			Words: RowWords{"measured", "expected, 9 in 10", "expected"},
			Cups: []LayerCup{
				{"early, 12.1 g", "sour, salty (3 of 3); strong (2)", .61, .62, .56, .68},
				{"middle, 12.8 g", "sweet, flat", .26, .25, .21, .29},
				{"late, 11.9 g", "thin, bitter", nan, .13, .1, .16},
			},
		},
	}
}

func drifting(n int) []Run {
	var list []Run
	for i := range n {
		m := 27 + 0.25*float64(i)
		list = append(list, Run{m + 2.5*math.Sin(float64(i)*2), m, m - 3, m + 3.3, i == 20})
	}
	return list
}

func bell() []Chance {
	var list []Chance
	for t := 10.0; t <= 60; t++ {
		list = append(list, Chance{t, 0.85 * math.Exp(-sq(math.Log(t/28))*12)})
	}
	return list
}

func sq(x float64) float64 { return x * x }

func falling() []Point {
	var list []Point
	for i := range 25 {
		g := 4.2 + 0.1*float64(i)
		m := 28 * math.Exp(-0.7*(g-5))
		list = append(list, Point{g, m, m*0.9 - math.Abs(g-5), m*1.1 + math.Abs(g-5)})
	}
	return list
}

func mornings() []Morning {
	var list []Morning
	for i := range 36 {
		list = append(list, Morning{float64(i)/6 + 0.08, math.Round(7 - float64(i)/10 + 2*math.Sin(float64(i)*3))})
	}
	return list
}

// A PNG is as wide as is told, as high as its sheet, and shows its marks.
func TestPNG(t *testing.T) {
	for name, p := range samples() {
		for _, dark := range []bool{false, true} {
			data, err := PNG(p, dark)
			if err != nil {
				t.Fatal(err)
			}
			picture, err := png.Decode(bytes.NewReader(data))
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			l := lookOf(dark)
			want := image.Pt(1080, int(math.Round(2*float64(p.sheet(l).height()))))
			if got := picture.Bounds().Size(); got.X != want.X || math.Abs(float64(got.Y-want.Y)) > 1 {
				t.Errorf("%s is %v, want %v", name, got, want)
			}
			count := colours(picture)
			if count[l.paper] < 100_000 || count[l.first] < 50 || count[l.ink] < 50 {
				t.Errorf("%s, dark %v: %d of paper, %d of marks, %d of ink", name, dark, count[l.paper], count[l.first], count[l.ink])
			}
			if *lookAt != "" {
				file := filepath.Join(*lookAt, fmt.Sprintf("%s-%v.png", name, dark))
				if err := os.WriteFile(file, data, 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

func colours(p image.Image) map[color.NRGBA]int {
	count := map[color.NRGBA]int{}
	b := p.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			count[color.NRGBAModel.Convert(p.At(x, y)).(color.NRGBA)]++
		}
	}
	return count
}

// An SVG is one element that a page can hold, in the colours of its look.
func TestSVG(t *testing.T) {
	for name, p := range samples() {
		data, err := SVG(p, true)
		if err != nil {
			t.Fatal(err)
		}
		depth := 0
		for d := xml.NewDecoder(bytes.NewReader(data)); ; {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			switch token.(type) {
			case xml.StartElement:
				depth++
			case xml.EndElement:
				depth--
			}
		}
		if depth != 0 || !bytes.HasPrefix(data, []byte("<svg")) {
			t.Errorf("%s: no element: %.60s", name, data)
		}
	}
}

// A said is text where it was drawn.
type said struct {
	text string
	box  vg.Rectangle
}

// drawn returns the text of a picture and how many marks of each colour.
func drawn(p Picture) (texts []said, marks map[color.Color]int) {
	var c recorder.Canvas
	l := lookOf(false)
	s := p.sheet(l)
	s.draw(draw.NewCanvas(&c, width, s.height()), l)
	marks = map[color.Color]int{}
	var now color.Color
	for _, a := range c.Actions {
		switch a := a.(type) {
		case *recorder.SetColor:
			now = a.Color
		case *recorder.Fill:
			if slices.ContainsFunc(a.Path, func(p vg.PathComp) bool { return p.Type == vg.ArcComp }) {
				marks[now]++
			}
		case *recorder.FillString:
			set := style(a.Size, nil, a.Font.Weight > 0)
			e := set.FontExtents()
			texts = append(texts, said{a.String, vg.Rectangle{
				Min: vg.Point{X: a.Point.X, Y: a.Point.Y + e.Descent*0.2},
				Max: vg.Point{X: a.Point.X + set.Width(a.String), Y: a.Point.Y + e.Ascent*0.75},
			}})
		}
	}
	return texts, marks
}

// No text leaves the sheet, and none lies on another.
func TestTextHasRoom(t *testing.T) {
	for name, p := range samples() {
		if _, without := Texts(p); len(without) > 0 {
			t.Errorf("%s: %v", name, without)
		}
	}
}

// What is told is drawn: each shot that was timed, and all the words.
func TestWhatIsDrawn(t *testing.T) {
	first := lookOf(false).first
	for _, test := range []struct {
		name  string
		marks int // of the first colour, with the one in the key
		texts []string
	}{
		{"dial-in", 4 + 1, []string{"5.6", "finer", "very sour, thin", "36.4", "dial", "time, s", "yield, g", "window 25–31 s", "choked", "in the cup; the line is the recipe’s 36 g"}},
		{"day", 5 + 3 + 1, []string{"Harbour: time, s", "Tide: time, s", "08:00", "time of day", "called dialled in"}},
		{"drift", 21 + 1, []string{"time, s", "shot", "told here", "20"}},
		{"curve", 3 + 1, []string{"dial, lower is finer", "time learnt", "5"}},
		{"cost", 0, []string{"19 Jan", "week of", "shots to dialled in"}},
		{"effects", 2 + 1, []string{"Finer", "too few to say (4 uses)", "difference in time, s", "−5"}},
		{"calibration", 3 + 1, []string{"9 in 10", "should lie within"}},
		{"layers", 2 + 1, []string{"late, 11.9 g", "thin, bitter"}},
	} {
		texts, marks := drawn(samples()[test.name])
		if marks[first] != test.marks {
			t.Errorf("%s: %d marks, want %d", test.name, marks[first], test.marks)
		}
		for _, want := range test.texts {
			if !slices.ContainsFunc(texts, func(s said) bool { return s.text == want }) {
				t.Errorf("%s does not say %q", test.name, want)
			}
		}
	}
}

// A shot lies where its time is: halfway between two ticks, halfway between
// their places.
func TestMarksLieWhereTheyShould(t *testing.T) {
	p := newPlot(lookOf(false), 0, 10, 20, 40)
	c := draw.NewCanvas(&recorder.Canvas{}, 100, 200)
	trX, trY := p.Transforms(&c)
	if x, y := trX(5), trY(25); math.Abs(float64(x-50)) > 1e-9 || math.Abs(float64(y-50)) > 1e-9 {
		t.Errorf("5, 25 lies at %v, %v", x, y)
	}
}

// Text stands out from what is behind it by 4.5 to 1, marks by 3 to 1: success
// criteria 1.4.3 and 1.4.11 of the Web Content Accessibility Guidelines 2.1.
func TestContrast(t *testing.T) {
	for _, dark := range []bool{false, true} {
		l := lookOf(dark)
		for _, test := range []struct {
			name        string
			front, back color.NRGBA
			want        float64
		}{
			{"ink", l.ink, l.paper, 4.5},
			{"numbers", l.quiet, l.paper, 4.5},
			{"changes", l.second, l.paper, 4.5},
			{"ink on the aim", l.ink, l.aim, 4.5},
			{"shots", l.first, l.paper, 3},
			{"shots on the aim", l.first, l.aim, 3},
			{"shots on the belief", l.first, l.belief, 3},
			{"yields", l.second, l.paper, 3},
			{"changes on the belief", l.second, l.belief, 3},
			{"edges of the aim", l.edge, l.paper, 3},
		} {
			if got := contrast(test.front, test.back); !(got >= test.want) {
				t.Errorf("dark %v: %s: %.2f to 1, want %g", dark, test.name, got, test.want)
			}
		}
	}
}

// contrast is the contrast ratio as WCAG 2.1 defines it.
func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// luminance is the relative luminance of WCAG 2.1.
func luminance(c color.NRGBA) float64 {
	linear := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// Any values make a picture: none of them ends in a panic or in a sheet that
// has no size.
func TestAnyValuesAreDrawn(t *testing.T) {
	number := rapid.OneOf(rapid.Float64Range(-5, 120), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300}))
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 15).Draw(t, "n")
		x := func() float64 { return number.Draw(t, "x") }
		d := DialIn{Title: rapid.String().Draw(t, "title"), Low: x(), High: x(), Yield: x()}
		r := Drift{Low: x(), High: x()}
		cu := Curve{Low: x(), High: x()}
		for range n {
			d.Shots = append(d.Shots, Shot{Name: rapid.String().Draw(t, "name"), Time: x(), Yield: x(), Low: x(), High: x(), Said: "sour"})
			r.Shots = append(r.Shots, Run{Time: x(), Mid: x(), Low: x(), High: x()})
			cu.Shots = append(cu.Shots, Pulled{Dial: x(), Time: x()})
			cu.Points = append(cu.Points, Point{x(), x(), x(), x()})
		}
		for _, p := range []Picture{d, r, cu} {
			if texts, _ := drawn(p); !(p.sheet(lookOf(true)).height() > 0) || len(texts) == 0 {
				t.Errorf("%T: nothing", p)
			}
		}
	})
}

// Times of day are times of day on both sides of midnight.
func TestClock(t *testing.T) {
	for _, c := range []struct {
		from, to float64
		want     []string
	}{
		{-0.4, 0.6, []string{"23:45", "00:00", "00:15", "00:30"}},
		{23.4, 25.6, []string{"23:30", "00:00", "00:30", "01:00", "01:30"}},
		{6, 18, []string{"06:00", "09:00", "12:00", "15:00", "18:00"}},
	} {
		var got []string
		for _, tick := range clock(span{c.from, c.to}) {
			got = append(got, tick.text)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%g to %g (-want +got):\n%s", c.from, c.to, diff)
		}
	}
}

// What was believed of a shot is not cut off by the edge of the picture, unless
// it is so wide that nothing else could be seen.
func TestDriftShowsWholeBeliefs(t *testing.T) {
	d := Drift{Low: 25, High: 31, Shots: []Run{{Time: 28, Mid: 28, Low: 24, High: 38}, {Time: 29, Mid: 28, Low: 25, High: 31}}}
	if s := d.times(); !(s.low <= 24 && 38 <= s.high) {
		t.Errorf("the times go from %g to %g, the beliefs from 24 to 38", s.low, s.high)
	}
	d.Shots[0].Low, d.Shots[0].High = 1, 400
	if s := d.times(); !(s.low > 15 && s.high < 45) {
		t.Errorf("one belief stretches the times from %g to %g", s.low, s.high)
	}
}
