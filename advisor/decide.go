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
// before it, since which nothing was changed, was one and did not err the same way.
func (s *situation) alone() bool {
	prev, ok := s.previous()
	r := s.coffee.Recipe
	again := tooFast(r, prev.time) && s.fast() || tooSlow(r, prev.time) && s.slow()
	return ok && prev.opened == s.last.opened && s.last.odd > oddShot && !prev.astray() && !again && !s.liked()
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
// whose cup just before was praised, with nothing opened, cleaned or changed since, and its
// clock ran off the way it tastes: then it tells of the shot, not of the setting.
func (s *situation) contradicted() bool {
	prev, ok := s.earlier()
	if !ok || prev.opened != s.last.opened || !s.sameSetting(prev) || !s.praisedCup(prev) {
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

// rounding is by how much two counts of steps may differ and be the same setting.
const rounding = 1e-6
