package layers

import (
	"shothand/advisor/bar"
)

// A Habit is what somebody finds more of in cups than the others do, on
// average, in scores of 0 to 5.
type Habit struct {
	Of   bar.Scale
	More float64
}

// A Progress is how one taster has done in the tastings so far.
type Progress struct {
	Cups          int // that others tasted as well, before any were shown
	Right, Orders int // blind orders
	Habits        []Habit
	Before, Now   float64 // mean distance from the others in the older and the newer half
	Compared      bool    // there are cups enough for the two
}

// How much it takes to speak of somebody's taste; assumed.
const (
	HabitCups  = 6   // cups for a habit
	HabitSize  = 0.5 // least difference, in scores
	HabitSure  = 2.0 // standard errors
	HalvesCups = 12  // cups for progress
)
