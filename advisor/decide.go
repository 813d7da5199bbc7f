package advisor

import (
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/why"
)

// What a decision costs, in shots; tried on simulated bars of several makes.
const (
	wrongKeep  = 8.5   // a keep that is wrong
	goOn       = 5.5   // a next shot that is not right: what is still to come
	chokeCost  = 3.0   // a choke, in next shots that are not right
	toMove     = 0.3   // what moving is worth for what it teaches
	fading     = 0.2   // by which share that fades with each shot late in a dial-in
	impatience = 0.08  // and by which a wrong keep costs less
	patience   = 4     // shots after which it is late
	praiseKept = 0.2   // probability by which a move must beat a setting whose cup was just liked
	alike      = 0.02  // probability by which two moves are as good as each other
	alikeFar   = 0.004 // the same before any cup of the coffee was liked
)

// cost is what going on with a move costs, in shots.
func (m move) cost() float64 { return 1 + goOn*(1-m.right+chokeCost*m.choke) }

// decide is the one place where keep, confirm and move come from: what each is
// expected to cost, in shots, by one belief. Guards bound the moves beforehand.
func decide(s *situation) (verdict, bool) {
	v := s.cheapest()
	v.silent = true
	if v.lever == bar.Repeat && s.last.uneven() {
		v.lever = bar.Prep
	}
	switch {
	case v.lever != bar.Repeat:
	case s.secondPays() || s.disputed():
		v.reasons = append(v.reasons, why.SecondPalate)
	case s.last.differ():
		v.reasons = append(v.reasons, why.ThirdPalate)
	case s.contradicted():
		v.reasons = append(v.reasons, why.LoneOutlier)
	}
	if s.last.uneven() && !s.liked() {
		v.reasons = append(v.reasons, why.Uneven)
	}
	v.reasons = append(v.reasons, s.faults()...)
	return v, true
}

// cheapest weighs keeping, pulling one more and every move that the guards leave.
func (s *situation) cheapest() verdict {
	late := float64(max(0, s.shots()-patience))
	top, found := s.choice()
	again, going := s.here.cost(), math.Inf(1)
	if found && (top.right > s.here.right || s.complained()) {
		going = top.cost() - toMove*math.Pow(1-fading, late)
	}
	if s.stuck() {
		again = math.Inf(1)
	}
	if (s.praised() || s.contradicted()) && top.right < s.here.right+praiseKept {
		going = math.Inf(1)
	}
	kept := wrongKeep*math.Pow(1-impatience, late)*(1-s.here.right) + goOn*chokeCost*s.here.choke
	switch {
	case s.keepable() && s.here.right >= likelier && kept <= min(again, going, s.here.cost()):
		if late == 0 && s.scattered() {
			return verdict{move: s.again(bar.Prep), reasons: []why.Reason{why.Scattered}}
		}
		if s.disputed() {
			return verdict{move: s.again(bar.Repeat)}
		}
		v := verdict{move: s.again(bar.Keep), reasons: s.window(why.Keep)}
		if s.last.between() {
			v.reasons = append(v.reasons, why.TastersDiffer)
		}
		return v
	case s.alone():
		return verdict{move: s.again(bar.Prep), reasons: []why.Reason{why.LoneOutlier}}
	case going < again || math.IsInf(again, 1) && !math.IsInf(going, 1):
		return verdict{move: top}
	case s.liked() && s.here.right >= looksRight:
		return verdict{move: s.again(bar.Repeat), reasons: []why.Reason{why.Confirm}}
	case s.praised() && s.timed() && !s.inside():
		return verdict{move: s.again(bar.Repeat), reasons: []why.Reason{why.PraisedOutside}}
	case s.timed() && !s.inside() && !s.far():
		return verdict{move: s.again(bar.Repeat), reasons: []why.Reason{why.InsideTheNoise}}
	}
	return verdict{move: s.again(bar.Repeat)}
}

// Between which probabilities of being right a second palate is worth as much as
// one more shot. Tried on simulated bars, where it spares some; assumed.
const (
	secondFrom = 0.5
	secondTo   = 0.9
)

// secondPays reports whether the last cup was liked by one person, and is neither
// surely right nor unlikely to be.
func (s *situation) secondPays() bool {
	return s.praised() && secondFrom <= s.here.right && s.here.right < secondTo && len(s.last.tasted) == 1
}

