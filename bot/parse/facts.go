package parse

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shothand/advisor/bar"
)

// None reports whether a value takes a fact back: "none".
func None(value string) bool {
	return slices.Contains([]string{"none", "no", "off", "-"}, fold(strings.TrimSpace(value)))
}

// HourOfDay reads a time on the wall clock: "07:00", "7.30", "6:30 pm", "7".
func HourOfDay(value string) (bar.TimeOfDay, error) {
	text := strings.ReplaceAll(strings.ReplaceAll(fold(value), " ", ""), ".", ":")
	for _, layout := range []string{"15:04", "15", "3:04pm", "3pm"} {
		if at, err := time.Parse(layout, text); err == nil {
			return bar.MinutesOf(at.Hour()*60 + at.Minute()), nil
		}
	}
	return "", bad(value, "a time of day as 07:00")
}

// DaysOpen reads days of the week: "mon-sat", "mon, wed, fri", "daily".
func DaysOpen(value string) (bar.Weekdays, error) {
	text := strings.NewReplacer("–", "-", " to ", "-", " - ", "-", " ", ",", ";", ",").Replace(fold(strings.TrimSpace(value)))
	if slices.Contains([]string{"daily", "all", "every,day", "everyday"}, text) {
		return 0, nil
	}
	var days bar.Weekdays
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' }) {
		low, high, ranged := strings.Cut(part, "-")
		from, ok1 := weekday(low)
		to, ok2 := from, ok1
		if ranged {
			to, ok2 = weekday(high)
		}
		if !ok1 || !ok2 {
			return 0, bad(value, "days as mon-sat, or mon,wed,fri")
		}
		days = days.With(to)
		for d := from; d != to; d = (d + 1) % 7 {
			days = days.With(d)
		}
	}
	if days == 0 {
		return 0, bad(value, "days as mon-sat, or mon,wed,fri")
	}
	return days, nil
}

func weekday(text string) (time.Weekday, bool) {
	text = bar.Normal(text)
	for d, names := range weekdayNames() {
		for _, name := range names {
			if text == name || len(text) >= 3 && strings.HasPrefix(name, strings.TrimSuffix(text, "s")) {
				return time.Weekday(d), true
			}
		}
	}
	return 0, false
}

// weekdayNames are the days of the week, Sunday first, without accents. German
// has them in two letters as well.
func weekdayNames() [7][]string {
	return [7][]string{
		{"sunday", "domenica", "domingo", "sonntag", "so", "dimanche"},
		{"monday", "lunedi", "lunes", "montag", "mo", "lundi", "segunda"},
		{"tuesday", "martedi", "martes", "dienstag", "di", "mardi", "terca"},
		{"wednesday", "mercoledi", "miercoles", "mittwoch", "mi", "mercredi", "quarta"},
		{"thursday", "giovedi", "jueves", "donnerstag", "do", "jeudi", "quinta"},
		{"friday", "venerdi", "viernes", "freitag", "fr", "vendredi", "sexta"},
		{"saturday", "sabato", "sabado", "samstag", "sa", "samedi"},
	}
}

// CrewLevers reads which levers a crew may move: "grind, yield", "all".
func CrewLevers(value string) (bar.Levers, error) {
	var levers bar.Levers
	for _, part := range strings.FieldsFunc(fold(value), func(r rune) bool { return strings.ContainsRune(" ,;+", r) }) {
		switch part {
		case "all", "any", "every", "tutto", "todo", "alles", "tout", "tudo":
			return 0, nil
		case "and", "e", "y", "und", "et":
		case "grind", "macinatura", "molienda", "mahlgrad", "mouture", "moagem":
			levers = levers.With(bar.Grind)
		case "yield", "time", "resa", "rendimiento", "menge", "rendement", "rendimento": // the same cup, by the scale or by the clock
			levers = levers.With(bar.Yield).With(bar.Time)
		case "dose", "dosis":
			levers = levers.With(bar.Dose)
		case "temperature", "temp", "water", "temperatura", "temperatur", "température":
			levers = levers.With(bar.Temperature)
		default:
			return 0, bad(value, "any of grind, yield, dose and temperature, or all")
		}
	}
	if levers == 0 {
		return 0, bad(value, "any of grind, yield, dose and temperature, or all")
	}
	return levers, nil
}

