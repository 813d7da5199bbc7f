package simbar

import "math"

// habit is what a good barista does: the taste leads, and the time only sizes
// the move by what a step was worth so far.
type habit struct {
	table  Table
	asked  int
	carry  sums // of runs before on this grinder
	sums   sums
	uneven int // shots in a row that were
	silent int // shots in a row of which nothing was said
}

// sums are of squares and products of steps and log times about their means.
type sums struct{ xx, xy float64 }

// Habit returns a good barista's habit: praise is kept; sour and bitter move the
// grind by 14 % of time by the slope it has learnt, double if strongly said;
// thin and strong move the yield by 2 g, or 4; an uneven shot is pulled again,
// the second time 12 % coarser; silence is kept on the third shot. A choke is
// answered with a move back to the window's middle.
func Habit() Player { return &habit{} }

// Start implements Player.
func (h *habit) Start(t Table) {
	carry := sums{}
	if t.SameGrinder {
		carry = sums{h.carry.xx + h.sums.xx, h.carry.xy + h.sums.xy}
	}
	*h = habit{table: t, carry: carry}
}

// Next implements Player.
func (h *habit) Next(shots []Shot) Move {
	last := shots[len(shots)-1]
	if len(last.Tastings) == 0 && !last.Choked && h.asked != last.Number {
		h.asked = last.Number
		return Move{Ask: true, Setting: same(last)}
	}
	h.learn(shots)
	said := hear(last)
	both := said.sour > 0 && said.bitter > 0
	h.uneven = count(h.uneven, (said.uneven || both) && !said.praise)
	h.silent = count(h.silent, said == heard{} && !last.Choked)
	switch {
	case last.Choked:
		return h.turn(last, math.Log(h.table.Recipe.Middle()/seconds(last)))
	case said.praise:
		return Move{Keep: true, Setting: same(last)}
	case h.uneven >= 2:
		h.uneven = 0
		return h.turn(last, -0.12)
	case h.uneven > 0:
		return Move{Setting: same(last)}
	case said.sour > 0:
		return h.turn(last, 0.14*doubled(said.sour))
	case said.bitter > 0:
		return h.turn(last, -0.14*doubled(said.bitter))
	case said.thin > 0:
		return pour(last, -2*doubled(said.thin))
	case said.strong > 0:
		return pour(last, 2*doubled(said.strong))
	}
	return Move{Keep: h.silent >= 3, Setting: same(last)}
}

// count returns n+1, or 0 if it does not go on.
func count(n int, goesOn bool) int {
	if goesOn {
		return n + 1
	}
	return 0
}

// doubled returns 2 for what was strongly said, else 1.
func doubled(degree float64) float64 {
	if degree >= 2 {
		return 2
	}
	return 1
}

// turn moves the grind by so much log time, at least a step.
func (h *habit) turn(last Shot, log float64) Move {
	steps := math.Copysign(max(1, math.Round(math.Abs(log)/h.slope())), log)
	return h.table.turn(last, steps)
}

// slope returns the log time a step is worth: what the shots say, with one step
// squared of a first guess of 3 s, held within 0.3 and 10 s at 28 s.
func (h *habit) slope() float64 {
	const guess = 3.0 / 28
	b := (h.carry.xy + h.sums.xy + guess) / (h.carry.xx + h.sums.xx + 1)
	return min(max(b, 0.3/28), 10.0/28)
}

// learn takes the sums of this run's shots, their time judged at one yield.
func (h *habit) learn(shots []Shot) {
	var n, mx, my float64
	h.sums = sums{}
	for _, s := range shots {
		if s.Choked || !(s.Time > 0 && s.Yield > 0) {
			continue
		}
		x := h.table.Dial.Steps(h.table.Start.Grind, s.Set.Grind)
		y := math.Log(s.Time / s.Yield)
		n++
		dx := x - mx
		mx += dx / n
		my += (y - my) / n
		h.sums.xx += dx * (x - mx)
		h.sums.xy += dx * (y - my)
	}
}
