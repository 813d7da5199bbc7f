package bot

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/bot/which"
)

// askedOfBook answers what is asked of the day's shots, of the dials the day before and of
// bags, or what a word of taste says.
func askedOfBook(t *turn.Turn, r *recent.Book, c parse.Call) ([]turn.Out, error) {
	if c.Asked.Word != "" {
		e, _ := taste.Default().Entry(c.Asked.Word)
		text := t.Lang().WordSays(c.Asked.Typed, e)
		if text == "" {
			return nil, nil
		}
		return t.Says(chat.Info, text), nil
	}
	switch {
	case c.Asked.Had != 0:
		return whichHad(t, r, c.Asked.Had)
	case c.Asked.Before:
		return stoodBefore(t, r, c)
	case c.Asked.Bag:
		return bagsOpened(t, r, c.Of)
	}
	return t.Says(chat.Info, strings.Join(ofToday(t, r, c), "\n")), nil
}

// ofToday answers what is asked of today's shots, a line each.
func ofToday(t *turn.Turn, r *recent.Book, c parse.Call) (lines []string) {
	today := r.Shots(func(e bar.Entry, s bar.Shot) bool {
		return e.Day == r.Day && (c.Of == 0 || s.Coffee == c.Of) && (!c.Asked.Mine || e.Person == r.Who.ID) && (c.Asked.By == "" || strings.EqualFold(r.NameOf(e.Person), c.Asked.By))
	})
	coffee, _ := r.Coffee(c.Of)
	switch {
	case len(today) == 0 && c.Asked.Mine:
		return []string{t.Lang().Say(say.NoneOfYours)}
	case len(today) == 0:
		return []string{t.Lang().ShotsToday(coffee, nil)}
	case c.Asked.Average:
		return averages(t, r, today)
	case c.Asked.Most:
		return []string{t.Lang().ShotsToday(coffee, pulledBy(r, today))}
	case c.Asked.First:
		return []string{shotLine(t, r, today[len(today)-1])}
	case c.Asked.Count:
		lines = append(lines, t.Lang().ShotsToday(coffee, countsOf(r, today)))
	}
	for _, e := range slices.Backward(today[:min(c.Asked.Last, len(today))]) {
		lines = append(lines, shotLine(t, r, e))
	}
	return lines
}

// whichHad tells which shots of today had a number; where none had, the question was of
// something else.
func whichHad(t *turn.Turn, r *recent.Book, x float64) ([]turn.Out, error) {
	had := r.Shots(func(e bar.Entry, _ bar.Shot) bool {
		return e.Day == r.Day && which.Had(e, parse.Number{X: x, Said: true})
	})
	if len(had) == 0 {
		return nil, nil
	}
	var lines []string
	for _, e := range slices.Backward(had[:min(3, len(had))]) {
		lines = append(lines, shotLine(t, r, e))
	}
	return t.Says(chat.Info, strings.Join(lines, "\n")), nil
}

// countsOf counts shots by coffee, in the order of the bar.
func countsOf(r *recent.Book, shots []bar.Entry) (counts []say.Counted) {
	for _, c := range r.Coffees {
		n := len(which.OfCoffee(slices.Clone(shots), c.ID))
		if n > 0 {
			counts = append(counts, say.Counted{Of: c.Name, Shots: n})
		}
	}
	return counts
}

// shotLine tells of one shot in a line.
func shotLine(t *turn.Turn, r *recent.Book, e bar.Entry) string {
	s := r.AsNumbered(e).What.(bar.Shot)
	coffee, _ := r.Coffee(s.Coffee)
	grinder, _ := r.Grinder(s.Grinder)
	words := slices.Clone(s.Words)
	for _, later := range r.Recent {
		if w, ok := later.What.(bar.Words); ok && w.Shot == e.ID && !later.Deleted {
			words = append(words, w.Words...)
		}
	}
	return t.Lang().ShotLine(e, s, coffee, grinder, words, r.NameOf(e.Person))
}
