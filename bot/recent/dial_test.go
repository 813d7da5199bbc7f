package recent_test

import (
	"testing"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/recent"
)

// A dial that was said late, after a shot whose setting nobody knew, still stands there.
func TestDialSetLate(t *testing.T) {
	at := func(minute int) time.Time { return time.Date(2026, 3, 2, 6, minute, 0, 0, time.UTC) }
	shot := func(id bar.EntryID, minute int, dial bar.Value[bar.Dial]) bar.Entry {
		return bar.Entry{ID: id, At: at(minute), What: bar.Shot{Grinder: 1, Grind: dial}}
	}
	moved := bar.Told{Event: bar.Moved, Grinder: 1, Dial: bar.Value[bar.Dial]{X: 5.4, From: bar.Said}}
	r := recent.Book{Recent: []bar.Entry{
		shot(1, 30, bar.Value[bar.Dial]{X: 5.2, From: bar.Said}),
		{ID: 2, At: at(31), What: moved},
		shot(3, 32, bar.Value[bar.Dial]{}),
	}}
	if x, known := r.Stands(bar.Entry{At: at(33)}, bar.Grinder{ID: 1, Step: 0.1}); !known || x != 5.4 {
		t.Errorf("behind a shot of an unknown setting the dial stands at %v, %t, not at 5.4", x, known)
	}
	r.Recent = append(r.Recent, shot(4, 33, bar.Value[bar.Dial]{X: 5.3, From: bar.Said}))
	if _, set := r.DialSet(bar.Entry{At: at(34)}, 1); set {
		t.Error("a shot of a known setting leaves the dial as it was said before")
	}
}
