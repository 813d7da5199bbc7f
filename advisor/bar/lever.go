package bar

import "shothand/advisor/closed"

// A Lever is what an advice changes.
type Lever int

// The levers. Exactly one is moved at a time.
const (
	NoLever     Lever = iota // nothing the barista can move mends it
	Grind                    // in dial units, or steps
	Yield                    // in g
	Time                     // in s, where a bar cuts by time
	Dose                     // in g
	Temperature              // in °C
	Prep                     // puck preparation
	Repeat                   // pull the same again
	Keep                     // this is it
)

func levers() []string {
	return []string{
		NoLever:     "none",
		Grind:       "grind",
		Yield:       "yield",
		Time:        "time",
		Dose:        "dose",
		Temperature: "temperature",
		Prep:        "prep",
		Repeat:      "repeat",
		Keep:        "keep",
	}
}

// String names l, as records do; empty for none of them.
func (l Lever) String() string { return closed.Name(l, levers()) }

// MarshalText names l, as records do.
func (l Lever) MarshalText() ([]byte, error) { return closed.Marshal(l, levers()) }

// UnmarshalText sets l to the lever of that name.
func (l *Lever) UnmarshalText(text []byte) error { return closed.Unmarshal(l, text, levers()) }
