package advisor

import (
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/advisor/why"
)

// A rule looks at the situation and speaks, or leaves it to the next.
type rule struct {
	reason why.Reason
	ask    func(*situation) (verdict, bool)
}

// A verdict is what a rule wants done. A move with a lever that has no setting
// is told without numbers.
type verdict struct {
	move
	reasons []why.Reason // besides the rule's own name
	then    bar.Seconds  // what is expected there, where the filter lags behind; 0 elsewhere
	silent  bool         // the rule's own name is no reason to give
}

// rules returns the rules in the order in which they are asked; the first that
// speaks is followed. They see to what has to come before any choice; what they
// leave open is decided by one belief and one loss.
func rules() []rule {
	return []rule{
		{why.Cleaner, cleaner},
		{why.Stale, stale},
		{why.Practice, practice},
		{why.Choked, chokedShot},
		{why.HopperLow, hopperLow},
		{why.DoseOff, doseOff},
		{why.Unplaced, unplaced},
		{why.Unmoved, unmoved},
		{why.YieldOff, yieldOff},
		{why.Unpurged, unpurged},
		{why.Uneven, uneven},
		{why.Untasted, untasted},
		{why.TastersDiffer, tastersDiffer},
		{why.HalfBelieved, halfBelieved},
		{why.Temperature, temperature},
		{why.LostInMilk, lostInMilk},
		{why.OutOfReach, outOfReach},
		{why.Decide, decide},
	}
}

func cleaner(s *situation) (verdict, bool) {
	return verdict{move: move{lever: bar.NoLever}}, slices.Contains(s.last.reading.Faults, taste.Cleaner)
}

// stale: no lever makes old coffee fresh. The time is put right first all the
// same.
func stale(s *situation) (verdict, bool) {
	has := slices.Contains(s.last.reading.Faults, taste.Stale)
	return verdict{move: move{lever: bar.NoLever}}, has && (s.inside() || !s.timed())
}

// hopperLow: a grinder feeds itself unevenly when there is little in it. It is
// filled before anything is changed.
func hopperLow(s *situation) (verdict, bool) {
	return verdict{move: s.again(bar.Repeat)}, s.low && !s.praised()
}

func practice(s *situation) (verdict, bool) {
	return verdict{move: s.again(bar.Repeat)}, s.last.shot.Marks.Has(bar.Practice)
}

func doseOff(s *situation) (verdict, bool) {
	off := s.last.shot.Dose.X - s.coffee.Recipe.Dose
	if s.last.shot.Dose.From != bar.Said || math.Abs(float64(off)) <= doseSlack || s.praised() {
		return verdict{}, false
	}
	m := s.again(bar.Dose)
	m.dose = s.coffee.Recipe.Dose
	return verdict{move: m}, true
}

// unplaced: the grinder was moved to where nobody can tell, away from where it
// had been; first that has to be said.
func unplaced(s *situation) (verdict, bool) {
	return verdict{move: s.again(bar.Repeat)}, s.adrift() && s.placed
}

// untasted asks for the taste of a shot whose time is right or not known, or whose
// setting may well be right whatever the window says. Where nobody tasted the shot
// before either, the window is all there is to go by.
func untasted(s *situation) (verdict, bool) {
	if s.last.reading.Tasted || s.last.shot.Marks.Has(bar.Sink) || s.last.uneven() {
		return verdict{}, false
	}
	prev, ok := s.earlier()
	tasting := !ok || prev.reading.Tasted
	v := verdict{move: s.again(bar.Repeat)}
	if ok && !prev.reading.Tasted && s.inside() && !tooFast(s.coffee.Recipe, prev.time) && !tooSlow(s.coffee.Recipe, prev.time) {
		v.reasons = []why.Reason{why.StillUntasted} // it was asked for
	}
	may := tasting && s.state() == Dialling && s.last.odd <= oddShot && s.here.right >= worthTasting
	return v, may || s.inside() || !s.timed()
}

