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

// Sizes at which rules speak. Common practice, no source, unless said.
const (
	doseSlack   = 0.7 // g a dose may be off before it is put right first
	strongly    = 0.7 // taste steps at which a reading counts as said
	plainPraise = 0.5
	oddShot     = 0.5   // probability of being no witness
	evenEnough  = 0.5   // probability of an even bed
	scatter     = 0.11  // sd of log time at one setting: twice the published 6 %
	hottest     = 96    // °C, the most that is ever advised
	longCup     = 0.145 // log yield off what is meant from which a cup was not stopped where it was meant to be
)

// A situation is what the rules look at.
type situation struct {
	*replay
	last  pull
	today []pull // of this coffee, oldest first, the last among them
	here  move
	moves []move // grinds, here first
	cups  []move // shorter and longer ones, at the present grind
}

func (s *situation) fast() bool { return tooFast(s.coffee.Recipe, s.last.time) }
func (s *situation) slow() bool { return tooSlow(s.coffee.Recipe, s.last.time) }

// tooFast and tooSlow report whether a time in s is short of the window or over it, by
// a clock of whole seconds. One that is not known is neither.
func tooFast(r bar.Recipe, seconds float64) bool { return seconds < float64(r.Low)-0.5 }
func tooSlow(r bar.Recipe, seconds float64) bool { return seconds > float64(r.High)+0.5 }

// timed reports whether the last shot has a time to go by.
func (s *situation) timed() bool { return !math.IsNaN(s.last.time) }

// sour, bitter, weak and strong report what the last cup was said to be.
func (s *situation) sour() bool   { return s.under(s.last) }
func (s *situation) bitter() bool { return s.over(s.last) }
func (s *situation) weak() bool   { return s.last.reading.Weak }
func (s *situation) strong() bool { return s.heavy(s.last) }

// under reports whether a cup was said to be under-extracted.
func (r *replay) under(p pull) bool { return underSaid(r.coffee.Aim, p.reading) }

// underSaid is the same of a reading: what is meant bright is not so as soon.
func underSaid(aim bar.Aim, r taste.Reading) bool {
	return r.Under && (aim != bar.Bright || erredFrom(aim, r).Extraction < -strongly)
}

// over reports whether a cup was said to be over-extracted.
func (r *replay) over(p pull) bool { return p.reading.Over }

// heavy reports whether a cup was said to be strong.
func (r *replay) heavy(p pull) bool { return heavySaid(r.coffee.Aim, p.reading) }

// heavySaid is the same of a reading: what is meant rich is not so as soon.
func heavySaid(aim bar.Aim, r taste.Reading) bool {
	return r.Strong && (aim != bar.Rich || erredFrom(aim, r).Strength > strongly)
}

// complained reports whether anything was held against the last cup.
func (s *situation) complained() bool { return s.blamed(s.last) }

// blamed reports whether anything was held against a cup.
func (r *replay) blamed(p pull) bool { return Blamed(r.coffee.Aim, p.shot, p.reading) || p.uneven() }

// Blamed reports whether anything is held against a cup of a coffee that is meant
// so, by what was said of it: what is advised upon is wrong wherever it is counted.
func Blamed(aim bar.Aim, s bar.Shot, r taste.Reading) bool {
	return underSaid(aim, r) || r.Over || r.Weak || heavySaid(aim, r) || r.Praise < 0 || s.Marks.Has(bar.Spurted) || r.Even < evenEnough
}

// erredFrom returns how far a cup was said to be from what it is meant to be.
func erredFrom(aim bar.Aim, read taste.Reading) taste.Place {
	to := targetOf(aim)
	return taste.Place{Extraction: read.Extraction - to.Extraction, Strength: read.Strength - to.Strength}
}

// praised reports that the cup was liked and nothing was held against it.
func (s *situation) praised() bool { return s.praisedCup(s.last) }

// praisedCup reports the same of any cup.
func (r *replay) praisedCup(p pull) bool { return p.reading.Praise >= plainPraise && !r.blamed(p) }

// previous returns the shot of this coffee before the last.
func (s *situation) previous() (pull, bool) {
	if len(s.pulls) < 2 {
		return pull{}, false
	}
	return s.pulls[len(s.pulls)-2], true
}

// earlier returns the same, if it was of the same day.
func (s *situation) earlier() (pull, bool) {
	prev, ok := s.previous()
	return prev, ok && prev.Day == s.last.Day
}

