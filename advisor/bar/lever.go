package bar

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

// String names l, as the JSON and the records do; empty for none of them.
func (l Lever) String() string {
	switch l {
	case NoLever:
		return "none"
	case Grind:
		return "grind"
	case Yield:
		return "yield"
	case Time:
		return "time"
	case Dose:
		return "dose"
	case Temperature:
		return "temperature"
	case Prep:
		return "prep"
	case Repeat:
		return "repeat"
	case Keep:
		return "keep"
	}
	return ""
}
