package advisor

import (
	"fmt"
	"math"
	"testing"
	"time"

	"shothand/advisor/taste"
)

// A stage is a bar of one coffee on one grinder, for tests.
type stage struct {
	History
	now time.Time
}

func newStage(g Grinder, r Recipe) *stage {
	g.ID = 1
	return &stage{
		History: History{
			Coffees:  []Coffee{{ID: 1, Name: "Harbour", Grinder: 1, Recipe: r}},
			Grinders: []Grinder{g},
		},
		now: time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC),
	}
}

// add puts what happened three minutes after the last thing.
func (s *stage) add(person PersonID, w What) EntryID {
	s.now = s.now.Add(3 * time.Minute)
	e := Entry{ID: EntryID(len(s.Entries) + 1), Person: person, At: s.now, Day: DayOf(s.now), What: w}
	s.Entries = append(s.Entries, e)
	return e.ID
}

// pull reports a shot at the recipe, and returns the advice on it.
func (s *stage) pull(grind Dial, seconds Seconds, words string, marks ...Marks) Advice {
	r := s.Coffees[0].Recipe
	read, unread := taste.Default().Read(words)
	shot := Shot{
		Coffee: 1, Grinder: 1,
		Grind: Value[Dial]{X: grind, From: Said},
		Dose:  Value[Grams]{X: r.Dose, From: Said},
		Yield: Value[Grams]{X: r.Yield, From: Said},
		Time:  Value[Seconds]{X: seconds, From: Said},
		Words: read, Unread: unread,
	}
	for _, m := range marks {
		shot.Marks |= m
	}
	return s.report(shot)
}

func (s *stage) report(shot Shot) Advice {
	s.add(1, shot)
	a, _ := Advise(s.History, 1, s.now)
	return a
}

// words returns what a plain taster says of a steady time, aimed at 28 s.
func words(seconds float64) string {
	switch {
	case seconds < 24.5:
		return "sour, thin"
	case seconds > 31.5:
		return "bitter"
	}
	return "sweet, balanced"
}

func recipe() Recipe { return Recipe{Dose: 18, Yield: 36, Low: 25, High: 31} }

func TestScratch(t *testing.T) {
	for _, g := range []Grinder{{Step: 0.1, Finer: Lower}, {Step: 1, Finer: Higher}, {}} {
		for _, worth := range []float64{0.3, 0.6, 1.3, 3, 10} {
			s := newStage(g, recipe())
			grind := Dial(5.2)
			start := g.steps(grind)
			for n := 1; n <= 10; n++ {
				secs := 22 * math.Exp(worth/28*(g.steps(grind)-start))
				secs = math.Round(secs * math.Exp(0.04*math.Sin(float64(n*7))))
				a := s.pull(grind, Seconds(secs), words(secs))
				fmt.Printf("step %g worth %g: %2d at %g: %g s -> lever %d %g→%g exp %.1f (%.1f-%.1f) sure %.2f read %.1f±%.1f %.1f even %.2f %v\n", g.Step, worth, n, grind, secs, a.Lever, a.From, a.To, a.Expect.Time, a.Expect.Low, a.Expect.High, a.Sure, a.Read.Extraction, a.Read.ExtractionSD, a.Read.Strength, a.Read.Even, a.Reasons)
				if a.Lever == Keep {
					break
				}
				if a.Lever == Grind {
					if a.Unit == StepUnit {
						grind += Dial(a.To)
					} else {
						grind = Dial(a.To)
					}
				}
			}
		}
	}
}
