package figures

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// Readings returns which of a shot's numbers x may be: those it is near, else
// all that it can be. Of several it is near, it is the one that it is by far the
// nearest to, unless a slip of a digit makes it another. A number that is far from the
// recipe's, where x is not, is what x most likely puts right.
func Readings(r *recent.Book, s bar.Shot, x float64, mass bool) (list []say.Figure, sure bool) {
	g, _ := r.Grinder(s.Grinder)
	c, _ := r.Coffee(s.Coffee)
	var near, can []say.Figure
	var old []float64 // of those that are near
	add := func(f say.Figure, was float64, close, possible bool) {
		if close {
			near, old = append(near, f), append(old, was)
		}
		if possible {
			can = append(can, f)
		}
	}
	n := parse.Number{X: x, Said: true}
	off := func(old float64) float64 { return math.Abs(math.Log(x / old)) }
	if !mass {
		step := g.Step
		if !(step > 0) {
			step = 1
		}
		close := math.Abs(float64(s.Grind.X)-x) <= resolve.NearSteps*step+1e-9
		if s.Grind.From == bar.None { // it may stand anywhere: what is far from every other number is the dial
			close = off(float64(s.Yield.X)) > resolve.NearNothing && off(float64(s.Dose.X)) > resolve.NearNothing && off(float64(s.Time.X)) > resolve.NearNothing
		}
		add(say.DialFigure, float64(s.Grind.X), close, true)
		add(say.TimeFigure, float64(s.Time.X), s.Time.From != bar.None && off(float64(s.Time.X)) < resolve.NearTime, parse.Fits(parse.Number{}, parse.Number{}, n, s.Marks) == nil)
	}
	add(say.YieldFigure, float64(s.Yield.X), off(float64(s.Yield.X)) < resolve.NearYield, parse.Fits(parse.Number{}, n, parse.Number{}, s.Marks) == nil)
	add(say.DoseFigure, float64(s.Dose.X), off(float64(s.Dose.X)) < resolve.NearDose, parse.Fits(n, parse.Number{}, parse.Number{}, s.Marks) == nil)
	if of := c.RecipeFor(s.Marks); !mass && s.Time.From == bar.None && float64(of.Low)/asked <= x && x <= float64(of.High)*asked {
		if off(float64(s.Yield.X)) < asItIs { // what is missing, or what is said already
			return []say.Figure{say.TimeFigure, say.YieldFigure}, false
		}
		return []say.Figure{say.TimeFigure}, true
	}
	if f, turned, ok := slippedOne(s, c.RecipeFor(s.Marks), x, mass); ok {
		if near = slices.DeleteFunc(near, func(other say.Figure) bool { return other == f || turned }); len(near) == 0 {
			return []say.Figure{f}, true
		}
		return append([]say.Figure{f}, near...), false
	}
	if i := nearest(old, x); i >= 0 {
		near = near[i : i+1]
	}
	if len(near) > 0 {
		return near, len(near) == 1
	}
	return can, false
}

// How far from a recipe a number is that was most likely a slip, and how near to it is
// what puts it right, as logarithms. Assumed.
const (
	asked   = 1.5 // how many times as long as its recipe's a time may be that was asked for
	slipped = 0.3
	asItIs  = 0.15
)

// slippedOne returns the number of a shot that is far from its recipe, where x is near, and
// whether x has its two digits in the other order.
func slippedOne(s bar.Shot, of bar.Recipe, x float64, mass bool) (f say.Figure, turned, ok bool) {
	off := func(a, b float64) float64 { return math.Abs(math.Log(a / b)) }
	for _, n := range []struct {
		figure say.Figure
		was    float64
		from   bar.Provenance
		recipe float64
	}{
		{say.DoseFigure, float64(s.Dose.X), s.Dose.From, float64(of.Dose)},
		{say.YieldFigure, float64(s.Yield.X), s.Yield.From, float64(of.Yield)},
		{say.TimeFigure, float64(s.Time.X), s.Time.From, math.Sqrt(float64(of.Low * of.High))},
	} {
		if n.from == bar.Said && n.recipe > 0 && off(n.was, n.recipe) > slipped && off(x, n.recipe) < asItIs && (!mass || n.figure != say.TimeFigure) {
			return n.figure, resolve.Turned(n.was, x), true
		}
	}
	return f, false, false
}

// muchNearer is how many times as far a number lies from others as from the one
// it is surely. Assumed.
const muchNearer = 4

// nearest returns which of the old numbers x is put right, or -1 where it may be
// several.
func nearest(old []float64, x float64) int {
	for i, was := range old {
		others := was == x // which says nothing new of it
		for j, other := range old {
			others = others || j != i && (slip(other, x) || !(math.Abs(math.Log(x/other)) >= muchNearer*math.Abs(math.Log(x/was))))
		}
		if !others {
			return i
		}
	}
	return -1
}

