package advisor

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"shothand/advisor/taste"
)

// agedShots is a coffee pulled twice a day at one setting, a little faster each
// day, and liked on the first days only.
func agedShots(days int, faster Seconds) History {
	h := History{Coffees: []Coffee{{ID: 1, Recipe: Recipe{Dose: 18, Yield: 36, Low: 25, High: 31}}}}
	for i := range 2 * days {
		day := i / 2
		at := time.Date(2026, 3, 2+day, 7, i%2, 0, 0, time.UTC)
		word := taste.Word{Term: "balanced", Degree: 1}
		if day > 2 {
			word.Term = "bitter"
		}
		h.Entries = append(h.Entries, Entry{ID: EntryID(i + 1), At: at, Day: DayOf(at), What: Shot{
			Coffee: 1, Grinder: 1, Grind: Value[Dial]{X: 5, From: Said}, Words: []taste.Word{word},
			Dose: Value[Grams]{X: 18, From: Said}, Yield: Value[Grams]{X: 36, From: Said},
			Time: Value[Seconds]{X: 30 - faster*Seconds(day) + 0.4*Seconds(i%2), From: Said},
		}})
	}
	return h
}

func TestPageOf(t *testing.T) {
	got := PageOf(agedShots(5, 0.5), 1)
	near := cmp.Comparer(func(a, b Seconds) bool { return a-b < 0.01 && b-a < 0.01 })
	want := Page{
		Tasted: 10, Liked: 6,
		Time: Spread{Middle: 29.9, Low: 29.4, High: 30.4}, Ratio: Spread{2, 2, 2},
		// The slope within the setting is half a second a day by construction.
		Ageing: Trend{Day: -0.5, SD: 0.05, Shots: 10, Known: true},
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(0, 0.06), near); diff != "" {
		t.Error(diff)
	}
	if !got.Ageing.Shows() {
		t.Error("half a second a day does not show")
	}
}

// A change of setting is no ageing, and two days are too few to say.
func TestAgeingIsOfOneSetting(t *testing.T) {
	h := agedShots(6, 0)
	for i := range h.Entries {
		s := h.Entries[i].What.(Shot)
		if i >= 6 {
			s.Grind.X, s.Time.X = 4.8, s.Time.X+4
		}
		h.Entries[i].What = s
	}
	if a := PageOf(h, 1).Ageing; !a.Known || a.Shows() {
		t.Errorf("a finer setting reads as ageing: %+v", a)
	}
	if a := PageOf(agedShots(2, 1), 1).Ageing; a.Known {
		t.Errorf("two days are enough: %+v", a)
	}
}
