package day

import (
	"slices"
	"time"

	"shothand/advisor/bar"
)

// Times of what a bar is told by itself. Common practice, no source.
const (
	stillUseful = 2 * time.Hour   // after opening, for a reminder that comes late
	missed      = 5 * time.Minute // after which something due counts as late
)

// GoneBy is how long ago what was due is over.
const GoneBy = 7 * 24 * time.Hour

// A Clock is what a bar is told by: its hours and days, at an instant in its zone.
type Clock struct {
	Bar  bar.Bar
	Now  time.Time
	Live bool // it is the machine's own, so that what it passes over comes late
}

// A Due is something that a bar is told by the clock: the reminder, or the
// closing.
type Due struct {
	At      time.Time
	Closing bool
}

// Keeps reports whether the bar has told enough of its day for the bot to
// do anything by itself.
func (c Clock) Keeps() bool {
	b := c.Bar
	return b.Zone != "" || b.Opens != "" || b.Closes != "" || b.Remind != ""
}

// A daily is what comes at a time of each day: the reminder, or the closing.
type daily struct {
	timetable
	closing bool
}

// timetables returns when the bar is reminded and when its day is closed, in
// this order. What closes after midnight closes the day before.
func (c Clock) timetables() []daily {
	var tables []daily
	if tt, ok := newTimetable(c.Bar.Remind, c.Bar.Days, c.Now.Location()); ok {
		tables = append(tables, daily{timetable: tt})
	}
	days := c.Bar.Days
	if minutes, ok := c.Bar.Closes.Minutes(); ok && minutes < int(bar.DayBegins.Minutes()) {
		days = after(days)
	}
	if tt, ok := newTimetable(c.Bar.Closes, days, c.Now.Location()); ok {
		tables = append(tables, daily{timetable: tt, closing: true})
	}
	return tables
}

// on returns when a timetable of the bar comes on the day that it is now. A
// reminder is for its date, also before the bar's day begins.
func (c Clock) on(tt daily) (time.Time, bool) {
	if tt.closing {
		return tt.On(bar.DayOf(c.Now), bar.DayBegins)
	}
	return tt.On(bar.Day(c.Now.Format(time.DateOnly)), 0)
}

// Due returns what has come due since last, in order. What came due while the
// program was down, last being zero, or asleep is told late if that is still of
// use.
func (c Clock) Due(last time.Time) []Due {
	var list []Due
	for _, tt := range c.timetables() {
		if last.IsZero() {
			if at, ok := c.on(tt); ok && !at.After(c.Now) && c.useful(tt.closing, at) {
				list = append(list, Due{c.Now, tt.closing})
			}
			continue
		}
		since := last
		if far := c.Now.Add(-GoneBy); since.Before(far) {
			since = far
		}
		for at := tt.Next(since); !at.IsZero() && !at.After(c.Now); at = tt.Next(at) {
			today, ok := c.on(tt)
			switch late := c.Live && c.Now.Sub(at) > missed; {
			case !late:
				list = append(list, Due{at, tt.closing})
			case ok && today.Equal(at) && c.useful(tt.closing, at):
				list = append(list, Due{c.Now, tt.closing})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Due) int { return a.At.Compare(b.At) })
	return list
}

// useful reports whether what was due today at an instant is worth telling now.
func (c Clock) useful(closing bool, at time.Time) bool {
	if closing {
		return true
	}
	if tt, ok := newTimetable(c.Bar.Opens, c.Bar.Days, c.Now.Location()); ok {
		if opens, ok := c.on(daily{timetable: tt}); ok {
			at = opens
		}
	}
	return c.Now.Before(at.Add(stillUseful))
}

// Next returns when the next reminder or closing is, zero for never.
func (c Clock) Next() (at time.Time) {
	for _, tt := range c.timetables() {
		if next := tt.Next(c.Now); !next.IsZero() && (at.IsZero() || next.Before(at)) {
			at = next
		}
	}
	return at
}

// Quiet reports whether the bar is closed at this hour.
func (c Clock) Quiet() bool {
	minutes := c.Now.Hour()*60 + c.Now.Minute()
	opens, ok1 := c.Bar.Opens.Minutes()
	closes, ok2 := c.Bar.Closes.Minutes()
	switch {
	case ok1 && ok2 && opens < closes:
		return minutes < opens || minutes >= closes
	case ok1 && ok2: // it closes after midnight
		return minutes < opens && minutes >= closes
	case ok1:
		return minutes < opens && minutes >= int(bar.DayBegins.Minutes())
	case ok2 && closes >= int(bar.DayBegins.Minutes()):
		return minutes >= closes
	}
	return false
}
