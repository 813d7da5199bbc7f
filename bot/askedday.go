package bot

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// pulledBy counts shots by who pulled them, the most first.
func pulledBy(r *recent.Book, shots []bar.Entry) (counts []say.Counted) {
	for _, e := range shots {
		name := r.NameOf(e.Person)
		i := slices.IndexFunc(counts, func(c say.Counted) bool { return c.Of == name })
		switch {
		case name == "": // a device's that nobody has claimed
		case i < 0:
			counts = append(counts, say.Counted{Of: name, Shots: 1})
		default:
			counts[i].Shots++
		}
	}
	slices.SortStableFunc(counts, func(a, b say.Counted) int { return cmp.Compare(b.Shots, a.Shots) })
	return counts
}

// averages tells of each coffee what its shots were on average.
func averages(t *turn.Turn, r *recent.Book, shots []bar.Entry) (lines []string) {
	for _, c := range r.Coffees {
		var sum, n [3]float64
		all := 0
		for _, e := range shots {
			s := e.What.(bar.Shot)
			if s.Coffee != c.ID {
				continue
			}
			all++
			for at, x := range [3]float64{float64(s.Dose.X), float64(s.Yield.X), float64(s.Time.X)} {
				if x > 0 {
					sum[at], n[at] = sum[at]+x, n[at]+1
				}
			}
		}
		mean := func(at int) float64 { return sum[at] / max(1, n[at]) }
		if all == 0 {
			continue
		}
		s := bar.Shot{Dose: bar.Value[bar.Grams]{X: bar.Grams(mean(0))}, Yield: bar.Value[bar.Grams]{X: bar.Grams(mean(1))}}
		if n[2] > 0 {
			s.Time = bar.Value[bar.Seconds]{X: bar.Seconds(mean(2)), From: bar.Said}
		}
		lines = append(lines, t.Lang().OnAverage(c, s, all))
	}
	return lines
}

// stoodBefore tells where dials stood at the end of the day before, and of a coffee its last
// shot.
func stoodBefore(t *turn.Turn, r *recent.Book, c parse.Call) ([]turn.Out, error) {
	last, ok := r.Newest(func(e bar.Entry, s bar.Shot) bool { return s.Coffee == c.Of && e.Day < r.Day })
	if ok {
		return t.Says(chat.Info, t.Lang().DayName(last.Day)+", "+shotLine(t, r, last)), nil
	}
	end := r.Now
	for _, e := range r.Recent {
		if e.Day == r.Day && e.At.Before(end) {
			end = e.At
		}
	}
	var lines []string
	for _, id := range c.Stands {
		g, _ := r.Grinder(id)
		before := bar.Entry{At: end.Add(-time.Millisecond)}
		at, known := r.Stands(before, g)
		lines = append(lines, t.Lang().StoodBefore(g, at, known))
	}
	return t.Says(chat.Info, strings.Join(lines, "\n")), nil
}

// bagsOpened tells when the newest bag of a coffee was opened, or of each on the bar.
func bagsOpened(t *turn.Turn, r *recent.Book, of bar.CoffeeID) ([]turn.Out, error) {
	var lines []string
	for _, c := range r.OnBar() {
		if of != 0 && c.ID != of {
			continue
		}
		h, err := t.History(c.ID)
		if err != nil {
			return nil, err
		}
		var newest bar.Entry
		for _, e := range h.Entries {
			if w, ok := e.What.(bar.Told); ok && w.Event == bar.NewBag && w.Coffee == c.ID && !e.Deleted && !e.At.Before(newest.At) {
				newest = e
				newest.At = e.At.In(r.Now.Location())
			}
		}
		if newest.ID != 0 || of != 0 {
			lines = append(lines, t.Lang().NewestBag(c, newest, r.NameOf(newest.Person), newest.Day == r.Day))
		}
	}
	if len(lines) == 0 {
		return nil, nil
	}
	return t.Says(chat.Info, strings.Join(lines, "\n")), nil
}
