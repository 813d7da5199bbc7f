package parse

import (
	"math"
	"slices"
	"strings"
	"time"

	"shothand/advisor/bar"
)

// bad is a value that an option does not take, and what it would.
func bad(value string, would Would) error {
	return Mistake{Kind: BadOption, What: cut(value), Would: would}
}

// measure reads a value that is one number with perhaps a unit.
func measure(value string) (quantity, bool) {
	s := &sheet{text: value, tokens: lex(value)}
	s.used = make([]bool, len(s.tokens))
	q, n := s.quantity(0)
	return q, n > 0 && n == len(s.tokens) && len(q.vals) == 1
}

// Grams reads a mass: "18", "18,2 g", "0.6 oz".
func Grams(value string) (float64, error) { return grams(value, leastYield, mostYield) }

// RecipeDose reads the dose of a recipe, which is what a shot's can be.
func RecipeDose(value string) (float64, error) { return grams(value, leastDose, mostDose) }

// RecipeYield reads the yield of a recipe: no shot ends on purpose below some
// grams.
func RecipeYield(value string) (float64, error) { return grams(value, leastAimed, mostYield) }

func grams(value string, least, most float64) (float64, error) {
	q, ok := measure(value)
	n, mass := q.dose()
	if !ok || !mass {
		return 0, bad(value, "grams, as 18 or 18.2 g")
	}
	return within(limit{"", n, least, most, "g"}, value)
}

// within returns the number of l, or the mistake of one outside it.
func within(l limit, value string) (float64, error) {
	if err := l.check(); err != nil {
		return 0, Mistake{Kind: Impossible, What: cut(value), More: spaced(digitsOf(l.least)+"–"+digitsOf(l.most), l.unit)}
	}
	return l.x.X, nil
}

// Secs reads a length of time in s: "28", "28 s", "2.5".
func Secs(value string) (float64, error) {
	q, ok := measure(value)
	if !ok || q.unit != noUnit && q.unit != second {
		return 0, bad(value, "seconds, as 28 or 28 s")
	}
	return within(limit{"", q.number(), 0.05, mostTime, "s"}, value)
}

// windowHalf is half the width in s of a window of which only the middle was
// said. Common practice, no source.
const windowHalf = 3

// Window reads a window of time in s: "25-31", "25–31 s", "28±3", and "28",
// which is 25 to 31.
func Window(value string) (low, high float64, err error) {
	low, high, ok := windowEnds(value)
	if !ok {
		return 0, 0, bad(value, "a window in seconds, as 25-31")
	}
	if !(leastTime <= low && low < high && high <= mostTime) {
		return 0, 0, Mistake{Kind: Impossible, What: cut(value), Would: "1–180 s, the lower end first"}
	}
	return low, high, nil
}

func windowEnds(value string) (low, high float64, ok bool) {
	text := strings.NewReplacer("±", " ± ", "+-", " ± ", "+/-", " ± ", " to ", " - ").Replace(fold(value))
	var x []float64
	var between string
	for _, t := range lex(text) {
		switch {
		case t.kind == numberToken && t.num.form == dashForm:
			x, between = append(x, t.num.vals...), "-"
		case t.kind == numberToken && t.num.form == plainForm:
			x = append(x, t.num.vals...)
		case t.is("-", "±") && len(x) == 1 && between == "":
			between = t.low
		case unitOf(t.low) == second && len(x) > 0:
		default:
			return 0, 0, false
		}
	}
	switch {
	case len(x) == 1 && between == "":
		return x[0] - windowHalf, x[0] + windowHalf, true
	case len(x) == 2 && between == "±":
		return x[0] - x[1], x[0] + x[1], true
	case len(x) == 2 && between == "-":
		return x[0], math.Abs(x[1]), true
	}
	return 0, 0, false
}

// Date reads a date: 2026-03-01, "1 March 2026", or 1.3.2026. With slashes
// the day and the month may be meant either way round; unless one of them is
// past 12, or both are alike, that is refused.
func Date(value string) (bar.Day, error) {
	text := inEnglish(strings.Join(strings.Fields(strings.ReplaceAll(value, ",", " ")), " "))
	for _, layout := range []string{time.DateOnly, "2 January 2006", "2 Jan 2006", "January 2 2006", "Jan 2 2006", "2.1.2006", "2. January 2006"} {
		if day, err := time.Parse(layout, text); err == nil {
			return bar.Day(day.Format(time.DateOnly)), nil
		}
	}
	dayFirst, err1 := time.Parse("2/1/2006", text)
	monthFirst, err2 := time.Parse("1/2/2006", text)
	switch {
	case err1 == nil && (err2 != nil || dayFirst.Equal(monthFirst)):
		return bar.Day(dayFirst.Format(time.DateOnly)), nil
	case err1 != nil && err2 == nil:
		return bar.Day(monthFirst.Format(time.DateOnly)), nil
	}
	return "", bad(value, "a date as 2026-03-01")
}

