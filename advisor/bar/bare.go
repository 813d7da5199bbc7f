package bar

import (
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Bare returns a letter without its accents. "ß" stays, for "groß" is not
// "gross".
func Bare(r rune) rune {
	if r < utf8.RuneSelf {
		return r
	}
	if bare, n := utf8.DecodeRune(norm.NFD.PropertiesString(string(r)).Decomposition()); n > 0 {
		return bare
	}
	return r
}
