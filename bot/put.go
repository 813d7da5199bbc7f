package bot

import (
	"math"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
)

// A figure is one of the numbers of a shot that can be put right.
type figure string

const (
	doseFigure  figure = "dose"
	yieldFigure figure = "yield"
	timeFigure  figure = "time"
	dialFigure  figure = "dial"
)

// How far from what was noted a number without unit or label still passes for
// the same one put right, as a logarithm; and for a dial, in steps. Assumed.
const (
	nearDose  = 0.2
	nearYield = 0.3
	nearTime  = 0.4
	nearSteps = 20
)

// readings returns which of a shot's numbers x may be: those it is near, else
// all that it can be.
func readings(s bar.Shot, g bar.Grinder, x float64, mass bool) (list []figure, sure bool) {
	var near, can []figure
	add := func(f figure, close, possible bool) {
		if close {
			near = append(near, f)
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
		close := s.Grind.From == bar.None || math.Abs(float64(s.Grind.X)-x) <= nearSteps*step+1e-9
		add(dialFigure, close, true)
		add(timeFigure, s.Time.From != bar.None && off(float64(s.Time.X)) < nearTime, parse.Fits(parse.Number{}, parse.Number{}, n, s.Marks) == nil)
	}
	add(yieldFigure, off(float64(s.Yield.X)) < nearYield, parse.Fits(parse.Number{}, n, parse.Number{}, s.Marks) == nil)
	add(doseFigure, off(float64(s.Dose.X)) < nearDose, parse.Fits(n, parse.Number{}, parse.Number{}, s.Marks) == nil)
	if len(near) > 0 {
		return near, len(near) == 1
	}
	return can, false
}

// figures puts those numbers of a shot right that p names, and returns what was
// changed, with the state that takes it back where it is one number.
func figures(e bar.Entry, s *bar.Shot, p parse.Correction) (changes []string, back string) {
	if p.Dose.Said {
		back = backState(e, doseFigure, float64(s.Dose.X), s.Dose.From)
		changes = append(changes, figureText(doseFigure, float64(s.Dose.X), s.Dose.From, p.Dose.X))
		s.Dose = bar.Value[bar.Grams]{X: bar.Grams(p.Dose.X), From: bar.Said, Rough: p.Dose.Rough}
	}
	if p.Yield.Said {
		back = backState(e, yieldFigure, float64(s.Yield.X), s.Yield.From)
		changes = append(changes, figureText(yieldFigure, float64(s.Yield.X), s.Yield.From, p.Yield.X))
		s.Yield = bar.Value[bar.Grams]{X: bar.Grams(p.Yield.X), From: bar.Said, Rough: p.Yield.Rough}
	}
	if p.Time.Said {
		back = backState(e, timeFigure, float64(s.Time.X), s.Time.From)
		changes = append(changes, figureText(timeFigure, float64(s.Time.X), s.Time.From, p.Time.X))
		s.Time = bar.Value[bar.Seconds]{X: bar.Seconds(p.Time.X), From: bar.Said, Rough: p.Time.Rough}
	}
	return changes, back
}

// backState is the state of a button that puts a number back to x; empty where
// there was none to go back to.
func backState(e bar.Entry, f figure, x float64, from bar.Provenance) string {
	if from == bar.None {
		return ""
	}
	return putState(e.ID, f, x, from)
}

// putState is the state of a button that puts a number of a shot to x.
func putState(id bar.EntryID, f figure, x float64, from bar.Provenance) string {
	return pressState(pressPut, id, string(f)+"="+strconv.FormatFloat(x, 'g', -1, 64)+"/"+strconv.Itoa(int(from)))
}

// askFigure asks which of a shot's numbers x is.
func (t *turn) askFigure(e bar.Entry, list []figure, x float64) []Out {
	post := t.post(chat.Question, figureQuestion(list, x))
	for _, f := range list {
		post.Buttons = append(post.Buttons, chat.Button{Label: string(f), State: putState(e.ID, f, x, bar.Said)})
	}
	return []Out{{Post: post}}
}

// pressPut puts a number of a shot right, or back, by a tap.
func (t *turn) pressPut(r *room, e bar.Entry, arg string) ([]Out, error) {
	s, ok := e.What.(bar.Shot)
	name, rest, _ := strings.Cut(arg, "=")
	text, from, _ := strings.Cut(rest, "/")
	x, err := strconv.ParseFloat(text, 64)
	source, err2 := strconv.Atoi(from)
	if !ok || err != nil || err2 != nil || math.IsNaN(x) || source < int(bar.Said) || source > int(bar.Assumed) {
		return nil, mistake(oldButtonText)
	}
	n := parse.Number{X: x, Said: true}
	p := parse.Correction{}
	switch figure(name) {
	case doseFigure:
		p.Dose = n
	case yieldFigure:
		p.Yield = n
	case timeFigure:
		p.Time = n
	case dialFigure:
		p.Grind = parse.Grind{X: x, Said: true, Text: text}
	default:
		return nil, mistake(oldButtonText)
	}
	return t.putRight(r, e, s, p, bar.Provenance(source))
}

// putRight changes what p names of a shot, and nothing else.
func (t *turn) putRight(r *room, e bar.Entry, s bar.Shot, p parse.Correction, from bar.Provenance) ([]Out, error) {
	if err := parse.Fits(p.Dose, p.Yield, p.Time, s.Marks); err != nil {
		return nil, err
	}
	if err := parse.Check(parse.Shot{Grind: p.Grind}); err != nil {
		return nil, err
	}
	changes, back := figures(e, &s, p)
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
		g, err := t.learnDial(r, s.Grinder, p.Grind, e.At)
		if err != nil {
			return nil, err
		}
		was := s.Grind
		s.Grind = bar.Value[bar.Dial]{X: bar.Dial(p.Grind.X), From: from}
		s.Turned, s.Marks = 0, s.Marks&^bar.Unplaced
		changes = append(changes, dialText(g, was, s.Grind))
		back = backState(e, dialFigure, float64(was.X), was.From)
	}
	e.What = s
	coffee, known := r.coffee(s.Coffee)
	if !known {
		return nil, mistake(oldButtonText)
	}
	for i := range r.recent {
		if r.recent[i].ID == e.ID {
			r.recent[i] = e
		}
	}
	a := t.mending(r, e, coffee, correctedFromText(changes), "")
	if back != "" {
		a.back = chat.Button{Label: backLabel, State: back}
	}
	return a.give()
}

// only takes a number without a label for one of a shot's.
func only(p parse.Correction, f figure) parse.Correction {
	switch f {
	case doseFigure:
		return parse.Correction{Dose: p.Bare}
	case yieldFigure:
		return parse.Correction{Yield: p.Bare}
	case timeFigure:
		return parse.Correction{Time: p.Bare}
	case dialFigure:
	}
	return parse.Correction{Grind: p.Grind}
}
