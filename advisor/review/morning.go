package review

import (
	"cmp"
	"slices"
	"time"

	"shothand/advisor/bar"
)

// A Morning is what it cost to dial one coffee in on one day.
type Morning struct {
	Day     bar.Day
	Coffee  bar.CoffeeID
	Shots   int // to the one it was called dialled in by
	Grams   float64
	Minutes float64 // from the first shot to the call
}

// A coffeeDay is one coffee on one day.
type coffeeDay struct {
	day    bar.Day
	coffee bar.CoffeeID
}

// firstCalls returns when each coffee was first called dialled in, each day.
func firstCalls(calls []bar.Entry) map[coffeeDay]time.Time {
	first := map[coffeeDay]time.Time{}
	for _, e := range calls {
		d, ok := e.What.(bar.Dialled)
		key := coffeeDay{e.Day, d.Coffee}
		if _, before := first[key]; ok && !before {
			first[key] = e.At
		}
	}
	return first
}

// mornings returns the days of the span on which a coffee was called dialled in.
// Days without a call are not counted: nobody knows when they were done.
func mornings(span Span, cups []Cup, calls []bar.Entry) []Morning {
	called := firstCalls(slices.DeleteFunc(slices.Clone(calls), func(e bar.Entry) bool { return !span.own(e) }))
	at := map[coffeeDay]int{}
	var list []Morning
	for _, c := range cups {
		key := coffeeDay{c.Entry.Day, c.Shot.Coffee}
		call, ok := called[key]
		if !ok || !span.own(c.Entry) || c.Entry.At.After(call) || c.Shot.Marks.Has(bar.Practice) {
			continue
		}
		i, ok := at[key]
		if !ok {
			i = len(list)
			at[key] = i
			list = append(list, Morning{Day: key.day, Coffee: key.coffee, Minutes: call.Sub(c.Entry.At).Minutes()})
		}
		list[i].Shots++
		list[i].Grams += float64(c.Shot.Dose.X)
	}
	slices.SortStableFunc(list, func(a, b Morning) int { return cmp.Compare(a.Day, b.Day) })
	return list
}

// A Bill is what dialling in cost.
type Bill struct {
	Mornings int // one a coffee and day
	Shots    int
	Grams    float64
	Minutes  float64
	Money    float64 // of the coffees whose price is known
	Unpriced float64 // g of the others
}

func (b *Bill) add(m Morning, price float64) {
	b.Mornings++
	b.Shots += m.Shots
	b.Grams += m.Grams
	b.Minutes += m.Minutes
	if price > 0 {
		b.Money += m.Grams / 1000 * price
	} else {
		b.Unpriced += m.Grams
	}
}

// Each returns what a morning cost in the mean.
func (b Bill) Each(sum float64) float64 { return sum / max(float64(b.Mornings), 1) }

// A Cost is what mornings cost, by coffee and week, beside the span before.
type Cost struct {
	Total    Bill
	Before   Bill         // of the span of as many days before it
	Trend    Trend        // of the shots a morning takes, beside that span
	Coffees  []CoffeeBill // the dearest first
	Weeks    []WeekBill   // oldest first
	Uncalled int          // days on which a coffee was pulled and nobody called it dialled in
}

// A CoffeeBill is one coffee's.
type CoffeeBill struct {
	Coffee bar.Coffee
	Bill
	Before Bill
}

// A WeekBill is one week's, named by its Monday.
type WeekBill struct {
	Monday bar.Day
	Bill
}

// costOf adds up what mornings cost.
func costOf(span Span, coffees []bar.Coffee, cups []Cup, calls []bar.Entry, now []Morning) Cost {
	var c Cost
	for _, coffee := range coffees {
		c.Coffees = append(c.Coffees, CoffeeBill{Coffee: coffee})
	}
	at := func(id bar.CoffeeID) *CoffeeBill {
		return &c.Coffees[slices.IndexFunc(coffees, func(x bar.Coffee) bool { return x.ID == id })]
	}
	for _, m := range now {
		own := at(m.Coffee)
		price := own.Coffee.Price
		own.add(m, price)
		c.Total.add(m, price)
		monday := MondayOf(m.Day)
		if n := len(c.Weeks); n == 0 || c.Weeks[n-1].Monday != monday {
			c.Weeks = append(c.Weeks, WeekBill{Monday: monday})
		}
		c.Weeks[len(c.Weeks)-1].add(m, price)
	}
	before := mornings(span.Before(), cups, calls)
	for _, m := range before {
		own := at(m.Coffee)
		own.Before.add(m, own.Coffee.Price)
		c.Before.add(m, own.Coffee.Price)
	}
	c.Trend = compared(now, before)
	c.Uncalled = uncalled(span, cups, now)
	slices.SortStableFunc(c.Coffees, func(a, b CoffeeBill) int {
		return cmp.Or(cmp.Compare(b.Money, a.Money), cmp.Compare(b.Grams, a.Grams))
	})
	return c
}

// uncalled returns on how many days a coffee was pulled that nobody called.
func uncalled(span Span, cups []Cup, called []Morning) int {
	days := map[coffeeDay]bool{}
	for _, c := range cups {
		if span.own(c.Entry) && c.serves() {
			days[coffeeDay{c.Entry.Day, c.Shot.Coffee}] = true
		}
	}
	for _, m := range called {
		delete(days, coffeeDay{m.Day, m.Coffee})
	}
	return len(days)
}

// MondayOf returns the Monday of a day's week.
func MondayOf(d bar.Day) bar.Day {
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return d
	}
	return bar.Day(t.AddDate(0, 0, -(int(t.Weekday())+6)%7).Format(time.DateOnly))
}
