package bot

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// How far a number with its place may lie from the recipe and from every shot of
// the last days before it is asked about, as a logarithm; of the dial see
// nearSteps. A volume is read off foam, so less of it is far. Assumed.
const (
	farDose   = 0.3
	farYield  = 0.6
	farVolume = 0.35
	farTime   = 1.1
)

// farOff returns the first number of a shot that is far from what the bar does
// and was not settled by an answer. What was believed once is near the next time.
func (r *room) farOff(p parse.Shot, c bar.Coffee, settled string) (say.FarOff, bool) {
	for _, look := range []func(parse.Shot, bar.Coffee) (say.FarOff, bool){r.farDial, r.farDose, r.farYield, r.farTime} {
		if off, ok := look(p, c); ok && !strings.Contains(settled, string(off.Figure)) {
			return off, true
		}
	}
	return say.FarOff{}, false
}

// farOff returns the first number of a new shot that is far from what the bar
// does, is not near what was advised and is not typed for the second time.
func (t *turn) farOff(r *room, p parse.Shot, c bar.Coffee) (say.FarOff, bool, error) {
	settled := r.typedAgain(p)
	if denied, err := t.deniedFar(); denied || err != nil {
		settled = ""
	}
	off, far := r.farOff(p, c, settled)
	if !far || off.Figure != say.DialFigure {
		return off, far, nil
	}
	advised, err := t.nearAdvice(r, off, c)
	if advised {
		off, far = r.farOff(p, c, settled+","+string(say.DialFigure))
	}
	return off, far, err
}

// nearAdvice reports whether a position is near the one last advised for a coffee.
func (t *turn) nearAdvice(r *room, off say.FarOff, c bar.Coffee) (near bool, err error) {
	err = t.see(func(tx *store.Tx) error {
		said, ok, err := tx.LastAdvice(t.bar.ID, c.ID)
		g, _ := r.grinder(said.Grinder)
		near = ok && said.Lever == bar.Grind && said.Unit == advisor.DialUnit && math.Abs(off.X-said.To) <= nearSteps*g.Step+1e-9
		return err
	})
	return near, err
}

// typedAgain names the numbers that this person's last message of today had too,
// if it was asked about: who types a number again meant it.
func (r *room) typedAgain(p parse.Shot) string {
	for _, e := range slices.Backward(r.recent) {
		if e.Person != r.who.ID || e.Day != r.day || e.Deleted {
			continue
		}
		if _, held := e.What.(bar.Held); !held {
			return ""
		}
		before, ok, err := readShot(e.Raw, r.vocab())
		if !ok || err != nil {
			return ""
		}
		var same []string
		for _, both := range []struct {
			say.Figure
			then, now parse.Number
		}{
			{say.DoseFigure, before.Dose, p.Dose},
			{say.YieldFigure, before.Yield, p.Yield},
			{say.TimeFigure, before.Time, p.Time},
			{say.DialFigure, parse.Number{X: before.Grind.X, Said: before.Grind.Said}, parse.Number{X: p.Grind.X, Said: p.Grind.Said}},
		} {
			if both.then.Said && both.then.X == both.now.X {
				same = append(same, string(both.Figure))
			}
		}
		return strings.Join(same, ",")
	}
	return ""
}

// farDial compares a position with those of the last days.
func (r *room) farDial(p parse.Shot, c bar.Coffee) (say.FarOff, bool) {
	id := p.Grinder
	if id == 0 {
		id = c.Grinder
	}
	g, _ := r.grinder(id)
	now := bar.Entry{At: r.now}
	last, known := r.position(now, g)
	if !p.Grind.Said || p.Grind.Relative || p.Grind.Odd || !known || !(g.Step > 0) || parse.Odd(g) || p.Event == bar.Rezeroed || p.Event == bar.NewBurrs {
		return say.FarOff{}, false
	}
	near := func(x float64) bool {
		for e := range r.eachShot(func(_ bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && s.Grind.From != bar.None }) {
			if at := e.What.(bar.Shot).Grind.X; math.Abs(float64(at)-x) <= nearSteps*g.Step+1e-9 && !r.rezeroed(g.ID, e.At, now) {
				return true
			}
		}
		return false
	}
	off := say.FarOff{Figure: say.DialFigure, X: p.Grind.X, From: float64(last)}
	for _, x := range []float64{off.X / 10, off.X * 10, -off.X} {
		if off.Instead == 0 && near(x) {
			off.Instead = float64(g.Turn(bar.Dial(x), 0))
		}
	}
	return off, !near(off.X)
}

