package parse

import "shothand/advisor"

// Told returns the shot that a message tells, as far as it tells it: no ids,
// and no grind, which depends on what the grinder's dial is like.
func (s Shot) Told() advisor.Shot {
	return advisor.Shot{
		Marks: s.Marks,
		Dose:  value[advisor.Grams](s.Dose),
		Yield: value[advisor.Grams](s.Yield),
		Time:  value[advisor.Seconds](s.Time),
		TDS:   advisor.Percent(s.TDS.X), Water: advisor.Celsius(s.Water.X), FirstDrip: advisor.Seconds(s.Drip.X),
		Words: s.Words, Unread: s.Unread,
	}
}

// value returns a number of a message as a value of a shot.
func value[T ~float64](n Number) advisor.Value[T] {
	if !n.Said {
		return advisor.Value[T]{}
	}
	return advisor.Value[T]{X: T(n.X), From: advisor.Said, Rough: n.Rough}
}
