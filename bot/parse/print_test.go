package parse

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"shothand/advisor/bar"
)

// Format prints a shot in shorthand: everything with its label, so that
// [Shorthand] reads it as s again.
func Format(s Shot, v Vocab) string {
	var out []string
	add := func(parts ...string) { out = append(out, parts...) }
	if n := nameOf(v.Coffees, s.Coffee); n != "" {
		add(n)
	}
	if n := nameOf(v.Grinders, s.Grinder); n != "" {
		add("on " + n)
	}
	for _, w := range eventWords() {
		if w.event == s.Event {
			add(cmp.Or(map[bar.Event]string{bar.Cleaned: "grinder cleaned"}[s.Event], w.phrases[0])) // of what is said
		}
	}
	add(numbers(s, v.Order)...)
	if s.Same {
		add("same")
	}
	if s.Grind.Said && s.Grind.Relative && strings.ContainsFunc(s.Grind.Text, unicode.IsLetter) { // "2 finer"
		add("went " + s.Grind.Text)
	} else if s.Grind.Said {
		add("grind " + s.Grind.Text)
	}
	for _, f := range []struct {
		before string
		x      Number
		after  string
	}{
		{"tds ", s.TDS, "%"},
		{"", s.Water, "C"},
		{"first drip ", s.Drip, "s"},
	} {
		if f.x.Said {
			add(f.before + rough(f.x) + f.after)
		}
	}
	add(markWords(s.Marks &^ told(s.Words))...)
	if s.Gushed {
		add("gusher")
	}
	if s.Dialled {
		add("dialled in")
	}
	for _, w := range s.Words {
		add(WordText(w))
	}
	for _, word := range s.Unread {
		if slices.Contains(drinks(), word) {
			word = "a " + word // alone it would say what the shot was for
		}
		add(word)
	}
	return strings.Join(out, ", ")
}

// numbers prints dose, yield and time: bare in the bar's order where the
// order itself is in question, else with their labels.
func numbers(s Shot, o bar.Order) []string {
	if s.Swapped {
		x := []string{rough(s.Dose), rough(s.Yield), rough(s.Time)}
		if o == bar.DoseTimeYield {
			x[1], x[2] = x[2], x[1]
		}
		return append(ratioText(s), strings.Join(x, " "))
	}
	var out []string
	for _, f := range []struct {
		x     Number
		label string
	}{{s.Dose, " g in"}, {s.Yield, " g out"}, {s.Time, " s"}} {
		if f.x.Said {
			out = append(out, rough(f.x)+f.label)
		}
	}
	return append(out, ratioText(s)...)
}

func ratioText(s Shot) []string {
	if !s.Ratio.Said {
		return nil
	}
	return []string{"1:" + digitsOf(s.Ratio.X)}
}

func rough(n Number) string {
	if n.Rough {
		return "~" + digitsOf(n.X)
	}
	return digitsOf(n.X)
}

func nameOf[T comparable](names []Name[T], id T) string {
	for _, n := range names {
		if n.ID == id {
			return n.Name
		}
	}
	return ""
}

// words of a mark's canonical form, for Format.
func markWords(m bar.Marks) []string {
	var out []string
	for _, known := range []struct {
		m    bar.Marks
		word string
	}{
		{bar.Practice, "practice"},
		{bar.Sink, "sink"},
		{bar.Single, "single"},
		{bar.First, "first"},
		{bar.Purged, "purged"},
		{bar.NotPurged, "unpurged"},
		{bar.Choked, "choked"},
		{bar.Stopped, "stopped early"},
		{bar.Spurted, "spurted"},
		{bar.Stuck, "same grind"},
		{bar.InMilk, "for milk"},
	} {
		if m.Has(known.m) {
			out = append(out, known.word)
		}
	}
	return out
}
