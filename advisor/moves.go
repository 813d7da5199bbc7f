package advisor

import (
	"cmp"
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/flow"
	"shothand/advisor/why"
)

// How moves are bounded.
const (
	chokeRisk    = 0.02 // the most a move may risk of a choke, where the setting just used risks less
	softEdge     = 0.10 // log time by which a soft window is wider than it says
	tooFar       = 0.7  // log time past the window's middle at which no better grind can follow
	farthest     = 60   // steps a single move can go
	pastWindow   = 3.0  // s outside the window that no move is expected to end, unless cups that agree say so
	overshoot    = 1.33 // by which a first move may pass the other side of the window if steps are steep
	steepSteps   = 0.90 // as this share of them are at the most
	yieldStep    = 0.05 // of the yield, to whole grams: nobody stops a cup to less
	yieldReach   = 0.11 // log yield a single advice may go
	trimmed      = 0.25 // g off the recipe from which a dose is meant so: scales scatter by 0.1
	doseTrim     = 0.2  // g
	beyondTrim   = 0.5  // g, where the grind cannot go on
	doseTrims    = 2    // steps of the dose a trim may go
	wideStep     = 0.6  // of the window's width, from which a grinder's step is too coarse to go by
	sameYield    = 0.06 // log yield by which two cups may differ and be of one setting
	expectLevel  = 0.8  // of the interval that people are told
	ratioLow     = 1.0  // yield : dose, the shortest advised
	ratioHigh    = 3.5  // and the longest
	unreachable  = 0.2  // less than this at the end of the dial: it cannot be done here
	looksRight   = 0.75 // one more is to confirm it
	outsideAlarm = 0.80 // probability of being out at which a dialled-in coffee is moved
)

// A move is a setting the next shot could be pulled at.
type move struct {
	lever  bar.Lever
	steps  float64 // grind, on the grinder
	yield  bar.Grams
	dose   bar.Grams
	water  bar.Celsius // of Temperature only
	inTime float64     // probability that its steady time is in the window
	choke  float64     // probability that it is above 60 s
	right  float64     // probability that a cup of it is
	time   float64     // log s expected there, at the recipe's dose and yield
}

// middle returns the logarithm of the middle of a recipe's window.
func middle(r bar.Recipe) float64 { return (math.Log(float64(r.Low)) + math.Log(float64(r.High))) / 2 }

// inWindow returns the probability that a steady time is in r's window, or
// not far outside it where nobody has typed the window.
func inWindow(s flow.Steady, grind float64, r bar.Recipe) float64 {
	low, high := math.Log(float64(r.Low)), math.Log(float64(r.High))
	if r.Soft {
		low, high = low-softEdge, high+softEdge
	}
	return s.Below(grind, high) - s.Below(grind, low)
}

// weigh returns the move to that grind, yield and dose, weighed. Time is judged
// at the recipe's yield, and at the dose that is meant.
func (r *replay) weigh(lever bar.Lever, steps float64, yield, dose bar.Grams) move {
	grind, recipe, steady := steps-r.ref, r.coffee.Recipe, r.steady
	if dose != recipe.Dose {
		steady = r.filter.Steady(math.Log(float64(dose/recipe.Dose)), 0)
	}
	m := move{lever: lever, steps: steps, yield: yield, dose: dose, time: steady.Mean(grind)}
	m.inTime = inWindow(steady, grind, recipe)
	m.choke = 1 - steady.Below(grind, math.Log(chokeTime))
	m.right = r.right(m)
	return m
}

// here returns the setting just used.
func (r *replay) here() move { return r.weigh(bar.Keep, r.set(), r.yieldUsed(), r.doseUsed()) }

// set returns where the grinder stands, in steps.
func (r *replay) set() float64 {
	for _, p := range slices.Backward(r.pulls) {
		if p.shot.Grinder == r.grinder.ID {
			return p.grind
		}
	}
	return r.ref
}