// yieldOff: a cup that was not stopped where it was meant to be, and whose clock
// is not far off for all that. First that is put right.
func yieldOff(s *situation) (verdict, bool) {
	shot := s.last.shot
	off := logRatio(shot.Yield, s.here.yield)
	if shot.Yield.From != bar.Said || math.Abs(off) < longCup || s.praised() || shot.Marks.Has(bar.Stopped) || s.far() {
		return verdict{}, false
	}
	m := s.here
	m.lever = bar.Yield
	return verdict{move: m}, true
}

// lostInMilk: less in the cup, or more in the basket.
func lostInMilk(s *situation) (verdict, bool) {
	lost := func(w bar.Word) bool { return w.Term == "lost in milk" && !w.Not }
	if !slices.ContainsFunc(s.last.words, lost) {
		return verdict{}, false
	}
	top := s.shorter()
	for _, m := range s.doses() {
		if top.lever != bar.Yield && m.dose > s.here.dose && (top.lever == bar.Repeat || m.cost() < top.cost()) {
			top = m
		}
	}
	return verdict{move: top}, s.inside()
}

// chokedShot goes coarser, boldly: to where the time is believed to be right,
// and at the least by what takes off a third of it, but not to what is believed to
// be too fast. A setting that has just poured well is not blamed the first time.
func chokedShot(s *situation) (verdict, bool) {
	if !choked(s.last.shot, s.coffee.Recipe) {
		return verdict{}, false
	}
	if prev, ok := s.earlier(); ok && prev.grind == s.last.grind && s.poured(prev) {
		return verdict{move: s.again(bar.Prep)}, true
	}
	bold := math.Ceil(-math.Log(2.0/3) / s.filter.Slopes().Mean())
	coarser := slices.DeleteFunc(slices.Clone(s.moves), func(m move) bool { return m.steps >= s.here.steps })
	if len(coarser) == 0 {
		return verdict{move: move{lever: bar.NoLever}, reasons: []why.Reason{why.OutOfReach}}, true
	}
	top := coarser[0]
	for _, m := range coarser { // nearest first
		if top = m; m.steps <= s.here.steps-bold && m.time <= middle(s.coffee.Recipe) || m.time <= math.Log(float64(s.coffee.Recipe.Low)) {
			break
		}
	}
	return verdict{move: top}, true
}

// uneven: sour and bitter at once, or a spurting bed, is no place to change a
// setting from. Twice in a row it is left to the belief.
func uneven(s *situation) (verdict, bool) {
	prev, ok := s.earlier()
	again := ok && prev.grind == s.last.grind && prev.astray()
	return verdict{move: s.again(bar.Prep)}, s.last.uneven() && !again
}

// outOfReach: the end of the dial, and still not right.
func outOfReach(s *situation) (verdict, bool) {
	top := s.best(s.moves)
	if top.right >= unreachable || len(s.today) < 2 {
		return verdict{}, false
	}
	end := !s.onDial(top.steps+1) || !s.onDial(top.steps-1)
	return verdict{move: move{lever: bar.NoLever}}, end && top.lever != bar.Grind
}

// temperature is the last lever: tasters hardly tell 80 from 93 °C (Klotz 2020),
// extraction hardly moves (Schmieder 2023). It is tried where three cups in a
// row have erred, the grind and the yield have been moved and nothing else is
// likely to help; a degree at a time, and never above 96 °C.
func temperature(s *situation) (verdict, bool) {
	water, way := s.last.shot.Water, s.errs()
	if !(water > 0) || way == 0 || len(s.today) < 5 || s.best(slices.Concat(s.moves, s.cups)).right >= unreachable {
		return verdict{}, false
	}
	if !s.tried() {
		return verdict{}, false
	}
	m := s.again(bar.Temperature)
	m.water = min(water-bar.Celsius(way), hottest)
	return verdict{move: m}, m.water != water && (water <= hottest || way > 0)
}
