package advisor

import (
	"shothand/advisor/bar"
	"shothand/advisor/closed"
	"shothand/advisor/taste"
	"shothand/advisor/why"
)

// A Unit is what an advice's From and To are counted in.
type Unit int

// The units.
const (
	NoUnit Unit = iota
	DialUnit
	GramUnit
	SecondUnit
	CelsiusUnit
	StepUnit // from 0, + is finer
)

func units() []string {
	return []string{
		NoUnit:      "none",
		DialUnit:    "dial",
		GramUnit:    "g",
		SecondUnit:  "s",
		CelsiusUnit: "C",
		StepUnit:    "steps",
	}
}

// String names u, as records do; empty for none of them.
func (u Unit) String() string { return closed.Name(u, units()) }

// MarshalText names u, as records do.
func (u Unit) MarshalText() ([]byte, error) { return closed.Marshal(u, units()) }

// UnmarshalText sets u to the unit of that name.
func (u *Unit) UnmarshalText(text []byte) error { return closed.Unmarshal(u, text, units()) }

// A State is where a coffee stands today.
type State int

// The states.
const (
	Dialling State = iota
	DialledIn
	Drifting
)

func states() []string {
	return []string{Dialling: "dialling", DialledIn: "dialled", Drifting: "drifting"}
}

// String names s, as records do; empty for none of them.
func (s State) String() string { return closed.Name(s, states()) }

// MarshalText names s, as records do.
func (s State) MarshalText() ([]byte, error) { return closed.Marshal(s, states()) }

// UnmarshalText sets s to the state of that name.
func (s *State) UnmarshalText(text []byte) error { return closed.Unmarshal(s, text, states()) }

// An Advice is what to do next, without words.
type Advice struct {
	Coffee  bar.CoffeeID
	Grinder bar.GrinderID
	Shot    bar.EntryID // the newest shot it looked at
	Nth     int         // which shot of its coffee that was today, from 1

	Read     taste.Reading
	Lever    bar.Lever
	From, To float64 // in Unit; equal for Keep, both 0 where Unit is NoUnit
	Unit     Unit
	Purge    bool
	Expect   Expect
	Sure     float64 // probability that the setting just used is right
	State    State
	Reasons  []why.Reason
	Others   []Candidate // the runners-up, best first
	Drift    Drift       // of a coffee that is drifting
	Learnt   Learnt
	Stands   []bar.Dial // where the dial may stand, if that is asked: as said last, and as advised since
	Beyond   float64    // which way the last shot's time lay beyond the noise: -1 faster, +1 slower, 0 within it
	Trim     Trim       // of the dose, where no lever gets there
}

// A Trim is what the dose does where the grinder does not get there.
type Trim struct {
	Way  int       // more coffee: +1, less: -1, 0 where neither is known to help
	Dose bar.Grams // to try, 0 where the basket holds no such
}

// Learnt is what a coffee's shots have taught so far, in the mean.
type Learnt struct {
	Shots int         // of this coffee that were looked at
	Step  bar.Seconds // what one step of the grinder changes a shot in the window by
	Noise float64     // sd of one shot, as a share of its time
	Old   float64     // share of old grounds in a dose after a change without a purge
	Cups  int         // tasted
	Wrong float64     // probability that the window is not where the coffee tastes best
}

// Expect is what the next shot should show, if the advice is followed.
type Expect struct {
	Time  bar.Seconds `json:"expect_time_s"` // the median
	Low   bar.Seconds `json:"expect_low_s"`  // the interval around it
	High  bar.Seconds `json:"expect_high_s"`
	Level float64     `json:"expect_level"` // the probability that Low to High holds
}

// A Candidate is a move that was weighed.
type Candidate struct {
	Lever    bar.Lever
	From, To float64
	Unit     Unit
	Right    float64     // probability that the next steady shot is right
	Time     bar.Seconds // expected there
}

// fromDrip returns a with its times counted from the first drip.
func (a Advice) fromDrip(wet bar.Seconds) Advice {
	if a.Expect.Time > 0 {
		a.Expect.Time -= wet
		a.Expect.Low = max(0, a.Expect.Low-wet)
		a.Expect.High -= wet
	}
	if a.Lever == bar.Time {
		a.From, a.To = a.From-float64(wet), a.To-float64(wet)
	}
	for i := range a.Others {
		a.Others[i].Time -= wet
	}
	a.Drift = a.Drift.fromDrip(wet)
	return a
}
