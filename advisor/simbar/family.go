package simbar

import (
	"math"
	"math/rand/v2"
)

// familyTarget and familyWithin are the time aimed at in the rows of the
// family, and how far from it is right, in s.
const (
	familyTarget = 28.0
	familyWithin = 2.0
)

// family is the truth of the family: log time is linear in everything.
type family struct {
	off               float64 // log time of the first setting from the target
	slope             float64 // log time a step
	doseExp, yieldExp float64
	refDose, refYield float64
	jump              float64 // of this morning, on top of off
}

func (f family) cup(steps, level float64, s Setting) cup {
	log := f.off + f.jump + level + f.slope*steps +
		f.doseExp*math.Log(s.Dose/f.refDose) + f.yieldExp*math.Log(s.Yield/f.refYield)
	return cup{time: familyTarget * math.Exp(min(max(log, -3), 3))}
}

func (family) reading(c cup) (extraction, strength float64) {
	return (c.time - familyTarget) / familyWithin, 0
}

func (family) right(c cup) bool { return math.Abs(c.time-familyTarget) <= familyWithin }

func (family) channel(c cup, _ float64) cup { return c }

// newFamily returns a world of the family. The slope is log-uniform over 0.06
// to 0.24 a dial unit, the first shot off by N(0, 0.40) cut at 0.9. How large
// the trend is, and how exponents vary, is assumed.
func newFamily(row Row, index int) *World {
	dice := rand.New(rand.NewPCG(row.seed(), uint64(index)<<1))
	step := []float64{0.1, 0.2, 0.25, 0.5}[dice.IntN(4)]
	unit := logUniform(dice, 0.06, 0.24)
	f := family{
		off: cutNormal(dice, 0.40, 0.9), slope: unit * step,
		doseExp: 1.5 + 0.25*dice.NormFloat64(), yieldExp: 1 + 0.1*dice.NormFloat64(),
		refDose: 18, refYield: 36,
	}
	w := &World{Row: row, Index: index, table: familyTable(step), ways: familyWays(dice)}
	stress(row, dice, w, &f)
	w.truth = f
	w = precede(w, func(first *World) {
		g := f
		g.off = cutNormal(dice, 0.40, 0.9)
		first.truth = g
	}, func(day *World) {
		g := day.truth.(family)
		g.jump += 0.04 * dice.NormFloat64()
		day.truth = g
	})
	w.Reset()
	return w
}

// familyTable returns what is seen of a bar of the family.
func familyTable(step float64) Table {
	return Table{
		Dial:   Dial{Step: step, Finer: -1, Numbered: true},
		Recipe: Recipe{Dose: 18, Yield: 36, Low: familyTarget - familyWithin, High: familyTarget + familyWithin},
		Start:  Setting{Grind: 20, Dose: 18, Yield: 36},
		People: 1,
	}
}

// familyWays returns how a bar of the family works.
func familyWays(dice *rand.Rand) ways {
	return ways{
		noise: 0.05, outliers: 0.02, walk: 0.004, trend: 0.002 * dice.NormFloat64(),
		retention: retention{share: 0.4 * dice.Float64(), purged: 0.1},
		doseSD:    0.1, yieldSD: 0.7, weighed: true, doseKnown: true, clock: 0.1,
		people: []person{{}},
	}
}

// stress makes w what its row says.
func stress(row Row, dice *rand.Rand, w *World, f *family) {
	coin := dice.IntN(2) == 0
	size := dice.Float64()
	strain, ok := map[Row]func(){
		PurgedTold:   func() { w.ways.purging = purgesAndTells },
		KnownPurged:  func() { w.ways.purging = purgesAndTells },
		PurgedUntold: func() { w.ways.purging = purgesSilently },
		Noisy:        func() { w.ways.noise = 0.08 },
		Retentive:    func() { w.ways.retention.share = 0.4 + 0.3*size },
		Outliers:     func() { w.ways.outliers = 0.08 },
		Drifting:     func() { w.ways.walk, w.ways.trend = 0.012, 2*w.ways.trend },
		Coarse:       func() { w.table.Dial.Step, f.slope = 1, 0.06*math.Pow(6, size) },
		WrongExponent: func() {
			f.doseExp, f.yieldExp = 2.5, 0.5
			if coin {
				f.doseExp, f.yieldExp = 0.5, 1.4
			}
		},
		Trending: func() {
			w.ways.trend = 0.008
			if coin {
				w.ways.trend = -0.008
			}
		},
		Unweighed: func() { w.ways.weighed, w.ways.doseKnown = false, false },
	}[row]
	if ok {
		strain()
	}
}

// precede puts the runs of w's row before it: other coffees on the grinder, or
// mornings of the same one. It returns the last.
func precede(w *World, other, morning func(*World)) *World {
	coffees := map[Row]int{OnceKnown: 1, KnownGrinder: 8, KnownPurged: 8, SecondCoffee: 1, KnownTeam: 6}
	days := map[Row]int{NextMorning: 1, BarMorning: 1, SecondWeek: 5, BarSecondWeek: 5}
	return mornings(others(w, coffees[w.Row], other), days[w.Row], morning)
}

// others returns w as the coffee after n others on its grinder, one a day.
func others(w *World, n int, other func(*World)) *World {
	var before *World
	for i := range n + 1 {
		next := *w
		next.Before, next.table.Day, next.table.SameGrinder = before, i, i > 0
		if i < n {
			other(&next)
		}
		before = &next
	}
	return before
}

// mornings returns the last of n mornings after w.
func mornings(w *World, n int, morning func(*World)) *World {
	for range n {
		next := *w
		next.Before = w
		next.table.SameGrinder, next.table.SameCoffee = true, true
		next.table.Day++
		morning(&next)
		w = &next
	}
	return w
}

// logUniform returns a number between low and high, uniform in its log.
func logUniform(dice *rand.Rand, low, high float64) float64 {
	return low * math.Exp(dice.Float64()*math.Log(high/low))
}

// uniform returns a number between low and high.
func uniform(dice *rand.Rand, low, high float64) float64 { return low + (high-low)*dice.Float64() }

// cutNormal returns a normal number with so much sd, moved to the nearer end of
// ±most if it lies beyond.
func cutNormal(dice *rand.Rand, sd, most float64) float64 {
	return min(max(sd*dice.NormFloat64(), -most), most)
}