func (r *room) farDose(p parse.Shot, c bar.Coffee) (say.FarOff, bool) {
	if p.Marks.Has(bar.Single) {
		return say.FarOff{}, false
	}
	return r.farNumber(say.DoseFigure, p.Dose, float64(c.RecipeFor(p.Marks).Dose), farDose, c.ID)
}

func (r *room) farYield(p parse.Shot, c bar.Coffee) (say.FarOff, bool) {
	if cutShort(p) {
		return say.FarOff{}, false
	}
	most := farYield
	if p.Volume {
		most = farVolume
	}
	recipe := float64(c.RecipeFor(p.Marks).Yield)
	off, far := r.farNumber(say.YieldFigure, p.Yield, recipe, most, c.ID)
	if p.Volume && off.Instead == 0 {
		off.Instead = recipe
	}
	return off, far
}

func (r *room) farTime(p parse.Shot, c bar.Coffee) (say.FarOff, bool) {
	if cutShort(p) {
		return say.FarOff{}, false
	}
	recipe := c.RecipeFor(p.Marks)
	return r.farNumber(say.TimeFigure, p.Time, math.Sqrt(float64(recipe.Low*recipe.High)), farTime, c.ID)
}

// cutShort reports whether a shot was not pulled to its end.
func cutShort(p parse.Shot) bool {
	return p.Gushed || p.Marks&(bar.Choked|bar.Stopped|bar.Sink) != 0
}

// farNumber compares a number with the recipe's and with those of the coffee's
// shots of the last days.
func (r *room) farNumber(f say.Figure, n parse.Number, recipe, most float64, c bar.CoffeeID) (say.FarOff, bool) {
	if !n.Said || !(recipe > 0) {
		return say.FarOff{}, false
	}
	near := func(a, b float64) bool { return math.Abs(math.Log(a/b)) <= most }
	for e := range r.eachShot(func(_ bar.Entry, s bar.Shot) bool { return s.Coffee == c }) {
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
	return off, !near(n.X, recipe)
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

// farPost asks whether a number of a held shot was meant. The state of its
// buttons holds what was settled before.
func (t *turn) farPost(e bar.EntryID, p parse.Shot, off say.FarOff, settled string) chat.Post {
	post := t.post(chat.Question, t.in().FarQuestion(off))
	state := func(x float64) string {
		value := string(off.Figure) + "=" + strconv.FormatFloat(x, 'g', 6, 64)
		if settled != "" {
			value = settled + "," + value
		}
		return pressState(pressFar, e, idText(p.Coffee), value)
	}
	post.Buttons = append(post.Buttons, chat.Button{Label: t.in().FarLabel(off, off.X), State: state(off.X)})
	if off.Instead != 0 {
		post.Buttons = append(post.Buttons, chat.Button{Label: t.in().FarLabel(off, off.Instead), State: state(off.Instead)})
	}
	post.Buttons = append(post.Buttons, noShotButton(t.in(), e))
	return post
}

// settle puts the numbers of a shot that an answer settled, "dial=5,time=28".
func settle(l say.Lang, p *parse.Shot, settled string) error {
	for part := range strings.SplitSeq(settled, ",") {
		name, value, _ := strings.Cut(part, "=")
		x, err := strconv.ParseFloat(value, 64)
		if err != nil || math.IsNaN(x) {
			return mistake(l.Say(say.OldButton))
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
		default:
			return mistake(l.Say(say.OldButton))
		}
	}
	return nil
}
