package simbar

import (
	"math"
	"math/rand/v2"
)

// Constants of the extraction that all bars share; package comment.
const (
	washOut      = 17.47261 / 20 // g of beverage per g of dose
	taste        = 1.1           // points of extraction a taste step
	strengthStep = 0.20          // of strength a taste step
	edgeWidth    = 0.07          // of the fineness at which channels begin
	edgeRisk     = 0.10          // the risk that still is right
)

// bar is the truth of a bar: wetting and a pour, an extraction, a sweet spot.
type theBar struct {
	worth float64 // s a step, where the shot takes mid
	bend  bend
	wet   float64 // s
	mid   float64 // s at the reference, wetting included
	at    float64 // steps from the start to the reference
	jump  float64 // of this morning, log time of the pour

	doseExp, yieldExp float64
	refDose, refYield float64

	base, edge, loss float64 // risk, fineness where it is 1/2, loss of a channel
	stiff            bool    // a bed that closes up beyond 45 s

	ey   float64 // % at the reference
	gain float64 // points per log of time

	bestEY, bestTDS float64 // the sweet spot
}

// A bend is how the pour grows with the fineness.
type bend int

const (
	straight bend = iota // exponential
	closing              // a power of what is left of a gap, and then shut
	linear               // a straight line of time, flattening where coarse
)

// grow returns by what the pour is multiplied at fineness z, 1 at 0 and with
// slope 1 there. The power is that of time against the burr gap in Smrke 2024
// Sci Rep 14:5612, the line that of Lee 2023 Phys Fluids 35:054110.
func (b bend) grow(z float64) float64 {
	const power, soft = 4.65, 4
	switch b {
	case straight:
		return math.Exp(min(z, 5))
	case closing:
		return math.Pow(max(1-z/power, 0.2), -power)
	case linear:
		return math.Log1p(math.Exp(min(soft*(1+z), 50))) / math.Log1p(math.Exp(soft))
	}
	panic("simbar: no such bend")
}

// fineness returns z for so many effective steps.
func (b theBar) fineness(steps float64) float64 { return (steps - b.at) * b.worth / (b.mid - b.wet) }

func (b theBar) cup(steps, level float64, s Setting) cup {
	z := b.fineness(steps)
	slow := (b.mid - b.wet) * b.bend.grow(z) * math.Exp(level+b.jump) * math.Pow(s.Dose/b.refDose, b.doseExp)
	if b.stiff && slow+b.wet > 45 {
		shut := (slow + b.wet) / 45
		slow *= shut * shut
	}
	c := cup{
		wet:  b.wet,
		time: b.wet + slow*math.Pow(s.Yield/b.refYield, b.yieldExp),
		risk: b.base + (1-b.base)/(1+math.Exp(-(z-b.edge)/edgeWidth)),
	}
	ratio := s.Yield / s.Dose
	c.ey = b.ey*b.washed(ratio) + b.gain*math.Log((b.wet+slow)/b.mid)
	c.ey = min(max(c.ey, 6), 28)
	c.tds = c.ey / ratio
	return c
}

// washed returns the share of the reference's extraction that a ratio gets.
func (b theBar) washed(ratio float64) float64 {
	return (1 - math.Exp(-ratio/washOut)) / (1 - math.Exp(-b.refYield/b.refDose/washOut))
}

func (b theBar) reading(c cup) (extraction, strength float64) {
	return (c.ey - b.bestEY) / taste, math.Log(c.tds/b.bestTDS) / math.Log1p(strengthStep)
}

func (b theBar) right(c cup) bool {
	e, s := b.reading(c)
	return math.Abs(e) <= 1 && math.Abs(s) <= 1 && c.risk <= edgeRisk
}

func (b theBar) channel(c cup, strongly float64) cup {
	lost := b.loss * (0.5 + strongly)
	c.ey *= 1 - lost
	c.tds *= 1 - lost
	c.time = c.wet + (c.time-c.wet)*(1-lost*1.5)
	return c
}

