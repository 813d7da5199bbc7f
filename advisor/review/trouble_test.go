package review

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/stat/distuv"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// cupOf returns a cup of a coffee that tasted as it should, or was sour.
func cupOf(coffee bar.CoffeeID, day, minute int, right bool) Cup {
	when := at(day, minute)
	c := Cup{
		Entry:  bar.Entry{At: when, Day: bar.DayOf(when)},
		Shot:   bar.Shot{Coffee: coffee, Grinder: bar.GrinderID(coffee), Dose: bar.Value[bar.Grams]{X: 20, From: bar.Said}},
		Judged: true, Right: 1, Read: taste.Reading{Tasted: true},
	}
	if !right {
		c.Right, c.Read.Under = 0, true
	}
	return c
}

// The coffee whose cups are off more often than the others' comes first, with
// what was wrong with them; of few cups nothing is plain.
func TestTroubles(t *testing.T) {
	var cups []Cup
	for i := range 40 {
		cups = append(cups, cupOf(1, 2, i, i%10 != 0), cupOf(2, 2, i, i%2 == 0))
	}
	cups = append(cups, cupOf(3, 2, 50, false), cupOf(3, 2, 51, false))
	r := Of(march(), Book{Coffees: []bar.Coffee{{ID: 1}, {ID: 2}, {ID: 3}}, Cups: cups})
	if got := r.Coffees; len(got) != 3 || got[0].Coffee != 2 || !got[0].Plain() || got[0].Off != 20 || got[0].Cups != 40 || got[0].RestOff != 6 || got[0].Rest != 42 {
		t.Fatalf("%+v", got)
	}
	if got := r.Coffees[0].Reasons; len(got) != 1 || got[0] != (Reason{Under, 20}) {
		t.Errorf("for %+v", got)
	}
	if r.Coffees[1].Coffee != 3 || r.Coffees[1].Plain() {
		t.Errorf("two cups are plain: %+v", r.Coffees[1])
	}
	if r.Judged != 82 || r.Right != 56 {
		t.Errorf("%d of %d right", r.Right, r.Judged)
	}
}

// Of two uniforms P(a > b) is a half; of Beta(2,1) over a uniform it is the mean,
// 2/3.
func TestAbove(t *testing.T) {
	uniform := distuv.Beta{Alpha: 1, Beta: 1}
	if got := above(uniform, uniform); !(math.Abs(got-0.5) < 1e-3) {
		t.Errorf("above itself with %v", got)
	}
	if got := above(distuv.Beta{Alpha: 2, Beta: 1}, uniform); !(math.Abs(got-2.0/3) < 1e-3) {
		t.Errorf("Beta(2,1) above a uniform with %v, want 2/3", got)
	}
}

// Mornings cost shots, grams and money, by coffee and week, beside the span
// before: 20 g at 24 a kg are 0.48.
func TestCost(t *testing.T) {
	coffees := []bar.Coffee{{ID: 1, Price: 24}, {ID: 2, Price: 50}, {ID: 3}}
	var cups []Cup
	var calls []bar.Entry
	morning := func(coffee bar.CoffeeID, day, shots int) {
		for i := range shots {
			cups = append(cups, cupOf(coffee, day, i, true))
		}
		calls = append(calls, bar.Entry{At: at(day, shots), Day: bar.DayOf(at(day, shots)), What: bar.Dialled{Coffee: coffee}})
		cups = append(cups, cupOf(coffee, day, 60, true)) // served
	}
	morning(1, 9, 3) // the week before
	morning(1, 16, 2)
	morning(2, 17, 4)
	morning(3, 18, 1)
	morning(1, 22, 2) // a Sunday
	cups = append(cups, cupOf(1, 19, 0, true))
	c := Of(Span{From: "2026-03-16", To: "2026-03-22"}, Book{Coffees: coffees, Cups: cups, Calls: calls}).Cost
	near := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })
	want := Bill{Mornings: 4, Shots: 9, Grams: 180, Minutes: 9, Money: 4*0.48 + 4*1, Unpriced: 20}
	if diff := cmp.Diff(want, c.Total, near); diff != "" {
		t.Error(diff)
	}
	if c.Before.Shots != 3 || !(math.Abs(c.Before.Money-3*0.48) < 1e-9) || c.Uncalled != 1 {
		t.Errorf("before %+v, %d uncalled", c.Before, c.Uncalled)
	}
	if got := c.Coffees; got[0].Coffee.ID != 2 || got[1].Coffee.ID != 1 || got[1].Before.Shots != 3 || got[2].Coffee.ID != 3 {
		t.Errorf("by coffee %+v", got)
	}
	if got := c.Weeks; len(got) != 1 || got[0].Monday != "2026-03-16" || got[0].Shots != 9 {
		t.Errorf("by week %+v", got)
	}
}

