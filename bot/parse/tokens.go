package parse

import (
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A kind is a sort of token.
type kind int

const (
	wordToken kind = iota + 1
	numberToken
	symbolToken
	mentionToken // of a person: @jo, <@123>
	noiseToken   // a link, a price, a telephone number, code: no shot holds one
)

// A token is one piece of a text. It is handed around as where the piece is, since rules
// look at most of them in vain: what is changed of one is changed wherever it was handed to.
type token struct{ *piece }

type piece struct {
	kind  kind
	text  string // as typed
	low   string // in lower case, with plain apostrophes
	dots  string // the same with ä, ö and ü for the ae, oe and ue of a telephone, where it has some
	start int    // bytes into the text
	glued bool   // nothing stands between it and the token before
	num   numeral
}

func (t token) end() int { return t.start + len(t.text) }

func (t token) is(words ...string) bool {
	if t.kind != wordToken && t.kind != symbolToken {
		return false
	}
	return slices.Contains(words, t.low) || t.dots != "" && slices.Contains(words, t.dots)
}

// lex cuts text into tokens, each in one pass over its bytes.
func lex(text string) []token {
	l := lexer{text: text, tokens: make([]token, 0, min(8+strings.Count(text, " "), 64))}
	for l.at < len(text) {
		l.next()
	}
	return l.tokens
}

type lexer struct {
	text   string
	at     int
	tokens []token
}

func (l *lexer) next() {
	r, size := utf8.DecodeRuneInString(l.text[l.at:])
	switch {
	case unicode.IsSpace(r):
		l.at += size
	case l.link() || r == '`':
		l.emit(noiseToken, l.untilSpace())
	case unicode.IsNumber(r) && !isDigit(r): // "18½" must not be read as 18
		l.emit(noiseToken, size)
	case strings.ContainsRune("€$£¥", r):
		l.emit(noiseToken, size)
	case l.mention():
	case unicode.IsLetter(r):
		l.word()
	case isDigit(r):
		l.number()
		l.halved()
	case r == '∞':
		l.emit(numberToken, size)
		l.last().num = plain(math.Inf(1))
	case l.sign(r):
	case unicode.IsPunct(r) || strings.ContainsRune("~≈→>+=±°|<", r):
		l.emit(symbolToken, size)
	default: // emoji and their joiners say nothing
		l.at += size
	}
}

func (l *lexer) last() *token { return &l.tokens[len(l.tokens)-1] }

// emit adds the next n bytes as one token.
func (l *lexer) emit(k kind, n int) {
	text := l.text[l.at : l.at+n]
	glued := len(l.tokens) > 0 && l.last().end() == l.at
	low := spelt(fold(text))
	l.tokens = append(l.tokens, token{&piece{kind: k, text: text, low: low, dots: dotted(low), start: l.at, glued: glued}})
	l.at += n
}

// spelt returns a small word as it is spelt, where it is one that tired people often
// misspell or shorten. Names and words of taste are compared elsewhere.
func spelt(low string) string {
	switch low {
	case "actualy", "actully", "acutally", "acually", "aktually":
		return "actually"
	case "sry", "srry", "sorrry", "soz":
		return "sorry"
	case "goin":
		return "going"
	case "opend", "openend", "openned":
		return "opened"
	case "tho":
		return "though"
	}
	if word, ok := accented()[low]; ok {
		return word
	}
	return low
}

// dotted returns a word with the dots of its umlauts, "lösch" for "loesch", or nothing where
// it has none. Only a word that is known by that is read so.
func dotted(low string) string {
	if with := undigraphed.Replace(low); with != low {
		return with
	}
	return ""
}

// fold makes text comparable: lower case, plain apostrophes and dashes.
func fold(text string) string {
	low := strings.ToLower(text)
	if !strings.ContainsAny(low, "’‘–—−") {
		return low
	}
	return strings.NewReplacer("’", "'", "‘", "'", "–", "-", "—", "-", "−", "-").Replace(low)
}

func isDigit(r rune) bool { return '0' <= r && r <= '9' }

func (l *lexer) untilSpace() int {
	if n := strings.IndexFunc(l.text[l.at:], unicode.IsSpace); n >= 0 {
		return n
	}
	return len(l.text) - l.at
}

func (l *lexer) link() bool {
	rest := l.text[l.at:]
	for _, p := range []string{"http://", "https://", "www."} {
		if len(rest) >= len(p) && strings.EqualFold(rest[:len(p)], p) {
			return true
		}
	}
	return false
}

// mention takes a person's, a channel's or an emoji's mark-up, "<@123>", and
// "@jo". It looks a bounded way ahead, so that many "<" stay cheap.
func (l *lexer) mention() bool {
	rest := l.text[l.at:]
	if rest[0] == '<' && len(rest) > 2 && strings.ContainsRune("@#:a", rune(rest[1])) {
		if n := strings.IndexByte(rest[:min(len(rest), 80)], '>'); n > 0 {
			l.emit(mentionToken, n+1)
			return true
		}
	}
	if rest[0] == '@' && len(rest) > 1 {
		if r, _ := utf8.DecodeRuneInString(rest[1:]); unicode.IsLetter(r) {
			l.emit(mentionToken, l.untilSpace())
			return true
		}
	}
	return false
}

// word takes letters, with digits, apostrophes and hyphens inside.
func (l *lexer) word() {
	if x, n := spelled(l.text[l.at:]); n > 0 {
		l.emit(numberToken, n)
		l.last().num = plain(x)
		l.halved()
		return
	}
	n := l.letters(l.at)
	n = l.unstuck(n)
	if l.at+n < len(l.text) && l.text[l.at+n] == '@' { // an address
		l.emit(noiseToken, l.untilSpace())
		return
	}
	l.emit(wordToken, n)
	switch l.last().low {
	case "nan":
		l.last().kind, l.last().num = numberToken, plain(math.NaN())
	case "inf", "infinity":
		l.last().kind, l.last().num = numberToken, plain(math.Inf(1))
	}
}

// unstuck returns how many of the n bytes of a word stand before a number that
// got stuck to it: the letter of "d18" and "g5", the unit of "18g36g28s".
func (l *lexer) unstuck(n int) int {
	letters := strings.IndexFunc(l.text[l.at:l.at+n], isDigit)
	if unit := sided(fold(l.text[l.at : l.at+n])); unit > 0 && len(l.tokens) > 0 && l.last().kind == numberToken && l.last().end() == l.at {
		return unit
	}
	if letters <= 0 {
		return n
	}
	word := fold(l.text[l.at : l.at+letters])
	behind := len(l.tokens) > 0 && (l.last().kind == numberToken || unitOf(l.last().low) == gram) && l.last().end() == l.at
	rest := l.text[l.at+n:]
	side := word == "r" || word == "l" && len(rest) > 1 && (rest[0] == '.' || rest[0] == ',') && isDigit(rune(rest[1])) // "R19", "L5.1"; "l8" is a slip
	initial := len(word) == 1 && (side || strings.Contains("dytg", word)) && digits(l.text[l.at+letters:]) == n-letters
	apartIn := glues(word) && len(l.tokens) > 0 && unitOf(l.last().low) == gram // "18g in36g"
	if behind && (unitOf(word) != noUnit || glues(word)) || apartIn || initial {
		return letters
	}
	return n
}

// letters returns how many bytes of a word start at.
func (l *lexer) letters(at int) int {
	n := 0
	for at+n < len(l.text) {
		r, size := utf8.DecodeRuneInString(l.text[at+n:])
		if !unicode.IsLetter(r) && !unicode.IsMark(r) && !isDigit(r) && !l.inner(r, at+n+size) {
			break
		}
		n += size
	}
	return n
}

// inner reports whether r joins two letters when one follows at.
func (l *lexer) inner(r rune, at int) bool {
	if r != '\'' && r != '’' && r != '-' {
		return false
	}
	next, _ := utf8.DecodeRuneInString(l.text[at:])
	return unicode.IsLetter(next)
}

// sign takes a number with a sign, an ordinal "#2", or ".5". A minus between
// two numbers without a space is no sign: see numbers.
func (l *lexer) sign(r rune) bool {
	rest := l.text[l.at:]
	_, size := utf8.DecodeRuneInString(rest)
	if len(rest) == size || !isDigit(rune(rest[size])) || len(l.tokens) > 0 && l.last().end() == l.at {
		return false
	}
	switch r {
	case '+':
		l.at += size
		l.number()
		l.last().kind = noiseToken
	case '-', '−':
		l.emit(symbolToken, size)
		l.number()
		l.negate()
	case '#':
		l.at += size
		n := digits(l.text[l.at:])
		l.at -= size
		l.emit(wordToken, size+n)
	case '.':
		l.emit(numberToken, size+digits(rest[size:]))
		l.last().num = plain(decimal("0" + l.last().text))
	default:
		return false
	}
	return true
}

// negate makes the number just taken negative, its sign a part of it.
func (l *lexer) negate() {
	if t := l.last(); t.kind == numberToken && t.num.form == plainForm {
		t.num.vals[0] = -t.num.vals[0]
	}
}
