package parse

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"shothand/advisor/bar"
)

// When the beans of a bag were roasted, as people say it beside the bag: "from 20th feb",
// "röstdatum 1.3.", "roast 27/2", "tostato il 3".

// months are the months by their names, short and long, in the languages of a bar.
//
//nolint:gochecknoglobals // made once, never changed
var months = sync.OnceValue(func() map[string]time.Month {
	byName := map[string]time.Month{}
	for n, names := range [12]string{
		"jan january januar jänner gennaio enero janvier janeiro", "feb february februar febbraio febrero février fevrier fevereiro", "mar march märz marzo mars março marco",
		"apr april aprile abril avril", "may mai maggio mayo maio", "jun june juni giugno junio juin junho", "jul july juli luglio julio juillet julho",
		"aug august agosto août aout", "sep sept september settembre septiembre septembre setembro", "oct okt october oktober ottobre octubre octobre outubro",
		"nov november novembre noviembre novembro", "dec dez december dezember dicembre diciembre décembre decembre dezembro",
	} {
		for name := range strings.FieldsSeq(names) {
			byName[name] = time.Month(n + 1)
		}
	}
	return byName
})

// monthOf is the month that a word names, or 0.
func monthOf(word string) time.Month { return months()[strings.TrimSuffix(word, ".")] }

// datePatterns are a date as it is typed: in numbers, the day before its month, the month
// before its day, and a day alone.
//
//nolint:gochecknoglobals // made once, never changed
var datePatterns = sync.OnceValue(func() [4]*regexp.Regexp {
	day, year := `(\d{1,2})(?:st|nd|rd|th|er|º|°|\.)?`, `(?:[ ,./-]+(?:de |del )?(\d{4}))?`
	return [4]*regexp.Regexp{
		regexp.MustCompile(`^(?:\d{4}-\d{1,2}-\d{1,2}|(\d{1,2})([./])(\d{1,2})(?:\.|[./](\d{4}|\d{2}))?)(?:$|[^\d./])`),
		regexp.MustCompile(`^` + day + `[ /-]*(?:of |de |di |del )?(\pL+)\.?` + year),
		regexp.MustCompile(`^(\pL+)\.?[ -]+` + day + year),
		regexp.MustCompile(`^(\d{1,2})(st|nd|rd|th|er|º|°|\.)?(?:$|[^\d/\pL])`),
	}
})

// A dateFound is a date in a message.
type dateFound struct {
	from, to int    // tokens
	text     string // for Date, without its year where that was not said
	plain    bool   // two numbers and a dot, which may be where a dial stands
	alone    bool   // only the day of the month
}

// dateAt reads a date that begins at token i.
func (s *sheet) dateAt(i int) (dateFound, bool) {
	low := fold(s.text[s.tokens[i].start:])
	patterns := datePatterns()
	if m := patterns[0].FindStringSubmatchIndex(low); m != nil {
		return s.dateInNumbers(i, low, m)
	}
	for n, re := range patterns[1:3] {
		m := re.FindStringSubmatch(low)
		if m == nil {
			continue
		}
		day, month := m[1+n], monthOf(m[2-n])
		if month == 0 || !isDayOfMonth(day) {
			continue
		}
		return s.dated(i, len(m[0]), dateFound{text: strings.TrimSpace(day + " " + month.String() + " " + m[3])}), true
	}
	if m := patterns[3].FindStringSubmatch(low); m != nil && isDayOfMonth(m[1]) {
		return s.dated(i, len(m[1])+len(m[2]), dateFound{text: m[1], alone: true, plain: m[2] == "" || m[2] == "."}), true
	}
	return dateFound{}, false
}

// dateInNumbers reads a date that has no month by its name.
func (s *sheet) dateInNumbers(i int, low string, m []int) (dateFound, bool) {
	end := m[1]
	if end > 0 && !strings.ContainsRune("0123456789.", rune(low[end-1])) { // what stands behind it
		end--
	}
	text := strings.TrimSuffix(low[:end], ".")
	if m[2] < 0 {
		return s.dated(i, end, dateFound{text: text}), true
	}
	a, b, dot := low[m[2]:m[3]], low[m[6]:m[7]], low[m[4]:m[5]] == "."
	if !isDayOfMonth(a) || !isDayOfMonth(b) || number(a) > 12 && number(b) > 12 || dot && number(b) > 12 {
		return dateFound{}, false
	}
	plain := dot && m[8] < 0 && !strings.HasSuffix(low[:end], ".")
	if m[8] >= 0 && m[9]-m[8] == 2 { // "20/2/26"
		text = a + low[m[4]:m[5]] + b + low[m[4]:m[5]] + "20" + low[m[8]:m[9]]
	}
	return s.dated(i, end, dateFound{text: text, plain: plain}), true
}

func number(text string) int {
	n, _ := strconv.Atoi(text)
	return n
}

func isDayOfMonth(text string) bool { return 1 <= number(text) && number(text) <= 31 }

// dated says which tokens a date of n bytes from token i on has.
func (s *sheet) dated(i, n int, d dateFound) dateFound {
	d.from, d.to = i, i
	for end := s.tokens[i].start + n; d.to < len(s.tokens) && s.tokens[d.to].start < end; {
		d.to++
	}
	return d
}

