package parse

import (
	"strconv"
	"strings"
	"time"

	"shothand/advisor/bar"
)

// A Span is days from one to another, both within.
type Span struct{ From, To bar.Day }

// ThisBag is the span that only the history knows: since the coffee's last new
// bag.
const ThisBag = "this bag"

// SpanOf reads a span in plain words: "today", "last week", "last quarter",
// "last 10 days", "since 1 March", "since new year", "march", "1 to 15 March",
// "all". Weeks begin on Monday. The error is a Mistake.
func SpanOf(value string, today bar.Day) (Span, error) {
	now, err := time.Parse(time.DateOnly, string(today))
	if err != nil {
		return Span{}, bad(value, "a span of days")
	}
	text := strings.Join(strings.Fields(fold(value)), " ")
	text, since := cutSince(text)
	if s, ok := fromTo(text, now); ok {
		return s, nil
	}
	if s, ok := namedSpan(text, now); ok {
		return opened(s, since, now), nil
	}
	if s, ok := lastSome(text, now); ok {
		return opened(s, since, now), nil
	}
	if s, ok := datedSpan(text, now); ok && s.From <= today {
		return opened(s, since, now), nil
	}
	return Span{}, bad(value, "a coffee or grinder that is here, or days as last week, last quarter, March, since 1 March, last 10 days, this bag, all")
}

// cutSince takes "since", "from" and such off the front.
func cutSince(text string) (rest string, since bool) {
	for _, word := range []string{"in ", "during ", "over ", "for ", "of "} {
		text = strings.TrimPrefix(text, word)
	}
	for _, word := range []string{"since ", "from ", "after "} {
		if rest, ok := strings.CutPrefix(text, word); ok {
			return strings.TrimPrefix(rest, "the "), true
		}
	}
	return strings.TrimPrefix(text, "the "), false
}

// opened returns s up to now if it was said with "since".
func opened(s Span, since bool, now time.Time) Span {
	if since {
		s.To = day(now)
	}
	return s
}

func day(t time.Time) bar.Day { return bar.Day(t.Format(time.DateOnly)) }

// ever is before any bar's first shot here.
const ever bar.Day = "2000-01-01"

// namedSpan returns a span that has a name.
func namedSpan(text string, now time.Time) (Span, bool) {
	monday := now.AddDate(0, 0, -(int(now.Weekday())+6)%7)
	first := time.Date(now.Year(), now.Month(), 1, 12, 0, 0, 0, time.UTC)
	switch text {
	case "today":
		return Span{day(now), day(now)}, true
	case "yesterday":
		return Span{day(now.AddDate(0, 0, -1)), day(now.AddDate(0, 0, -1))}, true
	case "this week", "week":
		return Span{day(monday), day(now)}, true
	case "last week":
		return Span{day(monday.AddDate(0, 0, -7)), day(monday.AddDate(0, 0, -1))}, true
	case "this month", "month":
		return Span{day(first), day(now)}, true
	case "last month":
		return Span{day(first.AddDate(0, -1, 0)), day(first.AddDate(0, 0, -1))}, true
	case "this quarter", "quarter":
		return Span{day(quarter(now, 0)), day(now)}, true
	case "last quarter":
		return Span{day(quarter(now, -1)), day(quarter(now, 0).AddDate(0, 0, -1))}, true
	case "last year":
		return Span{bar.Day(now.AddDate(-1, 0, 0).Format("2006") + "-01-01"), bar.Day(now.AddDate(-1, 0, 0).Format("2006") + "-12-31")}, true
	case "last weekend", "weekend":
		return Span{day(monday.AddDate(0, 0, -2)), day(monday.AddDate(0, 0, -1))}, true
	case "new year", "new year's", "new years", "new year's day", "new years day":
		first := bar.Day(now.Format("2006") + "-01-01")
		return Span{first, first}, true
	case "this year", "year":
		return Span{bar.Day(now.Format("2006") + "-01-01"), day(now)}, true
	case "all", "ever", "always", "everything", "beginning", "start":
		return Span{ever, day(now)}, true
	}
	return Span{}, false
}

// quarter returns the first day of the quarter of now, or of one so many after.
func quarter(now time.Time, after int) time.Time {
	month := (int(now.Month())-1)/3*3 + 1
	return time.Date(now.Year(), time.Month(month+3*after), 1, 12, 0, 0, 0, time.UTC)
}