// alone reports whether the last shot is no witness of its setting, and the one
// before it was one and did not err the same way.
func (s *situation) alone() bool {
	prev, ok := s.previous()
	r := s.coffee.Recipe
	again := tooFast(r, prev.time) && s.fast() || tooSlow(r, prev.time) && s.slow()
	return ok && s.last.odd > oddShot && !prev.astray() && !again && !s.liked()
}

// likelier is the least probability of being right that a setting is kept at, late
// as it may be.
const likelier = 0.3

// shots returns how many shots this dial-in has taken.
func (s *situation) shots() int {
	n := 0
	for _, p := range s.today {
		if p.dialling {
			n++
		}
	}
	return n
}

// keepable reports whether a setting may be kept on the last cup at all: it was
// tasted, and nothing was held against it but what another taster denies.
func (s *situation) keepable() bool { return s.liked() || s.last.between() }

// window adds, where a setting outside the window is kept on a cup outside it, that
// it is liked there, and that the window is not where this coffee tastes best once two
// cups were.
func (s *situation) window(kept why.Reason) []why.Reason {
	t, r := math.Exp(s.here.time), s.coffee.Recipe
	switch {
	case s.inside(), !tooFast(r, t) && !tooSlow(r, t):
		return []why.Reason{kept}
	case s.likedOutside() >= 2:
		return []why.Reason{why.MoveWindow}
	}
	return []why.Reason{why.PraisedOutside}
}

// likedOutside returns how many cups of today were liked on the side of the window
// where the last is.
func (s *situation) likedOutside() int {
	n := 0
	for _, p := range s.today {
		if p.reading.Tasted && !s.blamed(p) && s.sameSide(p) {
			n++
		}
	}
	return n
}

// sameSide reports whether a shot ran out of the window on the side where the last
// did.
func (s *situation) sameSide(p pull) bool {
	r := s.coffee.Recipe
	return s.fast() && tooFast(r, p.time) || s.slow() && tooSlow(r, p.time)
}

// stuck reports whether the last two shots were pulled alike, nobody liked either
// and the last is off: then one more is no answer.
func (s *situation) stuck() bool {
	prev, ok := s.earlier()
	if !ok || !s.sameSetting(prev) {
		return false
	}
	off := s.complained() || s.timed() && !s.inside()
	return off && prev.reading.Praise <= 0 && s.last.reading.Praise <= 0
}

// likeIt is the log time by which a shot that was pulled as the one before may run
// faster or slower and be like it: some one and a half times the noise. Assumed.
const likeIt = 0.08

// contradicted reports whether the last cup is the first complaint about a setting
// whose cup just before was praised, and its clock ran off the way it tastes: then it
// tells of the shot, not of the setting.
func (s *situation) contradicted() bool {
	prev, ok := s.earlier()
	if !ok || !s.sameSetting(prev) || !s.praisedCup(prev) {
		return false
	}
	way := math.Log(s.last.time / prev.time)
	return s.sour() && way < -likeIt || s.bitter() && way > likeIt
}

// sameSetting reports whether a shot was pulled as the last was.
func (s *situation) sameSetting(p pull) bool {
	return p.grind == s.last.grind && math.Abs(logRatio(p.shot.Yield, s.last.shot.Yield.X)) < sameYield
}

// choice returns the cheapest move that the guards leave: among near equals the
// grind where the clock is off, the ratio where it is not, and the smaller.
func (s *situation) choice() (move, bool) {
	grinds, cups := s.guarded(s.moves[1:]), s.guarded(s.cups)
	if s.coarse() {
		cups = append(cups, s.guarded(s.doses())...)
	}
	first, second := grinds, cups
	switch {
	case s.far() && (len(s.today) == 1 || s.last.odd > oddShot) && len(grinds) > 0: // the clock first
		second = nil
	case s.inside():
		first, second = cups, grinds
	}
	all := slices.Concat(first, second)
	if len(all) == 0 {
		return move{}, false
	}
	return s.best(all), true
}

// coarse reports whether a step of the grinder is about as wide as the window, so
// that only a trim of the dose goes between its steps.
func (s *situation) coarse() bool {
	r := s.coffee.Recipe
	return s.informed && s.filter.Slopes().Mean() >= wideStep*math.Log(float64(r.High/r.Low))
}

// guarded returns the moves that every guard lets pass, and that the crew may
// make where it may make any.
func (s *situation) guarded(moves []move) []move {
	return slices.DeleteFunc(slices.Clone(moves), func(m move) bool {
		for _, guard := range s.guards() {
			if !guard(s, m) {
				return true
			}
		}
		return false
	})
}

// unevenSteps is how far the grind goes at most after a bed that ran unevenly.
const unevenSteps = 2