// traits are what a row of bars may change.
type traits struct {
	edgeLow, edgeHigh float64 // s at which the risk is still right
	bends             []bend
	worthLow          float64 // s a step
	worthHigh         float64
	bias, looseness   float64 // of tasters
	people            int
	silent            float64
	second            float64
	whole             float64 // probability of a clock in whole seconds
	unweighed         float64 // probability of a bar without scales
	held              float64 // g of hold-up at most
	forgets           float64
	misread           float64
	stiff             bool
	slowStart         bool
	outside           bool
	aside             bool
	yieldOff          float64 // log of the sweet spot's yield to the recipe's, sd
	soft              bool
	gainLow, gainHigh float64 // points of extraction a log of time
	noiseHigh         float64
	outliers, walk    float64
	anyRecipe         bool
	untold            bool
}

// usual returns the traits of the row Bars. All are assumed.
func usual() traits {
	return traits{
		edgeLow: 34, edgeHigh: 52, bends: []bend{straight, closing, linear}, worthLow: 0.7, worthHigh: 6,
		bias: 0.5, looseness: 1, people: 2, silent: 0.2, second: 0.15,
		whole: 0.5, unweighed: 0.2, held: 2.5, forgets: 0.15, misread: 0.01,
		gainLow: 2, gainHigh: 3.7, yieldOff: 0.16, noiseHigh: 0.07, outliers: 0.02, walk: 0.004,
	}
}

// traitsOf returns the traits of a row.
func traitsOf(row Row) traits {
	t := usual()
	change, ok := map[Row]func(){
		Channelling:  func() { t.edgeLow, t.edgeHigh = 29, 36 },
		Bent:         func() { t.bends = []bend{closing, linear} },
		LooseWords:   func() { t.bias, t.looseness, t.people, t.silent, t.second = 0.8, 1.6, 4, 0.4, 0.3 },
		WholeSeconds: func() { t.whole, t.unweighed = 1, 1 },
		Forgetful:    func() { t.held, t.forgets = 6, 0.5 },
		ManyDials:    func() { t.worthLow, t.worthHigh = 0.3, 10 },
		Misread:      func() { t.misread = 0.12 },
		Chokable:     func() { t.stiff, t.slowStart = true, true },
		OutsideTyped: func() { t.outside = true },
		OutsideSoft:  func() { t.outside, t.soft = true, true },
		Everything: func() {
			t = traits{
				edgeLow: 30, edgeHigh: 45, bends: t.bends, worthLow: 0.3, worthHigh: 10, bias: 0.8, looseness: 1.4, people: 4, silent: 0.35,
				second: 0.3, whole: 1, unweighed: 0.6, held: 5, forgets: 0.5, misread: 0.06, stiff: true, soft: true,
				gainLow: t.gainLow, gainHigh: t.gainHigh, yieldOff: t.yieldOff, noiseHigh: t.noiseHigh, outliers: t.outliers, walk: t.walk,
			}
		},
		KnownTeam:    func() { t.bias, t.people = 0.8, 2 },
		SharpTongues: func() { t.bias, t.looseness, t.people = 0, 0.5, 1 },
		StepAside:    func() { t.aside, t.yieldOff = true, 0.25 },
		LittleGain:   func() { t.gainLow, t.gainHigh, t.yieldOff = 0.3, 1.2, 0.3 },
		Restless:     func() { t.noiseHigh, t.outliers, t.walk = 0.1, 0.08, 0.012 },
		OtherRecipes: func() { t.anyRecipe = true },
		Untold:       func() { t.untold = true },
	}[row]
	if ok {
		change()
	}
	return t
}

// newBar returns the world of a bar. Bars that nothing can make right are
// thrown away, the next of the same dice is taken.
func newBar(row Row, index int) *World {
	dice := rand.New(rand.NewPCG(row.seed(), uint64(index)<<1))
	t := traitsOf(row)
	w := &World{Row: row, Index: index}
	for {
		w.table, w.ways = barTable(dice, t), barWays(dice, t)
		w.table.Dial = anyDial(dice)
		w.table.Start = start(w.table)
		if b, ok := brewBar(dice, t, w.table, nil); ok {
			w.truth = b
			w.state = state{}
			w.bound(dice, b)
			if w.sane(t) {
				break
			}
		}
	}
	w = precede(w, func(first *World) { first.otherCoffee(dice, t) }, func(day *World) {
		b := day.truth.(theBar)
		b.jump += 0.04 * dice.NormFloat64()
		day.truth = b
	})
	w.Reset()
	return w
}

