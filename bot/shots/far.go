package shots

import (
	"math"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// farOff returns the first number of a new shot that is far from what the bar
// does, is not near what was advised and is not typed for the second time.
func farOff(t *turn.Turn, r *recent.Book, p parse.Shot, c bar.Coffee) (say.FarOff, bool, error) {
	settled := typedAgain(r, p)
	if denied, err := deniedFar(t); denied || err != nil {
		settled = ""
	}
	off, far := resolve.FarOff(r, p, c, settled)
	if !far || off.Figure != say.DialFigure {
		return off, far, nil
	}
	advised, err := nearAdvice(t, r, off, c)
	if advised {
		off, far = resolve.FarOff(r, p, c, settled+","+string(say.DialFigure))
	}
	return off, far, err
}

// nearAdvice reports whether a position is near the one last advised for a coffee.
func nearAdvice(t *turn.Turn, r *recent.Book, off say.FarOff, c bar.Coffee) (bool, error) {
	said, ok, err := t.LastAdvice(c.ID)
	g, _ := r.Grinder(said.Grinder)
	return ok && said.Lever == bar.Grind && said.Unit == advisor.DialUnit && math.Abs(off.X-said.To) <= resolve.NearSteps*g.Step+1e-9, err
}

// typedAgain names the numbers that this person's last message had too, if it waits
// for an answer: who types a number again meant it.
func typedAgain(r *recent.Book, p parse.Shot) string {
	_, before, ok := waiting(r)
	if !ok {
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
		{resolve.MoveFigure(p.Grind.X), parse.Number{X: before.Grind.X, Said: before.Grind.Relative}, parse.Number{X: p.Grind.X, Said: p.Grind.Relative}},
		{say.DialFigure, parse.Number{X: before.Grind.X, Said: before.Grind.Said}, parse.Number{X: p.Grind.X, Said: p.Grind.Said}},
	} {
		if both.then.Said && both.then.X == both.now.X {
			same = append(same, string(both.Figure))
		}
	}
	return strings.Join(same, ",")
}
