package advisor_test

import (
	"testing"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
)

// A hand misses by more than a gram. What was advised is what the cup was meant to
// be, unless it came nearer to what was meant before; two cups back at the recipe's
// are of the recipe's.
func TestMeantYield(t *testing.T) {
	t.Parallel()
	type cup struct{ meant, yield bar.Grams }
	for name, test := range map[string]struct {
		cups []cup
		want float64
	}{
		"as advised":        {[]cup{{0, 36}, {37, 36.6}}, 37},
		"held since":        {[]cup{{0, 36}, {38, 37.7}, {0, 37.4}}, 38},
		"not done":          {[]cup{{0, 36}, {37, 36}}, 36},
		"one nearer home":   {[]cup{{0, 36}, {38, 38}, {0, 36.8}}, 38},
		"two back home":     {[]cup{{0, 36}, {38, 38}, {0, 36.2}, {0, 36.4}}, 36},
		"far from what was": {[]cup{{0, 36}, {38, 33}}, 33},
	} {
		h := bar.History{
			Grinders: []bar.Grinder{{ID: 1, Name: "left", Finer: bar.Lower, Step: 0.1}},
			Coffees:  []bar.Coffee{{ID: 1, Name: "Quay", Grinder: 1, Recipe: bar.Recipe{Dose: 18, Yield: 36, Low: 25, High: 31}}},
		}
		at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
		for i, c := range test.cups {
			at = at.Add(3 * time.Minute)
			e := teamShot(bar.EntryID(i+1), at, 1, 1, 28, "balanced")
			shot := e.What.(bar.Shot)
			shot.Meant, shot.Yield.X = c.meant, c.yield
			e.What = shot
			h.Entries = append(h.Entries, e)
		}
		if got, ok := advisor.YieldUsed(h, 1, at); !ok || got != test.want {
			t.Errorf("%s: %g g, want %g", name, got, test.want)
		}
	}
}
