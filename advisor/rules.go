package advisor

import (
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// A rule looks at the situation and speaks, or leaves it to the next.
type rule struct {
	name     string
	evidence Evidence
	ask      func(*situation) (verdict, bool)
}

// A verdict is what a rule wants done. A move with a lever that has no setting
// is told without numbers.
type verdict struct {
	move
	reasons []Reason    // besides the rule's own name
	then    bar.Seconds // what is expected there, where the filter lags behind; 0 elsewhere
	silent  bool        // the rule's own name is no reason to give
}

// rules returns the rules in the order in which they are asked; the first that
// speaks is followed. They bound the model: what they leave open it decides.
func rules() []rule {
	return []rule{
		{"cleaner", CommonPractice, cleaner},
		{"fault", CommonPractice, fault},
		{"practice", CommonPractice, practice},
		{"choked", CommonPractice, chokedShot},
		{"dose-off", CommonPractice, doseOff},
		{"unplaced", CommonPractice, unplaced},
		{"keep", OwnShots, keep},
		{"move-window", OwnShots, moveWindow},
		{"praised-outside", Published, praisedOutside},
		{"far-off", OwnShots, farOff},
		{"lone-outlier", OwnShots, loneOutlier},
		{"uneven", CommonPractice, uneven},
		{"scattered", OwnShots, scattered},
		{"tasters-differ", CommonPractice, tastersDiffer},
		{"temperature", CommonPractice, temperature},
		{"taste-leads", OwnShots, tasteLeads},
		{"past-the-peak", Published, pastThePeak},
		{"half-believed", CommonPractice, halfBelieved},
		{"slow-and-sour", Published, slowAndSour},
		{"fast-and-bitter", Published, fastAndBitter},
		{"untasted", CommonPractice, untasted},
		{"yield-off", OwnShots, yieldOff},
		{"lost-in-milk", CommonPractice, lostInMilk},
		{"sour-and-strong", Published, sourAndStrong},
		{"bitter-and-weak", Published, bitterAndWeak},
		{"bitter-and-strong", Published, bitterAndStrong},
		{"confirm", OwnShots, confirm},
		{"ratio-first", Published, ratioFirst},
		{"hunting", OwnShots, hunting},
		{"coarse-steps", OwnShots, coarseSteps},
		{"out-of-reach", OwnShots, outOfReach},
		{"best-move", OwnShots, bestMove},
	}
}

// Sizes at which rules speak. Common practice, no source, unless said.
const (
	doseSlack   = 0.7  // g a dose may be off before it is put right first
	farFast     = 0.75 // of the window's low end
	farSlow     = 1.35 // of its high end
	strongly    = 0.7  // taste steps at which a reading counts as said
	unboundSure = 0.8  // probability that the window is wrong at which it binds no more
	windowSure  = 0.75 // probability that the taste is right at which a window is proposed to move
	complaint   = 0.85 // taste steps at which a reading is held against a cup
	plainPraise = 0.5
	oddShot     = 0.5  // probability of being no witness
	unevenAgain = 0.10 // log time by which a bed that is uneven twice is ground coarser
	evenEnough  = 0.5  // probability of an even bed
	scatter     = 0.11 // sd of log time at one setting: twice the published 6 %
	farBetter   = 0.25 // probability by which a move must beat a setting whose cup was liked
	hottest     = 96   // °C, the most that is ever advised
	longCup     = 0.15 // log yield off the recipe
	significant = 0.16 // log time two single shots must differ by: 2.77 × 6 %
)

// A situation is what the rules look at.
type situation struct {
	*replay
	last  pull
	today []pull // of this coffee, oldest first, the last among them
	here  move
	moves []move // grinds, here first
}

func (s *situation) fast() bool { return tooFast(s.coffee.Recipe, s.last.time) }
func (s *situation) slow() bool { return tooSlow(s.coffee.Recipe, s.last.time) }

// tooFast and tooSlow report whether a time in s is short of the window or over it, by
// a clock of whole seconds. One that is not known is neither.
func tooFast(r bar.Recipe, seconds float64) bool { return seconds < float64(r.Low)-0.5 }
func tooSlow(r bar.Recipe, seconds float64) bool { return seconds > float64(r.High)+0.5 }

// timed reports whether the last shot has a time to go by.
func (s *situation) timed() bool { return !math.IsNaN(s.last.time) }

// unbound reports whether this bar's own cups have shown that the window is not
// where the coffee tastes best: then the clock binds no move.
func (s *situation) unbound() bool { return s.aim.Far() > unboundSure && s.overruled() }

// sour, bitter, weak and strong report what the last cup was said to be.
// A coffee that is meant bright is not sour as soon, one meant rich not strong.
func (s *situation) sour() bool   { return s.erring().Extraction < -strongly }
func (s *situation) bitter() bool { return s.erring().Extraction > strongly }
func (s *situation) weak() bool   { return s.erring().Strength < -strongly }
func (s *situation) strong() bool { return s.erring().Strength > strongly }

// erring returns how far the last cup was said to be from what it is meant to be.
func (s *situation) erring() taste.Place {
	r, to := s.last.reading, targetOf(s.coffee.Aim)
	return taste.Place{Extraction: r.Extraction - to.Extraction, Strength: r.Strength - to.Strength}
}

// praised reports that the cup was liked and nothing was held against it.
func (s *situation) praised() bool {
	return s.last.reading.Praise >= plainPraise && !s.sour() && !s.bitter() && !s.weak() && !s.strong()
}

// previous returns the shot of this coffee before the last.
func (s *situation) previous() (pull, bool) {
	if len(s.pulls) < 2 {
		return pull{}, false
	}
	return s.pulls[len(s.pulls)-2], true
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

func fault(s *situation) (verdict, bool) {
	if len(s.last.reading.Faults) == 0 || s.roasty(&s.last) {
		return verdict{}, false
	}
	v := verdict{move: move{lever: bar.NoLever}, silent: true}
	for _, f := range s.last.reading.Faults {
		switch f {
		case taste.Cleaner: // told by its own rule
		case taste.Stale:
			v.reasons = append(v.reasons, Reason{"stale", CommonPractice})
		case taste.Roast:
			v.reasons = append(v.reasons, Reason{"roast", CommonPractice})
		case taste.Raw:
			v.reasons = append(v.reasons, Reason{"raw", CommonPractice})
		}
	}
	return v, true
}

// roasty reports that the fault of a cup is only the taste of a dark roast, which
// is told of as dark: ash is over-extraction there.
func (r *replay) roasty(p *pull) bool {
	other := func(f taste.Fault) bool { return f != taste.Roast }
	word := func(w bar.Word) bool { return w.Term == "rubbery" || w.Term == "baked" }
	return r.coffee.Roast == bar.Dark && !slices.ContainsFunc(p.reading.Faults, other) && !slices.ContainsFunc(p.words, word)
}

func practice(s *situation) (verdict, bool) {
	return verdict{move: s.again(bar.Repeat)}, s.last.shot.Marks.Has(bar.Practice)
}

// inside reports whether the last shot's time is in the window.
func (s *situation) inside() bool { return s.timed() && !s.fast() && !s.slow() }

// allowed returns the moves of the grind that the last shot does not speak
// against: a slow one is not ground finer, nor a fast one coarser; and inside
// the window a sour one is not ground coarser, nor a bitter one finer.
func (s *situation) allowed() []move {
	if s.unbound() {
		return s.moves
	}
	noFiner := s.timed() && s.slow() || s.inside() && s.bitter() || s.streams() >= 2
	noCoarser := s.timed() && s.fast() || s.inside() && s.sour()
	return slices.DeleteFunc(slices.Clone(s.moves), func(m move) bool {
		return noFiner && m.steps > s.here.steps || noCoarser && m.steps < s.here.steps
	})
}

// cups returns the moves of the yield that the last cup does not speak against:
// a weak one is not made longer, nor a bitter one unless it was strong, too; a
// strong or a sour one is not made shorter.
func (s *situation) cups() []move {
	noLonger, noShorter := s.weak() || s.bitter() && !s.strong(), s.strong() || s.sour()
	return slices.DeleteFunc(s.yields(), func(m move) bool {
		return noLonger && m.yield > s.here.yield || noShorter && m.yield < s.here.yield
	})
}

// chokedShot goes coarser, boldly: to where the time is believed to be right,
// and at the least by what takes off a third of it.
func chokedShot(s *situation) (verdict, bool) {
	if !choked(s.last.shot, s.coffee.Recipe) {
		return verdict{}, false
	}
	bold := math.Ceil(-math.Log(2.0/3) / s.filter.Slopes().Mean())
	coarser := slices.DeleteFunc(slices.Clone(s.moves), func(m move) bool { return m.steps >= s.here.steps })
	if len(coarser) == 0 {
		return verdict{move: move{lever: bar.NoLever}, reasons: []Reason{{"out-of-reach", OwnShots}}}, true
	}
	for _, m := range coarser { // nearest first
		if m.steps <= s.here.steps-bold && m.time <= middle(s.coffee.Recipe) {
			return verdict{move: m}, true
		}
	}
	return verdict{move: coarser[len(coarser)-1]}, true
}

// streams returns how often the bed has run unevenly at this setting today: where
// it has twice it will again, and finer all the more.
func (s *situation) streams() int {
	n := 0
	for _, p := range s.today {
		if p.grind == s.last.grind && p.lever() == bar.Prep {
			n++
		}
	}
	return n
}

// coarser returns the best of the moves that go coarser, or here if there is
// none.
func (s *situation) coarser() move {
	return s.bestOf(func(m move) bool { return m.steps < s.here.steps })
}

// finer returns the best of the moves that go finer, or here if there is none.
func (s *situation) finer() move {
	return s.bestOf(func(m move) bool { return m.steps > s.here.steps })
}

func (s *situation) bestOf(ok func(move) bool) move {
	top, found := s.here, false
	for _, m := range s.moves {
		if ok(m) && (!found || m.score() > top.score()) {
			top, found = m, true
		}
	}
	return top
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

// praisedOutside: taste beats the clock. The published plateau of liking is
// broad: 21 to 42 s in one study (Smrke 2024).
func praisedOutside(s *situation) (verdict, bool) {
	return verdict{move: s.again(bar.Repeat)}, s.praised() && s.timed() && (s.fast() || s.slow())
}

// moveWindow: cups that were liked again and again outside the window say that
// it is the window that is wrong. The setting is kept, and moving the window is
// proposed.
func moveWindow(s *situation) (verdict, bool) {
	outside := 0
	for _, p := range s.today {
		r := s.coffee.Recipe
		if (tooFast(r, p.time) || tooSlow(r, p.time)) && p.grind == s.last.grind && p.reading.Praise > 0 {
			outside++
		}
	}
	return verdict{move: s.again(bar.Keep)}, s.streams() == 0 && outside >= 2 && s.liked() && s.last.reading.Praise > 0 && s.here.taste >= windowSure
}

// farOff moves the grind on the time alone: the taste of such a shot says
// nothing about the recipe.
func farOff(s *situation) (verdict, bool) {
	if !s.timed() || s.alone() || s.unbound() || s.likedBefore() {
		return verdict{}, false
	}
	r := s.coffee.Recipe
	far := s.last.time < farFast*float64(r.Low) || s.last.time > farSlow*float64(r.High)
	top, found := s.here, false
	for _, m := range s.allowed()[1:] {
		if !found || m.inTime-chokeCost*m.choke > top.inTime-chokeCost*top.choke {
			top, found = m, true
		}
	}
	return verdict{move: top}, far && found
}

// likedBefore reports whether a cup at this setting has been praised today, and
// the last was not held against.
func (s *situation) likedBefore() bool {
	if s.last.reading.Tasted && !s.liked() {
		return false
	}
	for _, p := range s.today {
		if p.grind == s.last.grind && p.reading.Praise >= plainPraise {
			return true
		}
	}
	return false
}

// loneOutlier: one shot far from what a proven setting gives is a bad puck.
func loneOutlier(s *situation) (verdict, bool) {
	return verdict{move: s.again(bar.Prep)}, s.alone()
}

// alone reports whether the last shot is more likely a bad puck than a witness,
// where what was known before says that the setting is right or errs the other
// way.
func (s *situation) alone() bool {
	if !(s.last.odd > oddShot) || s.followed() {
		return false
	}
	top := best(s.moves)
	return s.last.sure >= looksRight || s.slow() && top.steps > s.here.steps || s.fast() && top.steps < s.here.steps
}

// followed reports whether the shot before missed the window on the same side
// and much the same: two are not alone.
func (s *situation) followed() bool {
	prev, ok := s.previous()
	if !ok || prev.Day != s.last.Day || prev.grind != s.last.grind || !(math.Abs(math.Log(s.last.time/prev.time)) < significant) {
		return false
	}
	r := s.coffee.Recipe
	return s.fast() && tooFast(r, prev.time) || s.slow() && tooSlow(r, prev.time)
}

// uneven: sour and bitter at once, or a spurting bed, is no place to change a
// setting from; twice in a row it is the bed, which a coarser grind lets even
// out.
func uneven(s *situation) (verdict, bool) {
	if s.last.lever() != bar.Prep {
		return verdict{}, false
	}
	if s.streams() >= 2 {
		for _, m := range s.moves { // nearest first
			if m.steps < s.here.steps && m.time < s.here.time-unevenAgain {
				return verdict{move: m}, true
			}
		}
	}
	return verdict{move: s.again(bar.Prep)}, true
}

// scattered: one person's last three shots at one setting lie far apart.
func scattered(s *situation) (verdict, bool) {
	var logs []float64
	for _, p := range s.pulls[min(s.opened, len(s.pulls)):] {
		if p.Day == s.last.Day && p.Person == s.last.Person && p.grind == s.last.grind && !math.IsNaN(p.time) && p.steady(s.coffee.Recipe) {
			logs = append(logs, math.Log(p.time))
		}
	}
	n := len(logs)
	return verdict{move: s.again(bar.Prep)}, n >= 3 && sd(logs[n-3:]) > scatter && !s.followed()
}

// steady reports whether nothing is known of a shot that alone explains a time
// of its own.
func (p pull) steady(r bar.Recipe) bool {
	off := p.shot.Dose.From == bar.Said && math.Abs(float64(p.shot.Dose.X-r.Dose)) > doseSlack
	return !off && !p.idle && !p.mixed && p.shot.Marks&(bar.Practice|bar.First|bar.Spurted) == 0
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

// pastThePeak: going finer made the shot faster. Beyond a point a finer bed
// channels (Cameron 2020, Schmieder 2023).
func pastThePeak(s *situation) (verdict, bool) {
	prev, ok := s.previous()
	if !ok || !s.timed() || math.IsNaN(prev.time) || prev.Day != s.last.Day ||
		s.last.grind <= prev.grind || math.Log(s.last.time/prev.time) > -significant {
		return verdict{}, false
	}
	if prev.lever() == bar.Prep && (!s.fast() || !s.bitter()) { // which is never ground coarser
		return verdict{move: s.coarser()}, true
	}
	return verdict{move: s.again(bar.Prep)}, true
}

// lever returns Prep for a shot that asked for it by how it ran.
func (p pull) lever() bar.Lever {
	if p.shot.Marks.Has(bar.Spurted) || p.reading.Tasted && p.reading.Even < evenEnough {
		return bar.Prep
	}
	return bar.NoLever
}

// halfBelieved: a first shot off a cold machine, or one with old grounds of
// another coffee in it, changes nothing by how it tastes.
func halfBelieved(s *situation) (verdict, bool) {
	half := s.last.shot.Marks.Has(bar.First) || s.last.mixed
	return verdict{move: s.again(bar.Repeat)}, half && s.last.reading.Tasted && !s.praised() && !s.fast() && !s.slow()
}

// slowAndSour is water that found its way past the coffee: never finer.
func slowAndSour(s *situation) (verdict, bool) {
	if !s.timed() || !s.slow() || !s.sour() || s.unbound() {
		return verdict{}, false
	}
	return verdict{move: s.coarser()}, true
}

// fastAndBitter: never coarser; the puck first, and then finer.
func fastAndBitter(s *situation) (verdict, bool) {
	if !s.timed() || !s.fast() || !s.bitter() || s.unbound() {
		return verdict{}, false
	}
	if prev, ok := s.previous(); ok && prev.Day == s.last.Day && prev.grind == s.last.grind && prev.time < float64(s.coffee.Recipe.Low) {
		return verdict{move: s.finer()}, true
	}
	return verdict{move: s.again(bar.Prep)}, true
}

// untasted asks for the taste of a shot whose time is right.
func untasted(s *situation) (verdict, bool) {
	if s.last.reading.Tasted || s.last.shot.Marks.Has(bar.Sink) {
		return verdict{}, false
	}
	return verdict{move: s.again(bar.Repeat)}, s.inside() || !s.timed()
}

// yieldOff: a cup of another length than the recipe's, whose clock is innocent.
func yieldOff(s *situation) (verdict, bool) {
	off := logRatio(s.last.shot.Yield, s.coffee.Recipe.Yield)
	if s.last.shot.Yield.From != bar.Said || math.Abs(off) < longCup || s.praised() || s.last.shot.Marks.Has(bar.Stopped) {
		return verdict{}, false
	}
	if _, strength := s.off(spot{yield: off}); math.Abs(strength) < 1 && s.onPurpose() || s.onTheWay(off) {
		return verdict{}, false
	}
	m := s.weigh(bar.Yield, s.here.steps, s.coffee.Recipe.Yield, s.here.dose)
	return verdict{move: m}, s.here.inTime >= 0.5
}

// onPurpose reports whether the shot before was as long.
func (s *situation) onPurpose() bool {
	prev, ok := s.previous()
	return ok && math.Abs(logRatio(prev.shot.Yield, s.last.shot.Yield.X)) < 0.05
}

// onTheWay reports whether the cups have been going the way that this one still
// asks to go: longer and sour, or shorter and bitter. Back at the recipe it
// would be worse.
func (s *situation) onTheWay(off float64) bool {
	prev, ok := s.previous()
	if !ok || prev.Day != s.last.Day || !(logRatio(prev.shot.Yield, s.coffee.Recipe.Yield)*off > 0) {
		return false
	}
	return off > 0 && s.sour() || off < 0 && s.bitter()
}

// lostInMilk: less in the cup, or more in the basket.
func lostInMilk(s *situation) (verdict, bool) {
	lost := func(w bar.Word) bool { return w.Term == "lost in milk" && !w.Not }
	if !slices.ContainsFunc(s.last.words, lost) {
		return verdict{}, false
	}
	top := s.shorter()
	for _, m := range s.doses() {
		if top.lever != bar.Yield && m.dose > s.here.dose && (top.lever == bar.Repeat || m.score() > top.score()) {
			top = m
		}
	}
	return verdict{move: top}, s.here.inTime >= 0.4
}

// shorter and longer return the best of the shorter or longer cups.
func (s *situation) shorter() move {
	return s.bestYield(func(m move) bool { return m.yield < s.here.yield })
}

func (s *situation) longer() move {
	return s.bestYield(func(m move) bool { return m.yield > s.here.yield })
}

func (s *situation) bestYield(ok func(move) bool) move {
	top := s.again(bar.Repeat)
	for _, m := range s.yields() {
		if ok(m) && (top.lever == bar.Repeat || m.score() > top.score()) {
			top = m
		}
	}
	return top
}

// sourAndStrong: more water mends both (Guinard 2023, Frost 2020: sourness
// rises with strength and falls with extraction).
func sourAndStrong(s *situation) (verdict, bool) {
	return verdict{move: s.longer()}, s.sour() && s.strong() && s.here.inTime >= 0.4
}

// bitterAndWeak: a shorter cup mends both.
func bitterAndWeak(s *situation) (verdict, bool) {
	return verdict{move: s.shorter()}, s.bitter() && s.weak() && s.here.inTime >= 0.4
}

// bitterAndStrong: more water, or a coarser grind, whichever is likelier to mend
// it (Guinard 2023: bitterness rises with strength and with extraction).
func bitterAndStrong(s *situation) (verdict, bool) {
	top := s.longer()
	if m := s.coarser(); m.score() > top.score() {
		top = m
	}
	return verdict{move: top}, s.bitter() && s.strong() && s.here.inTime >= 0.4
}

// keep needs a taste, nothing said against the last cup, and a bed and a hand
// that are steady.
func keep(s *situation) (verdict, bool) {
	_, wild := scattered(s)
	return verdict{move: s.again(bar.Keep)}, s.here.right >= confident && s.liked() && !wild && s.streams() < 2
}

func confirm(s *situation) (verdict, bool) {
	return verdict{move: s.again(bar.Repeat)}, s.here.right >= looksRight && s.liked()
}

// liked reports that the last cup was tasted and nothing was held against it.
func (s *situation) liked() bool {
	r, off := s.last.reading, s.erring()
	return r.Tasted && r.Praise >= 0 && math.Abs(off.Extraction) < complaint && math.Abs(off.Strength) < complaint
}

// tasteLeads: three cups in a row that err the same way, with the time right or
// erring the other way, say that the window is not where this coffee tastes
// best. The clock binds no longer; this bar's own cups decide.
func tasteLeads(s *situation) (verdict, bool) {
	if s.errs() == 0 {
		return verdict{}, false
	}
	top := s.here
	top.right = s.farRight(top)
	for _, m := range append(s.cups(), s.moves[1:]...) {
		m.right = s.farRight(m)
		if m.score() > top.score()*(1+stay) {
			top = m
		}
	}
	return verdict{move: top}, top.lever != bar.Keep
}

// errs returns which way the last three tasted cups all err where the clock does
// not explain it: -1 under-extracted, +1 over, 0 neither.
func (s *situation) errs() float64 { return s.erred(s.today) }

// overruled reports whether three cups in a row have erred so at any time today.
func (s *situation) overruled() bool {
	for n := 3; n <= len(s.today); n++ {
		if s.erred(s.today[:n]) != 0 {
			return true
		}
	}
	return false
}

// erred is errs of the last of some shots.
func (s *situation) erred(shots []pull) float64 {
	way, n := 0.0, 0
	for _, p := range slices.Backward(shots) {
		r := s.coffee.Recipe
		switch e := p.reading.Extraction; {
		case !p.reading.Tasted || math.IsNaN(p.time):
			continue
		case e < -strongly && !tooFast(r, p.time) && way <= 0:
			way = -1
		case e > strongly && !tooSlow(r, p.time) && way >= 0:
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

// farRight returns the probability that a move is right if only taste counts.
func (s *situation) farRight(m move) float64 {
	return s.far(s.spotOf(m), m)
}

// ratioFirst: where the time is right and the taste is off, the ratio is the
// strongest lever (Schmieder 2023: 6.3 points of extraction against 1.4 for a
// threefold change of flow).
func ratioFirst(s *situation) (verdict, bool) {
	if s.here.inTime < 0.6 || !s.inside() || s.liked() || s.unbound() || s.leads(bar.Yield) {
		return verdict{}, false
	}
	extraction, strength := s.off(s.spotOf(s.here))
	if math.Hypot(extraction, strength) < 0.3 {
		return verdict{}, false
	}
	top := s.here
	for _, m := range s.cups() {
		if m.right > top.right*(1+stay) {
			top = m
		}
	}
	return verdict{move: top}, top.lever == bar.Yield
}

// leads reports whether the crew may move the grind and not l, so that where
// either would do it is the grind.
func (s *situation) leads(l bar.Lever) bool { return s.bar.Crew.Has(bar.Grind) && !s.bar.Crew.Has(l) }

// hunting: the grind has been turned back twice; it is not the grind.
func hunting(s *situation) (verdict, bool) {
	turns, direction := 0, 0.0
	for i := 1; i < len(s.today); i++ {
		d := s.today[i].grind - s.today[i-1].grind
		if d == 0 {
			continue
		}
		if d*direction < 0 {
			turns++
		}
		direction = d
	}
	top := best(s.moves)
	if turns < 2 || top.lever != bar.Grind || top.right > s.here.right+farBetter {
		return verdict{}, false
	}
	trim := s.here
	for _, m := range s.cups() {
		if !s.leads(bar.Yield) && m.right > trim.right*(1+stay) {
			trim = m
		}
	}
	if trim.lever == bar.Keep {
		trim = s.again(bar.Repeat)
	}
	return verdict{move: trim}, true
}

// coarseSteps: where a step of the grinder is about as wide as the window, a
// trim of the dose goes between its steps.
func coarseSteps(s *situation) (verdict, bool) {
	r := s.coffee.Recipe
	if !s.informed || s.liked() || s.leads(bar.Dose) || s.filter.Slopes().Mean() < 0.6*math.Log(float64(r.High/r.Low)) {
		return verdict{}, false
	}
	grind, top := best(s.allowed()), move{}
	for _, m := range s.doses() {
		if m.score() > top.score() {
			top = m
		}
	}
	return verdict{move: top}, top.lever == bar.Dose && top.right > grind.right*1.2
}

// temperature is the last lever: tasters hardly tell 80 from 93 °C (Klotz 2020),
// extraction hardly moves (Schmieder 2023). It is tried where three cups in a
// row have erred, the grind and the yield have been moved and nothing else is
// likely to help; a degree at a time, and never above 96 °C.
func temperature(s *situation) (verdict, bool) {
	water, way := s.last.shot.Water, s.errs()
	if !(water > 0) || way == 0 || len(s.today) < 5 || best(slices.Concat(s.moves, s.yields())).right >= unreachable {
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
	top := best(s.moves)
	if top.right >= unreachable || len(s.today) < 2 {
		return verdict{}, false
	}
	end := !s.onDial(top.steps+1) || !s.onDial(top.steps-1)
	return verdict{move: move{lever: bar.NoLever}}, end && top.lever != bar.Grind
}

// near reports whether the last time is no further off the window than single
// shots differ.
func (s *situation) near() bool {
	r := s.coffee.Recipe
	return s.last.time > float64(r.Low)*math.Exp(-significant) && s.last.time < float64(r.High)*math.Exp(significant)
}

// bestMove leaves it to the model, within what the last cup allows.
func bestMove(s *situation) (verdict, bool) {
	m := best(s.allowed())
	if s.praised() && s.inside() && m.right < s.here.right+farBetter {
		m = s.here // one does not walk away from a cup that was liked
	}
	v := verdict{move: m, silent: true}
	if m.lever == bar.Keep {
		v.lever = bar.Repeat // it is not sure enough to be kept
		if s.timed() && !s.inside() && s.near() && !s.followed() {
			v.reasons = append(v.reasons, Reason{"inside-the-noise", OwnShots})
		}
	}
	return v, true
}
