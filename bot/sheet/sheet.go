// Package sheet reads and writes shots as a table: CSV, one row a shot, for
// spreadsheets and for what a bar has kept elsewhere.
//
// What is written has one header, ISO 8601 times and units in the names of the
// columns, and is read back as the same rows. What comes from elsewhere is read
// by the plain words and units in its header, or by columns that are named.
package sheet

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// A Row is one shot, or what somebody said of one later.
type Row struct {
	Line    int // in the file it was read from
	At      time.Time
	Of      time.Time // of the shot that these words are about; zero on a shot
	Coffee  string
	Grinder string
	Person  string
	Device  string   // that posted the numbers, or empty
	Shot    bar.Shot // without ids; of words alone only what was said
}

// A field is what a column can hold.
type field string

// The fields, by the names of the columns that are written.
const (
	fieldAt      field = "at"
	fieldOf      field = "words_of"
	fieldCoffee  field = "coffee"
	fieldGrinder field = "grinder"
	fieldPerson  field = "person"
	fieldGrind   field = "grind_dial"
	fieldTurned  field = "turned_steps"
	fieldDose    field = "dose_g"
	fieldYield   field = "yield_g"
	fieldMeant   field = "meant_g" // the yield that had been advised
	fieldTime    field = "time_s"
	fieldTDS     field = "tds_percent"
	fieldWater   field = "water_c"
	fieldDrip    field = "first_drip_s"
	fieldMarks   field = "marks"
	fieldTaste   field = "taste"
	fieldUnread  field = "unread"
	fieldFrom    field = "from"  // where values come from that were not said
	fieldRough   field = "rough" // values that are
	fieldDevice  field = "device"
	fieldTimeSD  field = "time_sd_s" // what the device leaves unsure of it
	fieldDay     field = "day"       // only read: a date without a time of day
	fieldClock   field = "clock"     // only read: a time of day
)

// written lists the columns of what is written.
func written() []field {
	return []field{
		fieldAt, fieldOf, fieldCoffee, fieldGrinder, fieldPerson, fieldGrind, fieldTurned, fieldDose, fieldYield, fieldTime,
		fieldTDS, fieldWater, fieldDrip, fieldMarks, fieldTaste, fieldUnread, fieldFrom, fieldRough, fieldDevice, fieldTimeSD, fieldMeant,
	}
}

// A Writer writes rows.
type Writer struct{ csv *csv.Writer }

// NewWriter returns a writer that has written the header to w.
func NewWriter(w io.Writer) (*Writer, error) {
	c := csv.NewWriter(w)
	var header []string
	for _, f := range written() {
		header = append(header, string(f))
	}
	return &Writer{c}, c.Write(header)
}

// Write writes a row.
func (w *Writer) Write(r Row) error {
	cells, err := cells(r)
	if err != nil {
		return err
	}
	var record []string
	for _, f := range written() {
		cell := cells[f]
		if guarded(cell) && !numeric(f) {
			cell = "'" + cell
		}
		record = append(record, cell)
	}
	return w.csv.Write(record)
}

// Flush writes what is left.
func (w *Writer) Flush() error {
	w.csv.Flush()
	return w.csv.Error()
}

// cells returns what stands in the columns of a row.
func cells(r Row) (map[field]string, error) {
	s := r.Shot
	marks, err := s.Marks.Names()
	if err != nil {
		return nil, err
	}
	all := map[field]string{
		fieldAt: r.At.Format(time.RFC3339Nano), fieldCoffee: r.Coffee, fieldGrinder: r.Grinder, fieldPerson: r.Person,
		fieldTurned: digits(s.Turned), fieldTDS: digits(s.TDS), fieldWater: digits(s.Water), fieldDrip: digits(s.FirstDrip),
		fieldDevice: r.Device, fieldTimeSD: digits(s.TimeSD), fieldMeant: digits(s.Meant),
		fieldMarks: strings.Join(marks, " "), fieldTaste: tasteCell(s), fieldUnread: strings.Join(s.Unread, ", "),
	}
	if !r.Of.IsZero() {
		all[fieldOf] = r.Of.Format(time.RFC3339Nano)
	}
	var from, rough []string
	put := func(f field, x float64, p bar.Provenance, isRough bool) {
		if p == bar.None {
			return
		}
		all[f] = strconv.FormatFloat(x, 'f', -1, 64)
		if p != bar.Said {
			from = append(from, fmt.Sprintf("%s=%s", f, p))
		}
		if isRough {
			rough = append(rough, string(f))
		}
	}
	if s.Turned != 0 && s.TurnedFrom == bar.Advised {
		from = append(from, fmt.Sprintf("%s=%s", fieldTurned, s.TurnedFrom))
	}
	put(fieldGrind, float64(s.Grind.X), s.Grind.From, s.Grind.Rough)
	put(fieldDose, float64(s.Dose.X), s.Dose.From, s.Dose.Rough)
	put(fieldYield, float64(s.Yield.X), s.Yield.From, s.Yield.Rough)
	put(fieldTime, float64(s.Time.X), s.Time.From, s.Time.Rough)
	all[fieldFrom], all[fieldRough] = strings.Join(from, " "), strings.Join(rough, " ")
	return all, nil
}

// digits prints a number that is known, and nothing for 0.
func digits[T ~float64](x T) string {
	if x == 0 {
		return ""
	}
	return strconv.FormatFloat(float64(x), 'f', -1, 64)
}

// tasteCell prints the words of a shot.
func tasteCell(s bar.Shot) string {
	var words []string
	for _, w := range s.Words {
		words = append(words, parse.WordText(w))
	}
	return strings.Join(words, ", ")
}

// numeric reports whether a column holds numbers, which may be below 0.
func numeric(f field) bool { return f == fieldGrind || f == fieldTurned || f == fieldWater }
