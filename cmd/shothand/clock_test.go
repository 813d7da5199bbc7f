package main

import (
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A clock that jumps a day back, and forward again, loses nothing: every shot
// is recorded and answered, in the order of its time, the file is whole, and
// no day is reminded twice.
func TestClockJumpsADayBack(t *testing.T) {
	db := filepath.Join(t.TempDir(), "bar.db")
	bar := open(t, db)
	day := 24 * 60
	lines := []struct {
		minutes int
		text    string
	}{
		{0, "/setup zone:Europe/Berlin opens:08:00 closes:18:00 remind:07:30"},
		{1, "18 36 22 grind 5.2 sour"},
		{day + 10, "18 36 24 grind 5.1 sour"},
		{day + 13, "18 36 25 grind 5.0 sour"},
		{20, "18 36 23 grind 5.15 sour"}, // the clock jumps
		{23, "18 36 23 grind 5.15 a bit sour"},
		{25, "/today"},
		{day + 16, "18 36 27 grind 4.9 balanced"},
		{day + 17, "/today"},
		{2*day + 10, "18 36 28 grind 4.9 sweet"},
	}
	reminders := map[string]int{}
	shots := 0
	var last object
	for _, line := range lines {
		o := bar.say(at(line.minutes, "@mara "+line.text))
		last = o
		if strings.HasPrefix(line.text, "18") {
			shots++
			o.advice(t)
		} else if len(o.Replies) != 1 {
			t.Errorf("%s was answered %+v", line.text, o.Replies)
		}
		for _, due := range o.Due {
			if due.Kind == "reminder" {
				first, _, _ := strings.Cut(due.Text, "\n")
				reminders[first]++
			}
		}
	}
	if a := last.advice(t); a.Shot != 1 {
		t.Errorf("the last is shot %d of its day", a.Shot)
	}
	bar.close()
	for day, n := range reminders {
		if n > 1 {
			t.Errorf("reminded %d times: %s", n, day)
		}
	}
	if got := len(inFile(t, db)); got != shots {
		t.Errorf("%d shots are in the file, want %d", got, shots)
	}
	table, err := call(t, "", "export", "-db", db, "-format", "csv")
	if err != nil {
		t.Fatal(err)
	}
	var before time.Time
	for row := range strings.Lines(table) {
		first, _, _ := strings.Cut(row, ",")
		when, err := time.Parse(time.RFC3339Nano, first)
		if err != nil {
			continue // the header
		}
		if when.Before(before) {
			t.Errorf("%s stands after %s", when, before)
		}
		before = when
	}
	if before.IsZero() {
		t.Errorf("no shots in %s", table)
	}
}
