package parse

import (
	"shothand/advisor/bar"
)

// Told returns the shot that a message tells, as far as it tells it: no ids,
// and no grind, which depends on what the grinder's dial is like.
func (s Shot) Told() bar.Shot {
	return bar.Shot{
		Marks: s.Marks,
		Dose:  value[bar.Grams](s.Dose),
		Yield: value[bar.Grams](s.Yield),
		Time:  value[bar.Seconds](s.Time),
		TDS:   bar.Percent(s.TDS.X), Water: bar.Celsius(s.Water.X), FirstDrip: bar.Seconds(s.Drip.X),
		Words: s.Words, Unread: s.Unread,
	}
}

// value returns a number of a message as a value of a shot.
func value[T ~float64](n Number) bar.Value[T] {
	if !n.Said {
		return bar.Value[T]{}
	}
	return bar.Value[T]{X: T(n.X), From: bar.Said, Rough: n.Rough}
}
