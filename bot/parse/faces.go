package parse

import (
	"strings"

	"shothand/advisor/bar"
)

// orFace returns the words that were said of a cup, or what a face says where no word
// does.
func orFace(words []bar.Word, text string) []bar.Word {
	if len(words) > 0 {
		return words
	}
	for _, face := range []struct{ pictures, term string }{
		{"😋😍🤤🥰", "nice"},
		{"😖😣😬😒😕👎", "bad"},
		{"🤢🤮", "gross"},
	} {
		if strings.ContainsAny(text, face.pictures) {
			return []bar.Word{{Term: face.term, Degree: 1}}
		}
	}
	return words
}
