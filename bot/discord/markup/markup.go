// Package markup makes texts that Discord shows as they are written, within its
// limits.
package markup

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxMarks is how many combining marks may sit on one letter: enough for every
// language, too few to paint over the lines around.
const maxMarks = 3

// Visible drops what is not seen or turns the reading direction, so that a
// name can neither hide nor disguise anything.
func Visible(s string) string {
	var b strings.Builder
	marks := 0
	for _, r := range strings.ToValidUTF8(s, "\uFFFD") {
		switch {
		case r == '\n':
		case r == '\t', r == '\u2028', r == '\u2029':
			r = ' '
		case unicode.IsControl(r), unicode.In(r, unicode.Cf), blank(r):
			continue
		}
		if unicode.In(r, unicode.Mn, unicode.Me) {
			if marks++; marks > maxMarks {
				continue
			}
		} else {
			marks = 0
		}
		b.WriteRune(r)
	}
	return strings.TrimSpace(b.String())
}

// blank reports whether r is a letter by its class and nothing to the eye.
func blank(r rune) bool {
	switch r {
	case '\u115F', '\u1160', '\u17B4', '\u17B5', '\u2800', '\u3164', '\uFFA0':
		return true
	}
	return false
}

// Plain makes text show as it is written: no format, no mention, no link.
func Plain(s string) string {
	s = Visible(s)
	var b strings.Builder
	start := true // of a line, where a few more characters format
	for i, r := range s {
		rest := s[i+utf8.RuneLen(r):]
		if special(r, rest, start) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
		start = r == '\n' || start && r == ' '
	}
	return b.String()
}

// special reports whether the platform would read r as a format, with what
// comes after it.
func special(r rune, rest string, start bool) bool {
	switch r {
	case '\\', '*', '_', '~', '`', '|', '<', '>', '[', ']', '@':
		return true
	case ':':
		return strings.HasPrefix(rest, "//") || strings.Contains(upToSpace(rest), ":")
	case '#', '-', '+':
		return start && (rest == "" || strings.ContainsAny(rest[:1], "# -"))
	}
	return false
}

// upToSpace returns the beginning of s without white space.
func upToSpace(s string) string {
	if i := strings.IndexFunc(s, unicode.IsSpace); i >= 0 {
		return s[:i]
	}
	return s
}

// Label makes a text of at most n characters on one line, for what shows no
// formats.
func Label(s string, n int) string {
	return Cut(strings.Join(strings.Fields(Visible(s)), " "), n)
}

// Cut shortens s to n characters.
func Cut(s string, n int) string {
	if Length(s) <= n {
		return s
	}
	pieces := Split(s, n-1)
	return strings.TrimSuffix(strings.TrimRight(pieces[0], " \n"), `\`) + "…"
}

// Length counts characters as the strictest reading of the platform's limits
// has it: those beyond the basic plane count twice.
func Length(s string) int {
	n := 0
	for _, r := range s {
		n += width(r)
	}
	return n
}

func width(r rune) int {
	if r > 0xFFFF {
		return 2
	}
	return 1
}

// Split cuts text into pieces of at most n characters: between lines, else
// between words, else anywhere but after a backslash. The pieces joined by the
// breaks they were cut at are the text.
func Split(text string, n int) []string {
	var pieces []string
	for Length(text) > n {
		end := fitting(text, n)
		piece := text[:end]
		at := strings.LastIndexByte(piece, '\n')
		if at <= 0 {
			at = strings.LastIndexByte(piece, ' ')
		}
		if at > 0 {
			pieces, text = append(pieces, text[:at]), text[at+1:]
			continue
		}
		if slashes(piece)%2 == 1 && end > 1 {
			end--
		}
		pieces, text = append(pieces, text[:end]), text[end:]
	}
	return append(pieces, text)
}

// fitting returns how many bytes of text hold n characters, one rune at least.
func fitting(text string, n int) int {
	used := 0
	for i, r := range text {
		if used += width(r); used > n && i > 0 {
			return i
		}
	}
	return len(text)
}

// slashes counts the backslashes at the end of s.
func slashes(s string) int { return len(s) - len(strings.TrimRight(s, `\`)) }
