package setup

import (
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/say"
)

// TeachMeanings are what a tap can teach, as the lexicon has it; empty is no
// taste.
func TeachMeanings() []string { return []string{"sour", "bitter", "thin", "nice", ""} }

// MeansLabel is the button of a meaning.
func (l Lang) MeansLabel(means string) string {
	if means == "" {
		return l.Say("no taste")
	}
	return l.Term(means)
}

// TeachQuestion asks what a word means at this bar.
func (l Lang) TeachQuestion(word string) string {
	return l.Say("What is “%s” nearest to, here?", say.Clip(word))
}

// Taught says what was learnt.
func (l Lang) Taught(word, means string) string {
	if means == "" {
		return l.Say("Learnt: “%s” says nothing of taste here.", say.Clip(word))
	}
	return l.Say("Learnt: “%s” is %s here, also where it was said before.", say.Clip(word), l.Term(means))
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
	return l.Say("Forgotten: “%s” is not read any more.", say.Clip(word))
}

// UnteachLabel is the button that forgets one.
func (l Lang) UnteachLabel(word string) string { return l.Say("forget “%s”", say.Clip(word)) }

// KnownWord refuses to teach a word that has a meaning.
func (l Lang) KnownWord(word string) string {
	return l.Say("“%s” has a meaning already; nothing was changed.", say.Clip(word))
}

// OwnWords lists the words a bar has taught.
func (l Lang) OwnWords(list []bar.Own) string {
	const how say.English = "Words I cannot read have a button to teach them; /setup word:gribbly means:heavy does it too, means:nothing is no taste, means:forget forgets."
	if len(list) == 0 {
		return l.Say("This bar has taught me no words of its own.") + "\n" + l.Say(how)
	}
	lines := []string{l.Say("This bar’s own words:")}
	for _, o := range list {
		lines = append(lines, "• "+say.Clip(o.Word)+l.Colon()+l.MeansLabel(o.Means))
	}
	return strings.Join(append(lines, l.Say(how)), "\n")
}
