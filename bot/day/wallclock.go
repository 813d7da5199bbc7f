package day

import (
	"fmt"
	"strings"
	"time"

	"github.com/robfig/cron/v3"

	"shothand/advisor/bar"
)

// wall returns what a wall clock in t's zone shows, as if it were in UTC, where
// no clock is ever put back or forward.
func wall(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, t.Hour(), t.Minute(), t.Second(), t.Nanosecond(), time.UTC)
}

// instant returns when the wall clocks of a zone show w. A time that they skip
// is the first instant after, one that they show twice is the first.
func instant(w time.Time, zone *time.Location) time.Time {
	y, m, d := w.Date()
	t := time.Date(y, m, d, w.Hour(), w.Minute(), w.Second(), w.Nanosecond(), zone)
	begins, ends := t.ZoneBounds()
	switch {
	case !wall(t).Equal(w): // skipped: t lies on one side of the change or the other
		if wall(t).Before(w) {
			return ends
		}
		return begins
	case !begins.IsZero(): // is it shown before the last change, too?
		_, now := t.Zone()
		_, before := begins.Add(-time.Nanosecond).Zone()
		if earlier := t.Add(time.Duration(now-before) * time.Second); earlier.Before(begins) && wall(earlier).Equal(w) {
			return earlier
		}
	}
	return t
}

// A timetable is when something happens every day on which a bar is open.
type timetable struct {
	cron.Schedule
	zone *time.Location
}

// newTimetable returns the timetable of a time of day. It is false if there is
// none.
func newTimetable(at bar.TimeOfDay, days bar.Weekdays, zone *time.Location) (timetable, bool) {
	minutes, ok := at.Minutes()
	if !ok {
		return timetable{}, false
	}
	var names []string
	for d := range time.Weekday(7) {
		if days.Has(d) {
			names = append(names, fmt.Sprint(int(d)))
		}
	}
	s, err := cron.ParseStandard(fmt.Sprintf("%d %d * * %s", minutes%60, minutes/60, strings.Join(names, ",")))
	return timetable{s, zone}, err == nil
}

// mostShift is more than any zone has moved its clocks at once, the date line
// crossed included.
const mostShift = 25 * time.Hour

// Next returns the first instant after t. The schedule is asked on the wall
// clock, since its own Next leaves out a time that is skipped and doubles one
// that is shown twice.
func (tt timetable) Next(t time.Time) time.Time {
	w := wall(t.In(tt.zone)).Add(-mostShift)
	for {
		w = tt.Schedule.Next(w)
		if w.IsZero() {
			return w
		}
		if at := instant(w, tt.zone); at.After(t) {
			return at
		}
	}
}

// On returns when it happens on a day that begins so long after midnight, or
// false if it does not.
func (tt timetable) On(day bar.Day, begins time.Duration) (time.Time, bool) {
	midnight, err := time.Parse(time.DateOnly, string(day))
	if err != nil {
		return time.Time{}, false
	}
	w := tt.Schedule.Next(midnight.Add(begins - time.Second))
	if !w.Before(midnight.Add(24*time.Hour + begins)) {
		return time.Time{}, false
	}
	return instant(w, tt.zone), true
}

// after returns the days that follow those of w.
func after(w bar.Weekdays) bar.Weekdays {
	var next bar.Weekdays
	for d := range time.Weekday(7) {
		if w.Has(d) {
			next = next.With((d + 1) % 7)
		}
	}
	return next
}
