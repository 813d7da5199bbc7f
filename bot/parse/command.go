package parse

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"shothand/advisor/taste"
	"shothand/bot/chat"
	"shothand/bot/command"
)

// shotCommand is the one command whose words are kept as typed: they are
// shorthand.
const shotCommand = "shot"

// Command is the first stage of reading a command: a line as typed in parts,
// without a look at what the values mean. The error is a Mistake.
func Command(text string) (chat.Command, error) {
	text = clean(text)
	if long(text) {
		return chat.Command{}, Mistake{Kind: TooLong, What: cut(text), More: "2000 characters"}
	}
	s, rest, err := findSpec(strings.TrimPrefix(strings.TrimSpace(text), "/"))
	if err != nil {
		return chat.Command{}, err
	}
	l := line{text: rest, spec: s}
	if err := l.read(); err != nil {
		return chat.Command{}, err
	}
	return chat.Command{Name: s.Name, Options: l.options}, nil
}

// firstWord cuts text after its first word.
func firstWord(text string) (word, rest string) {
	text = strings.TrimLeftFunc(text, unicode.IsSpace)
	if i := strings.IndexFunc(text, unicode.IsSpace); i >= 0 {
		return text[:i], text[i:]
	}
	return text, ""
}

// findSpec finds the command that text, without its slash, begins with.
func findSpec(text string) (command.Command, string, error) {
	one, rest := firstWord(text)
	two, rest2 := firstWord(rest)
	var below []string
	for _, s := range command.All() {
		name, sub, grouped := strings.Cut(s.Name, " ")
		switch {
		case !strings.EqualFold(one, name):
		case !grouped:
			return s, rest, nil
		case strings.EqualFold(two, sub):
			return s, rest2, nil
		default:
			below = append(below, "/"+s.Name)
		}
	}
	if len(below) > 0 {
		return command.Command{}, "", Mistake{Kind: BadOption, What: cut(spaced("/"+one, two)), More: strings.Join(below, ", ")}
	}
	return command.Command{}, "", Mistake{Kind: UnknownCommand, What: cut("/" + one), More: nearest(strings.ToLower(one))}
}

// nearest returns the command within two edits of a word, or nothing.
func nearest(word string) string {
	best, at := "", 3
	if len(word) > 20 {
		return ""
	}
	for _, s := range command.All() {
		name, _, _ := strings.Cut(s.Name, " ")
		if d := taste.Edits(word, name); d < at && d < len(name) {
			best, at = "/"+name, d
		}
	}
	return best
}

// A line is the options of a command, on their way into parts.
type line struct {
	text    string
	at      int
	spec    command.Command
	options []chat.Option
	free    []string // words without a name
	freeAt  int      // where among the options the first of them stood
}

func (l *line) read() error {
	for l.skipSpace(); l.at < len(l.text); l.skipSpace() {
		if err := l.part(); err != nil {
			return err
		}
	}
	if l.spec.Name == shotCommand { // last, so that a quote left open takes no option in
		l.freeAt = len(l.options)
	}
	if len(l.free) > 0 {
		l.options = slices.Insert(l.options, l.freeAt, chat.Option{Value: strings.Join(l.free, " ")})
	}
	return nil
}

func (l *line) skipSpace() {
	l.at += len(l.text[l.at:]) - len(strings.TrimLeftFunc(l.text[l.at:], unicode.IsSpace))
}

// part takes one option or one word.
func (l *line) part() error {
	name, n := optionName(l.text[l.at:])
	known := l.spec.Takes(name)
	if n == 0 || l.spec.Name == shotCommand && !known {
		return l.word()
	}
	if !known {
		return Mistake{Kind: UnknownOption, What: cut(name), More: strings.Join(l.spec.Names(), ", ")}
	}
	l.at += n
	return l.option(name)
}

// optionName reads "name:", and returns its length, 0 for none.
func optionName(s string) (string, int) {
	n := 0
	for n < len(s) && ('a' <= s[n]|0x20 && s[n]|0x20 <= 'z') {
		n++
	}
	if n == 0 || n == len(s) || s[n] != ':' {
		return "", 0
	}
	return strings.ToLower(s[:n]), n + 1
}

