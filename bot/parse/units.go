package parse

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A unit is what a number of a message is counted in.
type unit int

const (
	noUnit unit = iota
	gram
	second
	millilitre
	ounce // of mass in a dose, of volume in a cup
	fluidOunce
	celsius
	fahrenheit
	percent
	pressure // bar: understood and not kept
)

// Exact by definition: NIST Handbook 44, appendix C.
const (
	gramsPerOunce            = 28.349523125
	millilitresPerFluidOunce = 29.5735295625 // US
)

// unitOf returns the unit that a lower-case word or sign names.
func unitOf(low string) unit {
	switch low {
	case "g", "gr", "gm", "gram", "grams", "gramm", "gramme", "grammes", "grammi", "gramos", "gramas":
		return gram
	case "s", "sec", "secs", "second", "seconds", "sek", "sekunde", "sekunden", "seconde", "secondes", "secondi", "segundos", "seg", "\"", "”", "″", "''":
		return second
	case "ml", "mls", "millilitre", "millilitres", "milliliters", "cc":
		return millilitre
	case "oz", "ounce", "ounces":
		return ounce
	case "c", "°c", "celsius":
		return celsius
	case "f", "°f", "fahrenheit":
		return fahrenheit
	case "%", "percent":
		return percent
	case "bar", "bars":
		return pressure
	}
	return noUnit
}

// sided returns how long the unit is that a word with its side of the machine begins with,
// "gin" of "18gin", or 0.
func sided(low string) int {
	for _, side := range []string{"gin", "gout"} {
		if rest, ok := strings.CutPrefix(low, side); ok && (rest == "" || isDigit(rune(rest[0]))) {
			return len("g")
		}
	}
	return 0
}

// leastStuck is how many letters a word has that got stuck to a number:
// "24sour". Shorter ones are of dates, times of day and dials.
const leastStuck = 3

// sticks reports whether letters behind a number leave it a number.
func sticks(low string) bool {
	if sided(low) > 0 {
		return true
	}
	if n := strings.IndexFunc(low, isDigit); n > 0 && (unitOf(low[:n]) != noUnit || glues(low[:n])) { // "18g36g28s"
		return true
	}
	return suffix(low) || utf8.RuneCountInString(low) >= leastStuck && strings.IndexFunc(low, func(r rune) bool { return !unicode.IsLetter(r) }) < 0
}

// glues reports whether letters between two numbers are a label that was not set apart:
// "18in36out26s".
func glues(low string) bool { return low == "in" || low == "out" }

// suffix reports whether letters may stick to a number.
func suffix(low string) bool {
	switch low {
	case "ish", "in", "out", "min", "fl":
		return true
	}
	return unitOf(low) != noUnit
}

// A quantity is a number of a message with what surrounds it.
type quantity struct {
	vals  []float64
	unit  unit
	rough bool
}

// number returns the quantity as a plain number; an empty one is not said.
func (q quantity) number() Number {
	if len(q.vals) == 0 {
		return Number{}
	}
	return Number{X: q.vals[0], Said: true, Rough: q.rough}
}

// dose returns q as a mass in g.
func (q quantity) dose() (Number, bool) {
	n := q.number()
	switch q.unit {
	case noUnit, gram:
	case ounce:
		n.X *= gramsPerOunce
	case second, millilitre, fluidOunce, celsius, fahrenheit, percent, pressure:
		return n, false
	}
	return n, true
}

// yield returns q as a mass in g. A volume counts as 1 g a ml, roughly: foam
// makes it more, and nobody reads a cup to the ml.
func (q quantity) yield() (Number, bool) {
	n := q.number()
	switch q.unit {
	case noUnit, gram:
	case millilitre:
		n.Rough = true
	case ounce, fluidOunce:
		n.X *= millilitresPerFluidOunce
		n.Rough = true
	case second, celsius, fahrenheit, percent, pressure:
		return n, false
	}
	return n, true
}

// time returns q in s.
func (q quantity) time() (Number, bool) {
	return q.number(), q.unit == noUnit || q.unit == second
}

// water returns q in °C.
func (q quantity) water() (Number, bool) {
	n := q.number()
	if q.unit == fahrenheit {
		n.X = (n.X - 32) * 5 / 9
	}
	return n, q.unit == noUnit || q.unit == celsius || q.unit == fahrenheit
}

// quantity reads a number with its unit from token i on, and returns how many
// tokens that took, 0 for none.
func (s *sheet) quantity(i int) (quantity, int) {
	j := i + s.roughly(i)
	t := s.at(j)
	if t.kind != numberToken || t.num.form == oddForm || t.num.form == colonForm {
		return quantity{}, 0
	}
	q := quantity{vals: t.num.vals, rough: j > i}
	if t.num.form == dashForm && !q.dashes() {
		return quantity{}, 0
	}
	j++
	j += s.ish(j, &q)
	j += s.unit(j, &q)
	j += s.ish(j, &q)
	return q, j - i
}

// dashes reads two numbers with a dash between: "36-37" is a range, "18-36"
// too far apart for one. Downwards it is a score.
func (q *quantity) dashes() bool {
	low, high := q.vals[0], q.vals[1]
	if !(low < high) {
		return false
	}
	if high < 1.5*low {
		q.vals, q.rough = []float64{(low + high) / 2}, true
	}
	return true
}

// roughly takes "~", "about", "c." before a number.
func (s *sheet) roughly(i int) int {
	if s.at(i).is("c", "ca") && s.at(i+1).is(".") && s.at(i+2).kind == numberToken {
		return 2
	}
	if s.at(i).is("~", "≈", "about", "around", "approx", "approximately", "roughly", "circa", "c", "ca", "almost", "nearly") &&
		s.at(i+1).kind == numberToken {
		return 1
	}
	return 0
}

// ish takes what makes a number rough from behind.
func (s *sheet) ish(j int, q *quantity) int {
	n := 0
	switch {
	case s.at(j).is("ish"):
		n = 1
	case s.at(j).is("-") && s.at(j).glued && s.at(j+1).is("ish"), s.at(j).is("or") && s.at(j+1).is("so"),
		s.at(j).is("by") && s.at(j+1).is("eye"):
		n = 2
	case s.at(j).is("±") && s.at(j+1).kind == numberToken:
		n = 2
	}
	q.rough = q.rough || n > 0
	return n
}

// unit takes the unit at j, and sets it.
func (s *sheet) unit(j int, q *quantity) int {
	switch {
	case s.at(j).is("fl"):
		n := 1
		if s.at(j + n).is(".") {
			n++
		}
		if unitOf(s.at(j+n).low) != ounce {
			return 0
		}
		q.unit = fluidOunce
		return n + 1
	case s.at(j).is("°", "deg", "degrees"):
		q.unit = celsius
		if u := unitOf(s.at(j + 1).low); u == celsius || u == fahrenheit {
			q.unit = u
			return 2
		}
		return 1
	case s.at(j).is("'") && s.at(j+1).is("'") && s.at(j+1).glued:
		q.unit = second
		return 2
	}
	if next := s.at(j + 1); !s.at(j).glued && next.kind == numberToken && next.glued {
		return 0 // "25 g5.1", the grinder's
	}
	if s.at(j).is("c", "ca") && s.roughly(j) > 0 && !s.at(j).glued {
		return 0 // "18 c. 36"
	}
	if q.unit == noUnit && (s.at(j).kind == wordToken || s.at(j).glued || s.at(j).is("%")) {
		q.unit = unitOf(s.at(j).low)
	}
	if q.unit == noUnit {
		return 0
	}
	return 1
}
