package parse

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/bar"
)

// A scale is how a grinder's people read its dial.
type scale struct {
	step    float64 // in big steps
	small   int     // small steps of a big one, 0 where they are not counted
	letters bool
	turn    float64 // big steps of a turn, 0 where the dial goes round once
	plus    bool
}

func scaleOf(g bar.Grinder) scale {
	s := scale{step: g.Step, small: g.Small, letters: g.Letters, turn: g.Wraps, plus: g.Plus}
	if n := math.Round(1 / g.Step); s.small == 0 && s.turn > 0 && n > 1 && n <= 100 {
		s.small = int(n)
	}
	return s
}

// Odd reports whether positions of g are written in another way than as a
// plain number.
func Odd(g bar.Grinder) bool { return g.Small > 0 || g.Wraps > 0 || g.Plus }

// On returns a move as it is on a dial: "0.2 finer" is of its numbers where that is a
// number of its steps.
func (p Grind) On(g bar.Grinder) Grind {
	steps := math.Abs(p.X) / g.Step
	tenths := p.X*2 != math.Trunc(p.X*2) // "a tenth finer"; "half a number" may be of steps
	typed := (tenths || strings.ContainsAny(p.Text, ".,")) && !slices.ContainsFunc(strings.Fields(strings.ToLower(p.Text)), func(word string) bool { return slices.Contains(stepWords(), word) })
	if p.Relative && !p.Odd && g.Step > 0 && typed && p.X != math.Trunc(p.X) {
		p.X = math.Copysign(math.Round(steps*1e6)/1e6, p.X)
	}
	return p
}

// Place returns where a position stands that was written as the people of g
// write theirs: "5.2", "2.3" as two big steps and three small ones, "3G",
// "2.3.5" as turns, big and small steps, "5+" as half a step more, and the
// middle of "5-6". On a dial that goes round more than once a position without
// its turn is the one nearest to the last. It is false for what g does not
// have.
func Place(text string, g bar.Grinder, last bar.Value[bar.Dial]) (bar.Dial, bool) {
	s := scaleOf(g)
	low := strings.TrimSpace(strings.TrimPrefix(fold(text), "between "))
	for _, middle := range []string{" and ", "-"} {
		if a, b, ok := strings.Cut(low, middle); ok && a != "" {
			x, ok1 := s.place(strings.TrimSpace(a), last)
			y, ok2 := s.place(strings.TrimSpace(b), last)
			return round6((x + y) / 2), ok1 && ok2
		}
	}
	x, ok := s.place(low, last)
	return round6(x), ok
}

func round6(x float64) bar.Dial { return bar.Dial(math.Round(x*1e6) / 1e6) }

// place reads one position.
func (s scale) place(text string, last bar.Value[bar.Dial]) (float64, bool) {
	half := 0.0
	if rest, ok := strings.CutSuffix(text, "+"); ok {
		if text, half = strings.TrimSpace(rest), s.step/2; !(half > 0) {
			return 0, false
		}
	}
	letter := 0.0
	if n := len(text); s.letters && n > 1 && 'a' <= text[n-1] && text[n-1] <= 'z' {
		at := int(text[n-1] - 'a')
		if at >= s.small {
			return 0, false
		}
		text, letter = strings.TrimSpace(text[:n-1]), float64(at)/float64(s.small)
	}
	x, ok := s.numbers(strings.ReplaceAll(text, ",", "."), letter > 0 || s.letters, last)
	return x + letter + half, ok
}

// numbers reads the numbers of a position, from turns to small steps. Whole
// says that the small steps are not among them.
func (s scale) numbers(text string, whole bool, last bar.Value[bar.Dial]) (float64, bool) {
	if s.small == 0 && s.turn == 0 {
		x, err := strconv.ParseFloat(text, 64)
		return x, err == nil && !math.IsNaN(x) && math.Abs(x) <= mostDial
	}
	var parts []float64
	for p := range strings.SplitSeq(text, ".") {
		n, err := strconv.ParseUint(p, 10, 16)
		if err != nil || n > mostDial {
			return 0, false
		}
		parts = append(parts, float64(n))
	}
	small := s.small > 0 && !whole
	switch {
	case s.turn > 0 && small && len(parts) == 3:
		return s.sum(parts[0], parts[1], parts[2])
	case s.turn > 0 && !small && len(parts) == 2:
		return s.sum(parts[0], parts[1], 0)
	case small && len(parts) == 2:
		if parts[1] >= float64(s.small) {
			return 0, false
		}
		return s.turned(parts[0]+parts[1]/float64(s.small), last), true
	case len(parts) == 1:
		return s.turned(parts[0], last), true
	}
	return 0, false
}

// sum returns where turns, big and small steps lead.
func (s scale) sum(turns, big, small float64) (float64, bool) {
	if big >= s.turn || s.small > 0 && small >= float64(s.small) {
		return 0, false
	}
	return turns*s.turn + big + small/float64(max(s.small, 1)), true
}

// turned returns x in the turn that brings it nearest to the last position,
// where x does not count its turns itself.
func (s scale) turned(x float64, last bar.Value[bar.Dial]) float64 {
	if !(s.turn > 0) || x >= s.turn || last.From == bar.None {
		return x
	}
	return x + s.turn*max(0, math.Round((float64(last.X)-x)/s.turn))
}

// Write prints a position as the people of g write theirs.
func Write(g bar.Grinder, d bar.Dial) string {
	s := scaleOf(g)
	x, plus := float64(d), ""
	parts := s.turn > 0 || s.small > 0
	if !(s.step > 0) || x < 0 || !parts && !s.plus {
		return short(x)
	}
	n := x / s.step
	if whole := math.Floor(n + 1e-4); n-whole > 0.25 && n-whole < 0.75 {
		x, plus = whole*s.step, "+"
	} else if parts {
		x = math.Round(n) * s.step
	}
	return s.write(x+1e-9) + plus
}

// write prints a position that is a whole number of steps.
func (s scale) write(x float64) string {
	turns := ""
	if s.turn > 0 {
		n := math.Floor(x / s.turn)
		turns = strconv.Itoa(int(n)) + "."
		x -= n * s.turn
	}
	if s.small == 0 {
		return turns + short(x)
	}
	big := math.Floor(x)
	small := min(int(math.Round((x-big)*float64(s.small))), s.small-1)
	if s.letters {
		return turns + strconv.Itoa(int(big)) + string(rune('A'+small))
	}
	return turns + strconv.Itoa(int(big)) + "." + strconv.Itoa(small)
}

// short prints x without trailing zeros, to two decimals.
func short(x float64) string {
	return strconv.FormatFloat(math.Round(x*100)/100+0, 'f', -1, 64)
}

// StepOf guesses the step of a dial from one number read off it.
func StepOf(x float64) float64 {
	for _, step := range []float64{1, 0.1, 0.01} {
		if n := x / step; math.Abs(n-math.Round(n)) < 1e-6 {
			return step
		}
	}
	return 0.01
}
