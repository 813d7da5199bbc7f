package review

import (
	"math"
	"slices"

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
		c.Read = taste.Default().Judge(append([]taste.Tasting{{Taster: uint64(e.Person), Words: s.Words}}, later[e.ID]...), taste.Measured{})
		r := recipes[s.Coffee].RecipeFor(s.Marks)
		c.fast = s.Time.X < r.Low
		c.Right, c.Judged = rightness(r, s, c.Read)
		list = append(list, c)
	}
	return list
}

// serves reports whether a cup is one that the bar pulled to serve, or to get
// there.
func (c Cup) serves() bool { return c.Shot.Marks&(bar.Practice|bar.Single) == 0 }

// off reports whether a cup was more wrong than right.
func (c Cup) off() bool { return c.Judged && c.Right < 0.5 }

// rightness returns how right a cup was: 1 where nothing was said against it, 0
// where it was plainly off, by what was said of it, or else by the clock. It is
// false where neither says anything, or the cup had a fault that no change
// mends.
func rightness(r bar.Recipe, s bar.Shot, read taste.Reading) (float64, bool) {
	switch {
	case s.Marks.Has(bar.Choked):
		return 0, true
	case len(read.Faults) > 0:
		return 0, false
	case read.Tasted && read.Praise < 0:
		return 0, true
	case read.Tasted:
		return rightPlace(math.Hypot(read.Extraction, read.Strength)), true
	case s.Time.From == bar.None || s.Marks.Has(bar.Stopped) || !(r.High > 0):
		return 0, false
	}
	return rightTime(r, float64(s.Time.X)), true
}

// Taste steps by which a cup may be off and be right, and from which on it is
// wrong: "a bit sour" reads as 0.8 and counts half, "sour" as 1.04 and not at all.
const (
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
