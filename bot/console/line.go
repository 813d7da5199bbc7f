package console

import (
	"bufio"
	"errors"
	"io"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

const (
	// maxLine is how many bytes of an input line are handed on: far more than
	// any shot, far less than a file piped in by mistake.
	maxLine = 64 << 10
	// maxName is how many bytes a name, a bar or an id may have.
	maxName = 100
)

// A verb is what a line asks the console to do.
type verb int

const (
	say verb = iota
	edit
	remove
	press
	reply
)

// A line is one input line in its parts. What it does not say is zero.
type line struct {
	at      time.Time
	badTime string // a first word that has the shape of a time and is none
	name    string
	bar     string
	id      string
	device  string // that posts in place of a person
	verb    verb
	text    string // what is left, without spaces around it
}

// blank reports whether the line says nothing at all.
func (l line) blank() bool { return l == line{} }

// parseLine takes s apart: [time] [@name] [#bar] [id:X] text. Name and bar may
// come in either order; device:X in the place of a name lets a device post.
func parseLine(s string) line {
	var l line
	rest := strings.TrimSpace(s)
	if word, tail := cutWord(rest); timeShaped(word) {
		at, err := time.Parse(time.RFC3339, strings.ToUpper(word))
		if err != nil {
			return line{badTime: word}
		}
		l.at, rest = at, tail
	}
	for range 2 {
		word, tail := cutWord(rest)
		if device, ok := mark(word, "device:"); ok && l.device == "" {
			l.device, rest = device, tail
		} else if name, ok := mark(word, "@"); ok && l.name == "" {
			l.name, rest = name, tail
		} else if bar, ok := mark(word, "#"); ok && l.bar == "" {
			l.bar, rest = strings.ToLower(bar), tail
		}
	}
	if word, tail := cutWord(rest); strings.HasPrefix(word, "id:") {
		if id, ok := mark(word, "id:"); ok {
			l.id, rest = id, tail
		}
	}
	l.verb, l.text = cutVerb(rest)
	return l
}

// cutVerb cuts one of the console's own commands off the front of s.
func cutVerb(s string) (verb, string) {
	word, tail := cutWord(s)
	switch strings.ToLower(word) {
	case "/edit":
		return edit, tail
	case "/delete":
		return remove, tail
	case "/press":
		return press, tail
	case "/reply":
		return reply, tail
	}
	return say, s
}

// cutWord cuts the first word off s, which has no spaces around it.
func cutWord(s string) (word, tail string) {
	i := strings.IndexFunc(s, unicode.IsSpace)
	if i < 0 {
		return s, ""
	}
	return s[:i], strings.TrimSpace(s[i:])
}

// mark returns what follows prefix in word, if that would do as a name.
func mark(word, prefix string) (string, bool) {
	name, ok := strings.CutPrefix(word, prefix)
	name = strings.TrimSuffix(strings.TrimRight(name, ",:"), "'s") // "@jo's shot was sour"
	if !ok || name == "" || len(name) > maxName || name != clean(name) {
		return "", false
	}
	return name, true
}

// timeShaped reports whether word begins as RFC 3339 does, 2026-03-02T. A date
// alone may be part of what somebody says.
func timeShaped(word string) bool {
	const shape = "dddd-dd-ddT"
	if len(word) < len(shape) {
		return false
	}
	for i := range len(shape) {
		switch ch := word[i]; shape[i] {
		case 'd':
			if ch < '0' || ch > '9' {
				return false
			}
		case 'T':
			if ch != 'T' && ch != 't' {
				return false
			}
		default:
			if ch != shape[i] {
				return false
			}
		}
	}
	return true
}

// cutNumber cuts a line number off the front of s.
func cutNumber(s string) (n int, word, tail string) {
	word, tail = cutWord(s)
	u, err := strconv.ParseUint(word, 10, 31)
	if err != nil {
		return 0, word, tail
	}
	return int(u), word, tail
}

// A source is where lines come from. The prompt is shown by those that have
// one.
type source interface {
	next(prompt string) (string, error)
}

// lines reads lines from anything, however long and whatever is in them.
type lines struct {
	r     *bufio.Reader
	begun bool  // a line has been read
	err   error // what ended the input
}

func newLines(r io.Reader) *lines { return &lines{r: bufio.NewReader(r)} }

// next returns the next line; the last one may lack its newline.
func (l *lines) next(string) (string, error) {
	var kept []byte
	read := 0
	for l.err == nil {
		part, err := l.r.ReadSlice('\n')
		read += len(part)
		kept = append(kept, part[:min(len(part), maxLine-len(kept))]...)
		if err == nil {
			break
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			l.err = err
		}
	}
	if read == 0 {
		return "", l.err
	}
	s := string(kept)
	if !l.begun {
		s = strings.TrimPrefix(s, "\ufeff")
		l.begun = true
	}
	return tidy(s), nil
}

// tidy makes valid text of at most maxLine bytes of s.
func tidy(s string) string {
	s = strings.ToValidUTF8(strings.TrimRight(s, "\r\n"), string(utf8.RuneError))
	if len(s) <= maxLine {
		return s
	}
	end := maxLine
	for !utf8.RuneStart(s[end]) {
		end--
	}
	return s[:end]
}
