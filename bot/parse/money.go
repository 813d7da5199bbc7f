package parse

import (
	"strconv"
	"strings"

	"golang.org/x/text/currency"
)

// mostPrice is the highest price of a kg that is believed.
const mostPrice = 100000

// Price reads what a kg costs, in the bar's currency: "24", "24,50", "none". The
// currency is the bar's to tell, so that one with it is taken as a number too:
// "€24", "24 EUR".
func Price(value string) (float64, error) {
	if None(value) {
		return 0, nil
	}
	text := strings.TrimFunc(strings.ReplaceAll(fold(value), "/kg", ""), func(r rune) bool { return r < '0' || r > '9' })
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || !(0 < x && x <= mostPrice) || strings.HasPrefix(strings.TrimSpace(value), "-") {
		return 0, bad(value, "what a kg costs, as 24 or 24.50, or none")
	}
	return x, nil
}

// Currency reads a currency by its code of ISO 4217: "EUR".
func Currency(value string) (string, error) {
	if None(value) {
		return "", nil
	}
	unit, err := currency.ParseISO(strings.TrimSpace(value))
	if err != nil {
		return "", bad(value, "a currency by its three letters, as EUR, USD or JPY")
	}
	return unit.String(), nil
}
