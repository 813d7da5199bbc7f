package settings

import (
	"time"

	"shothand/advisor/bar"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// CheckZone returns the mistake of a zone that does not exist, or nil.
func CheckZone(l say.Lang, name string) error {
	if _, bad := time.LoadLocation(name); bad != nil || name == "Local" {
		near := nearestZone(name)
		return turn.Misnamed{Mistake: turn.Mistake(l.BadZone(name, near)), Said: name, Right: near}
	}
	return nil
}

// Hour reads a time of day, or that there is none.
func Hour(value string) (bar.TimeOfDay, error) {
	if parse.None(value) {
		return "", nil
	}
	return parse.HourOfDay(value)
}
