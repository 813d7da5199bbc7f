package advisor

import (
	"cmp"
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/flow"
	"shothand/advisor/taste"
)

// How moves are weighed.
const (
	chokeCost    = 3.0  // a choke costs as much as three right shots are worth
	chokeRisk    = 0.02 // the most a move may risk of one, where the setting just used risks less
	stay         = 0.05 // a move must be better than staying by this share of itself
	softEdge     = 0.10 // log time by which a soft window is wider than it says
	tooFar       = 0.5  // log time past the window's middle at which no better grind can follow
	farthest     = 60   // steps a single move can go
	yieldStep    = 2.0  // g
	yieldReach   = 3    // yield steps a single advice may go
	heedClock    = 0.4  // how much a word on the cup says of whether the time is right too, as a power of its odds
	trimmed      = 0.25 // g off the recipe from which a dose is meant so: scales scatter by 0.1
	doseTrim     = 0.2  // g
	doseTrims    = 3    // steps of the dose a trim may go
	agreed       = 0.6  // probability of being in time at which a cup that was liked in the window needs no more of the clock
	sameYield    = 0.06 // log yield by which two cups may differ and be of one setting
	expectLevel  = 0.8  // of the interval that people are told
	ratioLow     = 1.0  // yield : dose, the shortest advised
	ratioHigh    = 3.5  // and the longest
	unreachable  = 0.2  // less than this at the end of the dial: it cannot be done here
	confident    = 0.90 // keep
	looksRight   = 0.80 // pull one to confirm
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
	right  float64
	taste  float64 // probability that the taste is right, whatever the time; of the setting just used only
	time   float64 // log s expected there, at the recipe's dose and yield
}

// score is what a move is worth.
func (m move) score() float64 { return m.right - chokeCost*m.choke }

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

// proven returns the probability that the setting just used is right, and that
// its taste is, whatever the clock says. Cups that were liked there say that the
// time is right, too.
func (r *replay) proven(m move) (right, taste float64) {
	odds, heard := 0.0, map[uint64]int{}
	for i := range r.pulls {
		p := &r.pulls[i]
		if p.grind != m.steps || math.Abs(logRatio(p.shot.Yield, m.yield)) > sameYield || p.shot.Grinder != r.grinder.ID {
			continue
		}
		for _, t := range p.tasted {
			odds += witnessOdds(t.reading) / float64(1+heard[t.taster])
			heard[t.taster]++
		}
	}
	m.inTime = moved(m.inTime, heedClock*odds)
	free := m
	free.inTime = 1
	return r.right(m), r.right(free)
}

// moved returns the probability p after evidence that moves its log odds.
func moved(p, odds float64) float64 {
	return 1 / (1 + (1-p)/max(p, 1e-9)*math.Exp(-odds))
}

// witnessOdds returns by how much a reading moves the log odds that its cup is
// right: against what the standard normal prior of a reading says of any cup.
func witnessOdds(r taste.Reading) float64 {
	in := func(mean, sd float64) float64 { return phi((1-mean)/sd) - phi((-1-mean)/sd) }
	p, prior := in(r.Extraction, r.ExtractionSD)*in(r.Strength, r.StrengthSD), sq(in(0, 1))
	return math.Log(p/(1-p)) - math.Log(prior/(1-prior))
}

// here returns the setting just used.
func (r *replay) here() move {
	m := r.weigh(bar.Keep, r.set(), r.yieldUsed(), r.doseUsed())
	m.right, m.taste = r.proven(m)
	if m.inTime >= agreed && r.agrees() {
		m.right = m.taste
	}
	return m
}

// agrees reports whether the last cup ran inside the window and was liked, as
// one before it where the grinder stands was, since anything happened to it:
// time and taste say the same of the setting.
func (r *replay) agrees() bool {
	n := len(r.pulls) - 1
	p, w := r.pulls[n], r.coffee.Recipe
	again := slices.ContainsFunc(r.pulls[min(r.opened, n):n], func(q pull) bool {
		return q.grind == p.grind && q.reading.Tasted && faultless(q.reading)
	})
	return again && !math.IsNaN(p.time) && !tooFast(w, p.time) && !tooSlow(w, p.time) &&
		p.reading.Praise >= plainPraise && faultless(p.reading)
}

