package say

import (
	"strconv"
	"time"

	"shothand/advisor/bar"
)

// DayName prints a day.
func (l Lang) DayName(d bar.Day) string { return l.DateText(d, longDate) }

// DateText prints a day in a layout.
func (l Lang) DateText(d bar.Day, layout string) string {
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return string(d)
	}
	if l.English() {
		return t.Format(layout)
	}
	day := strconv.Itoa(t.Day())
	if layout == longDate {
		return l.Say("date|%s %s %s", l.ShortDay(t.Weekday()), day, l.Say(months()[t.Month()-1]))
	}
	return l.Say("date|%s %s", day, l.Say(shortMonths()[t.Month()-1]))
}

// ShortDate prints a day and its month.
func (l Lang) ShortDate(t time.Time) string {
	return l.DateText(bar.Day(t.Format(time.DateOnly)), "2 Jan")
}

// longDate is the layout of a day by its name.
const longDate = "Mon 2 January"

func months() []English {
	return []English{
		"January", "February", "March", "April", "month|May", "June",
		"July", "August", "September", "October", "November", "December",
	}
}

func shortMonths() []English {
	return []English{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}
}

// ShortDay names a day of the week in short.
func (l Lang) ShortDay(d time.Weekday) string {
	return l.Say([...]English{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"}[d])
}