// yieldUsed returns the yield people are aiming at: the recipe's, unless the
// cups of today have been of another.
func (r *replay) yieldUsed() bar.Grams {
	recipe := r.coffee.Recipe.Yield
	meant, back := recipe, 0 // back: shots in a row nearer to the recipe's than to what is meant
	for i := range r.pulls {
		p := &r.pulls[i]
		if i > 0 && p.Day != r.pulls[i-1].Day && !r.called.At.IsZero() {
			continue // a night changes no recipe
		}
		yield := p.shot.Yield
		asked := p.shot.Meant
		likelier := math.Abs(float64(yield.X-asked)) <= math.Abs(float64(yield.X-meant))+halfGram
		if asked > 0 && math.Abs(logOf(yield.X, asked)) < CloseYield && likelier {
			meant, back = asked, 0
			continue
		}
		if yield.From != bar.Said || choked(p.shot, r.coffee.Recipe) || p.shot.Marks.Has(bar.Stopped) {
			continue
		}
		off, home := math.Abs(logOf(yield.X, meant)), math.Abs(logOf(yield.X, recipe))
		again := i > 0 && math.Abs(logRatio(r.pulls[i-1].shot.Yield, yield.X)) < sameYield
		if back++; home >= min(off, CloseYield) {
			back = 0
		}
		switch {
		case back > 1, back > 0 && off > CloseYield:
			meant = recipe
		case home >= CloseYield && off > CloseYield && (off < longCup || again):
			meant = bar.Grams(math.Round(float64(yield.X)))
		}
	}
	return meant
}

// CloseYield is the log yield, or as well the share of it, that a hand on the scale
// misses by. Assumed.
const CloseYield = 0.045

// halfGram is by how much a yield may be nearer to what was meant before, in g, and
// still be of what was advised: most advice is done.
const halfGram = 0.5

// doseUsed returns the dose people are aiming at: the recipe's, unless the last
// shot was trimmed on purpose.
func (r *replay) doseUsed() bar.Grams {
	recipe := r.coffee.Recipe.Dose
	if len(r.pulls) == 0 {
		return recipe
	}
	last := r.pulls[len(r.pulls)-1].shot.Dose
	if off := math.Abs(float64(last.X - recipe)); last.From != bar.Said || last.Rough || off < trimmed || off > doseSlack {
		return recipe
	}
	return bar.Grams(math.Round(float64(last.X)*10) / 10)
}

// trim returns what the dose does where the grind cannot go on: more coffee slows
// a shot down.
func (s *situation) trim(reasons []why.Reason) Trim {
	because := func(r why.Reason) bool { return slices.Contains(reasons, r) }
	way := 0
	switch {
	case because(why.Fast), !because(why.Slow) && because(why.UnderExtracted):
		way = 1
	case because(why.Slow), because(why.OverExtracted), because(why.Choked):
		way = -1
	}
	dose := s.coffee.Recipe.Dose + bar.Grams(float64(way)*beyondTrim)
	if way == 0 || !s.coffee.Basket.Holds(dose) {
		dose = 0
	}
	return Trim{way, dose}
}

// doses weighs trims of the dose within the basket, at the present grind.
func (r *replay) doses() []move {
	recipe := r.coffee.Recipe.Dose
	var moves []move
	for n := -doseTrims; n <= doseTrims; n++ {
		if to := recipe + bar.Grams(float64(n)*doseTrim); to != r.doseUsed() && r.coffee.Basket.Holds(to) {
			moves = append(moves, r.weigh(bar.Dose, r.set(), r.yieldUsed(), to))
		}
	}
	return moves
}

// choked reports whether next to nothing came out of s.
func choked(s bar.Shot, r bar.Recipe) bool {
	return s.Marks.Has(bar.Choked) ||
		s.Yield.From == bar.Said && s.Time.From == bar.Said && s.Yield.X < 0.35*r.Yield && s.Time.X >= 20 && !s.Marks.Has(bar.Stopped)
}

// grinds weighs every grind worth weighing: here first, then coarser and finer,
// each nearest first.
func (r *replay) grinds() []move {
	here := r.here()
	moves := []move{here}
	for _, way := range [2]float64{-1, 1} {
		bound := r.bound(here, way)
		for n := 1.0; n <= farthest && r.onDial(here.steps+way*n); n++ {
			m := r.weigh(bar.Grind, here.steps+way*n, here.yield, here.dose)
			if way > 0 && m.choke > max(chokeRisk, here.choke) || n > bound {
				break // and further still would risk more
			}
			moves = append(moves, m)
			if past := way * (m.time - middle(r.coffee.Recipe)); past > tooFar && m.inTime < 1e-3 {
				break // further away still
			}
		}
	}
	return moves
}

