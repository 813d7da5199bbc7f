package simbar

import (
	"math"
	"math/rand/v2"
)

// A World is one coffee on one grinder, with its truth. It is not for more
// than one player at a time; Reset makes it new for the next.
type World struct {
	Row   Row
	Index int
	// Before is the run that comes before this one and teaches its player,
	// nil if there is none: the grinder's last coffee, or yesterday.
	Before *World
	// Says is what tasters say in the rows of the family.
	Says Says

	table Table
	truth truth
	ways  ways
	state state
}

// truth is how the coffee behaves on this grinder.
type truth interface {
	// cup returns the cup of an even bed without noise at so many effective
	// steps finer than the start.
	cup(steps, level float64, s Setting) cup
	// reading returns where a cup stands in taste steps from the best.
	reading(c cup) (extraction, strength float64)
	right(c cup) bool
	// channel turns c into the cup of a bed that channelled, strongly or not
	// (0 to 1).
	channel(c cup, strongly float64) cup
}

// A cup is what came out.
type cup struct {
	time    float64 // s
	ey, tds float64 // %; 0 where only time matters
	risk    float64 // that the bed channels
	wet     float64 // s of time before anything drips
}

// ways are how a bar handles its grinder, its clock and its words.
type ways struct {
	noise     float64 // sd of log time
	eyNoise   float64 // the same of extraction
	outliers  float64 // probability
	walk      float64 // sd of a shot's step of the level
	trend     float64 // the level's step a shot
	retention retention
	purging   purging
	forgets   float64 // of asked purges
	doseSD    float64 // g
	yieldSD   float64 // g
	weighed   bool
	doseKnown bool
	clock     float64 // s it counts in
	misread   float64 // probability
	chokes    bool    // a shot is given up at 60 s
	untold    bool    // nobody says where the dial stands, or that it was not turned
	people    []person
	second    float64 // probability that a second person tastes
	silent    float64 // probability that a shot is left untasted
	answers   float64 // probability that an asked taster answers
}

// Says is what is said of the taste in a row of the family, always by one
// person and without error.
type Says int

// What can be said.
const (
	// OfSetting says of the setting's steady time whether it is right: balanced,
	// sour (too fast) or bitter (too slow). Whoever listens cannot keep wrongly.
	OfSetting Says = iota
	// OfShot says the same of the time of the shot itself.
	OfShot
	// Fine is always balanced: only the clock can tell.
	Fine
)

// purging is what a bar does about old grounds when the grind is changed.
type purging int

const (
	neverPurges purging = iota
	purgesAndTells
	purgesSilently
	purgesWhenAsked
)

// state is what a run changes.
type state struct {
	dice  *rand.Rand
	level float64 // log time
	old   grounds
	grind float64 // the last shot's, on the dial
	shots []Shot
	asked []Tasting // what would be said of the last shot if asked
	other []Tasting // and by somebody else
}

// New returns the world of a row with an index. The same row and index give the
// same world and the same dice.
func New(row Row, index int) *World {
	if row.Family() {
		return newFamily(row, index)
	}
	return newBar(row, index)
}

// Say sets what tasters say in w and in the runs before it.
func (w *World) Say(says Says) {
	for ; w != nil; w = w.Before {
		w.Says = says
	}
}

// Table returns what can be seen of w.
func (w *World) Table() Table { return w.table }

// Reset makes w, and what comes before it, new for another player.
func (w *World) Reset() {
	if w.Before != nil {
		w.Before.Reset()
	}
	if w.Before != nil && w.table.SameCoffee {
		w.table.Start = w.Before.table.Start // until it is known where the day before ends
	}
	w.state = state{
		dice:  rand.New(rand.NewPCG(w.Row.seed()+uint64(w.table.Day), uint64(w.Index)<<1|1)),
		grind: w.table.Start.Grind,
		old:   w.ways.retention.at(0),
	}
}

