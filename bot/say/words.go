package say

import (
	"strings"

	"shothand/advisor/bar"
)

// maxUnread is how many words that were not understood are said back.
const maxUnread = 5

// TeachLabel is the button that teaches a word.
func (l Lang) TeachLabel(word string) string { return "teach “" + Clip(word) + "”" }

// UnteachLabel is the button that forgets one.
func (l Lang) UnteachLabel(word string) string { return "forget “" + Clip(word) + "”" }

// TeachMeanings are what a tap can teach, as the lexicon has it; empty is no
// taste.
func TeachMeanings() []string { return []string{"sour", "bitter", "thin", "nice", ""} }

// MeansLabel is the button of a meaning.
func (l Lang) MeansLabel(means string) string {
	if means == "" {
		return "no taste"
	}
	return means
}

// TeachQuestion asks what a word means at this bar.
func (l Lang) TeachQuestion(word string) string {
	return "What is “" + Clip(word) + "” nearest to, here?"
}

// Taught says what was learnt.
func (l Lang) Taught(word, means string) string {
	if means == "" {
		return "Learnt: “" + Clip(word) + "” says nothing of taste here."
	}
	return "Learnt: “" + Clip(word) + "” is " + means + " here, also where it was said before."
}

// OwnWord says what a word means here now.
func (l Lang) OwnWord(words bar.OwnWords, word string) string {
	means, ok := words.Means(word)
	if !ok {
		return l.Untaught(word)
	}
	return l.Taught(word, means)
}

// Untaught says that a word was forgotten.
func (l Lang) Untaught(word string) string {
	return "Forgotten: “" + Clip(word) + "” is not read any more."
}

// KnownWord refuses to teach a word that has a meaning.
func (l Lang) KnownWord(word string) string {
	return "“" + Clip(word) + "” has a meaning already; nothing was changed."
}

// OwnWords lists the words a bar has taught.
func (l Lang) OwnWords(list []bar.Own) string {
	const how = "Words I cannot read have a button to teach them; /setup word:gribbly means:heavy does it too, means:nothing is no taste, means:forget forgets."
	if len(list) == 0 {
		return "This bar has taught me no words of its own.\n" + how
	}
	lines := []string{"This bar’s own words:"}
	for _, o := range list {
		lines = append(lines, "• "+Clip(o.Word)+": "+l.MeansLabel(o.Means))
	}
	return strings.Join(append(lines, how), "\n")
}

// unreadText is said once of words that were kept and not understood.
func (l Lang) unreadText(words []string) string {
	return "Kept, but not understood: " + l.asTyped(words) + "."
}