// slip reports whether two numbers differ in one digit alone, or in the order of two.
func slip(a, b float64) bool {
	x, y := strconv.FormatFloat(a, 'f', -1, 64), strconv.FormatFloat(b, 'f', -1, 64)
	if len(x) != len(y) {
		return false
	}
	wrong := 0
	for i := range len(x) {
		if x[i] != y[i] {
			wrong++
		}
	}
	return wrong == 1 || resolve.Turned(a, b)
}

// Naming returns the only number of a shot that is so.
func Naming(s bar.Shot, was parse.Number) (f say.Figure, ok bool) {
	n := 0
	for _, of := range []struct {
		figure say.Figure
		x      float64
		from   bar.Provenance
	}{
		{say.DoseFigure, float64(s.Dose.X), s.Dose.From},
		{say.YieldFigure, float64(s.Yield.X), s.Yield.From},
		{say.TimeFigure, float64(s.Time.X), s.Time.From},
		{say.DialFigure, float64(s.Grind.X), s.Grind.From},
	} {
		if was.Said && of.from != bar.None && math.Abs(of.x-was.X) < 1e-9 {
			f, n = of.figure, n+1
		}
	}
	return f, n == 1
}

// misread is how far from a number of a shot one may be that is said to be it and wrong, as a
// logarithm. Assumed.
const misread = 0.1

// Near reports whether a number of a shot is about what it is said not to be, where that is
// said.
func Near(s bar.Shot, f say.Figure, was parse.Number) bool {
	x := map[say.Figure]float64{say.DoseFigure: float64(s.Dose.X), say.YieldFigure: float64(s.Yield.X), say.TimeFigure: float64(s.Time.X), say.DialFigure: float64(s.Grind.X)}[f]
	return !was.Said || x == was.X || math.Abs(math.Log(was.X/x)) < misread
}

// Put puts those numbers of a shot right that p names, and returns what was
// changed, with the state that takes it back where it is one number.
func Put(l say.Lang, e bar.Entry, s *bar.Shot, p parse.Correction) (changes []string, back string) {
	if p.Dose.Said {
		back = BackState(e, say.DoseFigure, float64(s.Dose.X), s.Dose.From)
		changes = append(changes, l.FigureChange(say.DoseFigure, float64(s.Dose.X), s.Dose.From, p.Dose.X))
		s.Dose = bar.Value[bar.Grams]{X: bar.Grams(p.Dose.X), From: bar.Said, Rough: p.Dose.Rough}
	}
	if p.Yield.Said {
		back = BackState(e, say.YieldFigure, float64(s.Yield.X), s.Yield.From)
		changes = append(changes, l.FigureChange(say.YieldFigure, float64(s.Yield.X), s.Yield.From, p.Yield.X))
		s.Yield = bar.Value[bar.Grams]{X: bar.Grams(p.Yield.X), From: bar.Said, Rough: p.Yield.Rough}
	}
	if p.Time.Said {
		back = BackState(e, say.TimeFigure, float64(s.Time.X), s.Time.From)
		changes = append(changes, l.FigureChange(say.TimeFigure, float64(s.Time.X), s.Time.From, p.Time.X))
		s.Time, s.TimeSD = bar.Value[bar.Seconds]{X: bar.Seconds(p.Time.X), From: bar.Said, Rough: p.Time.Rough}, 0
	}
	return changes, back
}

// WasState is the state of a button that puts a shot back in all its numbers, its
// coffee and its grinder.
func WasState(e bar.Entry, s bar.Shot) string {
	unplaced := 0
	if s.Marks.Has(bar.Unplaced) {
		unplaced = 1
	}
	return turn.PressState(turn.PressWas, e.ID, fmt.Sprintf("%d,%d,%s,%s,%s,%s,%g,%d", s.Coffee, s.Grinder,
		valueState(s.Dose), valueState(s.Yield), valueState(s.Time), valueState(s.Grind), s.Turned, unplaced))
}

// valueState writes a value with where it comes from, "18.2/1" or "18.2/1~".
func valueState[T ~float64](v bar.Value[T]) string {
	text := strconv.FormatFloat(float64(v.X), 'g', 7, 64) + "/" + strconv.Itoa(int(v.From))
	if v.Rough {
		text += "~"
	}
	return text
}

// ReadValue reads it.
func ReadValue[T ~float64](text string) (v bar.Value[T], ok bool) {
	text, v.Rough = strings.CutSuffix(text, "~")
	number, from, _ := strings.Cut(text, "/")
	x, err := strconv.ParseFloat(number, 64)
	source, err2 := strconv.Atoi(from)
	v.X, v.From = T(x), bar.Provenance(source)
	return v, err == nil && err2 == nil && !math.IsNaN(x) && int(bar.None) <= source && source <= int(bar.Assumed)
}

