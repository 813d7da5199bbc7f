package sheet

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// A Column is a column of a table that was read, and what it was taken for.
type Column struct {
	Header string
	As     string // the field, empty if it was left out
	Unit   string // put behind bare numbers: "oz", empty for the usual one
	field  field
}

// plain returns the words by which the columns of other tables are recognised:
// what people call these things, in small letters.
func plain() map[field][]string {
	return map[field][]string{
		fieldAt:      {"at", "timestamp", "datetime", "date time", "date and time", "when"},
		fieldDay:     {"date", "day"},
		fieldClock:   {"clock", "time of day", "hour"},
		fieldCoffee:  {"coffee", "bean", "beans", "coffee name", "blend"},
		fieldGrinder: {"grinder", "mill"},
		fieldPerson:  {"person", "barista", "who", "by", "name"},
		fieldGrind:   {"grind", "grind setting", "grinder setting", "setting", "dial", "grind size"},
		fieldDose:    {"dose", "in", "weight in", "dry dose", "ground coffee"},
		fieldYield:   {"yield", "out", "weight out", "beverage", "beverage weight", "drink", "liquid"},
		fieldTime:    {"time", "shot time", "seconds", "duration", "extraction time", "secs"},
		fieldTDS:     {"tds"},
		fieldWater:   {"temperature", "temp", "water temperature", "brew temperature", "water"},
		fieldDrip:    {"first drip", "first drop", "first drops"},
		fieldTaste:   {"taste", "tasting", "notes", "tasting notes", "comment", "comments", "remarks", "flavour", "flavor"},
	}
}

// columns says what each column is: as it was named, else by its own name, else
// by plain words. A field is taken once.
func columns(header []string, seen []glance, named map[string]string) ([]Column, error) {
	all := make([]Column, len(header))
	taken := map[field]bool{}
	for i, h := range header {
		all[i].Header = h
	}
	take := func(i int, f field, unit string) {
		if !taken[f] && all[i].field == "" {
			all[i].field, all[i].As, all[i].Unit, taken[f] = f, string(f), unit, true
		}
	}
	for as, header := range named {
		f, ok := fieldCalled(as)
		if !ok {
			return nil, Reason{Why: NoSuchField, What: as, More: strings.Join(fieldNames(), ", ")}
		}
		i := slices.IndexFunc(all, func(c Column) bool { return fold(c.Header) == fold(header) })
		if i < 0 {
			return nil, Reason{Why: NoSuchColumn, What: header}
		}
		_, unit := cutUnit(header)
		take(i, f, unit)
	}
	for i, h := range header {
		if f, ok := fieldCalled(h); ok && fold(h) != bareTime {
			take(i, f, "")
		}
	}
	for i, h := range header {
		name, unit := cutUnit(h)
		for f, words := range plain() {
			switch {
			case !slices.Contains(words, name) || fold(h) == bareTime:
			case f == fieldCoffee && unit != "": // "coffee (g)" is no name
				take(i, fieldDose, unit)
			default:
				take(i, f, unit)
			}
		}
	}
	for i, h := range header {
		if fold(h) == bareTime {
			take(i, timeField(firstCell(seen, i), taken[fieldTime]), "")
		}
	}
	return all, nil
}

// bareTime is a header that may be a shot's length, a time of day or both with
// a date: its cells tell.
const bareTime = "time"

func timeField(cell string, timed bool) field {
	switch {
	case hasDate(cell):
		return fieldAt
	case timed && clockOnly(cell):
		return fieldClock
	}
	return fieldTime
}

// firstCell returns the first cell of a column that holds something.
func firstCell(seen []glance, i int) string {
	if i < len(seen) {
		return seen[i].first
	}
	return ""
}

// fieldCalled returns the field whose column is called so when it is written,
// with its unit or without.
func fieldCalled(name string) (field, bool) {
	low := fold(name)
	bare := strings.NewReplacer(" g", "", " s", "", " dial", "", " percent", "", " c", "")
	for _, f := range fields() {
		if full := fold(string(f)); low == full || low == bare.Replace(full) {
			return f, true
		}
	}
	return "", false
}

// fields lists all that a column can hold.
func fields() []field { return slices.Concat(written(), []field{fieldDay, fieldClock}) }

func fieldNames() []string {
	var names []string
	for _, f := range fields() {
		names = append(names, string(f))
	}
	return names
}

// cutUnit cuts the unit off a header: "Dose (g)", "yield [oz]", "time_s".
func cutUnit(header string) (name, unit string) {
	name = fold(header)
	if m := regexp.MustCompile(`^(.*?)\s*[(\[]\s*([^)\]]*?)\s*[)\]]$`).FindStringSubmatch(name); m != nil {
		return fold(m[1]), m[2]
	}
	for _, unit := range []string{"g", "grams", "s", "sec", "seconds", "oz", "ml", "c", "°c", "f", "°f", "%"} {
		if cut, ok := strings.CutSuffix(name, " "+unit); ok && cut != "" {
			return cut, unit
		}
	}
	return name, ""
}

// fold makes a header comparable: small letters, single spaces.
func fold(s string) string {
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return unicode.IsSpace(r) || r == '_' || r == '\ufeff' })
	return strings.Join(words, " ")
}
