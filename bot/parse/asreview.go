package parse

import "strings"

// bareReview returns the review that is asked for without its slash: "review last
// quarter", "review Harbour against Tide". It is nothing where the words are none
// that a review is of.
func bareReview(text string, v Vocab) string {
	text = strings.Join(strings.Fields(strings.Trim(text, " .!?\n\t")), " ")
	first, rest, _ := strings.Cut(text, " ")
	if !strings.EqualFold(first, "review") || rest == "" {
		return ""
	}
	sides := strings.NewReplacer(" against ", "\n", " versus ", "\n", " vs ", "\n", " vs. ", "\n", " beside ", "\n").Replace(strings.ToLower(rest))
	for side := range strings.SplitSeq(sides, "\n") {
		if !v.reviewed(side) {
			return ""
		}
	}
	return "review " + rest
}

// reviewed reports whether something has reviews: a coffee, a grinder, what there are
// several of, with or without days, or days alone.
func (v Vocab) reviewed(side string) bool {
	names := []string{"bars", "grinder", "grinders", "coffees", "me"}
	for _, c := range v.Coffees {
		names = append(names, strings.ToLower(c.Name))
	}
	for _, g := range v.Grinders {
		names = append(names, strings.ToLower(g.Name), "grinder "+strings.ToLower(g.Name))
	}
	const late = "2100-01-01" // whichever day it is, it is a span
	days := []string{side}
	for _, name := range names {
		if side == name {
			return true
		}
		if rest, ok := strings.CutPrefix(side, name+" "); ok {
			days = append(days, rest)
		}
	}
	for _, said := range days {
		said = SpanInEnglish(said)
		if _, err := SpanOf(said, late); err == nil || said == ThisBag {
			return true
		}
	}
	return false
}