// bound returns how many steps finer (way 1) or coarser (way -1) a move may go. On a
// grinder that has shown nothing yet of what a step is worth, that is what lands
// not far past the other side of the window if its steps are as steep as nine in
// ten, and would still pour if they were as steep as steps come.
func (r *replay) bound(here move, way float64) float64 {
	if r.informed {
		return farthest
	}
	low, high := math.Log(float64(r.coffee.Recipe.Low)/overshoot), math.Log(float64(r.coffee.Recipe.High)*overshoot)
	steep := r.filter.Slopes().Quantile(steepSteps)
	room := (here.time - low) / steep
	if way > 0 {
		room = min((high-here.time)/steep, (math.Log(chokeTime)-here.time)/flow.Steepest)
	}
	return max(1, math.Floor(room))
}

// yields weighs a shorter and a longer cup at the present grind.
func (r *replay) yields() []move {
	at, used := r.set(), r.yieldUsed()
	dose := r.coffee.Recipe.Dose
	step := max(1, math.Round(yieldStep*float64(used)))
	var moves []move
	for by := step; math.Log1p(by/float64(used)) <= yieldReach; by += step {
		for _, to := range [2]bar.Grams{used - bar.Grams(by), used + bar.Grams(by)} {
			if ratioLow*dose <= to && to <= ratioHigh*dose {
				moves = append(moves, r.weigh(bar.Yield, at, to, r.doseUsed()))
			}
		}
	}
	return moves
}

// best returns the move that costs least, among those that are so near to each
// other in the probability of being right the smallest. Moves stand nearest first.
func (r *replay) best(moves []move) move {
	top, near := moves[0], r.near()
	for _, m := range moves[1:] {
		if m.cost() < top.cost()-goOn*near {
			top = m
		}
	}
	return top
}

// near returns by which probability two moves are as good as each other: less
// before any cup was liked, where small steps towards a taste that is far away cost
// a shot each.
func (r *replay) near() float64 {
	for i := range r.pulls {
		if r.pulls[i].reading.Praise > 0 {
			return alike
		}
	}
	return alikeFar
}

// candidates returns moves as runners-up, best first, without the chosen one.
func (r *replay) candidates(moves []move, chosen Advice) []Candidate {
	slices.SortStableFunc(moves, func(a, b move) int { return cmp.Compare(a.cost(), b.cost()) })
	var list []Candidate
	for _, m := range moves {
		c := r.candidate(m)
		stays := m.lever == bar.Keep && (chosen.Lever == bar.Keep || chosen.Lever == bar.Repeat || chosen.Lever == bar.Prep)
		if stays || c.Lever == chosen.Lever && c.To == chosen.To {
			continue
		}
		if list = append(list, c); len(list) == 3 {
			break
		}
	}
	return list
}

// candidate returns m as it is told.
func (r *replay) candidate(m move) Candidate {
	c := Candidate{Lever: m.lever, Right: m.right, Time: bar.Seconds(math.Exp(m.time))}
	c.From, c.To, c.Unit = r.fromTo(m)
	return c
}

// expect returns what the next shot at m should show. A purge is what the
// advice asks for when the grind moves.
func (r *replay) expect(m move, dose, yield bar.Grams) Expect {
	kept := flow.AllKept()
	if m.steps != r.set() {
		kept = flow.PurgedBy(purgeOf(r.grinder), float64(dose))
	}
	effective, _ := r.oldGrounds.Grind(m.steps, kept)
	for i := range effective {
		effective[i] -= r.ref
	}
	mix := r.filter.Next(flow.Shot{
		Grind:   effective,
		LogDose: math.Log(float64(dose / r.coffee.Recipe.Dose)),
		LogOut:  math.Log(float64(yield / r.coffee.Recipe.Yield)),
	})
	at := func(p float64) bar.Seconds { return bar.Seconds(math.Exp(mix.Quantile(p))) }
	return Expect{Time: at(0.5), Low: at((1 - expectLevel) / 2), High: at((1 + expectLevel) / 2), Level: expectLevel}
}
