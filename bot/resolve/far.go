package resolve

import (
	"math"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// How far a number with its place may lie from the recipe and from every shot of
// the last days before it is asked about, as a logarithm; of the dial see
// nearSteps. A volume is read off foam, so less of it is far. Assumed.
const (
	farDose   = 0.3
	farYield  = 0.6
	farLonger = 0.5 // of a yield above the recipe's
	farVolume = 0.35
	farTime   = 1.1
)

// FarOff returns the first number of a shot that is far from what the bar does
// and was not settled by an answer. What was believed once is near the next time.
func FarOff(r *recent.Book, p parse.Shot, c bar.Coffee, settled string) (say.FarOff, bool) {
	for _, look := range []func(*recent.Book, parse.Shot, bar.Coffee) (say.FarOff, bool){dialFar, doseFar, yieldFar, timeFar} {
		if off, ok := look(r, p, c); ok && !strings.Contains(settled, string(off.Figure)) {
			return off, true
		}
	}
	return say.FarOff{}, false
}

// dialFar compares a position with those of the last days.
func dialFar(r *recent.Book, p parse.Shot, c bar.Coffee) (say.FarOff, bool) {
	id := p.Grinder
	if id == 0 {
		id = c.Grinder
	}
	g, _ := r.Grinder(id)
	now := bar.Entry{At: r.Now}
	last, known := r.Position(now, g)
	known, p.Grind = known && g.Step > 0, p.Grind.On(g)
	switch {
	case !p.Grind.Said || p.Grind.Odd || parse.Odd(g) || p.Event == bar.Rezeroed || p.Event == bar.NewBurrs || p.Grind.Relative && math.Abs(p.Grind.X) <= FarMove:
		return say.FarOff{}, false
	case p.Grind.Relative && !known:
		return say.FarOff{Figure: MoveFigure(p.Grind.X), X: math.Abs(p.Grind.X), Typed: p.Grind.Text}, true
	case !known:
		return say.FarOff{}, false
	case p.Grind.Relative:
		to := float64(g.Turn(last, p.Grind.X))
		return say.FarOff{Figure: say.DialFigure, X: to, From: float64(last)}, g.Holds(bar.Dial(to))
	}
	near := func(x float64) bool {
		for e := range r.EachShot(func(_ bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && s.Grind.From != bar.None }) {
			if at := e.What.(bar.Shot).Grind.X; math.Abs(float64(at)-x) <= NearSteps*g.Step+1e-9 && !r.Rezeroed(g.ID, e.At, now) {
				return true
			}
		}
		return false
	}
	off := say.FarOff{Figure: say.DialFigure, X: p.Grind.X, From: float64(last)}
	if near(off.X) {
		return off, false
	}
	for _, x := range []float64{off.X / 10, off.X * 10, -off.X} {
		if off.Instead == 0 && near(x) {
			off.Instead = float64(g.Turn(bar.Dial(x), 0))
		}
	}
	return off, true
}

// Figures of a dial that was moved by steps.
const (
	finerBy   say.Figure = "finer"
	coarserBy say.Figure = "coarser"
)

// MoveFigure is the figure of a dial that was moved by steps, + is finer.
func MoveFigure(steps float64) say.Figure {
	if steps < 0 {
		return coarserBy
	}
	return finerBy
}

func doseFar(r *recent.Book, p parse.Shot, c bar.Coffee) (say.FarOff, bool) {
	if p.Marks.Has(bar.Single) {
		return say.FarOff{}, false
	}
	return farNumber(r, say.DoseFigure, p.Dose, float64(c.RecipeFor(p.Marks).Dose), farDose, c.ID)
}

func yieldFar(r *recent.Book, p parse.Shot, c bar.Coffee) (say.FarOff, bool) {
	if cutShort(p) {
		return say.FarOff{}, false
	}
	most := farYield
	if p.Volume {
		most = farVolume
	}
	recipe := float64(c.RecipeFor(p.Marks).Yield)
	if p.Yield.X > recipe {
		most = min(most, farLonger)
	}
	off, far := farNumber(r, say.YieldFigure, p.Yield, recipe, most, c.ID)
	if off.Volume = p.Volume; p.Volume && off.Instead == 0 {
		off.Instead = recipe
	}
	return off, far
}

func timeFar(r *recent.Book, p parse.Shot, c bar.Coffee) (say.FarOff, bool) {
	if cutShort(p) {
		return say.FarOff{}, false
	}
	recipe := c.RecipeFor(p.Marks)
	return farNumber(r, say.TimeFigure, p.Time, math.Sqrt(float64(recipe.Low*recipe.High)), farTime, c.ID)
}

// cutShort reports whether a shot was not pulled to its end.
func cutShort(p parse.Shot) bool {
	return p.Gushed || p.Marks&(bar.Choked|bar.Stopped|bar.Sink) != 0
}

// farNumber compares a number with the recipe's and with those of the coffee's
// shots of the last days.
func farNumber(r *recent.Book, f say.Figure, n parse.Number, recipe, most float64, c bar.CoffeeID) (say.FarOff, bool) {
	if !n.Said || !(recipe > 0) {
		return say.FarOff{}, false
	}
	near := func(a, b float64) bool { return math.Abs(math.Log(a/b)) <= most }
	for e := range r.EachShot(func(_ bar.Entry, s bar.Shot) bool { return s.Coffee == c }) {
		if near(n.X, figureOf(e.What.(bar.Shot), f)) {
			return say.FarOff{}, false
		}
	}
	off := say.FarOff{Figure: f, X: n.X, From: recipe}
	for _, x := range []float64{n.X * 10, n.X / 10} {
		if near(x, recipe) {
			off.Instead = x
		}
	}
	if math.Round(recipe) == recipe && Turned(n.X, recipe) {
		off.Instead = recipe
	}
	return off, !near(n.X, recipe)
}

// Turned reports whether two numbers have the same two digits, in the other order.
func Turned(a, b float64) bool {
	x, y := strconv.FormatFloat(a, 'f', -1, 64), strconv.FormatFloat(b, 'f', -1, 64)
	return len(x) == 2 && len(y) == 2 && x[0] == y[1] && x[1] == y[0] && x != y
}

// figureOf returns a number of a shot that a person said, NaN if none did.
func figureOf(s bar.Shot, f say.Figure) float64 {
	switch {
	case f == say.DoseFigure && s.Dose.From == bar.Said:
		return float64(s.Dose.X)
	case f == say.YieldFigure && s.Yield.From == bar.Said:
		return float64(s.Yield.X)
	case f == say.TimeFigure && s.Time.From == bar.Said:
		return float64(s.Time.X)
	}
	return math.NaN()
}

// FarPost asks whether a number of a held shot was meant. The state of its
// buttons holds what was settled before.
func FarPost(t *turn.Turn, e bar.EntryID, p parse.Shot, off say.FarOff, settled string) chat.Post {
	post := t.Post(chat.Question, t.Lang().FarQuestion(off))
	state := func(x float64) string {
		value := string(off.Figure) + "=" + strconv.FormatFloat(x, 'g', 6, 64)
		if settled != "" {
			value = settled + "," + value
		}
		return turn.PressState(turn.PressFar, e, turn.IDText(p.Coffee), value)
	}
	post.Buttons = append(post.Buttons, chat.Button{Label: t.Lang().FarLabel(off, off.X), State: state(off.X)})
	if off.Instead != 0 {
		post.Buttons = append(post.Buttons, chat.Button{Label: t.Lang().FarLabel(off, off.Instead), State: state(off.Instead)})
	}
	post.Buttons = append(post.Buttons, NoShotButton(t.Lang(), e))
	return post
}

// Settle puts the numbers of a shot that an answer settled, "dial=5,time=28".
func Settle(l say.Lang, p *parse.Shot, settled string) error {
	for part := range strings.SplitSeq(settled, ",") {
		name, value, _ := strings.Cut(part, "=")
		x, err := strconv.ParseFloat(value, 64)
		if err != nil || math.IsNaN(x) {
			return turn.Mistake(l.Say(say.OldButton))
		}
		n := parse.Number{X: x, Said: true}
		switch say.Figure(name) {
		case say.DoseFigure:
			p.Dose = n
		case say.YieldFigure:
			n.Rough = p.Yield.Rough
			p.Yield = n
		case say.TimeFigure:
			p.Time = n
		case say.DialFigure:
			p.Grind = parse.Grind{X: x, Said: true, Text: value}
		case finerBy:
			p.Grind = parse.Grind{X: x, Said: true, Relative: true, Text: value}
		case coarserBy:
			p.Grind = parse.Grind{X: -x, Said: true, Relative: true, Text: value}
		default:
			return turn.Mistake(l.Say(say.OldButton))
		}
	}
	return nil
}
