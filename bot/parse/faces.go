package parse

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
)

// faces are the pictures that say how a cup tastes, and the term of each.
func faces() []struct{ pictures, term string } {
	return []struct{ pictures, term string }{
		{"😋😍🤤🥰👍👌", "nice"},
		{"😖😣😬😒😕👎", "bad"},
		{"🤢🤮", "gross"},
	}
}

// Face returns the term of a text that is a face and nothing else, empty for any other.
func Face(text string) string {
	text = strings.TrimRight(strings.TrimSpace(text), "\ufe0f🏻🏼🏽🏾🏿")
	for _, face := range faces() {
		if text != "" && strings.Trim(text, face.pictures) == "" {
			return face.term
		}
	}
	return ""
}

// orFace returns the words that were said of a cup, or what a face says where no word
// does.
func orFace(words []bar.Word, text string) []bar.Word {
	if len(words) > 0 {
		return words
	}
	for _, face := range faces() {
		if strings.ContainsAny(text, face.pictures) {
			return []bar.Word{{Term: face.term, Degree: 1}}
		}
	}
	return words
}

// tastesSo adds to a shot how its cup is where that is said by no word of taste.
func (s *sheet) tastesSo(shot Shot) Shot {
	shot = s.orFine(shot)
	shot.Tastes = len(shot.Words) == 0 && s.saysSameTaste()
	return shot
}

// orFine takes a "fine" beside a shot, of which nothing else is said, for how its cup is, and
// not for how the coffee was ground: "18 36 28, fine by me".
func (s *sheet) orFine(shot Shot) Shot {
	if len(shot.Words) > 0 || len(shot.Unread) != 1 || fold(shot.Unread[0]) != "fine" || slices.Contains([]string{"it", "fr"}, s.vocab.Language) {
		return shot
	}
	i := slices.IndexFunc(s.tokens, func(t token) bool { return t.is("fine") })
	if i > 0 && s.tokens[i-1].is("too", "a", "bit", "little", "very", "more", "so", "extra", "super", "as", "grind", "ground", "grinding", "go", "going", "went", "ultra") || s.at(i+1).is("grind", "ground", "grinding", "side", "tuning", "tuned", "setting") {
		return shot
	}
	shot.Words, shot.Unread = []bar.Word{{Term: "ok", Degree: 1}}, nil
	return shot
}

// sameTastes say that a cup tastes as the one before.
func sameTastes() []string {
	return []string{
		"same taste", "taste same", "tastes same", "tastes the same", "taste is the same", "tasted the same", "same taste as before", "tastes the same as before", "tastes like the last one", "same taste as last time", "same taste as the last one", "tastes the same as the last one",
		"gleicher geschmack", "selber geschmack", "schmeckt gleich", "schmeckt genauso", "schmeckt wie der letzte", "stesso gusto", "stesso sapore", "sapore uguale", "gusto uguale", "même goût", "goût pareil", "même gout",
		"mismo sabor", "sabe igual", "el mismo sabor", "mesmo sabor", "mesmo gosto", "o mesmo sabor", "sabe ao mesmo",
	}
}

// sameTaste reads a message that says that the last cup tastes as the one before it, and
// nothing else.
func (s *sheet) sameTaste() (Meaning, bool) {
	i := s.skip(0, append(sighs(), "and", "und", "e", "et", "y", "also", ",")...)
	n := s.longest(i, sameTastes())
	return Words{Same: true}, n > 0 && s.skip(i+n, ".", "!") == len(s.tokens)
}

// saysSameTaste reports whether a message says so anywhere.
func (s *sheet) saysSameTaste() bool {
	low := strings.ToLower(s.text)
	return slices.ContainsFunc(sameTastes(), func(words string) bool { return strings.Contains(low, words) })
}
