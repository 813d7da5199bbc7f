package review

import (
	"math"
	"slices"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/history"
	"shothand/advisor/taste"
)

// A Cup is one shot with what was said of it, then and later, by anybody.
type Cup struct {
	Entry  bar.Entry
	Shot   bar.Shot
	Words  []bar.Word
	Read   taste.Reading
	Right  float64 // how right it was, 0 to 1, where Judged
	Judged bool
	Blamed bool // something that is advised upon was held against it
	fast   bool // short of its window
}

// CupsOf returns the shots of a history, oldest first.
func CupsOf(h bar.History) []Cup {
	h = history.Heard(h)
	later := history.Later(h.Entries)
	recipes := map[bar.CoffeeID]bar.Coffee{}
	for _, c := range h.Coffees {
		recipes[c.ID] = c
	}
	var list []Cup
	for _, e := range h.Entries {
		s, ok := e.What.(bar.Shot)
		if !ok || e.Deleted {
			continue
		}
		c := Cup{Entry: e, Shot: s, Words: s.Words}
		for _, t := range later[e.ID] {
			c.Words = append(slices.Clip(c.Words), t.Words...)
		}
		c.Read = taste.Judge(history.Tastings(e, s, later[e.ID]), taste.Measured{})
		r := recipes[s.Coffee].RecipeFor(s.Marks)
		c.fast = s.Time.X < r.Low
		c.Right, c.Judged = rightness(recipes[s.Coffee], s, c.Read)
		c.Blamed = blamed(recipes[s.Coffee], s, c.Read)
		list = append(list, c)
	}
	return list
}

// serves reports whether a cup is one that the bar pulled to serve, or to get
// there.
func (c Cup) serves() bool { return c.Shot.Marks&(bar.Practice|bar.Single) == 0 }

// off reports whether a cup counts as wrong: by what was held against it, or else by
// the clock.
func (c Cup) off() bool { return c.Judged && (c.Blamed || c.Right < 0.5) }

// blamed reports whether what was said of a cup holds anything against it.
func blamed(c bar.Coffee, s bar.Shot, read taste.Reading) bool {
	return read.Tasted && advisor.Blamed(c.Aim, s, read)
}

// rightness returns how right a cup was: 1 where nothing was said against it, at
// most half where anything was, and 0 where it was plainly off; of a cup that nobody
// tasted, by the clock. It is false where neither says anything, or the cup had a
// fault that no change mends.
func rightness(c bar.Coffee, s bar.Shot, read taste.Reading) (float64, bool) {
	r := c.RecipeFor(s.Marks)
	switch {
	case s.Marks.Has(bar.Choked):
		return 0, true
	case len(read.Faults) > 0:
		return 0, false
	case read.Tasted && read.Praise < 0:
		return 0, true
	case blamed(c, s, read):
		return min(atMost, rightPlace(math.Hypot(read.Extraction, read.Strength))), true
	case read.Tasted:
		return 1, true
	case s.Time.From == bar.None || s.Marks.Has(bar.Stopped) || !(r.High > 0):
		return 0, false
	}
	return rightTime(r, float64(s.Time.X)), true
}

// How right a cup may be that something was held against, and taste steps by which it
// may be off and be so, and from which on it is plainly wrong: "a bit sour" reads as
// 0.8 and counts half, "sour" as 1.04 and not at all.
const (
	atMost      = 0.5
	rightWithin = 0.6
	wrongFrom   = 1.0
)

// rightPlace returns how right a cup is that is so many taste steps off.
func rightPlace(off float64) float64 {
	return min(max((wrongFrom-off)/(wrongFrom-rightWithin), 0), 1)
}

// wrongTime is how many seconds out of its window a shot that nobody tasted is
// taken to be plainly wrong; assumed.
const wrongTime = 4

// rightTime returns how right a time is.
func rightTime(r bar.Recipe, x float64) float64 {
	return max(0, 1-float64(away(r, bar.Seconds(x)))/wrongTime)
}
