package console

import (
	"io"
	"os"
	"strings"

	"github.com/rivo/uniseg"
	"golang.org/x/term"
)

const (
	// hang is what lines after the first are indented by.
	hang = "  "
	// narrowest is the least width that is wrapped to: in less, every word
	// would stand alone.
	narrowest = 20
	// hardSpace holds words together that belong on one line.
	hardSpace = "\u00a0"
)

// Columns returns how many columns there are on out to write in, 0 where it is
// no terminal.
func Columns(out io.Writer) int {
	f, ok := out.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return 0
	}
	return columns(f)
}

// Fit breaks the lines of text as a session does, if out is a terminal.
func Fit(out io.Writer, text string) string { return wrap(text, Columns(out)) }

// wrap breaks the lines of text as Wrap does, and indents what follows a break.
func wrap(text string, width int) string { return Wrap(text, width, hang) }

// Wrap breaks the lines of text between words, so that none is wider than
// width; a word that is wider itself stays whole, since paths are to be
// copied. A width of 0 is not known, and breaks nothing. What follows a break
// is indented by hang.
func Wrap(text string, width int, hang string) string {
	if width > 0 {
		var all []string
		for line := range strings.SplitSeq(text, "\n") {
			all = append(all, wrapLine(line, max(width, narrowest), hang))
		}
		text = strings.Join(all, "\n")
	}
	return strings.ReplaceAll(text, hardSpace, " ")
}

func wrapLine(line string, width int, hang string) string {
	rest := strings.TrimLeft(line, " ")
	indent := line[:len(line)-len(rest)]
	var all strings.Builder
	all.WriteString(indent)
	at, gap := len(indent), ""
	for rest != "" {
		word, tail, _ := strings.Cut(rest, " ")
		if next, more, _ := strings.Cut(tail, " "); together(word, next) {
			word, tail = word+" "+next, more
		}
		rest = strings.TrimLeft(tail, " ")
		wide := uniseg.StringWidth(word)
		if gap != "" && at+len(gap)+wide > width {
			gap = "\n" + indent + hang
			at = len(indent) + len(hang)
		} else {
			at += len(gap)
		}
		all.WriteString(gap + word)
		at += wide
		gap = strings.Repeat(" ", 1+len(tail)-len(rest))
	}
	return all.String()
}

// together reports whether two words are one thing to the eye: a number with its
// unit, or the number that the dial is at.
func together(word, next string) bool {
	if next == "" {
		return false
	}
	switch strings.TrimRight(next, ".,;:)!?") {
	case "g", "s", "%", "mg":
		return digit(word[len(word)-1:])
	}
	return word == "at" && digit(strings.TrimPrefix(next, "-"))
}

// digit reports whether s begins with one.
func digit(s string) bool { return s != "" && '0' <= s[0] && s[0] <= '9' }