// again returns the move that changes nothing, under another lever.
func (s *situation) again(lever bar.Lever) move {
	m := s.here
	m.lever = lever
	return m
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

// faults returns the reasons that are the bag's, not the lever's.
func (s *situation) faults() []why.Reason {
	var list []why.Reason
	for _, f := range s.last.reading.Faults {
		switch f {
		case taste.Cleaner: // told by its own rule
		case taste.Stale:
			list = append(list, why.Stale)
		case taste.Roast:
			if !s.roasty(&s.last) {
				list = append(list, why.Roast)
			}
		case taste.Raw:
			list = append(list, why.Raw)
		}
	}
	return list
}

// hopperLow: a grinder feeds itself unevenly when there is little in it. It is
// filled before anything is changed.
func hopperLow(s *situation) (verdict, bool) {
	return verdict{move: s.again(bar.Repeat)}, s.low && !s.praised()
}

// unpurged: a grind that was changed and not purged is not yet judged.
func unpurged(s *situation) (verdict, bool) {
	prev, ok := s.previous()
	v := verdict{move: s.again(bar.Repeat)}
	return v, ok && prev.grind != s.last.grind && s.last.shot.Marks.Has(bar.NotPurged) && !s.praised()
}

// roasty reports that the fault of a cup is only the taste of a dark roast, which
// is told of as dark: ash is over-extraction there.
func (r *replay) roasty(p *pull) bool {
	other := func(f taste.Fault) bool { return f != taste.Roast }
	word := func(w bar.Word) bool { return w.Term == "rubbery" || w.Term == "baked" }
	return r.coffee.Roast != bar.Light && !slices.ContainsFunc(p.reading.Faults, other) && !slices.ContainsFunc(p.words, word)
}

func practice(s *situation) (verdict, bool) {
	return verdict{move: s.again(bar.Repeat)}, s.last.shot.Marks.Has(bar.Practice)
}

// inside reports whether the last shot's time is in the window.
func (s *situation) inside() bool { return s.timed() && !s.fast() && !s.slow() }

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

// poured reports whether a shot poured at its own pace, and was not too slow.
func (s *situation) poured(p pull) bool {
	r := s.coffee.Recipe
	return !choked(p.shot, r) && !math.IsNaN(p.time) && !tooSlow(r, p.time) && !p.astray()
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

// uneven: sour and bitter at once, or a spurting bed, is no place to change a
// setting from. Twice in a row it is left to the belief.
func uneven(s *situation) (verdict, bool) {
	prev, ok := s.earlier()
	again := ok && prev.grind == s.last.grind && prev.astray()
	return verdict{move: s.again(bar.Prep)}, s.last.uneven() && !again
}

// uneven reports whether a shot's bed ran unevenly, as far as is seen or tasted.
// Sour and bitter from one mouth is uneven, whatever else was said.
func (p pull) uneven() bool {
	torn := func(t tasted) bool { return t.reading.Under && t.reading.Over }
	return p.shot.Marks.Has(bar.Spurted) || p.reading.Even < evenEnough || slices.ContainsFunc(p.tasted, torn)
}

// astray reports whether a shot says little of its setting: its bed ran unevenly,
// or it was probably no witness.
func (p pull) astray() bool { return p.uneven() || p.odd > oddShot }

// scattered reports that one person's last three shots at one setting lie far
// apart: the hand is not steady enough to keep anything by.
func (s *situation) scattered() bool {
	var logs []float64
	for _, p := range s.pulls[min(s.opened, len(s.pulls)):] {
		if p.Day == s.last.Day && p.Person == s.last.Person && p.grind == s.last.grind && !math.IsNaN(p.time) && p.steady(s.coffee.Recipe) {
			logs = append(logs, math.Log(p.time))
		}
	}
	n := len(logs)
	return n >= 3 && sd(logs[n-3:]) > scatter
}

// steady reports whether nothing is known of a shot that alone explains a time
// of its own.
func (p pull) steady(r bar.Recipe) bool {
	off := p.shot.Dose.From == bar.Said && math.Abs(float64(p.shot.Dose.X-r.Dose)) > doseSlack
	return !off && !p.idle && !p.mixed && !p.uneven() && p.shot.Marks&(bar.Practice|bar.First|bar.Spurted) == 0
}

// sd returns the standard deviation of a sample.
func sd(x []float64) float64 {
	var mean, sum float64
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		sum += sq(v - mean)
	}
	return math.Sqrt(sum / float64(len(x)-1))
}

// halfBelieved: a first shot off a cold machine, or one with old grounds of
// another coffee in it, changes nothing by how it tastes.
func halfBelieved(s *situation) (verdict, bool) {
	half := s.last.shot.Marks.Has(bar.First) || s.last.mixed
	return verdict{move: s.again(bar.Repeat)}, half && s.last.reading.Tasted && !s.praised() && !s.fast() && !s.slow()
}

// worthTasting is the probability of being right from which an untasted shot is
// tasted before its time moves it. Assumed; tried on simulated bars.
const worthTasting = 0.4

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

// far reports whether the last time, at the recipe's dose and yield, is further
// off the window than single shots differ: then the grind comes first.
func (s *situation) far() bool {
	r := s.coffee.Recipe
	return s.timed() && (s.last.time < float64(r.Low)*0.9 || s.last.time > float64(r.High)*1.1)
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

// shorter returns the best of the shorter cups.
func (s *situation) shorter() move {
	top := s.again(bar.Repeat)
	for _, m := range s.cups {
		if m.yield < s.here.yield && (top.lever == bar.Repeat || m.cost() < top.cost()) {
			top = m
		}
	}
	return top
}

// liked reports that the last cup was tasted and nothing was held against it.
func (s *situation) liked() bool { return s.last.reading.Tasted && !s.complained() }

// errs returns which way the last three tasted cups all err where the clock does
// not explain it: -1 under-extracted, +1 over, 0 neither.
func (s *situation) errs() float64 {
	way, n := 0.0, 0
	for _, p := range slices.Backward(s.today) {
		r := s.coffee.Recipe
		switch {
		case !p.reading.Tasted || math.IsNaN(p.time):
			continue
		case s.under(p) && !tooFast(r, p.time) && way <= 0:
			way = -1
		case s.over(p) && !tooSlow(r, p.time) && way >= 0:
			way = 1
		default:
			return 0
		}
		if n++; n == 3 {
			return way
		}
	}
	return 0
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

// tried reports whether the grind and the yield have both been moved today.
func (s *situation) tried() bool {
	grind, yield := false, false
	for _, p := range s.today {
		grind = grind || p.grind != s.last.grind
		yield = yield || math.Abs(logRatio(p.shot.Yield, s.last.shot.Yield.X)) > 0.05
	}
	return grind && yield
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
