package past

import (
	"strings"
	"testing"

	"shothand/advisor/bar"
	"shothand/advisor/review"
)

// Where finer and coarser both help, what worked is to turn the dial as the cup asks;
// where one does and the other does not, each is told for itself.
func TestWhichChangesWorked(t *testing.T) {
	finer := review.Effect{Kind: review.Finer, Uses: 15, Right: 14.4, Left: 5.7, Verdict: review.Helps}
	coarser := review.Effect{Kind: review.Coarser, Uses: 13, Right: 11.4, Left: 4.4, Verdict: review.Helps}
	idle := coarser
	idle.Verdict = review.Nothing
	dose := review.Effect{Kind: review.MoreDose, Uses: 14, Right: 3, Left: 6, Verdict: review.Harms}
	open := review.Effect{Kind: review.Longer, Uses: 6}
	for _, test := range []struct {
		effects []review.Effect
		want    string
	}{
		{[]review.Effect{finer, coarser}, "Which changes worked: changing the grind the way the cup calls for (25 of 28 cups right after it, about 10 without)."},
		{[]review.Effect{finer, dose, idle}, "Which changes worked: going finer (14 of 15 cups right after it, about 6 without); no help that we can see from more coffee and going coarser."},
		{[]review.Effect{dose, open}, "Which changes worked: none that we can be sure of; no help that we can see from more coffee."},
		{[]review.Effect{open}, "Which changes worked: none that we can be sure of."},
		{nil, "Which changes worked: nothing was changed that a shot came after."},
	} {
		if got := (Lang{}).workedText(test.effects); got != test.want {
			t.Errorf("said %q, want %q", got, test.want)
		}
	}
}

// What mornings cost is told for one coffee and morning, beside the span before, and
// the direction is that of the two means.
func TestMorningsBesideBefore(t *testing.T) {
	l := LookBack{Span: review.Span{From: "2026-03-01", To: "2026-03-28"}, Currency: "EUR"}
	l.Review.Cost = review.Cost{
		Total:  review.Bill{Mornings: 10, Shots: 22, Grams: 400, Minutes: 30, Money: 10},
		Before: review.Bill{Mornings: 5, Shots: 20, Grams: 360, Minutes: 30, Money: 9}, Coffees: []review.CoffeeBill{{}},
		Trend: review.Fewer,
	}
	want := "What mornings cost: 2.2 shots, 40 g, 3 min, 1.00 EUR to dial one coffee in (the 28 days before: 1.80 EUR); 22 shots, 400 g, 10.00 EUR in all."
	if got := l.costText(); got != want {
		t.Errorf("said %q, want %q", got, want)
	}
	if got := strings.Join(l.costLines(), "\n"); !strings.Contains(got, "4 shots, 72 g, 6 min, 1.80 EUR") || !strings.HasSuffix(got, "It takes fewer shots now.") {
		t.Errorf("beside before: %q", got)
	}
}

// A grinder that has one coffee alone is not named beside it: it is the same cups.
func TestTroubleIsNamedOnce(t *testing.T) {
	l := LookBack{Coffees: []bar.Coffee{{ID: 1, Name: "Tide"}, {ID: 2, Name: "Harbour"}}, Grinders: []bar.Grinder{{ID: 1, Name: "right"}, {ID: 2, Name: "left"}}}
	bad := review.Trouble{Cups: 50, Off: 27, Sure: 0.999, Among: 2, Rest: 100, RestOff: 20}
	coffee, grinder := bad, bad
	coffee.Coffee, grinder.Grinder = 1, 1
	l.Review.Coffees, l.Review.Grinders = []review.Trouble{coffee, {Coffee: 2, Cups: 100, Off: 20}}, []review.Trouble{grinder, {Grinder: 2, Cups: 100, Off: 20}}
	if got, want := l.troubleText(), "What gives trouble: Tide (27 of 50 cups off)."; got != want {
		t.Errorf("said %q, want %q", got, want)
	}
	l.Review.Grinders[0].Cups, l.Review.Grinders[0].Off = 80, 40
	if got, want := l.troubleText(), "What gives trouble: Tide (27 of 50 cups off); grinder right (40 of 80 cups off)."; got != want {
		t.Errorf("said %q, want %q", got, want)
	}
}

// An hour with one cup off is no trouble, and none is named that has none.
func TestNoTroubleIsNotNamed(t *testing.T) {
	l := LookBack{Review: review.Review{Hours: []review.Trouble{{Hour: 9, Cups: 8, Off: 4}, {Hour: 12, Cups: 5, Off: 1}, {Hour: 7, Cups: 8}}}}
	got := strings.Join(l.troubleLines(), "\n")
	if want := "Cups that were off: 09:00 to 10:00 4 of 8."; got != want {
		t.Errorf("said %q, want %q", got, want)
	}
	l.Review.Served = true
	got = strings.Join(l.troubleLines(), "\n")
	if want := "Cups that were off once the coffee was dialled in: 09:00 to 10:00 4 of 8."; got != want {
		t.Errorf("of cups after a call said %q, want %q", got, want)
	}
}
