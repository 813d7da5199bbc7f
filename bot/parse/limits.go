package parse

import (
	"fmt"
	"math"
	"strconv"

	"shothand/advisor/bar"
)

// Limits of an espresso. Outside them a number is a slip, and nothing of the
// message is stored. Cafés use 15 to 22 g for 30 to 60 g (Cameron et al.
// 2020, Matter 2:631); the Italian certified espresso 7 ± 0.5 g for 25 ml in
// 25 ± 5 s (Istituto Nazionale Espresso Italiano). The margins around these
// are common practice, no source.
const (
	leastDose, mostDose   = 5, 30    // g
	leastYield, mostYield = 0.1, 120 // g; none at all only from a choke
	leastAimed            = 5        // g, the yield of a recipe
	leastTime, mostTime   = 1, 180   // s
	leastTDS, mostTDS     = 1, 30    // %
	leastWater, mostWater = 70, 100  // °C
	leastDrip, mostDrip   = 0.5, 60  // s
	leastRatio, mostRatio = 0.5, 8
	mostDial              = 10000
)

// Check returns a Mistake of kind Impossible if a number of the shot is none
// that a shot can have.
func Check(s Shot) error {
	if err := (Trio{s.Dose, s.Yield, s.Time}).check(s.Marks); err != nil {
		return err
	}
	for _, c := range []limit{
		{"TDS", s.TDS, leastTDS, mostTDS, "%"},
		{"water", s.Water, leastWater, mostWater, "°C"},
		{"first drip", s.Drip, leastDrip, mostDrip, "s"},
		{"ratio", s.Ratio, leastRatio, mostRatio, ": 1"},
		{"grind", Number{X: s.Grind.X, Said: s.Grind.Said}, -mostDial, mostDial, ""},
	} {
		if err := c.check(); err != nil {
			return err
		}
	}
	return nil
}

// check checks dose, yield and time.
func (t Trio) check(m bar.Marks) error {
	least := leastYield
	if m.Has(bar.Choked) {
		least = 0
	}
	for _, c := range []limit{
		{"dose", t.Dose, leastDose, mostDose, "g"},
		{"yield", t.Yield, least, mostYield, "g"},
		{"time", t.Time, leastTime, mostTime, "s"},
	} {
		if err := c.check(); err != nil {
			return err
		}
	}
	return nil
}

// A limit is what one number of a shot may be.
type limit struct {
	name        string
	x           Number
	least, most float64
	unit        string
}

func (l limit) check() error {
	if !l.x.Said || l.least <= l.x.X && l.x.X <= l.most { // NaN fails
		return nil
	}
	shown, unit := digitsOf(hundredths(l.x.X)), l.unit
	switch {
	case math.IsInf(l.x.X, 0):
		shown, unit = "inf", "" // as it is typed
	case math.IsNaN(l.x.X):
		unit = ""
	}
	return Mistake{
		Kind: Impossible,
		What: spaced(l.name, shown, unit),
		More: spaced(fmt.Sprintf("%s–%s", digitsOf(l.least), digitsOf(l.most)), l.unit),
	}
}

// hundredths rounds what came of another unit: 3 °F are -16.11 °C.
func hundredths(x float64) float64 {
	if math.Abs(x) > 1e9 {
		return x
	}
	return math.Round(x*100) / 100
}

// digitsOf prints x with as many digits as it needs.
func digitsOf(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func spaced(parts ...string) string {
	out := ""
	for _, p := range parts {
		if out != "" && p != "" {
			out += " "
		}
		out += p
	}
	return out
}

// maxShown is how much of a text a mistake repeats, in characters.
const maxShown = 80

// cut shortens text to what a mistake repeats.
func cut(text string) string {
	if r := []rune(text); len(r) > maxShown {
		return string(r[:maxShown-1]) + "…"
	}
	return text
}
