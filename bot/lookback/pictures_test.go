package lookback

import (
	"testing"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/review"
)

// Another coffee's call ends nobody else's dial-in, and one that is not called
// is not said to be.
func TestDialInIsOfItsCoffee(t *testing.T) {
	at := time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC)
	course := review.Course{Coffee: bar.Coffee{ID: 1}}
	for i := range 4 {
		e := bar.Entry{ID: bar.EntryID(i + 1), At: at.Add(time.Duration(3*i) * time.Minute), Day: "2026-03-02"}
		course.Trail.Steps = append(course.Trail.Steps, advisor.TrailShot{Entry: e})
	}
	call := func(coffee bar.CoffeeID, after time.Duration) bar.Entry {
		return bar.Entry{At: at.Add(after), Day: "2026-03-02", What: bar.Dialled{Coffee: coffee}}
	}
	for name, c := range map[string]struct {
		calls  []bar.Entry
		steps  int
		called bool
	}{
		"none":      {nil, 4, false},
		"its own":   {[]bar.Entry{call(1, 7*time.Minute)}, 3, true},
		"another's": {[]bar.Entry{call(2, time.Minute)}, 4, false},
		"both":      {[]bar.Entry{call(2, time.Minute), call(1, 10*time.Minute)}, 4, true},
	} {
		steps, called := lastDialIn(course, c.calls, review.Span{From: "0001-01-01", To: "9999-12-31"})
		if len(steps) != c.steps || called != c.called {
			t.Errorf("%s: %d shots, called %v, want %d, %v", name, len(steps), called, c.steps, c.called)
		}
	}
}

// A bar's day goes on after midnight, to the right.
func TestClockHourGoesOnAfterMidnight(t *testing.T) {
	for text, want := range map[string]float64{"04:00": 4, "06:30": 6.5, "23:45": 23.75, "00:30": 24.5, "03:45": 27.75} {
		at, err := time.Parse("15:04", text)
		if err != nil {
			t.Fatal(err)
		}
		if got := clockHour(at); got != want {
			t.Errorf("%s stands at %g, want %g", text, got, want)
		}
	}
}
