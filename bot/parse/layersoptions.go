package parse

import (
	"strconv"
	"strings"

	"shothand/advisor/bar"
)

// Method reads how a coffee is made.
func Method(value string) (bar.Method, error) {
	switch strings.NewReplacer("-", "", " ", "").Replace(fold(strings.TrimSpace(value))) {
	case "espresso", "shot":
		return bar.Espresso, nil
	case "pourover", "filter", "drip":
		return bar.PourOver, nil
	}
	return 0, bad(value, "espresso or pour-over")
}

// mostTasters is more than share three cups.
const mostTasters = 12

// Tasters reads how many people taste.
func Tasters(value string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(value))
	if err != nil || n < 1 || n > mostTasters {
		return 0, bad(value, "a number from 1 to 12")
	}
	return n, nil
}

// Split reads which split is meant.
func Split(value string) (int, error) {
	if n := splitNumber(strings.TrimSpace(value)); n > 0 {
		return n, nil
	}
	return 0, bad(value, "1, 2, …")
}

// Mass reads a mass in g of up to most, or a volume in ml taken for it.
func Mass(value string, most float64) (float64, error) {
	q, ok := measure(value)
	n, mass := q.yield()
	if !ok || !mass {
		return 0, bad(value, "grams, as 320")
	}
	return within(limit{"", n, leastYield, most, "g"}, value)
}

// mostBrewTime is the longest brew that is split, in s.
const mostBrewTime = 900

// BrewTime reads how long a brew takes, in s: "28", "3:00", "180 s".
func BrewTime(value string) (float64, error) {
	minutes, seconds, clock := strings.Cut(strings.TrimSpace(value), ":")
	if m, err := strconv.Atoi(minutes); clock && err == nil {
		if s, err := strconv.Atoi(seconds); err == nil && 0 <= s && s < 60 {
			return within(limit{"", Number{X: float64(60*m + s), Said: true}, 1, mostBrewTime, "s"}, value)
		}
	}
	q, ok := measure(value)
	if !ok || q.unit != noUnit && q.unit != second {
		return 0, bad(value, "seconds, as 28, or 3:00")
	}
	return within(limit{"", q.number(), 1, mostBrewTime, "s"}, value)
}