// shotWas returns a shot as a state has it.
func shotWas(s bar.Shot, arg string) (bar.Shot, bool) {
	parts := strings.Split(arg, ",")
	if len(parts) != 8 {
		return s, false
	}
	coffee, err := strconv.ParseUint(parts[0], 10, 64)
	grinder, err2 := strconv.ParseUint(parts[1], 10, 64)
	turned, err3 := strconv.ParseFloat(parts[6], 64)
	var ok [4]bool
	s.Coffee, s.Grinder, s.Turned = bar.CoffeeID(coffee), bar.GrinderID(grinder), turned
	s.Dose, ok[0] = ReadValue[bar.Grams](parts[2])
	s.Yield, ok[1] = ReadValue[bar.Grams](parts[3])
	s.Time, ok[2] = ReadValue[bar.Seconds](parts[4])
	s.Grind, ok[3] = ReadValue[bar.Dial](parts[5])
	if s.Marks &^= bar.Unplaced; parts[7] == "1" {
		s.Marks |= bar.Unplaced
	}
	return s, errors.Join(err, err2, err3) == nil && !slices.Contains(ok[:], false)
}

// PressWas puts a shot back as it was before a correction.
func PressWas(t *turn.Turn, r *recent.Book, e bar.Entry, arg string) ([]turn.Out, error) {
	now, ok := e.What.(bar.Shot)
	was, read := shotWas(now, arg)
	coffee, known := r.Coffee(was.Coffee)
	if !ok || !read || !known {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	if now.Grind.From != bar.None && was.Grind.From == bar.None {
		resolve.UnlearnDial(t, r, e, now)
	}
	e.What = was
	r.Recent = recent.With(r.Recent, e)
	a := answer.CorrectionOf(t, r, e, coffee, t.Lang().Say(say.PutBackWhole), "")
	a.Back = chat.Button{Label: t.Lang().Say(say.BackLabel), State: WasState(e, now)}
	return a.Give()
}

// BackState is the state of a button that puts a number back to x; empty where
// there was none to go back to.
func BackState(e bar.Entry, f say.Figure, x float64, from bar.Provenance) string {
	if from == bar.None {
		return ""
	}
	return ButtonState(e.ID, f, x, from)
}

// ButtonState is the state of a button that puts a number of a shot to x.
func ButtonState(id bar.EntryID, f say.Figure, x float64, from bar.Provenance) string {
	return turn.PressState(turn.PressPut, id, string(f)+"="+strconv.FormatFloat(x, 'g', -1, 64)+"/"+strconv.Itoa(int(from)))
}

// Ask asks which of a shot's numbers x is.
func Ask(t *turn.Turn, e bar.Entry, list []say.Figure, x float64) []turn.Out {
	post := t.Post(chat.Question, t.Lang().FigureQuestion(list, x))
	for _, f := range list {
		post.Buttons = append(post.Buttons, chat.Button{Label: t.Lang().Figure(f), State: ButtonState(e.ID, f, x, bar.Said)})
	}
	return []turn.Out{{Post: post}}
}

// PutRight changes what p names of a shot, and nothing else.
func PutRight(t *turn.Turn, r *recent.Book, e bar.Entry, s bar.Shot, p parse.Correction, from bar.Provenance) ([]turn.Out, error) {
	if err := parse.Fits(p.Dose, p.Yield, p.Time, s.Marks); err != nil {
		return nil, err
	}
	if err := parse.Check(parse.Shot{Grind: p.Grind}); err != nil {
		return nil, err
	}
	before := s
	changes, back := Put(t.Lang(), e, &s, p)
	if p.Dose.Said {
		s.Dose.From = from
	}
	if p.Yield.Said {
		s.Yield.From = from
	}
	if p.Time.Said {
		s.Time.From = from
	}
	if p.Grind.Said {
		g := resolve.LearnDial(t, r, s.Grinder, p.Grind, e)
		was := s.Grind
		s.Grind = bar.Value[bar.Dial]{X: bar.Dial(p.Grind.X), From: from}
		s.Turned, s.Marks = 0, s.Marks&^bar.Unplaced
		changes = append(changes, t.Lang().DialChange(g, was, s.Grind))
		back = BackState(e, say.DialFigure, float64(was.X), was.From)
	}
	e.What = s
	coffee, known := r.Coffee(s.Coffee)
	if !known {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	for i := range r.Recent {
		if r.Recent[i].ID == e.ID {
			r.Recent[i] = e
		}
	}
	a := answer.CorrectionOf(t, r, e, coffee, answer.Corrected(r, e, before, s, changes), "")
	if back == "" || len(changes) > 1 {
		back = WasState(e, before)
	}
	if !answer.Alike(before, s) {
		a.Back = chat.Button{Label: t.Lang().Say(say.BackLabel), State: back}
	}
	return a.Give()
}

// Only takes a number without a label for one of a shot's.
func Only(p parse.Correction, f say.Figure) parse.Correction {
	switch f {
	case say.DoseFigure:
		return parse.Correction{Dose: p.Bare}
	case say.YieldFigure:
		return parse.Correction{Yield: p.Bare}
	case say.TimeFigure:
		return parse.Correction{Time: p.Bare}
	case say.DialFigure:
	}
	return parse.Correction{Grind: p.Grind}
}