// A guard reports whether a move may be made at all. Guards bound; they never
// choose.
type guard func(*situation, move) bool

func (s *situation) guards() []guard {
	return []guard{notAgainstTheCup, notFromPraise, notPastTheWindow, betweenRefused}
}

// notAgainstTheCup: sour, in or below the window or with no time known, is never
// answered coarser or shorter; bitter, in or above it, never finer, and never
// longer unless it was strong too; weak is not made longer, nor coarser unless it
// was bitter too; strong not shorter, nor finer unless it was sour too. A bed that
// ran unevenly in or above the window is never answered finer, and never by the
// yield or the dose.
func notAgainstTheCup(s *situation, m move) bool {
	coarser, finer := m.steps < s.here.steps, m.steps > s.here.steps
	longer, shorter := m.yield > s.here.yield, m.yield < s.here.yield
	low, high := !s.timed() || !s.slow(), !s.timed() || !s.fast()
	switch {
	case s.last.uneven():
		away := finer && high || coarser && s.timed() && s.fast()
		return math.Abs(m.steps-s.here.steps) <= unevenSteps && !away && !longer && !shorter && m.dose == s.here.dose
	case s.sour() && low && (coarser || shorter):
		return false
	case s.bitter() && (high && finer || longer && !s.strong()):
		return false
	case s.weak() && (longer || coarser && !s.bitter()), s.strong() && (shorter || finer && !s.sour()):
		return false
	case !s.complained() && s.timed() && (s.fast() && coarser || s.slow() && finer):
		return false // nobody asked for it
	}
	return true
}

// notFromPraise: a praised cup in the window is never moved, nor one that nobody holds
// anything against the first time, nor are two praised in a row that were pulled
// alike; and praise outside the window never moves further away.
func notFromPraise(s *situation, m move) bool {
	prev, ok := s.earlier()
	again := ok && s.sameSetting(prev)
	switch {
	case s.praised() && (s.inside() || again && s.praisedCup(prev)):
		return false
	case s.praised():
		return s.timed() && (s.fast() && m.time >= s.here.time || s.slow() && m.time <= s.here.time)
	}
	return !s.liked() || !s.inside() || again && prev.reading.Tasted
}

// notPastTheWindow: no move is expected to end more than three seconds outside the
// window, further out than here, unless two cups that agree have said so.
func notPastTheWindow(s *situation, m move) bool {
	r := s.coffee.Recipe
	t := math.Exp(m.time)
	out := t < float64(r.Low)-pastWindow && m.time < s.here.time || t > float64(r.High)+pastWindow && m.time > s.here.time
	if !out {
		return true
	}
	under, over := s.agreed()
	return under && m.time > s.here.time || over && m.time < s.here.time
}

// agreed reports whether the last two tasted cups of today were both said to want
// more time in the bed, being under-extracted or weak, or both less.
func (s *situation) agreed() (under, over bool) {
	n, u, o := 0, 0, 0
	for _, p := range slices.Backward(s.today) {
		if !p.reading.Tasted || p.uneven() {
			continue
		}
		switch {
		case s.under(p), p.reading.Weak && !s.over(p):
			u++
		case s.over(p), s.heavy(p):
			o++
		}
		if n++; n == 2 {
			break
		}
	}
	return u == 2, o == 2
}

// rounding is by how much two counts of steps may differ and be the same setting.
const rounding = 1e-6

// betweenRefused: between a setting refused as sour and a finer one refused as
// bitter, or at which the bed ran unevenly a second time, the grind stays between
// them, and goes back to neither, until something happens.
func betweenRefused(s *situation, m move) bool {
	if m.steps == s.here.steps {
		return true
	}
	sour, bitter, finest := math.Inf(-1), math.Inf(1), math.Inf(1)
	for _, p := range s.pulls[min(s.opened, len(s.pulls)):] {
		if p.uneven() && p.Day == s.last.Day {
			if p.grind >= finest { // the second one so fine
				bitter = min(bitter, p.grind)
			}
			finest = min(finest, p.grind)
			continue
		}
		if p.Day != s.last.Day || !p.reading.Tasted || math.Abs(logRatio(p.shot.Yield, s.here.yield)) >= sameYield {
			continue
		}
		switch {
		case s.under(p):
			sour = max(sour, p.grind)
		case s.over(p):
			bitter = min(bitter, p.grind)
		}
	}
	if sour >= bitter || math.IsInf(sour, 0) || math.IsInf(bitter, 0) {
		return true
	}
	return sour+rounding < m.steps && m.steps < bitter-rounding
}
