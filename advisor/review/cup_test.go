package review

import (
	"testing"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// What a review counts as wrong is what the advice of that shot and the pictures
// hold against it, whatever was said and how much of it.
func TestWrongIsWhatIsHeldAgainstACup(t *testing.T) {
	differ := 0
	for _, aim := range []bar.Aim{0, bar.Bright, bar.Rich} {
		for _, e := range taste.Default().Entries() {
			for _, degree := range []float64{0.5, 1, 1.5, 2} {
				for _, not := range []bool{false, true} {
					word := bar.Word{Term: e.Term, Degree: degree, Not: not}
					pulled := at(2, 0)
					h := bar.History{
						Grinders: []bar.Grinder{{ID: 1, Name: "left", Step: 0.1, Finer: bar.Lower}},
						Coffees:  []bar.Coffee{{ID: 1, Name: "Harbour", Grinder: 1, Aim: aim, Recipe: bar.Recipe{Dose: 18, Yield: 36, Low: 25, High: 31}}},
						Entries:  []bar.Entry{taken(1, 1, pulled, 28, func(s *advisor.TrailShot) { s.Shot.Words = []bar.Word{word} }).Entry},
					}
					cup := CupsOf(h)[0]
					if !cup.Judged || !cup.Read.Tasted { // a fault, or only seen
						continue
					}
					shown := advisor.NewMemory(1).Chances(h, 1, pulled).Shots
					if len(shown) != 1 || shown[0].Blamed != cup.off() {
						t.Errorf("meant %v, %+v: shown %+v, counted as off %v", aim, word, shown, cup.off())
						differ++
					}
					if differ > 9 {
						t.Fatal("and more")
					}
				}
			}
		}
	}
}