// otherCoffee makes w another coffee on the same grinder: what a step is worth
// in shares of the pour, and how it bends, stay.
func (w *World) otherCoffee(dice *rand.Rand, t traits) {
	old := w.truth.(theBar)
	for {
		b, ok := brewBar(dice, t, w.table, &old)
		w.truth = b
		if ok && w.sane(t) {
			return
		}
	}
}

// anyDial returns one of the dials people have. A third have no numbers or
// count one by one.
func anyDial(dice *rand.Rand) Dial {
	d := Dial{Step: []float64{0.05, 0.1, 0.25, 1, 5, 0}[dice.IntN(6)], Finer: -1, Numbered: true}
	if dice.IntN(3) == 0 {
		d.Finer = 1
	}
	if d.Step == 0 {
		return Dial{Step: 1, Finer: 1}
	}
	return d
}

// start returns where the grinder stands at first, far enough from 0.
func start(t Table) Setting {
	s := Setting{Dose: t.Recipe.Dose, Yield: t.Recipe.Yield}
	if t.Dial.Numbered {
		s.Grind = 60 * t.Dial.Step
	}
	return s
}

// bound gives half of the numbered dials ends that are known, with what is
// right within them.
func (w *World) bound(dice *rand.Rand, b theBar) {
	d := &w.table.Dial
	room := 4 + math.Abs(b.at)
	low, high := room*uniform(dice, 1, 3), room*uniform(dice, 1, 3)
	if !d.Numbered || dice.IntN(2) == 0 {
		return
	}
	from := w.table.Start.Grind
	d.Min = max(0, from-math.Ceil(low)*d.Step)
	d.Max = from + math.Ceil(high)*d.Step
}

// barTable returns a recipe of common practice, no source.
func barTable(dice *rand.Rand, t traits) Table {
	dose := []float64{17, 18, 18, 18.5, 19, 20}[dice.IntN(6)]
	ratio := []float64{1.8, 2, 2, 2, 2.2, 2.5}[dice.IntN(6)]
	middle, half := float64(26+dice.IntN(6)), float64(2+dice.IntN(2))
	if t.anyRecipe {
		ratio = logUniform(dice, 1.5, 2.8)
		middle, half = float64(22+dice.IntN(16)), float64(2+dice.IntN(4))
	}
	return Table{
		Recipe: Recipe{
			Dose: dose, Yield: math.Round(dose * ratio), Low: middle - half, High: middle + half,
			Soft: t.soft || (!t.outside && dice.IntN(3) == 0),
		},
		People: t.people,
	}
}

// barWays returns how a bar works.
func barWays(dice *rand.Rand, t traits) ways {
	v := ways{
		noise: uniform(dice, 0.045, t.noiseHigh), eyNoise: 0.02, outliers: t.outliers,
		walk: t.walk, untold: t.untold, trend: 0.002 * dice.NormFloat64(),
		retention: retention{held: uniform(dice, 0.3, t.held), flush: 5},
		purging:   purgesWhenAsked, forgets: t.forgets, misread: t.misread,
		doseSD: 0.1, yieldSD: 0.8, weighed: true, doseKnown: true, clock: 0.1,
		chokes: true, second: t.second, silent: t.silent, answers: 0.75,
	}
	if dice.Float64() < t.whole {
		v.clock = 1
	}
	if dice.Float64() < t.unweighed {
		v.weighed, v.doseKnown, v.yieldSD, v.doseSD = false, false, 2, 0.2
	}
	for range t.people {
		v.people = append(v.people, anyPerson(dice, t))
	}
	return v
}