// Roast reads how dark a coffee is roasted.
func Roast(value string) (bar.Roast, error) {
	switch fold(strings.TrimSpace(value)) {
	case "light", "filter":
		return bar.Light, nil
	case "medium", "mid":
		return bar.Medium, nil
	case "dark":
		return bar.Dark, nil
	case "none", "unknown":
		return bar.UnknownRoast, nil
	}
	return 0, bad(value, "light, medium or dark")
}

// Aim reads what a bar wants of a coffee.
func Aim(value string) (bar.Aim, error) {
	switch fold(strings.TrimSpace(value)) {
	case "bright", "lively":
		return bar.Bright, nil
	case "round", "balanced", "sweet":
		return bar.Round, nil
	case "rich", "heavy":
		return bar.Rich, nil
	case "none":
		return bar.NoAim, nil
	}
	return 0, bad(value, "bright, round or rich")
}

// Drink reads what a recipe is for.
func Drink(value string) (bar.Drink, error) {
	switch fold(strings.TrimSpace(value)) {
	case "black", "espresso":
		return bar.Black, nil
	case "milk":
		return bar.WithMilk, nil
	}
	return 0, bad(value, "black or milk")
}

// Basket reads what a basket holds in g: "18-20", or "18", which is a gram
// around it.
func Basket(value string) (bar.Basket, error) {
	if None(value) {
		return bar.Basket{}, nil
	}
	text := strings.NewReplacer("g", "", "–", "-", " to ", "-", ",", ".").Replace(fold(value))
	a, b, ranged := strings.Cut(text, "-")
	low, err1 := strconv.ParseFloat(strings.TrimSpace(a), 64)
	high, err2 := low+1, err1
	if ranged {
		high, err2 = strconv.ParseFloat(strings.TrimSpace(b), 64)
	} else {
		low--
	}
	if err1 != nil || err2 != nil {
		return bar.Basket{}, bad(value, "what the basket holds, as 18-20")
	}
	if !(leastDose <= low && low < high && high <= mostDose) {
		return bar.Basket{}, Mistake{Kind: Impossible, What: cut(value), Would: "5–30 g, the lower end first"}
	}
	return bar.Basket{Low: bar.Grams(low), High: bar.Grams(high)}, nil
}

// Doser reads how a grinder doses.
func Doser(value string) (bar.Doser, error) {
	switch fold(strings.TrimSpace(value)) {
	case "weight", "scale", "grams":
		return bar.ByWeight, nil
	case "timer", "time", "timed":
		return bar.Timed, nil
	case "hand", "scales", "single":
		return bar.ByHand, nil
	case "none", "unknown":
		return bar.UnknownDoser, nil
	}
	return 0, bad(value, "weight, timer or hand")
}

// PurgeGrams reads how much a grinder takes to purge, in g.
func PurgeGrams(value string) (float64, error) {
	if None(value) {
		return 0, nil
	}
	q, ok := measure(value)
	n, mass := q.dose()
	if !ok || !mass {
		return 0, bad(value, "grams, as 5")
	}
	return within(limit{"", n, 0.5, 40, "g"}, value)
}

// SmallSteps reads how many small steps a big one of a dial has: "5", or
// "A-K" where they are lettered; "none" for a dial of one part.
func SmallSteps(value string) (n int, lettered bool, err error) {
	text := fold(strings.TrimSpace(value))
	if None(text) {
		return 0, false, nil
	}
	if from, to, ok := strings.Cut(strings.ReplaceAll(text, "–", "-"), "-"); ok && from == "a" && len(to) == 1 && "b" <= to && to <= "z" {
		return int(to[0]-'a') + 1, true, nil
	}
	if n, err = strconv.Atoi(text); err != nil || n < 2 || n > 100 {
		return 0, false, bad(value, "how many small steps make a big one, as 5, or their letters, as A-K")
	}
	return n, false, nil
}

// WholeTurn reads how many big steps a whole turn of a dial has: "12"; "none"
// for a dial that goes round once.
func WholeTurn(value string) (float64, error) {
	if None(value) {
		return 0, nil
	}
	q, ok := measure(value)
	if !ok || q.unit != noUnit {
		return 0, bad(value, "how many marks a whole turn has, as 12")
	}
	return within(limit{"", q.number(), 2, 1000, ""}, value)
}

// YesNo reads a yes or a no.
func YesNo(value string) (bool, error) {
	switch fold(strings.TrimSpace(value)) {
	case "yes", "true", "y", "on", "1", "me":
		return true, nil
	case "no", "false", "n", "off", "0", "none", "nobody":
		return false, nil
	}
	return false, bad(value, "yes or no")
}
