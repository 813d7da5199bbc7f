package say

import (
	"math"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/review"
)

// What changes did.

// workedText answers which changes worked.
func (l Lang) workedText(effects []review.Effect) string {
	if len(effects) == 0 {
		return l.Say("Which changes worked: nothing was changed that a shot came after.")
	}
	said := map[review.Verdict][]string{}
	for _, e := range effects {
		if e.Verdict == review.Open && e.Uses < review.Few {
			continue
		}
		said[e.Verdict] = append(said[e.Verdict], l.kindText(e.Kind))
	}
	var parts []string
	add := func(v review.Verdict, one, many English) {
		if names := said[v]; len(names) == 1 {
			parts = append(parts, l.Say(one, names[0]))
		} else if len(names) > 1 {
			parts = append(parts, l.Say(many, l.List(names)))
		}
	}
	add(review.Helps, "%s helps here", "%s help here")
	add(review.Harms, "%s does no good here", "%s do no good here")
	add(review.Nothing, "%s does nothing we can see", "%s do nothing we can see")
	if len(parts) == 0 {
		parts = []string{l.Say("none that we can be sure of")}
	}
	if open := said[review.Open]; len(open) > 0 {
		parts = append(parts, l.Say("still open: %s", l.List(open)))
	}
	return l.Say("Which changes worked: %s.", strings.Join(parts, l.semicolon()))
}

// EffectText is one kind of change in figures.
func (l Lang) EffectText(e review.Effect) string {
	text := l.Say("done %s, %s of them right after it, about %s would have been anyway; of ten cups %s are right for it (%s to %s)",
		l.times(e.Uses), cups(e.Right), cups(e.Left), l.moreText(e.Cups.Mid), l.signed(e.Cups.Low), l.signed(e.Cups.High))
	if e.Time.Low > 0 {
		text += l.semicolon() + l.Say("it runs %s s longer", l.tenths(bar.Seconds(e.Time.Mid)))
	}
	if e.Time.High < 0 {
		text += l.semicolon() + l.Say("it runs %s s shorter", l.tenths(bar.Seconds(-e.Time.Mid)))
	}
	if e.Verdict == review.Open {
		text += l.semicolon() + l.settleText(e.More)
	}
	return text
}

// EffectNote is one kind of change for the foot of its row.
func (l Lang) EffectNote(e review.Effect) string {
	text := l.Say("%s of %s right, about %s without", cups(e.Right), strconv.Itoa(e.Uses), cups(e.Left))
	if e.Verdict == review.Open {
		text += l.semicolon() + l.settleText(e.More)
	}
	return text
}

// moreText says how many cups more or fewer.
func (l Lang) moreText(x float64) string {
	switch n := l.Number(math.Abs(math.Round(10*x) / 10)); {
	case n == "0":
		return l.Say("none more")
	case x < 0:
		return l.Say("%s fewer", n)
	default:
		return l.Say("%s more", n)
	}
}

// settleText says how many uses would settle what is open, no more exactly than
// that is known.
func (l Lang) settleText(more int) string {
	switch {
	case more <= 5:
		return l.Say("a few more would settle it")
	case more > 100:
		return l.Say("more than a hundred more would settle it")
	case more > 20:
		return l.Say("about %s more would settle it", strconv.Itoa(nearest(more, 10)))
	}
	return l.Say("about %s more would settle it", strconv.Itoa(nearest(more, 5)))
}

// nearest rounds n to whole units.
func nearest(n, unit int) int { return (n + unit/2) / unit * unit }

// cups prints a number of cups, of which one that is a bit off counts in part.
func cups(x float64) string { return strconv.Itoa(int(math.Round(x))) }

// Kind names a kind of change where a line begins.
func (l Lang) Kind(k review.Kind) string { return Upper(l.kindText(k)) }

// kindText names a kind of change.
func (l Lang) kindText(k review.Kind) string {
	switch k {
	case review.Finer:
		return l.Say("finer")
	case review.Coarser:
		return l.Say("coarser")
	case review.Longer:
		return l.Say("longer cup")
	case review.Shorter:
		return l.Say("shorter cup")
	case review.MoreDose:
		return l.Say("more coffee")
	case review.LessDose:
		return l.Say("less coffee")
	case review.Care:
		return l.Say("care of the puck")
	case review.Water:
		return l.Say("water temperature")
	}
	return ""
}

// Verdict says what may be said of a kind of change.
func (l Lang) Verdict(v review.Verdict) string {
	switch v {
	case review.Open:
		return l.Say("is open")
	case review.Helps:
		return l.Say("helps here")
	case review.Nothing:
		return l.Say("does nothing we can see")
	case review.Harms:
		return l.Say("does no good here")
	}
	return ""
}
