package tasting

import (
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
)

// A Caffeine is a range in mg: sipped and spat, or all drunk.
type Caffeine struct{ Low, High float64 }

// What is counted. EFSA (2015, EFSA Journal 13(5):4102) has no concern up to 400
// mg a day for adults. How much of a cup somebody takes to taste it nobody
// tells: a sip of 5 g at least, assumed, and at most all of it.
const (
	dayMark = 400.0 // mg
	sip     = 5.0   // g
)

// Past reports whether the middle of the range, by ratio, is past the mark: by
// its high end everybody would be who dials a coffee in, and nobody would listen.
func (c Caffeine) Past() bool { return math.Sqrt(c.Low*c.High) > dayMark }

// brewed returns the caffeine of a brew that so many share.
func brewed(dose, yield float64, between int) Caffeine {
	r, err := extraction.Caffeine(dose, 0, yield)
	if err != nil || !(yield > 0) || between < 1 {
		return Caffeine{}
	}
	whole := 1 / float64(between)
	return Caffeine{Low: r.Low * min(sip/yield, whole), High: r.High * whole}
}

// Warned reports whether a bar was told of caffeine that day before an entry: where a
// tasting cup by cup begins, all read of it.
func Warned(before bar.Entry, entries []bar.Entry) bool {
	return slices.ContainsFunc(entries, func(e bar.Entry) bool {
		l, ok := e.What.(bar.Layers)
		return ok && l.Pair.New == 0 && !e.Deleted && e.Day == before.Day && e.ID != before.ID && !e.At.After(before.At)
	})
}

// CaffeineOf returns what somebody has tasted on a day, by the posts.
func CaffeineOf(who bar.PersonID, day bar.Day, entries []bar.Entry) Caffeine {
	tables := map[bar.EntryID]bar.Layers{}
	type cups struct {
		table bar.EntryID
		split int
	}
	share, mine := map[cups]map[bar.PersonID]bool{}, map[bar.EntryID]bool{}
	for _, e := range entries {
		switch w := e.What.(type) {
		case bar.Shot:
			if e.Person == who && e.Day == day && len(w.Words) > 0 && !w.Marks.Has(bar.Sink) {
				mine[e.ID] = true
			}
		case bar.Words:
			if e.Person == who && e.Day == day {
				mine[w.Shot] = true
			}
		case bar.Layers:
			tables[e.ID] = w
		case bar.Sips:
			if at := (cups{w.Layers, w.Split}); e.Day == day {
				if share[at] == nil {
					share[at] = map[bar.PersonID]bool{}
				}
				share[at][e.Person] = true
			}
		case bar.Told, bar.Dialled, bar.Setting, bar.Held:
		}
	}
	var all Caffeine
	add := func(c Caffeine) { all.Low, all.High = all.Low+c.Low, all.High+c.High }
	for _, e := range entries {
		if s, ok := e.What.(bar.Shot); ok && mine[e.ID] {
			add(brewed(float64(s.Dose.X), float64(s.Yield.X), 1))
		}
	}
	for at, people := range share {
		l := tables[at.table]
		if !people[who] || l.Dose == 0 {
			continue
		}
		n := max(len(people), l.Tasters)
		add(brewed(float64(l.Dose), float64(l.Yield), n))
		if at.split <= 1 { // the whole shot beside the first split; the second of a pair
			add(brewed(float64(l.Dose), float64(l.Yield), n))
		}
	}
	return all
}
