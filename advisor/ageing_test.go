package advisor

import (
	"math/rand/v2"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"shothand/advisor/ageing"
	"shothand/advisor/bar"
)

// agedShots is a coffee pulled twice a day at one setting, a little faster each
// day, and liked on the first days only.
func agedShots(days int, faster bar.Seconds) bar.History {
	h := bar.History{Grinders: []bar.Grinder{{ID: 1, Step: 0.1, Finer: bar.Lower}}, Coffees: []bar.Coffee{{ID: 1, Grinder: 1, Recipe: bar.Recipe{Dose: 18, Yield: 36, Low: 25, High: 31}}}}
	for i := range 2 * days {
		day := i / 2
		at := time.Date(2026, 3, 2+day, 7, i%2, 0, 0, time.UTC)
		word := bar.Word{Term: "balanced", Degree: 1}
		if day > 2 {
			word.Term = "bitter"
		}
		h.Entries = append(h.Entries, bar.Entry{ID: bar.EntryID(i + 1), At: at, Day: bar.DayOf(at), What: bar.Shot{
			Coffee: 1, Grinder: 1, Grind: bar.Value[bar.Dial]{X: 5, From: bar.Said}, Words: []bar.Word{word},
			Dose: bar.Value[bar.Grams]{X: 18, From: bar.Said}, Yield: bar.Value[bar.Grams]{X: 36, From: bar.Said},
			Time: bar.Value[bar.Seconds]{X: 30 - faster*bar.Seconds(day) + 0.4*bar.Seconds(i%2), From: bar.Said},
		}})
	}
	return h
}

// ageingOf is a coffee's ageing a day after its last shot.
func ageingOf(h bar.History) ageing.Trend {
	return AgeingOf(h, 1, h.Entries[len(h.Entries)-1].At.AddDate(0, 0, 1))
}

func TestAgeingOf(t *testing.T) {
	got := ageingOf(agedShots(5, 0.5))
	near := cmp.Comparer(func(a, b bar.Seconds) bool { return a-b < 0.01 && b-a < 0.01 })
	// The slope within the setting is half a second a day by construction.
	want := ageing.Trend{Day: -0.5, SD: 0, Shots: 10, Free: 3, Mean: 29.2}
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(0, 0.06), near); diff != "" {
		t.Error(diff)
	}
	if !got.Shows() {
		t.Error("half a second a day does not show")
	}
}

// A change of setting is no ageing, and two days are too few to say.
func TestAgeingIsOfOneSetting(t *testing.T) {
	h := agedShots(6, 0)
	for i := range h.Entries {
		s := h.Entries[i].What.(bar.Shot)
		if i >= 6 {
			s.Grind.X, s.Time.X = 4.8, s.Time.X+4
		}
		h.Entries[i].What = s
	}
	if a := ageingOf(h); !a.Known() || a.Shows() {
		t.Errorf("a finer setting reads as ageing: %+v", a)
	}
	if a := ageingOf(agedShots(2, 1)); a.Known() {
		t.Errorf("two days are enough: %+v", a)
	}
}

// The page and the morning's line speak of one and the same trend.
func TestAgeingIsFlaggedAsShown(t *testing.T) {
	for faster, old := range map[bar.Seconds]bool{0: false, 0.1: false, 0.7: true, -0.7: false} {
		h := agedShots(6, faster)
		a := ageingOf(h)
		if a.RunsOld() != old || old && !a.Shows() {
			t.Errorf("%v s faster a day: %+v", faster, a)
		}
		h.Coffees[0].Roasted = "2026-03-01"
		o, _ := (*Memory)(nil).Outlook(h, 1, h.Entries[len(h.Entries)-1].At.AddDate(0, 0, 1))
		if got := o.Start.Flag == RunningOld; got != old {
			t.Errorf("%v s faster a day: flag %v", faster, o.Start.Flag)
		}
	}
}

// A day that runs otherwise as a whole is one witness, however many shots it
// had.
func TestAgeingCountsDays(t *testing.T) {
	h := agedShots(2, 0)
	for i := range 30 {
		e := h.Entries[3]
		s := e.What.(bar.Shot)
		s.Time.X -= 3
		e.ID, e.At, e.What = bar.EntryID(10+i), e.At.Add(time.Duration(i+1)*time.Minute), s
		h.Entries = append(h.Entries, e)
	}
	if a := ageingOf(h); a.Known() {
		t.Errorf("two days are enough: %+v", a)
	}
}

// Where nothing but chance moves the days, a trend shows one time in twenty.
func TestAgeingClaimsNoMoreThanItSays(t *testing.T) {
	source := rand.New(rand.NewPCG(1, 2))
	shown, n := 0, 400
	for range n {
		r := replay{grinder: bar.Grinder{ID: 1}, coffee: bar.Coffee{Recipe: bar.House()}}
		for day := range 7 {
			level := 28 + source.NormFloat64()
			for range 3 {
				at := time.Date(2026, 3, 2+day, 7, 0, 0, 0, time.UTC)
				r.pulls = append(r.pulls, pull{Entry: bar.Entry{Day: bar.DayOf(at)}, time: level + source.NormFloat64(), shot: bar.Shot{
					Grinder: 1, Dose: bar.Value[bar.Grams]{X: 18}, Yield: bar.Value[bar.Grams]{X: 36}, Time: bar.Value[bar.Seconds]{X: 28, From: bar.Said},
				}})
			}
		}
		if ageing.Of(r.dayMeans()).Shows() {
			shown++
		}
	}
	// Four standard errors of a share of 0.05 in 400 are 0.044.
	if share := float64(shown) / float64(n); !(share < 0.094) {
		t.Errorf("a trend of nothing shows %.3f of the time, want 0.05", share)
	}
}