// PastDate reads a date that has been, with its year or without: "24 February", "24/2".
func PastDate(value string, now time.Time) (bar.Day, error) {
	plain := strings.TrimRight(strings.TrimSpace(value), " .,!;")
	for _, year := range []string{now.Format("2006"), now.AddDate(-1, 0, 0).Format("2006")} {
		for _, text := range []string{plain, plain + " " + year, plain + "/" + year, plain + "." + year} {
			if day, err := Date(text); err == nil && (text == plain || day <= bar.DayOf(now)) {
				return day, nil
			}
		}
	}
	return "", bad(value, "a date as 2026-03-01")
}

// inEnglish writes the months of a date in English, without what other languages put
// between: "24 de febrero", "24. Februar", "24th".
func inEnglish(text string) string {
	words := strings.Fields(strings.ToLower(text))
	for i, w := range words {
		if month := monthOf(w); month > 0 {
			words[i] = month.String()
		}
		if n := digits(w); n > 0 && slices.Contains([]string{"st", "nd", "rd", "th", ".", "er", "º", "°"}, w[n:]) {
			words[i] = w[:n]
		}
	}
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return slices.Contains([]string{"de", "of", "the", "del", "di"}, w) }), " ")
}

// Step reads the smallest move of a dial, "0.1"; "none" is 0, a dial without
// numbers.
func Step(value string) (float64, error) {
	switch fold(strings.TrimSpace(value)) {
	case "none", "no", "0", "stepless":
		return 0, nil
	}
	q, ok := measure(value)
	if !ok || q.unit != noUnit {
		return 0, bad(value, "a step of the dial as 0.1, or none")
	}
	return within(limit{"", q.number(), 0.001, 100, ""}, value)
}

// Position reads a position of a dial that is a plain number: "5.2".
func Position(value string) (float64, error) {
	q, ok := measure(strings.TrimPrefix(strings.TrimSpace(value), "-"))
	if !ok || q.unit != noUnit {
		return 0, bad(value, "a number on the dial, as 5.2")
	}
	n := q.number()
	if strings.HasPrefix(strings.TrimSpace(value), "-") {
		n.X = -n.X
	}
	return within(limit{"", n, -mostDial, mostDial, ""}, value)
}

// Direction reads which way a dial gets finer.
func Direction(value string) (bar.Direction, error) {
	switch fold(strings.TrimSpace(value)) {
	case "lower", "low", "down", "smaller", "less", "-":
		return bar.Lower, nil
	case "higher", "high", "up", "bigger", "larger", "more", "+":
		return bar.Higher, nil
	}
	return bar.Unknown, bad(value, "lower or higher")
}

// Finer reads a message that says which way a dial gets finer: "lower", "the higher
// the coarser", "il più basso è più fine".
func Finer(text string) bar.Direction {
	if strings.ContainsAny(text, "0123456789") {
		return bar.Unknown
	}
	down, up, coarser := false, false, false
	for _, t := range lex(text) {
		switch {
		case t.is("lower", "smaller", "lowest", "smallest", "niedriger", "niedrigere", "kleiner", "kleinere", "tiefer", "basso", "bassi", "basse", "minore", "bajo", "menor", "baixo", "bas", "petit"):
			down = true
		case t.is("higher", "bigger", "highest", "biggest", "höher", "höhere", "größer", "größere", "alto", "alti", "alte", "maggiore", "mayor", "maior", "haut", "grand"):
			up = true
		case directionOf(t) < 0, t.is("coarsest"):
			coarser = true
		case directionOf(t) > 0, t.is("finest", ",", ".", "!"), t.is(betweenDirections()...):
		default:
			return bar.Unknown
		}
	}
	if down == up {
		return bar.Unknown
	}
	if down == coarser {
		return bar.Higher
	}
	return bar.Lower
}

// betweenDirections are the small words of "the lower the finer".
func betweenDirections() []string {
	return []string{
		"the", "a", "is", "are", "number", "numbers", "means", "je", "desto", "umso", "ist", "die", "eine", "zahl", "il", "i", "più", "è", "numero", "el", "más", "es", "número", "cuanto",
		"o", "mais", "é", "quanto", "le", "plus", "c'est", "est", "chiffre", "un", "una", "um",
	}
}

// Ends reads what ends a bar's shots.
func Ends(value string) (bar.Ends, error) {
	switch fold(strings.TrimSpace(value)) {
	case "scale", "scales", "weight":
		return bar.ByScale, nil
	case "button", "buttons", "volume":
		return bar.ByButton, nil
	case "time", "timer", "clock":
		return bar.ByTime, nil
	case "eye", "hand":
		return bar.ByEye, nil
	}
	return 0, bad(value, "scale, button, time or eye")
}

// Clock reads when a bar's clock starts; it is true for the first drip.
func Clock(value string) (fromDrip bool, err error) {
	switch fold(strings.TrimSpace(value)) {
	case "pump", "button", "start":
		return false, nil
	case "drip", "first drip", "first-drip", "flow":
		return true, nil
	}
	return false, bad(value, "pump or drip")
}

// Order reads the order of a bar's numbers.
func Order(value string) (bar.Order, error) {
	parts := strings.FieldsFunc(fold(value), func(r rune) bool { return strings.ContainsRune(" -,>/→", r) })
	switch strings.Join(parts, "-") {
	case "dose-yield-time":
		return bar.DoseYieldTime, nil
	case "dose-time-yield":
		return bar.DoseTimeYield, nil
	}
	return 0, bad(value, "dose-yield-time or dose-time-yield")
}
