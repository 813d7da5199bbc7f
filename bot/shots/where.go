package shots

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/turn"
	"shothand/bot/which"
)

// inUse reports whether a grinder's coffee was pulled not long ago.
func inUse(r *recent.Book, g bar.Grinder) bool {
	_, ok := r.Newest(func(e bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && r.Now.Sub(e.At) <= resolve.TasteWindow })
	return ok
}

// undone takes back what this person told of a dial just before, or says that no advice
// was done.
func undone(t *turn.Turn, r *recent.Book, p parse.Set) ([]turn.Out, error) {
	if e, ok := ownMove(r, t.Who.ID, 0); ok {
		return TakeOut(t, r, e, "")
	}
	said, open, err := openAdvice(t, r)
	if g, ok := r.Settable(parse.Set{}); err == nil && !open && ok {
		if _, moved := r.DialSet(bar.Entry{At: t.Now}, g.ID); moved { // by somebody else
			return Set(t, r, parse.Set{Grinder: g.ID, Grind: parse.Grind{Said: true, Relative: true, Odd: true, Text: t.Msg.Text}})
		}
	}
	if g, ok := r.Settable(parse.Set{}); err == nil && !open && ok {
		at, known := r.StandsNow(g)
		was, before := cameFrom(r, g, at)
		switch {
		case p.Grind.Back && known && before: // "back where it was"
			return Set(t, r, parse.Set{Grinder: g.ID, Grind: parse.Grind{Said: true, X: float64(was), Text: t.Msg.Text}})
		case p.Grind.Back && known && !othersMoved(r, g):
			return Set(t, r, parse.Set{Grinder: g.ID, Grind: parse.Grind{Said: true, Relative: true, Odd: true, Text: t.Msg.Text}})
		}
	}
	if err != nil || !open {
		return nil, err
	}
	e, err := t.Stored(said.Entry)
	if err != nil {
		return nil, err
	}
	return PressDid(t, r, e, false)
}

// othersMoved reports whether another dial was put somewhere since a grinder's last shot.
func othersMoved(r *recent.Book, g bar.Grinder) bool {
	for _, e := range slices.Backward(r.Recent) {
		switch w := e.What.(type) {
		case bar.Shot:
			if w.Grinder == g.ID && !e.Deleted {
				return false
			}
		case bar.Told:
			if w.Event == bar.Moved && w.Grinder != g.ID && !e.Deleted {
				return true
			}
		case bar.Words, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
		}
	}
	return false
}

// onlyTurned returns the shot that somebody has just pulled, and where its dial stood, where
// that was taken to be as advised and they say now how far they turned it: "only went 1
// finer".
func onlyTurned(r *recent.Book, entry bar.Entry, p parse.Set, g bar.Grinder) (e bar.Entry, to parse.Grind, ok bool) {
	e, ok = which.JustPulled(r)
	s, _ := e.What.(bar.Shot)
	if !ok || !p.Instead || !p.Grind.Relative || p.Grind.Odd || s.Grinder != g.ID || s.Grind.From != bar.Advised {
		return e, to, false
	}
	_, since := r.DialSet(entry, g.ID)
	at, known := r.Position(e, g)
	x := float64(g.Turn(at, p.Grind.On(g).X))
	return e, parse.Grind{X: x, Said: true, Text: strconv.FormatFloat(x, 'f', -1, 64)}, known && !since && g.Step > 0
}

// base returns from where a dial was moved: where it stands, or where somebody
// had put it who said that advice was done.
func base(t *turn.Turn, r *recent.Book, entry bar.Entry, g bar.Grinder) (bar.Dial, bool, error) {
	at, known := r.Stands(entry, g)
	last, ok := r.Newest(func(e bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && recent.Earlier(e, entry) })
	if _, moved := r.DialSet(entry, g.ID); moved || !ok {
		return at, known, nil
	}
	said, ok, err := t.AdviceOf(last.ID)
	if err != nil || !ok || !said.Followed || said.Voided || said.Lever != bar.Grind || said.Grinder != g.ID || said.Unit != advisor.DialUnit {
		return at, known, err
	}
	return bar.Dial(said.To), true, nil
}

// stepsOrPlace takes a number behind its direction, "went finer 2", for steps or for where
// the dial stands now: what it can be. If it can be both, it is odd, and asked about.
func stepsOrPlace(r *recent.Book, entry bar.Entry, p parse.Grind, g bar.Grinder) parse.Grind {
	p = alongDial(p, g)
	if p.Behind == 0 || p.Odd || p.Relative {
		return p
	}
	steps := p
	steps.Relative, steps.X = true, p.Behind*p.X
	steps = steps.On(g)
	few := math.Abs(steps.X) <= resolve.FarMove
	if strings.ContainsAny(p.Text, ".,") { // "finer 5.0" would be as far as "finer 5.1"
		few = few && (p.X < 1 || g.Step > 0 && p.X/g.Step <= resolve.FarMove)
	}
	at, known := r.Stands(entry, g)
	known = known && g.Step > 0 && g.Finer != bar.Unknown
	towards := known && (p.X > float64(at)) == (g.Turn(at, p.Behind) > at)
	switch near := towards && stepsBetween(at, p.X, g) <= resolve.FarMove/2; {
	case near && few && math.Abs(float64(g.Turn(at, steps.X))-p.X) > 1e-9:
		steps.Odd, steps.Text = true, entry.Raw
		return steps
	case few && !near:
		return steps
	}
	return p
}

// cameFrom returns where a dial stood before it was put where it stands.
func cameFrom(r *recent.Book, g bar.Grinder, at bar.Dial) (bar.Dial, bool) {
	for _, e := range slices.Backward(slices.Concat(r.Before, r.Recent)) {
		was := bar.Value[bar.Dial]{}
		switch w := e.What.(type) {
		case bar.Shot:
			if w.Grinder == g.ID {
				was = w.Grind
			}
		case bar.Told:
			if w.Grinder == g.ID && w.Event == bar.Moved {
				was = w.Dial
			}
		case bar.Words, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
		}
		if !e.Deleted && was.From != bar.None && was.X != at {
			return was.X, true
		}
	}
	return 0, false
}

// asLast makes steps of "another notch", the way the dial was turned last.
func asLast(r *recent.Book, p parse.Grind, g bar.Grinder) (parse.Grind, bool) {
	at, known := r.StandsNow(g)
	was, ok := cameFrom(r, g, at)
	if !known || !ok || g.Finer == bar.Unknown {
		return p, false
	}
	x := p.X
	if g.Turn(at, 1) > at == (was > at) {
		x = -x
	}
	return parse.Grind{Said: true, Relative: true, X: x, Text: p.Text}, true
}

// alongDial makes steps of a move up or down the numbers of a dial, "down one".
func alongDial(p parse.Grind, g bar.Grinder) parse.Grind {
	if !p.Odd || p.Up == 0 || !(p.X > 0) || g.Finer == bar.Unknown || !(g.Step > 0) || g.Small > 0 || g.Wraps > 0 {
		return p
	}
	way := p.Up
	if g.Finer == bar.Lower {
		way = -way
	}
	steps := p.X
	if p.X < 1 || g.Step > 1 {
		steps /= g.Step
	}
	if math.Abs(steps-math.Round(steps)) > 1e-6 {
		return p
	}
	return parse.Grind{Said: true, Relative: true, X: way * math.Round(steps), Text: p.Text}
}

// stepsBetween returns by how many steps a dial has to be turned from at to x.
func stepsBetween(at bar.Dial, x float64, g bar.Grinder) float64 {
	return math.Abs(x-float64(at)) / g.Step
}