// faultless reports whether a cup was said to be neither under nor over, weak
// nor strong.
func faultless(r taste.Reading) bool {
	return max(math.Abs(r.Extraction), math.Abs(r.Strength)) < strongly
}

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
// last shot was pulled to another on purpose.
func (r *replay) yieldUsed() bar.Grams {
	recipe := r.coffee.Recipe.Yield
	if len(r.pulls) == 0 {
		return recipe
	}
	last := r.pulls[len(r.pulls)-1].shot
	if choked(last, r.coffee.Recipe) || last.Yield.From != bar.Said || math.Abs(logRatio(last.Yield, recipe)) < 0.045 {
		return recipe
	}
	return bar.Grams(math.Round(float64(last.Yield.X)*2) / 2)
}

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
		for n := 1.0; n <= farthest && r.onDial(here.steps+way*n); n++ {
			m := r.weigh(bar.Grind, here.steps+way*n, here.yield, here.dose)
			if way > 0 && (m.choke > max(chokeRisk, here.choke) || n > r.bound(here)) {
				break // and finer still would risk more
			}
			moves = append(moves, m)
			if past := way * (m.time - middle(r.coffee.Recipe)); past > tooFar && m.inTime < 1e-3 {
				break // further away still
			}
		}
	}
	return moves
}

// bound returns how many steps finer a move may go. On a grinder that has shown
// nothing yet of what a step is worth, that is what would still pour if its
// steps were as steep as steps come.
func (r *replay) bound(here move) float64 {
	if r.informed {
		return farthest
	}
	return max(1, math.Floor((math.Log(chokeTime)-here.time)/flow.Steepest))
}

// onDial reports whether the grinder can be set to steps, in its own count. A
// dial whose ends nobody has told is not turned below 0 from above it.
func (r *replay) onDial(steps float64) bool {
	g, to := r.grinder, r.grinder.At(steps-r.shift)
	numbered := r.placed && g.Step > 0 && !(g.Max > g.Min)
	return g.Holds(to) && !(numbered && to < -1e-9 && g.At(r.set()-r.shift) >= 0)
}

// yields weighs a shorter and a longer cup at the present grind.
func (r *replay) yields() []move {
	at, used := r.set(), r.yieldUsed()
	dose := r.coffee.Recipe.Dose
	var moves []move
	for n := -yieldReach; n <= yieldReach; n++ {
		to := used + bar.Grams(float64(n)*yieldStep)
		if n != 0 && ratioLow*dose <= to && to <= ratioHigh*dose {
			moves = append(moves, r.weigh(bar.Yield, at, to, r.doseUsed()))
		}
	}
	return moves
}

// best returns the move with the highest score. A move wins over staying, the
// first of moves, only if it is better by more than a little: relatively, since
// early on every probability is small.
func best(moves []move) move {
	top := moves[0]
	for _, m := range moves[1:] {
		if m.score() > top.score() {
			top = m
		}
	}
	if here := moves[0]; here.right >= (1-stay)*top.right && here.choke <= chokeRisk {
		return here
	}
	return top
}

// candidates returns moves as runners-up, best first, without the chosen one.
func (r *replay) candidates(moves []move, chosen Advice) []Candidate {
	slices.SortStableFunc(moves, func(a, b move) int { return cmp.Compare(b.score(), a.score()) })
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

// fromTo returns what m changes, in the unit people read it in.
func (r *replay) fromTo(m move) (from, to float64, unit Unit) {
	switch {
	case m.lever == bar.Dose:
		return float64(r.doseUsed()), float64(m.dose), GramUnit
	case m.lever == bar.Yield:
		return float64(r.yieldUsed()), float64(m.yield), GramUnit
	case r.placed && r.grinder.Step > 0 && r.grinder.Finer != bar.Unknown && !r.adrift():
		return r.reading(r.set()), r.reading(m.steps), DialUnit
	default:
		return 0, math.Round((m.steps-r.set())*100) / 100, StepUnit
	}
}

// adrift reports whether nobody knows where the dial stands since the last shot.
func (r *replay) adrift() bool {
	return len(r.pulls) > 0 && r.pulls[len(r.pulls)-1].shot.Marks.Has(bar.Unplaced)
}

// reading returns what the dial shows at steps, rid of the noise of arithmetic.
func (r *replay) reading(steps float64) float64 {
	return math.Round(float64(r.grinder.At(steps-r.shift))*1e6)/1e6 + 0
}

// expect returns what the next shot at m should show. A purge is what the
// advice asks for when the grind moves.
func (r *replay) expect(m move, dose, yield bar.Grams) Expect {
	kept := flow.AllKept()
	if m.steps != r.set() {
		kept = flow.PurgedBy(purgeOf(r.grinder), float64(dose))
	}
	effective, _ := r.chute.Grind(m.steps, kept)
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
