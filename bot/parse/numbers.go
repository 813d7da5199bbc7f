package parse

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// mostDigits is how long a number may be before and after its point.
const mostDigits = 20

// A form is how a number was written.
type form int

const (
	plainForm form = iota + 1 // 18, 18.2, 18,2
	dashForm                  // 25-31: a range, or two numbers
	colonForm                 // 1:2, 0:28
	listForm                  // 18,36,21: numbers on a phone's number pad
	oddForm                   // 2.3.5: perhaps a dial, no number of a shot
)

// A numeral is what one number token holds.
type numeral struct {
	form  form
	vals  []float64
	parts []string // of colonForm, as typed
}

func plain(x float64) numeral { return numeral{form: plainForm, vals: []float64{x}} }

// digits returns how many digits s starts with.
func digits(s string) int {
	n := 0
	for n < len(s) && isDigit(rune(s[n])) {
		n++
	}
	return n
}

// decimal reads a number with a point or a comma. The caller knows that s
// holds digits and at most one of them.
func decimal(s string) float64 {
	x, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil {
		return math.NaN()
	}
	return x
}

// number takes a run of digits and what joins them, "18.1/36.4/24", as one
// token for each number between slashes and arrows.
func (l *lexer) number() {
	run := l.text[l.at : l.at+runLength(l.text[l.at:])]
	if dated(run) {
		l.emit(noiseToken, len(run))
		return
	}
	between := "/>→"
	if strings.Count(run, ",") == 3 && strings.Contains(run, ".") { // "18,36,24,5.1"
		between += ","
	}
	for run != "" {
		piece, arrow := run, ""
		if i := strings.IndexAny(run, between); i >= 0 {
			arrow = run[i : i+digitAt(run[i:])]
			piece = strings.TrimSuffix(run[:i], "-") // of "->"
			arrow = run[len(piece):i] + arrow
		}
		l.piece(piece, arrow == "")
		if arrow != "" {
			l.emit(symbolToken, len(arrow))
		}
		run = run[len(piece)+len(arrow):]
	}
}

// digitAt returns where the first digit of s is.
func digitAt(s string) int {
	return strings.IndexFunc(s, isDigit)
}

// runLength returns how many bytes of digits and joiners s starts with; every
// joiner stands between two digits.
func runLength(s string) int {
	n := digits(s)
	for n < len(s) {
		j := joiner(s[n:])
		d := digits(s[n+j:])
		if j == 0 || d == 0 {
			break
		}
		n += j + d
	}
	return n
}

// joiner returns the length of what may join two numbers without a space.
func joiner(s string) int {
	for _, j := range []string{"->", ".", ",", "-", "–", "−", "/", ":", ">", "→"} {
		if strings.HasPrefix(s, j) {
			return len(j)
		}
	}
	return 0
}

// dated reports whether a run of three numbers is a date: no year is a
// time, and no yield is as small as a month.
func dated(run string) bool {
	parts := strings.FieldsFunc(run, func(r rune) bool { return !isDigit(r) })
	if len(parts) != 3 || strings.ContainsAny(run, ">→:") || strings.ContainsAny(run, ".,") && strings.ContainsAny(run, "/-") {
		return false
	}
	for _, p := range parts {
		if len(p) == 4 {
			return true
		}
	}
	return decimal(parts[0]) <= 31 && decimal(parts[1]) <= 12 && len(parts[2]) == 2 &&
		(len(parts[0]) == 2 && len(parts[1]) == 2 && !strings.Contains(run, ","))
}

// piece takes one piece of a run, with letters stuck to its end. Letters that
// are no unit make it a word: "3pm", "2nd".
func (l *lexer) piece(piece string, last bool) {
	n := len(piece)
	if last {
		after := l.letters(l.at + n)
		if r, _ := utf8.DecodeRuneInString(l.text[l.at+n:]); unicode.IsLetter(r) && !sticks(fold(l.text[l.at+n:l.at+n+after])) {
			if zeros := l.text[l.at+n : l.at+n+after]; strings.Trim(zeros, "O") == "" && digits(piece) == n && n+after <= 3 { // "4O"
				l.emit(numberToken, n+after)
				l.last().num = plain(decimal(piece + strings.Repeat("0", after)))
				return
			}
			l.emit(wordToken, n+after)
			return
		}
	}
	num, ok := readNumeral(fold(piece))
	if !ok {
		l.emit(noiseToken, n)
		return
	}
	l.emit(numberToken, n)
	l.last().num = num
}