// begin lets the run of a next morning start where the day before ended.
func (w *World) begin() {
	if w.Before == nil || !w.table.SameCoffee || len(w.Before.state.shots) == 0 {
		return
	}
	from := w.Before.state.shots[len(w.Before.state.shots)-1].Set
	from.Purge, from.Care = false, false
	w.table.Start = from
	w.state.grind = from.Grind
	w.state.old = w.ways.retention.at(w.steps(from))
}

// steps returns how many steps finer s is than where the coffee first started.
func (w *World) steps(s Setting) float64 { return w.table.Dial.Steps(w.origin(), s.Grind) }

// origin returns the dial from which the truth counts its steps.
func (w *World) origin() float64 {
	for w.Before != nil && w.table.SameCoffee {
		w = w.Before
	}
	return w.table.Start.Grind
}

// farthest is how many steps a grinder turns at most, where its dial has no
// ends.
const farthest = 400

// settle returns s as this grinder and basket allow it.
func (w *World) settle(s Setting) Setting {
	start, d := w.table.Start, w.table.Dial
	by := d.Steps(start.Grind, finite(s.Grind, start.Grind))
	s.Grind = d.Turn(start.Grind, min(max(by, -farthest), farthest))
	r := w.table.Recipe
	s.Dose = min(max(finite(s.Dose, r.Dose), r.Dose-2), r.Dose+2)
	s.Yield = min(max(finite(s.Yield, r.Yield), r.Yield/2), 2*r.Yield)
	return s
}

// steady returns the expected cup at s, once no old grounds are left and with
// the level where it is now.
func (w *World) steady(s Setting) cup {
	s = w.settle(s)
	c := w.truth.cup(w.steps(s), w.state.level, s)
	if s.Care {
		c.risk /= 3
	}
	return c
}

// SteadyTime returns the true time in s at s, without noise, old grounds or
// channels.
func (w *World) SteadyTime(s Setting) float64 { return w.steady(s).time }

// ChannelRisk returns the probability that the bed channels at s.
func (w *World) ChannelRisk(s Setting) float64 { return w.steady(s).risk }

// Chokes reports whether the true time at s is above 60 s.
func (w *World) Chokes(s Setting) bool { return !(w.steady(s).time <= 60) }

// Right reports whether s is right: within 2 s of 28 s in a row of the family;
// else within a taste step of the sweet spot in extraction and in strength, and
// channelling no more than one time in ten.
func (w *World) Right(s Setting) bool { return w.truth.right(w.expected(s)) }

// TrueReading returns where the expected cup at s stands from the sweet spot,
// in taste steps: extraction, − under and + over; strength, − weak and + strong.
func (w *World) TrueReading(s Setting) (extraction, strength float64) {
	return w.truth.reading(w.expected(s))
}

// expected returns the steady cup at s with what channels take from it on
// average.
func (w *World) expected(s Setting) cup {
	c := w.steady(s)
	bad := w.truth.channel(c, 0.5)
	c.ey += c.risk * (bad.ey - c.ey)
	c.tds += c.risk * (bad.tds - c.tds)
	return c
}

// Cup returns the extraction and strength in % expected at s, both 0 in a row
// of the family.
func (w *World) Cup(s Setting) (ey, tds float64) {
	c := w.expected(s)
	return c.ey, c.tds
}

// Shots returns the shots pulled so far.
func (w *World) Shots() []Shot { return w.state.shots }

// Pull pulls a shot at s and returns it as the bar reports it.
func (w *World) Pull(s Setting) Shot {
	n := w.roll()
	s = w.settle(s)
	ordered := s.Grind
	if w.ways.untold {
		s.Grind = w.turned(s.Grind)
	}
	w.state.level += w.ways.trend + w.ways.walk*n.walk
	shot := Shot{
		Number: len(w.state.shots) + 1, Set: s, Grind: w.read(ordered, n), Untold: w.ways.untold,
		Person: w.puller(len(w.state.shots)), Weighed: w.ways.weighed,
	}
	purged := w.purge(&shot, n)
	eff := w.grindFor(s, purged)
	real := s
	real.Dose += w.ways.doseSD * n.dose
	real.Yield += w.ways.yieldSD * n.yield
	c, channelled := w.brew(eff, real, n)
	w.report(&shot, c, real, n)
	shot.Spurted = channelled && n.spurt < 0.5
	w.taste(&shot, c, channelled, n)
	w.state.shots = append(w.state.shots, shot)
	w.state.grind = s.Grind
	return shot
}

