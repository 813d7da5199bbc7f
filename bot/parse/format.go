package parse

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
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
	if e := EventText(s.Event); e != "" {
		add(e)
	}
	add(numbers(s, v.Order)...)
	if s.Same {
		add("same")
	}
	if s.Grind.Said {
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

// told returns the marks that words of taste say already.
func told(words []bar.Word) bar.Marks {
	for _, w := range words {
		if markOf(token{kind: wordToken, low: w.Term}) == bar.Spurted && (w.Than || !w.Not) {
			return bar.Spurted
		}
	}
	return 0
}

// denied prints the denial of a word. "Not bad" is more than that: praise.
func denied(term string) string {
	words, _ := taste.Default().Read("not " + term)
	if len(words) == 1 && words[0].Term != term {
		return "no " + term
	}
	return "not " + term
}

// WordText prints a word of taste with its degree, so that it is read as w
// again.
func WordText(w bar.Word) string {
	text := w.Term
	switch {
	case w.Than && w.Not:
		text = "less " + text
	case w.Than:
		text = "more " + text
	case w.Not:
		text = denied(text)
	}
	switch d := w.Degree; {
	case d < 0.4:
		return "barely " + text
	case d < 0.75:
		return "a bit " + text
	case d < 1.25:
		return text
	case d < 1.75:
		return "very " + text
	}
	return "way too " + text
}
