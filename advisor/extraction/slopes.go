package extraction

import "math"

// Slopes are what a change of brew does to the cup.
type Slopes struct {
	Cup Cup   // that is changed
	EY  Slope // of its extraction yield
	TDS Slope // of its strength
}

// A Slope is the relative change of something for a relative change of each of
// these, near where it was taken: d log / d log. Times the percentage itself it
// is points for a unit of the logarithm.
type Slope struct {
	// Time is that of the whole shot at the same dose and yield, as the grind
	// changes it.
	Time float64
	// Yield is that of the same shot stopped sooner or later: its flow stays,
	// its clock does not.
	Yield float64
	// Dose is the coffee at the same yield and time, the grind making up for
	// the thicker bed.
	Dose float64
}

// nudge is the step of the logarithm over which slopes are taken, to either
// side: wide enough for the curve's own steps not to show.
const nudge = 0.05

// Slopes returns the slopes at b.
func (p Params) Slopes(b Brew) (Slopes, error) {
	c, err := p.Pour(b)
	if err != nil {
		return Slopes{}, err
	}
	s := Slopes{Cup: c.Whole()}
	for _, lever := range []struct {
		ey, tds *float64
		move    func(factor float64) (Brew, error)
	}{
		{&s.EY.Time, &s.TDS.Time, func(f float64) (Brew, error) { return b.slower(f), nil }},
		{&s.EY.Yield, &s.TDS.Yield, func(f float64) (Brew, error) { return p.RunOn(b, b.Yield*f) }},
		{&s.EY.Dose, &s.TDS.Dose, func(f float64) (Brew, error) { return b.dosed(f), nil }},
	} {
		var cups [2]Cup
		for i, factor := range []float64{math.Exp(-nudge), math.Exp(nudge)} {
			moved, err := lever.move(factor)
			if err != nil {
				return Slopes{}, err
			}
			c, err := p.Pour(moved)
			if err != nil {
				return Slopes{}, err
			}
			cups[i] = c.Whole()
		}
		*lever.ey = logRatio(cups[1].EY, cups[0].EY) / (2 * nudge)
		*lever.tds = logRatio(cups[1].TDS, cups[0].TDS) / (2 * nudge)
	}
	return s, nil
}

// logRatio returns log(x/y), 0 where there is nothing to compare.
func logRatio(x, y float64) float64 {
	if !(x > 0 && y > 0) {
		return 0
	}
	return math.Log(x / y)
}

// slower returns b with every time on its clock multiplied by factor.
func (b Brew) slower(factor float64) Brew {
	b.Time *= factor
	b.FirstDrip *= factor
	return b
}

// dosed returns b with its dose multiplied by factor.
func (b Brew) dosed(factor float64) Brew {
	b.Dose *= factor
	return b
}
