package parse

import "testing"

func TestSetBetweenShots(t *testing.T) {
	at := func(x float64, text string) Set { return Set{Grind: Grind{X: x, Said: true, Text: text}} }
	by := func(x float64, text string) Set {
		return Set{Grind: Grind{X: x, Said: true, Relative: true, Text: text}}
	}
	labelled := at(5.1, "5.1")
	labelled.Label = true
	harbour := at(5.1, "5.1")
	harbour.Coffee = 1
	order := by(2, "2 finer")
	order.Order = true
	checkExamples(t, theBar(), []example{
		{"grind 5.1", labelled},
		{"set harbour to 5.1", harbour},
		{"3 finer", by(3, "3 finer")},
		{"3 finer, not 2", by(3, "3 finer")},
		{"went 2 coarser", by(-2, "2 coarser")},
		{"went from 5.2 to 4.9", at(4.9, "4.9")},
		{"now 4.9!", at(4.9, "4.9")},
		{"grinder at 5.1", at(5.1, "5.1")},
		{"drei feiner", by(3, "drei feiner")},
		{"left it", Set{Left: true}},
		{"didn't touch it", Set{Left: true}},
		{"nicht verstellt", Set{Left: true}},
		{"finer", Set{Grind: Grind{Said: true, Relative: true, Odd: true, X: 1, Text: "finer"}}},
		{"a bit finer", Set{Grind: Grind{X: 1, Said: true, Relative: true, Odd: true, Text: "a bit finer"}}},
		{"go 2 finer", order},
		{"shall we go 2 finer?", Chatter{}},
		{"needs to go 2 finer", Chatter{}},
		{"now 5 people", Chatter{}},
		{"went to 5 parties", Chatter{}},
		{"left at 5", Set{Grind: Grind{X: 5, Said: true, Text: "5"}, Grinder: 1, Weak: true, Whole: true}},
		{"left the milk out", Chatter{}},
	})
}
