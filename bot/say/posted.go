package say

import "shothand/advisor/bar"

// Sentences about a shot that a device posted late, again, or of what nobody
// knows.
const (
	PostedBefore   English = "That shot is on the record already."
	PostedTakenOut English = "That shot came before, and somebody has taken it out since. Nothing was recorded."
)

// KeyUsed says that a device has used a key for two shots.
func (l Lang) KeyUsed(d bar.Device, key string) string {
	return l.Say("%s has used the key “%s” a while ago, for other numbers. This is taken for a new shot.", d.Name, Clip(key))
}

// PostedAlready answers a post that has come again.
func (l Lang) PostedAlready(c bar.Coffee, e bar.Entry, s bar.Shot) string {
	return l.Say("That shot is on the record already: %s.", l.shotOf(c, e, s))
}

// PostedEarlier stands above a shot that a device posted late.
func (l Lang) PostedEarlier(d bar.Device, c bar.Coffee, e bar.Entry, s bar.Shot) string {
	return l.Say("From %s, nobody's yet: %s. Tap how it tasted, or say mine.", d.Name, l.shotOf(c, e, s))
}

// PostedLate answers a post of a shot that is too long ago to be asked about.
func (l Lang) PostedLate(c bar.Coffee, e bar.Entry, s bar.Shot) string {
	return l.Say("On the record: %s. It is too long ago to ask how it tasted.", l.shotOf(c, e, s))
}

// NewestNow stands above the advice where a late shot has changed it.
const NewestNow English = "By that, on the newest shot:"

// shotOf names a shot by its coffee, its numbers and its time of day.
func (l Lang) shotOf(c bar.Coffee, e bar.Entry, s bar.Shot) string {
	return l.Say("%s of %s, %s", c.Name, l.Clock(e.At), l.pouredText(s))
}