func (l *line) option(name string) error {
	if slices.ContainsFunc(l.options, func(o chat.Option) bool { return o.Name == name }) {
		return Mistake{Kind: GivenTwice, What: name}
	}
	l.skipSpace() // "name: Harbour" is meant as it looks
	if _, n := optionName(l.text[l.at:]); l.at == len(l.text) || n > 0 && unicode.IsSpace(lastRune(l.text[:l.at])) {
		return Mistake{Kind: MissingOption, What: name}
	}
	value, err := l.value()
	if err != nil {
		return err
	}
	l.options = append(l.options, chat.Option{Name: name, Value: value})
	return nil
}

func lastRune(s string) rune {
	r, _ := utf8.DecodeLastRuneInString(s)
	return r
}

// word takes one word without a name. A shot's are kept as typed, with all
// that stands between them.
func (l *line) word() error {
	if len(l.free) == 0 {
		l.freeAt = len(l.options)
	}
	if l.spec.Name == shotCommand {
		l.free = append(l.free, l.shorthand())
		return nil
	}
	value, err := l.value()
	if value != "" {
		l.free = append(l.free, value)
	}
	return err
}

// shorthand takes text up to the next option or the end.
func (l *line) shorthand() string {
	from, end := l.at, l.at
	for l.at < len(l.text) {
		if name, n := optionName(l.text[l.at:]); n > 0 && l.spec.Takes(name) {
			break
		}
		if n := quotedLength(l.text[l.at:]); n > 0 {
			l.at += n
		}
		l.at += wordLength(l.text[l.at:])
		end = l.at
		l.skipSpace()
	}
	return l.text[from:end]
}

func wordLength(s string) int {
	if i := strings.IndexFunc(s, unicode.IsSpace); i >= 0 {
		return i
	}
	return len(s)
}

// value takes a value: up to the next space, or all between quotes.
func (l *line) value() (string, error) {
	rest := l.text[l.at:]
	if n := quotedLength(rest); n > 0 {
		l.at += n
		return unquote(rest[:n]), nil
	}
	n := wordLength(rest)
	if closers(rest) != "" {
		return "", Mistake{Kind: OpenQuote, What: cut(rest)}
	}
	l.at += n
	return rest[:n], nil
}

// closers returns the quotes that end what s's first character opens; the
// same marks open in one language and close in another.
func closers(s string) string {
	switch r, _ := utf8.DecodeRuneInString(s); r {
	case '"':
		return `"`
	case '“':
		return `”"`
	case '”':
		return `”`
	case '„':
		return `“”`
	case '«':
		return `»`
	case '»':
		return `«`
	}
	return ""
}

// quotedLength returns the length of a quotation at the beginning of s with
// its quotes, 0 if there is none. A backslash keeps a quote from closing it.
func quotedLength(s string) int {
	closing := closers(s)
	if closing == "" {
		return 0
	}
	_, open := utf8.DecodeRuneInString(s)
	escaped := false
	for i, r := range s[open:] {
		switch {
		case escaped:
			escaped = false
		case r == '\\':
			escaped = true
		case strings.ContainsRune(closing, r):
			return open + i + utf8.RuneLen(r)
		}
	}
	return 0
}

// unquote takes the quotes off, and the backslashes before quotes and
// backslashes.
func unquote(s string) string {
	_, open := utf8.DecodeRuneInString(s)
	_, end := utf8.DecodeLastRuneInString(s)
	var b strings.Builder
	escaped := false
	for _, r := range s[open : len(s)-end] {
		if r == '\\' && !escaped {
			escaped = true
			continue
		}
		if escaped && r != '\\' && r != '"' {
			b.WriteByte('\\')
		}
		escaped = false
		b.WriteRune(r)
	}
	return b.String()
}

// FormatCommand prints a command as the line that [Command] reads as c again.
func FormatCommand(c chat.Command) string {
	var b strings.Builder
	b.WriteString("/" + c.Name)
	for _, o := range c.Options {
		b.WriteByte(' ')
		if o.Name != "" {
			b.WriteString(o.Name + ":")
		} else if c.Name == shotCommand {
			b.WriteString(o.Value)
			continue
		}
		b.WriteString(quote(o.Value, o.Name == ""))
	}
	return b.String()
}

// quote puts quotes round a value that would not be one piece without.
func quote(value string, free bool) string {
	_, named := optionName(value)
	if value != "" && closers(value) == "" && named == 0 && strings.IndexFunc(value, unicode.IsSpace) < 0 {
		return value
	}
	if free && value == "" {
		return ""
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(value) + `"`
}
