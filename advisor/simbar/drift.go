package simbar

import (
	"math"
	"math/rand/v2"
)

// A Drift is what happens on a day of service.
type Drift int

// The days.
const (
	Steady Drift = iota // nothing
	Jump                // from shot DriftFrom on the true time is 31.5 s
	Ramp                // from shot DriftFrom on it grows by 0.3 % a shot
)

// DriftFrom is the shot at which a drift begins, from 1.
const DriftFrom = 21

// A Day is a day of service at one setting.
type Day struct {
	Table    Table
	Dialling []Shot // three shots at the setting, before it was called dialled in
	Service  []Shot // a hundred more
	True     []float64
	Out      int // the first shot of the service truly more than 2 s off, 0 none
}

// NewDay returns a day of a kind: 5 % noise, 2 % outliers, a window of 26 to
// 30 s, and a setting whose true time is within 3 % of 28 s or so. Shots are
// measured and untasted.
func NewDay(kind Drift, index int) Day {
	dice := rand.New(rand.NewPCG(Row("drift").seed(), uint64(index)))
	d := Day{Table: familyTable(0.1)}
	d.Table.People = 1
	centre := familyTarget * math.Exp(cutNormal(dice, 0.03, 0.06))
	for n := range 3 {
		d.Dialling = append(d.Dialling, serve(dice, n+1, centre))
	}
	for n := 1; n <= 100; n++ {
		t := centre
		if n >= DriftFrom {
			t = drifted(kind, centre, n)
		}
		d.True = append(d.True, t)
		d.Service = append(d.Service, serve(dice, n+3, t))
		if d.Out == 0 && math.Abs(t-familyTarget) > familyWithin {
			d.Out = n
		}
	}
	return d
}

// drifted returns the true time of the nth shot.
func drifted(kind Drift, centre float64, n int) float64 {
	switch kind {
	case Steady:
		return centre
	case Jump:
		return 31.5
	case Ramp:
		return centre * math.Exp(0.003*float64(n-DriftFrom+1))
	}
	panic("simbar: no such drift")
}

// serve pulls a shot of a true time.
func serve(dice *rand.Rand, number int, seconds float64) Shot {
	z, u, v, size := dice.NormFloat64(), dice.Float64(), dice.Float64(), dice.NormFloat64()
	dose, yield := dice.NormFloat64(), dice.NormFloat64()
	t := seconds * math.Exp(0.05*z)
	if u < 0.02 {
		t *= math.Exp(outlier(noise{strongly: v, size: size}))
	}
	s := familyTable(0.1).Start
	// Time follows dose and yield as in the family.
	t *= math.Exp(1.5*math.Log1p(0.1*dose/s.Dose) + math.Log1p(0.7*yield/s.Yield))
	tenth := func(x float64) float64 { return math.Round(x*10) / 10 }
	return Shot{
		Number: number, Set: s, Grind: s.Grind, Dose: tenth(s.Dose + 0.1*dose), Yield: tenth(s.Yield + 0.7*yield),
		Time: tenth(t), Weighed: true, Person: 1,
	}
}
