package day

import (
	"testing"
	"time"

	"shothand/advisor/bar"
)

// What is due at one minute comes in one order: a reminder before the closing.
func TestTimetablesHaveAnOrder(t *testing.T) {
	at := time.Date(2026, 3, 2, 18, 0, 0, 0, time.UTC)
	for range 50 {
		got := Clock{Bar: bar.Bar{Remind: "18:00", Closes: "18:00"}, Now: at}.timetables()
		if len(got) != 2 || got[0].closing || !got[1].closing {
			t.Fatalf("the reminder is not before the closing: %v", got)
		}
	}
}
