package recent

import (
	"time"

	"shothand/advisor/bar"
)

// IsOpen reports whether a shot is one that a device posted and nobody's.
func IsOpen(e bar.Entry) bool {
	s, ok := e.What.(bar.Shot)
	return ok && s.Device != 0 && e.Person == 0 && !e.Deleted
}

// A shot that a device posted and a person told of is one: the person's, with
// what the device measured. What the device posted stays in the book as an
// entry of its own, taken out for as long as the person's stands.

// How near what a person tells must be to what a device posted, in time of day
// and in each number that both have, to be the same shot. People round, and look
// at a display a moment late; assumed.
const (
	SameShot  = 2 * time.Minute
	SameTime  = 2.0 // s
	SameYield = 2.0 // g
	SameDose  = 1.0 // g
	// BeganAfter is how much later than it was told of a shot may have begun.
	BeganAfter = 10 * time.Second
	// Notable is how far apart, in these tolerances, two readings are one shot
	// with a word about it.
	Notable = 0.5
	// AsNear is how little nearer one of two shots may be, in these
	// tolerances, for it to be asked which was meant.
	AsNear = 0.25
	// SureClock is the doubt, in s, beyond which a person's clock is believed
	// before a device's.
	SureClock = 1.0
)

// Around reports whether two instants may be of one shot.
func Around(a, b time.Time) bool { return a.Sub(b).Abs() <= SameShot }

// PostedBy returns the device whose own entry e is, or none.
func PostedBy(e bar.Entry) bar.DeviceID {
	switch w := e.What.(type) {
	case bar.Shot:
		if w.Posted == 0 {
			return w.Device
		}
	case bar.Held:
		return w.Device
	case bar.Words, bar.Told, bar.Dialled, bar.Setting, bar.Layers, bar.Sips:
	}
	return 0
}
