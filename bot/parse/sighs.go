package parse

import (
	"slices"
	"strings"

	"shothand/advisor/taste"
)

// sigh reports whether a word is what people sigh around what they say, drawn out as
// they like: "ooh", "mmmmh".
func sigh(t token) bool {
	if t.kind != wordToken {
		return false
	}
	return slices.ContainsFunc([]string{t.low, taste.Squeeze(t.low, 2), taste.Squeeze(t.low, 1)}, func(word string) bool {
		return slices.Contains(sighs(), word)
	}) || len(t.low) > 2 && strings.Trim(t.low, "oh") == "" || len(t.low) > 2 && strings.Trim(t.low, "uh") == ""
}

// sighs are such words.
func sighs() []string {
	return []string{
		"ugh", "oof", "uff", "puh", "hm", "hmm", "mm", "mmm", "mh", "pff", "argh", "oh", "ah", "ew", "wow", "yay", "jeez", "bleh", "aw", "aww", "uh", "bah", "uy", "ach", "hui", "boah", "phew", "yikes", "ouch", "blimey", "uf", "ay", "ahia", "mamma", "caspita", "mensch", "oje", "bof", "vaya", "eita", "nossa", "ufa",
		"eh", "dunno", "ffs", "omg", "smh", "dammit", "damn", "wtf", "mate", "lol", "haha", "btw", "fyi",
	}
}