// roastWords say that a date is when beans were roasted.
//
//nolint:gochecknoglobals // made once, never changed
var roastWords = sync.OnceValue(func() []string {
	return barely([]string{
		"roasted", "roast", "roastdate", "geröstet", "röstdatum", "röstung", "röstdat", "tostato", "tostata", "tostatura", "torrefatto", "torréfié", "torréfiés", "torréfaction", "torrefié",
		"tostado", "tostados", "tueste", "tostada", "torrado", "torrada", "torra", "torrefação",
	})
})

// dateLeads may stand between a bag and the date of its roast.
//
//nolint:gochecknoglobals // made once, never changed
var dateLeads = sync.OnceValue(func() []string {
	return append(roastWords(), "its", "it's", "it", "is", "was", "were", "date", "dated", "from", "of", "on", "the", "day", "beans", "made", "vom", "von", "am", "datum", "ist", "wurde", "il", "del", "dell'", "di", "data", "è", "è", "stato", "l'", "datato", "datata",
		"du", "le", "de", "date", "est", "daté", "el", "fecha", "es", "em", "no", "dia", "día", "é", "que", "with", "mit", "con", "avec", "com", "a", ":", "=", ",", "(", "-", "rd")
})

// roastedOn takes the date that says when beans were roasted, with the words that say so, from
// a copy.
func (s *sheet) roastedOn() (*sheet, string) {
	if !slices.ContainsFunc(s.tokens, func(t token) bool { return digits(t.low) > 0 }) {
		return s, ""
	}
	s = s.copied()
	for i, t := range s.tokens {
		if i == 0 || s.used[i] || digits(t.low) == 0 && monthOf(t.low) == 0 {
			continue
		}
		d, ok := s.dateAt(i)
		if !ok {
			continue
		}
		from := i
		for from > 0 && s.at(from-1).is(dateLeads()...) {
			from--
		}
		said := slices.ContainsFunc(s.tokens[from:i], func(t token) bool { return t.is(roastWords()...) || t.is("rd") })
		led := said || s.at(i-1).is("from", "dated", "vom", "von", "del", "du", "de", "do", "the", "(", "of", "dell'") || s.at(d.to).is(roastWords()...)
		if d.alone && !said && !slices.ContainsFunc(s.tokens[from:i], func(t token) bool { return t.is("from", "dated", "vom") }) {
			continue
		}
		if s.at(d.to).is("to", "auf", "à", "until", "finer", "coarser", "g", "kg") || d.plain && !said && (d.alone || !led) {
			continue
		}
		if s.at(d.to).is(roastWords()...) { // "20 feb roast"
			d.to = s.skip(d.to, append(roastWords(), "date")...)
		}
		if s.at(d.to).is(")") && s.at(from).is("(") {
			d.to++
		}
		s.hold(from, d.to-from)
		return s, d.text
	}
	return s.roastedBehind()
}

// roastedBehind takes what stands behind "roasted" at the end of a message and is no date
// that anybody can read.
func (s *sheet) roastedBehind() (*sheet, string) {
	for i, t := range s.tokens {
		if from := s.skip(i, dateLeads()...); i > 0 && t.is(roastWords()...) && from < len(s.tokens) && len(s.tokens)-from <= 5 && numbered(s.tokens[from:from+1]) {
			text := strings.TrimRight(s.text[s.tokens[from].start:], " .,!;")
			s.hold(i, len(s.tokens)-i)
			return s, text
		}
	}
	return s, ""
}

// roastedBeside takes when a new bag was roasted that a shot's message tells of, from token i
// on, and returns the token behind it: "new bag of tide, roasted 20 feb, 18 36 22".
func (s *sheet) roastedBeside(i int) int {
	j := s.skip(i, "of", "di", "de", "von", "do", "da")
	for j < len(s.tokens) && s.used[j] {
		j++
	}
	from := s.skip(j, dateLeads()...)
	said := slices.ContainsFunc(s.tokens[min(j, from):from], func(t token) bool { return t.is(roastWords()...) || t.is("from", "dated", "vom", "del", "du") })
	if !said || from >= len(s.tokens) {
		return i
	}
	d, ok := s.dateAt(from)
	if !ok || d.alone || d.plain && s.isNumber(d.to) {
		return i
	}
	s.shot.Roasted = d.text
	return s.skip(d.to, ")")
}

// freshBag is how old the beans of a bag are that was just opened, at the most. Common
// practice, no source.
const freshBag = 60 * 24 * time.Hour

// RoastDay reads when the beans of a bag were roasted that was just opened: the newest day
// that it can be. Where the day and the month may stand either way round, it is the one that
// such a bag may have, if only one is; else the error comes with the one that has the day first.
func RoastDay(value string, now time.Time) (bar.Day, error) {
	if isDayOfMonth(value) {
		for back := range 62 {
			if day := now.AddDate(0, 0, -back); day.Day() == number(value) {
				return bar.DayOf(day), nil
			}
		}
	}
	if day, err := PastDate(value, now); err == nil {
		return day, nil
	}
	parts := strings.Split(value, "/")
	if len(parts) < 2 {
		return "", bad(value, "a date as 2026-03-01")
	}
	either := func(order ...int) bar.Day {
		day, _ := PastDate(strings.Join(append([]string{parts[order[0]], parts[order[1]]}, parts[2:]...), "."), now)
		return day
	}
	oldest := bar.DayOf(now.Add(-freshBag))
	switch first, second := either(0, 1), either(1, 0); {
	case first >= oldest && second < oldest:
		return first, nil
	case second >= oldest && first < oldest:
		return second, nil
	default:
		return first, bad(value, "a date as 2026-03-01")
	}
}