// fromTo returns the span from one day or month to another: "1 to 15 March",
// "1 March – 3 April", "January to March".
func fromTo(text string, now time.Time) (Span, bool) {
	text = strings.NewReplacer(" – ", " to ", " - ", " to ", "–", " to ", " until ", " to ", " till ", " to ").Replace(text)
	if strings.Count(text, "-") == 1 {
		text = strings.Replace(text, "-", " to ", 1)
	}
	a, b, ok := strings.Cut(text, " to ")
	if !ok {
		return Span{}, false
	}
	to, ok := datedSpan(b, now)
	if _, month, named := strings.Cut(b, " "); named && !strings.Contains(a, " ") {
		if _, err := strconv.Atoi(a); err == nil {
			a += " " + month
		}
	}
	from, ok2 := datedSpan(a, now)
	if b == "now" || b == "today" {
		to, ok = Span{day(now), day(now)}, true
	}
	if !ok || !ok2 {
		return Span{}, false
	}
	to.To = min(to.To, day(now))
	return Span{from.From, to.To}, from.From <= to.To
}

// lastSome returns "last 10 days", "past 2 weeks", "3 months".
func lastSome(text string, now time.Time) (Span, bool) {
	words := strings.Fields(text)
	if len(words) > 0 && (words[0] == "last" || words[0] == "past") {
		words = words[1:]
	}
	if len(words) < 2 || len(words) > 3 || len(words) == 3 && words[2] != "ago" {
		return Span{}, false
	}
	n, err := strconv.Atoi(words[0])
	if words[0] == "a" || words[0] == "one" {
		n, err = 1, nil
	}
	if err != nil || n < 1 || n > 1000 {
		return Span{}, false
	}
	var from time.Time
	switch strings.TrimSuffix(words[1], "s") {
	case "day":
		from = now.AddDate(0, 0, 1-n)
	case "week":
		from = now.AddDate(0, 0, 1-7*n)
	case "month":
		from = now.AddDate(0, -n, 1)
	default:
		return Span{}, false
	}
	return Span{day(from), day(now)}, true
}

// datedSpan returns a day or a month: the last one of that name.
func datedSpan(text string, now time.Time) (Span, bool) {
	if d, err := Date(text); err == nil {
		return Span{d, d}, true
	}
	for back := range 7 {
		t := now.AddDate(0, 0, -back)
		if name := fold(t.Weekday().String()); text == name || text == name[:3] || text == "last "+name {
			return Span{day(t), day(t)}, true
		}
	}
	bare := strings.ReplaceAll(text, ".", "")
	for _, layout := range []string{"2 January", "2 Jan", "January 2", "Jan 2", "2 1"} {
		if t, err := time.Parse(layout, bare); err == nil {
			return dayOf(t, now), true
		}
	}
	if q := strings.TrimPrefix(bare, "q"); q != bare && len(q) == 1 && "1" <= q && q <= "4" {
		first := dayOf(time.Date(2000, time.Month(3*int(q[0]-'1')+1), 1, 0, 0, 0, 0, time.UTC), now)
		from, _ := time.Parse(time.DateOnly, string(first.From))
		return Span{first.From, min(day(from.AddDate(0, 3, -1)), day(now))}, true
	}
	bare = strings.TrimPrefix(bare, "last ")
	for _, layout := range []string{"January 2006", "Jan 2006"} {
		if t, err := time.Parse(layout, bare); err == nil {
			return Span{day(t), day(t.AddDate(0, 1, -1))}, true
		}
	}
	for _, layout := range []string{"January", "Jan"} {
		if t, err := time.Parse(layout, bare); err == nil {
			s := dayOf(t, now)
			from, _ := time.Parse(time.DateOnly, string(s.From))
			return Span{s.From, day(from.AddDate(0, 1, -1))}, true
		}
	}
	return Span{}, false
}

// dayOf returns the last day with the month and day of t that is not to come.
func dayOf(t, now time.Time) Span {
	d := time.Date(now.Year(), t.Month(), t.Day(), 12, 0, 0, 0, time.UTC)
	if day(d) > day(now) {
		d = d.AddDate(-1, 0, 0)
	}
	return Span{day(d), day(d)}
}