// readNumeral reads digits joined by points, commas, dashes and colons.
func readNumeral(s string) (numeral, bool) {
	for _, part := range strings.FieldsFunc(s, func(r rune) bool { return !isDigit(r) }) {
		if len(part) > mostDigits {
			return numeral{}, false
		}
	}
	switch {
	case strings.Contains(s, ":"):
		return readColon(s)
	case strings.Contains(s, "-"):
		return readDashes(s)
	case strings.Count(s, ".")+strings.Count(s, ",") > 1:
		return readList(s), true
	case len(s) > 1 && s[0] == '0' && isDigit(rune(s[1])) || digits(s) > 4: // a telephone's, an order's
		return numeral{}, false
	}
	return plain(decimal(s)), true
}

func readColon(s string) (numeral, bool) {
	a, b, _ := strings.Cut(s, ":")
	if strings.ContainsAny(b, ":-") || strings.ContainsAny(a, "-") || !single(a) || !single(b) {
		return numeral{}, false
	}
	return numeral{form: colonForm, vals: []float64{decimal(a), decimal(b)}, parts: []string{a, b}}, true
}

// single reports whether s has at most one point or comma.
func single(s string) bool { return strings.Count(s, ".")+strings.Count(s, ",") <= 1 }

func readDashes(s string) (numeral, bool) {
	parts := strings.Split(s, "-")
	if len(parts) > 3 {
		return numeral{}, false
	}
	vals := make([]float64, len(parts))
	for i, p := range parts {
		if !single(p) || digits(p) > 4 || len(p) > 1 && p[0] == '0' && isDigit(rune(p[1])) {
			return numeral{}, false
		}
		vals[i] = decimal(p)
	}
	if len(parts) == 3 {
		return numeral{form: listForm, vals: vals}, true
	}
	return numeral{form: dashForm, vals: vals}, true
}

// readList reads numbers with commas or points between them. Where both
// stand, the comma separates; where only one does, it may be both, and the
// reading that looks like a shot counts.
func readList(s string) numeral {
	if strings.Contains(s, ".") && strings.Contains(s, ",") {
		return commaList(strings.Split(s, ","))
	}
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == '.' || r == ',' })
	if len(parts) > 6 {
		return numeral{form: oddForm}
	}
	if len(parts) == 3 && shotLike(parts) {
		return commaList(parts)
	}
	var found []numeral
	for bits := range 1 << (len(parts) - 1) { // bit i: a decimal point after part i
		if n := commaList(grouped(parts, bits)); n.form == listForm && len(n.vals) == 3 && typical(n.vals) {
			found = append(found, n)
		}
	}
	if len(found) != 1 || len(parts) == 3 {
		return numeral{form: oddForm}
	}
	return found[0]
}

func grouped(parts []string, bits int) []string {
	out := []string{parts[0]}
	for i, p := range parts[1:] {
		if bits>>i&1 == 1 {
			out[len(out)-1] += "." + p
		} else {
			out = append(out, p)
		}
	}
	return out
}

func commaList(parts []string) numeral {
	n := numeral{form: listForm}
	for _, p := range parts {
		if p == "" || !single(p) || digits(p) > 4 || len(p) > 1 && p[0] == '0' && isDigit(rune(p[1])) {
			return numeral{form: oddForm}
		}
		n.vals = append(n.vals, decimal(p))
	}
	if len(n.vals) > 3 {
		return numeral{form: oddForm}
	}
	return n
}

// shotLike reports whether three whole numbers, joined, look like a shot and
// not like a position of a dial: none has a single digit but the second (a
// choke).
func shotLike(parts []string) bool { return len(parts[0]) > 1 && len(parts[2]) > 1 }

// typical reports whether three numbers are such as shots mostly have, as
// dose, yield and time in either order. Common practice, no source.
func typical(x []float64) bool {
	return 12 <= x[0] && x[0] <= 25 && x[0] < x[1] && x[1] <= 70 && 15 <= x[2] && x[2] <= 60
}
