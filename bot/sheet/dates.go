package sheet

import (
	"regexp"
	"strconv"
	"strings"
	"time"
)

// dates reads the instants of a table.
type dates struct {
	zone  *time.Location
	order DateOrder
}

// slashed is a date with slashes, the two numbers before the year apart.
func slashed(text string) []string {
	return regexp.MustCompile(`^(\d{1,2})/(\d{1,2})/\d{4}\b`).FindStringSubmatch(text)
}

// hasDate reports whether text begins with a date.
func hasDate(text string) bool {
	return regexp.MustCompile(`^(\d{4}-\d{2}-\d{2}|\d{1,2}[./]\d{1,2}[./]\d{4})`).MatchString(text)
}

// clockOnly reports whether text is a time of day rather than a length.
func clockOnly(text string) bool {
	return regexp.MustCompile(`(?i)^\d{1,2}:\d{2}(:\d{2})?\s*(am|pm)?$`).MatchString(text)
}

// learn finds out how dates with slashes are meant, from those that can be
// meant only one way.
func (d *dates) learn(columns []Column, seen []glance) {
	for i, c := range columns {
		if i < len(seen) && d.order == Unsaid && (c.field == fieldAt || c.field == fieldDay) {
			d.order = seen[i].order
		}
	}
}

// orderOf tells how a date with slashes is meant, if it can be meant only one way.
func orderOf(cell string) DateOrder {
	m := slashed(cell)
	if m == nil {
		return Unsaid
	}
	first, _ := strconv.Atoi(m[1]) // digits
	second, _ := strconv.Atoi(m[2])
	switch {
	case first > 12 && second <= 12:
		return DayFirst
	case second > 12 && first <= 12:
		return MonthFirst
	}
	return Unsaid
}

// at returns the instant of a row.
func (d dates) at(cell map[field]string) (time.Time, error) {
	text := cell[fieldAt]
	if text == "" {
		text = strings.TrimSpace(cell[fieldDay] + " " + cell[fieldClock])
	}
	if m := slashed(text); m != nil && d.order == Unsaid && m[1] != m[2] {
		return time.Time{}, Reason{Why: WhichDate, What: text}
	}
	at, err := d.instant(text)
	if err != nil || cell[fieldAt] == "" && cell[fieldDay] == "" {
		return time.Time{}, Reason{Why: NoTime, What: text}
	}
	return at, nil
}

// instant reads one instant. A date alone is its noon.
func (d dates) instant(text string) (time.Time, error) {
	at, err := time.Parse(time.RFC3339Nano, text)
	if err == nil {
		return at, nil
	}
	day := "2/1/2006"
	if d.order == MonthFirst {
		day = "1/2/2006"
	}
	for _, date := range []string{"2006-01-02", "2.1.2006", day} {
		for _, clock := range []string{" 15:04:05", "T15:04:05", " 15:04", "T15:04", " 3:04 PM", " 3:04:05 PM", " 3:04PM"} {
			if at, err = time.ParseInLocation(date+clock, strings.ToUpper(text), d.zone); err == nil {
				return at, nil
			}
		}
		if at, err = time.ParseInLocation(date, text, d.zone); err == nil {
			return time.Date(at.Year(), at.Month(), at.Day(), 12, 0, 0, 0, d.zone), nil
		}
	}
	return time.Time{}, err
}

// number reads a number with a point or a comma.
func number(text string) (float64, error) {
	return strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
}