// That cups are off while a coffee is dialled in is no news: an hour is named by the
// cups that were served. A grinder with one coffee is not named beside it.
func TestTroubleIsNews(t *testing.T) {
	var cups []Cup
	var calls []bar.Entry
	for day := range 10 {
		for i := range 6 {
			cups = append(cups, cupOf(1, 2+day, i, i == 5))
		}
		calls = append(calls, bar.Entry{At: at(2+day, 6), Day: bar.DayOf(at(2+day, 6)), What: bar.Dialled{Coffee: 1}})
		for i := range 6 {
			cups = append(cups, cupOf(1, 2+day, 200+i, true))
		}
	}
	r := Of(march(), Book{Coffees: []bar.Coffee{{ID: 1}}, Cups: cups, Calls: calls})
	if len(r.Hours) != 1 || r.Hours[0].Off != 0 {
		t.Errorf("by hour %+v", r.Hours)
	}
	if len(r.Grinders) != 0 {
		t.Errorf("by grinder %+v", r.Grinders)
	}
	other := cupOf(2, 2, 300, true)
	other.Shot.Grinder = 1
	if r := Of(march(), Book{Coffees: []bar.Coffee{{ID: 1}, {ID: 2}}, Cups: append(cups, other), Calls: calls}); len(r.Grinders) != 1 {
		t.Errorf("by a grinder of two coffees %+v", r.Grinders)
	}
}

// Of a day that nobody called a coffee dialled in nobody knows which cups were served: an
// hour is not blamed for them. Where hardly anybody calls, all cups count.
func TestTroubleOfDaysWithoutACall(t *testing.T) {
	var cups []Cup
	var calls []bar.Entry
	for day := range 10 {
		for i := range 6 {
			cups = append(cups, cupOf(1, 2+day, i, day%5 != 0), cupOf(1, 2+day, 200+i, true))
		}
		if day%5 != 0 {
			calls = append(calls, bar.Entry{At: at(2+day, 0), Day: bar.DayOf(at(2+day, 0)), What: bar.Dialled{Coffee: 1}})
		}
	}
	off := func(calls []bar.Entry) (n int, served bool) {
		r := Of(march(), Book{Coffees: []bar.Coffee{{ID: 1}}, Cups: cups, Calls: calls})
		for _, h := range r.Hours {
			n += h.Off
		}
		return n, r.Served
	}
	if n, served := off(calls); n != 0 || !served {
		t.Errorf("%d cups of days without a call are off in service, %v", n, served)
	}
	if n, served := off(calls[:2]); n != 12 || served {
		t.Errorf("where hardly anybody calls %d cups are off, %v", n, served)
	}
}

// Three tasters of one cup are three pairs, of whom one is of one mind; of five
// answers, two sour, two right and one bitter, two drawn by chance are the same two
// times in ten. A cup of one taster tells nothing.
func TestTwoTasters(t *testing.T) {
	var a Agreement
	a.pair([][]float64{{-1, -1, 0}, {0, 1, math.NaN()}, {1, math.NaN(), math.NaN()}})
	if a.Pairs != 4 || a.Same != 1 || !(math.Abs(a.Chance-4*0.2) < 1e-12) {
		t.Errorf("%+v, want 1 of 4, by chance 0.8", a)
	}
}
