package recent

import (
	"iter"
	"slices"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/parse"
	"shothand/bot/say"
)

// A Book is what the bar knows when a message comes in.
type Book struct {
	Bar      bar.Bar
	Who      bar.Person
	Coffees  []bar.Coffee
	Grinders []bar.Grinder
	People   []bar.Person
	Recent   []bar.Entry // of the last two days, oldest first
	Before   []bar.Entry // the last shot of each coffee before that, and what happened since
	Day      bar.Day
	Now      time.Time
	Named    Named // for Who's next shot
}

// Named is a coffee that a person has named alone, for the shot after that.
type Named struct {
	Coffee bar.CoffeeID // 0: none
	At     time.Time
}

// Span is how far back a Book goes: today, also just after midnight,
// and yesterday.
const Span = 48 * time.Hour

// Vocab returns the bar's own words.
func (r *Book) Vocab() parse.Vocab {
	v := parse.Vocab{Order: r.Bar.Order, Usual: r.usual(), Recipe: bar.House(), Words: r.Bar.Words.List(), Language: r.Bar.Language}
	v.Recipes = map[bar.CoffeeID]parse.Recipes{}
	for _, c := range r.OnBar() {
		v.Recipes[c.ID] = parse.Recipes{Black: c.Recipe, Milk: c.Milk, Grinder: c.Grinder}
		v.Coffees = append(v.Coffees, parse.Name[bar.CoffeeID]{Name: c.Name, ID: c.ID})
	}
	for _, c := range r.Coffees {
		if c.Retired {
			v.Gone = append(v.Gone, c.Name)
		}
	}
	for _, g := range r.InUse() {
		if g.Letters {
			v.Letters = max(v.Letters, g.Small)
		}
		v.Grinders = append(v.Grinders, parse.Name[bar.GrinderID]{Name: g.Name, ID: g.ID})
	}
	for _, p := range r.People {
		v.People = append(v.People, strings.ToLower(p.Name))
	}
	if c, ok := r.UsualCoffee(); ok {
		v.Recipe, v.Milk = c.Recipe, c.Milk
	}
	return v
}

// usual returns the word this person's shots have begun with twice or more.
func (r *Book) usual() []string {
	count := map[string]int{}
	var words []string
	for _, e := range r.Recent {
		if _, ok := e.What.(bar.Shot); !ok || e.Person != r.Who.ID || PostedBy(e) != 0 {
			continue
		}
		first, _, _ := strings.Cut(strings.ToLower(e.Raw), " ")
		if count[first]++; count[first] == 2 {
			words = append(words, first)
		}
	}
	return words
}

// Coffee returns the coffee with that id.
func (r *Book) Coffee(id bar.CoffeeID) (bar.Coffee, bool) { return bar.CoffeeOf(r.Coffees, id) }

// Grinder returns the grinder with that id.
func (r *Book) Grinder(id bar.GrinderID) (bar.Grinder, bool) { return bar.GrinderOf(r.Grinders, id) }

// InUse returns the grinders that are not retired.
func (r *Book) InUse() []bar.Grinder {
	return slices.DeleteFunc(slices.Clone(r.Grinders), func(g bar.Grinder) bool { return g.Retired })
}

// NameOf returns a person's name.
func (r *Book) NameOf(id bar.PersonID) string { return r.Lang().NameOf(r.People, id) }

// IsPerson reports whether one of the bar's people is called so.
func (r *Book) IsPerson(name string) bool {
	return slices.ContainsFunc(r.People, func(p bar.Person) bool { return strings.EqualFold(p.Name, name) })
}

// Shots returns the shots of the recent entries, and of each coffee the last one
// before, that keep says yes to, newest first.
func (r *Book) Shots(keep func(bar.Entry, bar.Shot) bool) []bar.Entry {
	return slices.AppendSeq(make([]bar.Entry, 0, len(r.Recent)+len(r.Before)), r.EachShot(keep))
}

// Newest returns the first of them.
func (r *Book) Newest(keep func(bar.Entry, bar.Shot) bool) (bar.Entry, bool) {
	for e := range r.EachShot(keep) {
		return e, true
	}
	return bar.Entry{}, false
}

// EachShot goes through them.
func (r *Book) EachShot(keep func(bar.Entry, bar.Shot) bool) iter.Seq[bar.Entry] {
	return func(yield func(bar.Entry) bool) {
		for _, entries := range [][]bar.Entry{r.Recent, r.Before} {
			for i := range slices.Backward(entries) {
				if s, ok := entries[i].What.(bar.Shot); ok && keep(entries[i], s) && !yield(entries[i]) {
					return
				}
			}
		}
	}
}

// IsShot reports whether an entry is a shot.
func IsShot(e bar.Entry) bool {
	_, ok := e.What.(bar.Shot)
	return ok
}

// Lang returns the language of the bar.
func (r *Book) Lang() say.Lang { return say.In(r.Bar.Language) }
