package main

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
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

// Through both changes of the clocks, and a console's clock put an hour or a day
// forward and back, each day has one morning and one closing note, and each
// shot is recorded once.
func TestClockOnConsole(t *testing.T) {
	t.Parallel()
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, first string
		wrong       map[int]time.Duration // by how much the clock is wrong from the shot of that number on
	}{
		{"spring", "2026-03-28", nil},
		{"autumn", "2026-10-24", nil},
		{"an hour ahead, then right", "2026-03-02", map[int]time.Duration{4: time.Hour, 6: 0}},
		{"an hour behind, then right", "2026-03-02", map[int]time.Duration{4: -time.Hour, 6: 0}},
		{"a day ahead, then right", "2026-03-02", map[int]time.Duration{3: 24 * time.Hour, 5: 0}},
		{"a day behind, then right", "2026-03-02", map[int]time.Duration{7: -24 * time.Hour, 8: 0}},
	} {
		t.Run(c.name, func(t *testing.T) {
			db := filepath.Join(t.TempDir(), "bar.db")
			first, err := time.ParseInLocation(time.DateOnly, c.first, berlin)
			if err != nil {
				t.Fatal(err)
			}
			bar := open(t, db)
			mornings, closings := map[string]int{}, map[string]int{}
			say := func(at time.Time, text string) object {
				o := bar.say(at.Format(time.RFC3339) + " @mara " + text)
				for _, due := range o.Due {
					title, _, _ := strings.Cut(due.Text, "\n")
					switch {
					case strings.HasPrefix(title, "Closing."):
						closings[due.At[:10]]++
					case due.Kind == "reminder":
						mornings[title]++
					}
				}
				return o
			}
			say(first.Add(6*time.Hour), "/setup zone:Europe/Berlin opens:08:00 closes:18:00 remind:07:30")
			n, wrong := 0, time.Duration(0)
			for day := range 4 {
				for _, clock := range []string{"02:30", "09:00", "17:30"} {
					at, err := time.ParseInLocation("2006-01-02 15:04", first.AddDate(0, 0, day).Format(time.DateOnly)+" "+clock, berlin)
					if err != nil {
						t.Fatal(err)
					}
					if at.Before(first.Add(6 * time.Hour)) {
						continue
					}
					if by, jumps := c.wrong[n]; jumps {
						wrong = by
					}
					say(at.Add(wrong), "18 36 "+[]string{"20", "22", "24"}[n%3]+" grind 5.2 sour").advice(t)
					n++
				}
			}
			say(first.AddDate(0, 0, 3).Add(20*time.Hour), "/today")
			bar.close()
			pulled := map[string]int{}
			shots := shotsSince(t, db, first.Add(-72*time.Hour))
			for _, e := range shots {
				if hour := e.At.In(berlin).Hour(); 4 <= hour && hour < 18 { // else the note of the day has come
					pulled[string(e.Day)] = 1
				}
			}
			if len(shots) != n {
				t.Errorf("%d shots are in the file, want %d", len(shots), n)
			}
			if diff := cmp.Diff(pulled, closings); diff != "" {
				t.Errorf("days with shots until closing, and closing notes (-want +got):\n%s", diff)
			}
			for title, k := range mornings {
				if k != 1 {
					t.Errorf("reminded %d times: %s", k, title)
				}
			}
			if len(mornings) < 2 {
				t.Errorf("reminded on %v", mornings)
			}
		})
	}
}
