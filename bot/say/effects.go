package say

import (
	"fmt"
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
		return "Which changes worked: nothing was changed that a shot came after."
	}
	said := map[review.Verdict][]string{}
	for _, e := range effects {
		if e.Verdict == review.Open && e.Uses < review.Few {
			continue
		}
		said[e.Verdict] = append(said[e.Verdict], strings.ToLower(l.Kind(e.Kind)))
	}
	var parts []string
	add := func(v review.Verdict, one, many string) {
		if names := said[v]; len(names) == 1 {
			parts = append(parts, names[0]+" "+one)
		} else if len(names) > 1 {
			parts = append(parts, l.List(names)+" "+many)
		}
	}
	add(review.Helps, "helps here", "help here")
	add(review.Harms, "does no good here", "do no good here")
	add(review.Nothing, "does nothing we can see", "do nothing we can see")
	text := "Which changes worked: "
	if len(parts) == 0 {
		text += "none that we can be sure of"
	}
	text += strings.Join(parts, "; ")
	if open := said[review.Open]; len(open) > 0 {
		text += "; still open: " + l.List(open)
	}
	return text + "."
}

// EffectText is one kind of change in figures.
func (l Lang) EffectText(e review.Effect) string {
	text := fmt.Sprintf("done %s, %s of them right after it, about %s would have been anyway; of ten cups %s are right for it (%s to %s)",
		l.times(e.Uses), cups(e.Right), cups(e.Left), l.moreText(e.Cups.Mid), l.signed(e.Cups.Low), l.signed(e.Cups.High))
	if e.Time.Low > 0 {
		text += "; it runs " + l.tenths(bar.Seconds(e.Time.Mid)) + " s longer"
	}
	if e.Time.High < 0 {
		text += "; it runs " + l.tenths(bar.Seconds(-e.Time.Mid)) + " s shorter"
	}
	if e.Verdict == review.Open {
		text += "; " + l.settleText(e.More)
	}
	return text
}

// EffectNote is one kind of change for the foot of its row.
func (l Lang) EffectNote(e review.Effect) string {
	text := fmt.Sprintf("%s of %d right, about %s without", cups(e.Right), e.Uses, cups(e.Left))
	if e.Verdict == review.Open {
		text += "; " + l.settleText(e.More)
	}
	return text
}

// moreText says how many cups more or fewer.
func (l Lang) moreText(x float64) string {
	switch n := l.Number(math.Abs(math.Round(10*x) / 10)); {
	case n == "0":
		return "none more"
	case x < 0:
		return n + " fewer"
	default:
		return n + " more"
	}
}

// settleText says how many uses would settle what is open.
func (l Lang) settleText(more int) string {
	return "about " + strconv.Itoa(more) + " more would settle it"
}

// cups prints a number of cups, of which one that is a bit off counts in part.
func cups(x float64) string { return strconv.Itoa(int(math.Round(x))) }

// Kind names a kind of change.
func (l Lang) Kind(k review.Kind) string {
	switch k {
	case review.Finer:
		return "Finer"
	case review.Coarser:
		return "Coarser"
	case review.Longer:
		return "Longer cup"
	case review.Shorter:
		return "Shorter cup"
	case review.MoreDose:
		return "More coffee"
	case review.LessDose:
		return "Less coffee"
	case review.Care:
		return "Care of the puck"
	case review.Water:
		return "Water temperature"
	}
	return ""
}

// Verdict says what may be said of a kind of change.
func (l Lang) Verdict(v review.Verdict) string {
	switch v {
	case review.Open:
		return "is open"
	case review.Helps:
		return "helps here"
	case review.Nothing:
		return "does nothing we can see"
	case review.Harms:
		return "does no good here"
	}
	return ""
}
