package advisor_test

import (
	"testing"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
)

// team is a bar with five coffees on one grinder, four of which two people have
// tasted at 28 s for so many days, each with a word of their own.
func team(days int, words map[bar.PersonID]string) bar.History {
	h := bar.History{Grinders: []bar.Grinder{{ID: 1, Name: "left", Finer: bar.Lower, Step: 0.1}}}
	for id := range bar.CoffeeID(5) {
		h.Coffees = append(h.Coffees, bar.Coffee{ID: id + 1, Name: "coffee", Grinder: 1, Recipe: bar.Recipe{Dose: 18, Yield: 36, Low: 25, High: 31}})
	}
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	for range days {
		for id := range bar.CoffeeID(4) {
			for who := range bar.PersonID(2) {
				at = at.Add(3 * time.Minute)
				h.Entries = append(h.Entries, teamShot(bar.EntryID(len(h.Entries)+1), at, id+1, who+1, 28, words[who+1]))
			}
		}
		at = at.Add(24*time.Hour - 24*time.Minute)
	}
	return h
}

func teamShot(id bar.EntryID, at time.Time, coffee bar.CoffeeID, who bar.PersonID, seconds float64, word string) bar.Entry {
	return bar.Entry{ID: id, Person: who, At: at, Day: bar.DayOf(at), What: bar.Shot{
		Coffee: coffee, Grinder: 1, Grind: bar.Value[bar.Dial]{X: 5, From: bar.Said},
		Dose: bar.Value[bar.Grams]{X: 18, From: bar.Said}, Yield: bar.Value[bar.Grams]{X: 36, From: bar.Said},
		Time: bar.Value[bar.Seconds]{X: bar.Seconds(seconds), From: bar.Said}, Words: []bar.Word{{Term: word, Degree: 1}},
	}}
}

// Whoever calls every coffee sour that a colleague likes is heard so on a new one.
func TestTeamIsKnown(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 3, 20, 7, 0, 0, 0, time.UTC)
	sure := func(words map[bar.PersonID]string, m *advisor.Memory) float64 {
		h := team(5, words)
		h.Entries = append(h.Entries, teamShot(1000, at, 5, 1, 28, "sour"))
		a, ok := m.Advise(h, 5, at)
		if !ok {
			t.Fatal("no advice")
		}
		return a.Sure
	}
	unbiased := sure(map[bar.PersonID]string{1: "balanced", 2: "balanced"}, nil)
	leaning := sure(map[bar.PersonID]string{1: "sour", 2: "balanced"}, nil)
	if leaning < unbiased+0.05 {
		t.Errorf("right with probability %.3f where sour is what mara always says, %.3f where she does not", leaning, unbiased)
	}
	if got := sure(map[bar.PersonID]string{1: "sour", 2: "balanced"}, advisor.NewMemory(4)); got != leaning {
		t.Errorf("%v with a memory, %v without", got, leaning)
	}
}