// brewBar returns the truth of a coffee, on the grinder of another if like is
// given, or false if the dice make no sense.
func brewBar(dice *rand.Rand, t traits, at Table, like *theBar) (theBar, bool) {
	r := at.Recipe
	b := theBar{
		worth: logUniform(dice, t.worthLow, t.worthHigh), bend: t.bends[dice.IntN(len(t.bends))],
		wet: uniform(dice, 5, 9), mid: r.Middle(),
		doseExp: uniform(dice, 1.5, 3), yieldExp: uniform(dice, 0.8, 1),
		refDose: r.Dose, refYield: r.Yield,
		base: uniform(dice, 0.01, 0.04), loss: uniform(dice, 0.15, 0.25), stiff: t.stiff,
		ey: uniform(dice, 18, 21.5), gain: uniform(dice, t.gainLow, t.gainHigh),
	}
	if like != nil {
		b.bend, b.wet = like.bend, like.wet
		b.worth = like.worth * (b.mid - b.wet) / (like.mid - like.wet)
	}
	b.edge = b.find(uniform(dice, t.edgeLow, t.edgeHigh)) + edgeWidth*math.Log(1/edgeRisk-1)
	first := r.Middle() * math.Exp(cutNormal(dice, 0.6, 1.1))
	if t.slowStart {
		first = r.Middle() * math.Exp(uniform(dice, 0.2, 0.7))
	}
	first = max(first, b.wet+4)
	b.at = -b.find(first) * (b.mid - b.wet) / b.worth
	b.sweeten(dice, t, r)
	return b, first < 56 || t.stiff
}

// find returns the fineness at which a shot by the recipe takes so many seconds.
func (b theBar) find(seconds float64) float64 {
	low, high := -3.0, 3.0
	for range 40 {
		z := (low + high) / 2
		if b.wet+(b.mid-b.wet)*b.bend.grow(z) < seconds {
			low = z
		} else {
			high = z
		}
	}
	return low
}

// sweeten places the sweet spot: near the window and the yield of the recipe,
// a taste step aside of both, or well outside the window.
func (b *theBar) sweeten(dice *rand.Rand, t traits, r Recipe) {
	seconds := uniform(dice, r.Low-2, r.High+3)
	yield := b.refYield * math.Exp(cutNormal(dice, t.yieldOff, 0.35))
	if t.outside {
		yield = b.refYield * math.Exp(cutNormal(dice, 0.05, 0.1))
		seconds = uniform(dice, 15, 18)
		if dice.IntN(2) == 0 {
			seconds = uniform(dice, 40, 50)
		}
		b.gain = uniform(dice, 3, 3.7)
		b.edge = max(b.edge, b.find(seconds)+uniform(dice, 0.1, 0.4))
	}
	if t.aside {
		seconds = r.Middle() * math.Exp(uniform(dice, -0.4, 0.4))
		b.edge = max(b.edge, b.find(seconds)+uniform(dice, 0.1, 0.4))
	}
	b.bestEY = b.ey*b.washed(yield/b.refDose) + b.gain*math.Log(seconds/b.mid)
	b.bestTDS = b.bestEY * b.refDose / yield
}

// sane reports whether something within reach is right, and outside the window
// only, where the row says so.
func (w *World) sane(t traits) bool {
	b := w.truth.(theBar)
	d, from := w.table.Dial, w.table.Start
	reach := int(math.Abs(b.at) + 1.2*(b.mid-b.wet)/b.worth + 2)
	stride := max(1, reach/100)
	found := false
	for k := -reach; k <= reach; k += stride {
		s := from
		s.Grind = d.Turn(from.Grind, float64(k))
		if t.outside && w.Right(s) {
			if x := w.SteadyTime(s); w.table.Recipe.Low <= x && x <= w.table.Recipe.High {
				return false
			}
		}
		found = found || w.anyYieldRight(s)
	}
	return found
}

// anyYieldRight reports whether s is right at some yield within 12 g.
func (w *World) anyYieldRight(s Setting) bool {
	ordered := s.Yield
	for by := -12.0; by <= 12; by += 2 {
		s.Yield = ordered + by
		if w.Right(s) {
			return true
		}
	}
	return false
}
