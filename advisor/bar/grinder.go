package bar

import (
	"math"

	"shothand/advisor/closed"
)

// A Grinder is one grinder and what the bar told of its dial.
type Grinder struct {
	ID   GrinderID `json:"-"`
	Name string    `json:"name"`
	// Step is the smallest move people make, in dial units, 0 on a grinder
	// without numbers, whose positions are counted in steps.
	Step float64 `json:"step_dial"`
	// Finer tells which way the numbers go.
	Finer Direction `json:"finer"`
	// Min and Max are the ends of the dial, or both 0 when not known.
	Min Dial `json:"min_dial"`
	Max Dial `json:"max_dial"`
	// Worth is what one step changes a shot's time by, 0 when not known.
	Worth Seconds `json:"worth_s,omitempty"`
	// Guessed says that Step was read off the numbers people posted.
	Guessed bool `json:"step_guessed,omitempty"`
	Retired bool `json:"retired,omitempty"`

	Doser Doser `json:"doser,omitzero"`
	Purge Grams `json:"purge_g,omitempty"` // it takes to clear the old grounds, 0 when not told
	// Small is how many small steps a big one has on a dial of two parts, which
	// is counted in big steps: on one of 5, "2.3" stands at 2.6. 0 on others.
	Small   int  `json:"small_steps,omitempty"`
	Letters bool `json:"small_lettered,omitempty"` // the small steps are lettered from A: "3G"
	// Wraps is how many big steps a whole turn has on a dial that goes round
	// more than once, 0 on others.
	Wraps float64 `json:"turn_dial,omitempty"`
	Plus  bool    `json:"plus_is_half,omitempty"` // people here write half a step as "5+"
}

// Turn returns where the dial stands when it is turned from d by so many steps,
// + is finer. A dial nobody has told the direction of is taken to go lower as
// most do: common practice, no source.
func (g Grinder) Turn(d Dial, steps float64) Dial {
	return Dial(math.Round(float64(g.At(g.Steps(d)+steps))*1e6) / 1e6)
}

// Holds reports whether a position is on the dial; any is where its ends are
// not known, but one whose positions are no plain numbers begins at 0.
func (g Grinder) Holds(d Dial) bool {
	if g.Max > g.Min {
		return g.Min-1e-9 <= d && d <= g.Max+1e-9
	}
	return g.Small == 0 && !(g.Wraps > 0) && !g.Plus || d >= -1e-9
}

// Length returns how many steps the dial has from end to end, 0 where its ends are
// not known.
func (g Grinder) Length() float64 {
	if !(g.Step > 0) || g.Max <= g.Min {
		return 0
	}
	return float64(g.Max-g.Min) / g.Step
}

// Steps returns a dial position in steps, + is finer.
func (g Grinder) Steps(d Dial) float64 {
	if !(g.Step > 0) {
		return float64(d)
	}
	if g.Finer == Higher {
		return float64(d) / g.Step
	}
	return -float64(d) / g.Step
}

// At returns the dial position that is at that many steps, + is finer.
func (g Grinder) At(steps float64) Dial {
	if !(g.Step > 0) {
		return Dial(steps)
	}
	if g.Finer == Higher {
		return Dial(steps * g.Step)
	}
	return Dial(-steps * g.Step)
}

// A Direction is which way a dial's numbers run.
type Direction int

// The directions. Unknown is a dial whose numbers have been used before
// anybody said which way they go.
const (
	Unknown Direction = iota
	Lower             // a lower number is finer
	Higher            // a higher number is finer
)

func directions() []string {
	return []string{Unknown: "unknown", Lower: "lower", Higher: "higher"}
}

// MarshalText names d, as records do.
func (d Direction) MarshalText() ([]byte, error) { return closed.Marshal(d, directions()) }

// UnmarshalText sets d to the direction of that name.
func (d *Direction) UnmarshalText(text []byte) error { return closed.Unmarshal(d, text, directions()) }
