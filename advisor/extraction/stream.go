package extraction

import "math"

// A flow is how fast the beverage comes.
type flow struct {
	firstDrip float64 // s, from pump on
	first     float64 // g/s, of the first drop
	gain      float64 // 1/g: after m grams the flow is first·(1 + gain·m)
}

// flowOf returns the flow of b, at which its yield is out at its time.
func (p Params) flowOf(b Brew) flow {
	f := flow{firstDrip: p.firstDrip(b), gain: p.Quicken / b.Dose}
	f.first = f.stretch(b.Yield) / (b.Time - f.firstDrip)
	return f
}

// rate returns the flow in g/s when so many grams are out.
func (f flow) rate(grams float64) float64 { return f.first * (1 + f.gain*grams) }

// stretch returns the integral of 1/(1 + gain·m) up to grams: the time they take
// if the first drop flows at 1 g/s.
func (f flow) stretch(grams float64) float64 {
	if !(f.gain > 0) {
		return grams
	}
	return math.Log1p(f.gain*grams) / f.gain
}

// time returns when so many grams are out, in seconds from pump on.
func (f flow) time(grams float64) float64 { return f.firstDrip + f.stretch(grams)/f.first }

// mass returns how many grams are out so many seconds from pump on.
func (f flow) mass(seconds float64) float64 {
	m := max(0, seconds-f.firstDrip) * f.first
	if !(f.gain > 0) {
		return m
	}
	return math.Expm1(f.gain*m) / f.gain
}

// RunOn returns b as it is if the same shot is stopped at another yield: only
// its time changes, along its flow.
func (p Params) RunOn(b Brew, yield float64) (Brew, error) {
	if err := p.check(); err != nil {
		return Brew{}, err
	}
	if err := b.check(); err != nil {
		return Brew{}, err
	}
	f := p.flowOf(b)
	b.Yield, b.FirstDrip = yield, f.firstDrip
	b.Time = f.time(max(0, yield))
	return b, b.check()
}
