// Package booktest prints what a bar's book holds, a line for each entry, so that
// tests can compare it with what was meant. The head of testdata/messages.tsv
// says how a line reads.
package booktest

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/say"
	"shothand/store"
)

// A Line is an entry of the book and how it reads.
type Line struct {
	Entry bar.Entry
	Text  string
}

// Lines returns what the book of a bar holds since an instant, but for what was
// taken out.
func Lines(tx *store.Tx, here bar.ID, since time.Time) ([]Line, error) {
	coffees, err := tx.Coffees(here)
	if err != nil {
		return nil, err
	}
	grinders, err := tx.Grinders(here)
	if err != nil {
		return nil, err
	}
	known := names{coffees: map[bar.CoffeeID]string{}, grinders: map[bar.GrinderID]string{}}
	for _, c := range coffees {
		known.coffees[c.ID] = c.Name
	}
	for _, g := range grinders {
		known.grinders[g.ID] = g.Name
	}
	entries, err := tx.Recent(here, since)
	var list []Line
	for _, e := range entries {
		if !e.Deleted {
			list = append(list, Line{e, known.line(e.What) + known.ofAnother(e, entries)})
		}
	}
	return list, err
}

type names struct {
	coffees  map[bar.CoffeeID]string
	grinders map[bar.GrinderID]string
}

func (n names) line(w bar.What) string {
	switch w := w.(type) {
	case bar.Shot:
		return n.shot(w)
	case bar.Words:
		return "words" + terms(w.Words)
	case bar.Told:
		name := cmp.Or(n.coffees[w.Coffee], n.grinders[w.Grinder])
		return strings.TrimSpace("told "+eventName(w.Event)+" "+name) + movedTo(w)
	case bar.Dialled:
		return "dialled " + n.coffees[w.Coffee]
	case bar.Held:
		return "asked"
	case bar.Setting:
		return "setting"
	case bar.Layers, bar.Sips:
	}
	return "other"
}

// ofAnother says of which coffee the shot was that words are about, where somebody else
// has pulled it than said them.
func (n names) ofAnother(e bar.Entry, entries []bar.Entry) string {
	w, _ := e.What.(bar.Words)
	for _, shot := range entries {
		if s, ok := shot.What.(bar.Shot); ok && shot.ID == w.Shot && shot.Person != e.Person {
			return ", on " + n.coffees[s.Coffee]
		}
	}
	return ""
}

func (n names) shot(s bar.Shot) string {
	seconds, dial := "-", "?"
	if s.Time.From != bar.None {
		seconds = say.Lang{}.Number(float64(s.Time.X))
	}
	if s.Grind.From != bar.None {
		dial = say.Lang{}.Number(float64(s.Grind.X))
	}
	var text strings.Builder
	fmt.Fprintf(&text, "shot %s %s %s %s @%s", n.coffees[s.Coffee], say.Lang{}.Number(float64(s.Dose.X)), say.Lang{}.Number(float64(s.Yield.X)), seconds, dial)
	for _, m := range []struct {
		mark bar.Marks
		word string
	}{
		{bar.Practice, "practice"},
		{bar.Sink, "sink"},
		{bar.Single, "single"},
		{bar.First, "first"},
		{bar.Purged, "purged"},
		{bar.NotPurged, "unpurged"},
		{bar.Choked, "choked"},
		{bar.Stopped, "stopped"},
		{bar.Stuck, "same"},
		{bar.InMilk, "milk"},
		{bar.Unplaced, "unplaced"},
	} {
		if s.Marks.Has(m.mark) {
			text.WriteString(" +" + m.word)
		}
	}
	return text.String() + terms(s.Words)
}

func terms(words []bar.Word) string {
	var text strings.Builder
	for _, w := range words {
		switch {
		case w.Than && w.Not:
			text.WriteString(" less")
		case w.Than:
			text.WriteString(" more")
		case w.Not:
			text.WriteString(" not")
		}
		text.WriteString(" " + w.Term)
	}
	return text.String()
}

// movedTo says where a dial was put.
func movedTo(w bar.Told) string {
	text := ""
	if w.Dial.From != bar.None {
		text = " @" + say.Lang{}.Number(float64(w.Dial.X))
	} else if w.Turned != 0 {
		text = " by " + say.Lang{}.Number(w.Turned)
	}
	if w.Purged {
		text += " +purged"
	}
	return text
}

// eventName names an event as records do.
func eventName(e bar.Event) string {
	name, _ := e.MarshalText() // an event that is none has no name
	return strings.ReplaceAll(string(name), "_", " ")
}
