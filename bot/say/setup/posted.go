package setup

import (
	"shothand/advisor/bar"
	"shothand/bot/say"
)

// Sentences about a shot that a device posted late, again, or of what nobody
// knows.
const (
	PostedBefore   say.English = "That shot came before, and was taken then. Nothing more was recorded."
	PostedTakenOut say.English = "That shot came before, and somebody has taken it out since. Nothing was recorded."
)

// What a device is told that asks for something else.
const (
	PostOnly    say.English = "A shot is posted: send it with POST. Nothing was recorded."
	NothingHere say.English = "There is nothing at this address: POST /shot takes a shot, GET /openapi.yaml describes it."
)

// KeyUsed says that a device has used a key for two shots.
func (l Lang) KeyUsed(d bar.Device, key string) string {
	return l.Say("%s has used the key “%s” a while ago, for other numbers. This is taken for a new shot.", d.Name, say.Clip(key))
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
const NewestNow say.English = "By that, on the newest shot:"

// shotOf names a shot by its coffee, its numbers and its time of day.
func (l Lang) shotOf(c bar.Coffee, e bar.Entry, s bar.Shot) string {
	return l.Say("%s of %s, %s", c.Name, l.Clock(e.At), l.PouredText(s))
}

// DeviceNames are the names of the devices that may post.
func DeviceNames(all []bar.Device) []string {
	var names []string
	for _, d := range all {
		if !d.Retired {
			names = append(names, d.Name)
		}
	}
	return names
}

// NoSuchDevice refuses what is said of a device that there is not. Ends says that
// it can only be said of one there is.
func (l Lang) NoSuchDevice(name string, names []string, ends bool) string {
	text := l.Say("There is no device %s.", name)
	if len(names) > 0 {
		text = l.Say("There is no device %s; there is %s.", name, l.List(names))
	}
	if !ends {
		text += " " + l.Say("To add it as another, put allow:yes behind it.")
	}
	return text + " " + l.Say(say.NothingChanged)
}

// DeviceAdded begins what is said of a new device: which others there are.
func (l Lang) DeviceAdded(others []bar.Device) string {
	names := DeviceNames(others)
	if len(names) == 0 {
		return l.Say(say.Added)
	}
	return l.Say("Added, as another device beside %s", l.List(names))
}

// PostedElsewhere asks whether a shot that a device posted for another coffee is
// the one that a person has told.
func (l Lang) PostedElsewhere(d bar.Device, coffee string) string {
	return l.Say("%s posted these numbers for %s. Is it the same shot? I kept what you wrote.", d.Name, coffee)
}

// TwoShots says that a person's shot is not the one that a device posted.
func (l Lang) TwoShots(d bar.Device) string {
	return l.Say("Two shots, then. What %s posted stands by itself, as nobody's.", d.Name)
}

// NowMineOf says which shot is somebody's now, where a newer one stands below.
func (l Lang) NowMineOf(who string, c bar.Coffee, e bar.Entry, s bar.Shot) string {
	return l.Say("Noted, %s's: %s. How did it taste?", say.Clip(who), l.shotOf(c, e, s))
}

// DeviceGone says that a device was taken out again.
func (l Lang) DeviceGone(name string) string {
	return l.Say("Taken back: %s is no device of the bar any more, and nothing of it is read.", name)
}

// NotAllowed answers a post at the console of a device that may not.
func (l Lang) NotAllowed(name string, names []string) string {
	if len(names) == 0 {
		return l.Say("No device %s may post here. Allow it with /setup device:%s. Nothing was recorded.", name, say.Quoted(name))
	}
	return l.Say("No device %s may post here; %s may. Nothing was recorded.", name, l.List(names))
}
