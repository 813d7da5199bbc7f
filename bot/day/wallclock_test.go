package day

import (
	"testing"
	"time"
	_ "time/tzdata"

	"pgregory.net/rapid"

	"shothand/advisor/bar"
)

// The reminder of each day, through the changes of summer time. The changes
// are those of the IANA time zone database.
func TestTimetableThroughSummerTime(t *testing.T) {
	for _, test := range []struct {
		name, zone string
		at         bar.TimeOfDay
		from       string
		want       []string
	}{
		{
			"spring forward in the north", "Europe/Berlin", "06:30", "2026-03-27T20:00:00Z",
			[]string{"2026-03-28T05:30:00Z", "2026-03-29T04:30:00Z", "2026-03-30T04:30:00Z"},
		},
		{
			"fall back in the north", "Europe/Berlin", "06:30", "2026-10-23T20:00:00Z",
			[]string{"2026-10-24T04:30:00Z", "2026-10-25T05:30:00Z", "2026-10-26T05:30:00Z"},
		},
		{
			"in the hour that is skipped", "Europe/Berlin", "02:30", "2026-03-27T20:00:00Z",
			[]string{"2026-03-28T01:30:00Z", "2026-03-29T01:00:00Z", "2026-03-30T00:30:00Z"},
		},
		{
			"in the hour that comes twice", "Europe/Berlin", "02:30", "2026-10-23T20:00:00Z",
			[]string{"2026-10-24T00:30:00Z", "2026-10-25T00:30:00Z", "2026-10-26T01:30:00Z"},
		},
		{
			"between the two", "Europe/Berlin", "02:30", "2026-10-25T00:45:00Z",
			[]string{"2026-10-26T01:30:00Z"},
		},
		{
			"spring forward in the south", "Australia/Sydney", "06:30", "2026-10-02T22:00:00Z",
			[]string{"2026-10-03T19:30:00Z", "2026-10-04T19:30:00Z"},
		},
		{
			"fall back in the south", "Australia/Sydney", "06:30", "2026-04-03T22:00:00Z",
			[]string{"2026-04-04T20:30:00Z", "2026-04-05T20:30:00Z"},
		},
		{
			"half an hour", "Australia/Lord_Howe", "02:15", "2026-10-02T22:00:00Z",
			[]string{"2026-10-03T15:30:00Z", "2026-10-04T15:15:00Z"},
		},
	} {
		t.Run(test.name, func(t *testing.T) {
			zone, err := time.LoadLocation(test.zone)
			if err != nil {
				t.Fatal(err)
			}
			tt, ok := newTimetable(test.at, 0, zone)
			if !ok {
				t.Fatal("no timetable")
			}
			at, _ := time.Parse(time.RFC3339, test.from)
			for _, want := range test.want {
				if at = tt.Next(at); at.UTC().Format(time.RFC3339) != want {
					t.Errorf("next is %s, want %s", at.UTC().Format(time.RFC3339), want)
				}
			}
		})
	}
}

// In any zone on any day, each day on which the bar is open has one instant,
// and Next comes to each of them.
func TestTimetableComesOnceADay(t *testing.T) {
	zones := []string{"Europe/Berlin", "Australia/Sydney", "Australia/Lord_Howe", "America/St_Johns", "America/Santiago", "Africa/Casablanca", "Asia/Kolkata", "UTC"}
	rapid.Check(t, func(t *rapid.T) {
		zone, err := time.LoadLocation(rapid.SampledFrom(zones).Draw(t, "zone"))
		if err != nil {
			t.Fatal(err)
		}
		at := bar.MinutesOf(rapid.IntRange(0, 24*60-1).Draw(t, "minutes"))
		tt, _ := newTimetable(at, bar.Weekdays(rapid.IntRange(0, 127).Draw(t, "days")), zone)
		now := time.Unix(rapid.Int64Range(1.5e9, 2e9).Draw(t, "now"), 0)
		for range 10 {
			next := tt.Next(now)
			if !next.After(now) {
				t.Fatalf("%v is not after %v", next, now)
			}
			if on, ok := tt.On(bar.DayOf(next.In(zone)), bar.DayBegins); ok && wall(next).Hour() >= 5 && !on.Equal(next) {
				t.Fatalf("on its day it comes at %v, next at %v", on, next)
			}
			if now.Year() > 1970 && next.Sub(now) > 8*24*time.Hour {
				t.Fatalf("%v to %v", now, next)
			}
			now = next
		}
	})
}