// turned returns where the dial stands when it was to be turned: as ordered eight
// times in ten, else half way there or where it was.
func (w *World) turned(to float64) float64 {
	switch x := w.state.dice.Float64(); {
	case x < 0.8:
		return to
	case x < 0.9:
		from := w.state.grind
		return w.table.Dial.Turn(from, w.table.Dial.Steps(from, to)/2)
	}
	return w.state.grind
}

// brew pours real at eff effective steps and returns what came out.
func (w *World) brew(eff float64, real Setting, n noise) (c cup, channelled bool) {
	c = w.truth.cup(eff, w.state.level, real)
	if real.Care {
		c.risk /= 3
	}
	c.time = c.wet + (c.time-c.wet)*math.Exp(w.ways.noise*n.time)
	c.ey *= math.Exp(w.ways.eyNoise * n.ey)
	c.tds *= math.Exp(w.ways.eyNoise * n.ey)
	if n.outlier < w.ways.outliers {
		c.time *= math.Exp(outlier(n))
	}
	if n.channel < c.risk {
		return w.truth.channel(c, n.strongly), true
	}
	return c, false
}

// outlier returns what a shot that went wrong does to its log time: most run
// fast.
func outlier(n noise) float64 {
	if n.strongly < 0.8 {
		return -0.35 + 0.08*n.size
	}
	return 0.35 + 0.08*n.size
}

// read returns what somebody reads off a dial that stands at grind.
func (w *World) read(grind float64, n noise) float64 {
	if !(n.misread < w.ways.misread) {
		return grind
	}
	by := 1.0
	if n.misreadBy < 0.5 {
		by = -1
	}
	return w.table.Dial.Turn(grind, by)
}

// purge decides whether old grounds are thrown away before shot, and what is
// said of it.
func (w *World) purge(shot *Shot, n noise) bool {
	changed := shot.Set.Grind != w.state.grind
	switch w.ways.purging {
	case neverPurges:
		return false
	case purgesAndTells:
		if changed {
			shot.Purge = Purged
		}
		return changed
	case purgesSilently:
		return changed
	case purgesWhenAsked:
	}
	if !shot.Set.Purge {
		return false
	}
	if n.forget < w.ways.forgets {
		if n.tell < 0.3 {
			shot.Purge = NotPurged
		}
		return false
	}
	if n.tell < 0.8 {
		shot.Purge = Purged
	}
	return true
}

// grindFor grinds for s and returns the effective steps of what falls out.
func (w *World) grindFor(s Setting, purged bool) float64 {
	var eff float64
	eff, w.state.old = w.ways.retention.grind(w.state.old, w.steps(s), s.Dose, purged)
	return eff
}

// report fills in what the bar says of c.
func (w *World) report(shot *Shot, c cup, real Setting, n noise) {
	shot.Dose, shot.Yield = shot.Set.Dose, shot.Set.Yield
	if w.ways.doseKnown {
		shot.Dose = math.Round(real.Dose*10) / 10
	}
	time, yield := c.time, real.Yield
	if w.ways.chokes && !(time <= 60) {
		shot.Choked = true
		yield *= max(0.05, (60-c.wet)/(time-c.wet)-0.3)
		time = 50 + 10*n.patience
	}
	if w.ways.weighed || shot.Choked {
		shot.Yield = math.Round(yield*10) / 10
	}
	shot.Time = math.Round(math.Round(time/w.ways.clock)*w.ways.clock*10) / 10
}
