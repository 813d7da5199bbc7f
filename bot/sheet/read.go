package sheet

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"io"
	"iter"
	"slices"
	"strconv"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
)

// Options say how a table from elsewhere is meant.
type Options struct {
	Zone    *time.Location    // of times without one; nil: UTC
	Columns map[string]string // field → header, where the header alone does not say
	Dates   DateOrder         // of dates with slashes
	Most    int               // bytes that a table may be; 0: [LargestTable]
}

// A DateOrder is how 3/2/2026 is meant.
type DateOrder int

// The orders. Unsaid leaves such a date to the others in its table, one of
// which can be meant only one way.
const (
	Unsaid DateOrder = iota
	DayFirst
	MonthFirst
)

// A Table is what was read. Its rows are cut anew each time they are asked for,
// one time after the other.
type Table struct {
	Columns []Column
	Refused Refusals // lines that were passed over

	text  io.ReadSeeker
	comma rune
	dates dates
}

// Refusals are the rows that were not taken: all are counted, and the first kept.
type Refusals struct {
	First []Refusal
	N     int
}

// mostKept is how many refusals are kept. Nobody reads so many.
const mostKept = 1000

// Add adds one.
func (r *Refusals) Add(x Refusal) {
	if r.N++; len(r.First) < mostKept {
		r.First = append(r.First, x)
	}
}

// A Refusal is a row that was not taken.
type Refusal struct {
	Line int
	Err  error // a [Reason] or a [parse.Mistake]
}

// A Reason is why a table or a row was not taken.
type Reason struct {
	Why  Why
	What string // the cell or the header
	More string // what would do
}

// Error names the reason for a log.
func (r Reason) Error() string { return "not taken: " + r.What }

// A Why is a kind of reason.
type Why int

// The kinds.
const (
	NoTable      Why = iota + 1 // nothing that could be a header and rows
	NoSuchField                 // a column is to be something that there is not; More: what there is
	NoSuchColumn                // the table has no column called so
	NoTime                      // no column says when, or its cell is no time
	WhichDate                   // 3/2/2026 could be meant either way
	NoShot                      // the row says nothing of a shot
	NoSuchShot                  // the words are about a shot that is not there
	BadCell                     // More: the field it should be
	LongLine                    // a line longer than [LongestLine]
	LongRow                     // a row over lines without end; What: the line it begins on
	LongCell                    // longer than [LongestCell]
	LargeTable                  // larger than it may be
)

// mark is the byte order mark that some programs put first.
const mark = "\ufeff"

// Read reads a table, and finds out what its columns are. It waits in kept,
// which is empty, until its rows are asked for. An error is that of the whole
// table, or of reading it.
func Read(r io.Reader, kept io.ReadWriteSeeker, o Options) (Table, error) {
	b := newBounded(r, o.Most)
	head, err := b.in.Peek(LongestLine)
	if err != nil && !errors.Is(err, io.EOF) {
		return Table{}, err
	}
	if bytes.HasPrefix(head, []byte(mark)) {
		if _, err := b.in.Discard(len(mark)); err != nil {
			return Table{}, err
		}
		head = head[len(mark):]
	}
	t := Table{text: kept, comma: delimiter(head)}
	c := t.cut(io.TeeReader(b, kept))
	header, err := c.Read()
	if err != nil || b.long.N > 0 {
		return Table{}, Reason{Why: NoTable}
	}
	header = slices.Clone(header)
	seen, err := lookOver(b, c)
	if err != nil {
		return Table{}, err
	}
	t.Refused = b.long
	if t.Columns, err = columns(header, seen, o.Columns); err != nil {
		return Table{}, err
	}
	t.dates = dates{zone: cmp.Or(o.Zone, time.UTC), order: o.Dates}
	t.dates.learn(t.Columns, seen)
	return t, nil
}

// cut cuts a text into the cells of its rows.
func (t Table) cut(text io.Reader) *csv.Reader {
	c := csv.NewReader(text)
	c.Comma, c.FieldsPerRecord, c.LazyQuotes, c.ReuseRecord = t.comma, -1, true, true
	return c
}

// A glance is what all the cells of a column tell of it.
type glance struct {
	first string    // that holds something
	order DateOrder // of the first date that can be meant only one way
}

// lookOver reads all rows, and returns what each column tells.
func lookOver(b *bounded, c *csv.Reader) ([]glance, error) {
	var seen []glance
	for {
		b.row = 0
		record, err := c.Read()
		_, odd := errors.AsType[*csv.ParseError](err)
		switch {
		case errors.Is(err, io.EOF):
			return seen, nil
		case errors.Is(err, errLongRow):
			line := b.line
			if len(record) > 0 {
				line, _ = c.FieldPos(0)
			}
			return nil, Reason{Why: LongRow, What: strconv.Itoa(line)}
		case errors.Is(err, errLargeTable):
			return nil, Reason{Why: LargeTable}
		case odd: // Rows refuses it
			continue
		case err != nil:
			return nil, err
		}
		for i, cell := range record {
			if i == len(seen) {
				seen = append(seen, glance{})
			}
			seen[i].at(plainCell(cell))
		}
	}
}

// at looks at another cell.
func (g *glance) at(cell string) {
	if g.first == "" {
		g.first = strings.Clone(cell)
	}
	if g.order == Unsaid && strings.Contains(cell, "/") {
		g.order = orderOf(cell)
	}
}

// A Lost is an error in reading again what was kept of a table: the rows after
// it are not known.
type Lost struct{ error }

// Unwrap returns what went wrong.
func (l Lost) Unwrap() error { return l.error }

// Rows cuts the table into its rows, each with its line. One that cannot be
// taken comes with its reason, and what is [Lost] last.
func (t Table) Rows() iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		_, err := t.text.Seek(0, io.SeekStart)
		c := t.cut(t.text)
		if err == nil {
			_, err = c.Read() // the header
		}
		for err == nil {
			var record []string
			record, err = c.Read()
			odd, isOdd := errors.AsType[*csv.ParseError](err)
			switch {
			case isOdd:
				if err = nil; !yield(Row{Line: odd.StartLine}, Reason{Why: NoTable}) {
					return
				}
			case err == nil:
				line, _ := c.FieldPos(0)
				row, refused := t.row(record)
				row.Line = line
				if !yield(row, refused) {
					return
				}
			}
		}
		if !errors.Is(err, io.EOF) {
			yield(Row{}, Lost{err})
		}
	}
}

// delimiter returns what the header is cut by: where the decimal sign is a
// comma, tables have semicolons.
func delimiter(text []byte) rune {
	header, _, _ := bytes.Cut(text, []byte("\n"))
	best, most := ',', 0
	for _, d := range ",;\t" {
		if n := bytes.Count(header, []byte(string(d))); n > most {
			best, most = d, n
		}
	}
	return best
}

func (t Table) has(f field) bool {
	return slices.ContainsFunc(t.Columns, func(c Column) bool { return c.field == f })
}

// plainCell returns what a cell holds.
func plainCell(cell string) string {
	cell = strings.TrimSpace(cell)
	if rest, quoted := strings.CutPrefix(cell, "'"); quoted && guarded(rest) {
		return rest
	}
	return cell
}

// guarded reports whether a spreadsheet would take text for a formula, so that
// a quote is put before it.
func guarded(text string) bool { return text != "" && strings.ContainsRune("=+-@'\t\r", rune(text[0])) }

// row reads a record.
func (t Table) row(record []string) (Row, error) {
	cell := map[field]string{}
	command := chat.Command{Name: "shot"}
	for i, c := range t.Columns {
		if i >= len(record) || c.field == "" {
			continue
		}
		text := plainCell(record[i])
		switch {
		case text == "":
			continue
		case len(text) > LongestCell:
			return Row{}, Reason{Why: LongCell, What: strings.Clone(text[:80])}
		}
		text = strings.Clone(text) // of the whole row
		cell[c.field] = text
		if name, value := shotOption(c, text); name != "" {
			command.Options = append(command.Options, chat.Option{Name: name, Value: value})
		}
	}
	at, err := t.dates.at(cell)
	if err != nil {
		return Row{}, err
	}
	r := Row{At: at, Coffee: cell[fieldCoffee], Grinder: cell[fieldGrinder], Person: cell[fieldPerson], Device: cell[fieldDevice]}
	if len(command.Options) == 0 {
		return Row{}, Reason{Why: NoShot}
	}
	shot, err := parse.ShotOf(command, parse.Vocab{Recipe: bar.House()})
	if err != nil {
		return Row{}, err
	}
	if shot.Grind.Relative || shot.Grind.Odd {
		return Row{}, Reason{Why: BadCell, What: cell[fieldGrind], More: string(fieldGrind)}
	}
	r.Shot = shot.Told()
	if shot.Grind.Said {
		r.Shot.Grind = bar.Value[bar.Dial]{X: bar.Dial(shot.Grind.X), From: bar.Said}
	}
	return r, t.rest(&r, cell)
}

// shotOption returns a cell as an option of the command that tells a shot.
func shotOption(c Column, text string) (name, value string) {
	switch c.field {
	case fieldDose:
		return "dose", withUnit(text, c.Unit)
	case fieldYield:
		return "yield", withUnit(text, c.Unit)
	case fieldTime:
		return "time", seconds(text)
	case fieldGrind:
		return "grind", text
	case fieldTaste:
		return "taste", text
	case fieldTDS:
		return "text", "tds " + strings.TrimSuffix(text, "%") + " %"
	case fieldWater:
		return "text", withUnit(text, cmp.Or(c.Unit, "C"))
	case fieldDrip:
		return "text", "first drip " + strings.TrimSuffix(text, "s") + " s"
	case fieldAt, fieldOf, fieldCoffee, fieldGrinder, fieldPerson, fieldTurned, fieldMarks, fieldUnread, fieldFrom, fieldRough, fieldDay, fieldClock, fieldDevice, fieldTimeSD, fieldMeant:
	}
	return "", ""
}

// withUnit puts the column's unit behind a bare number.
func withUnit(text, unit string) string {
	if last := text[len(text)-1]; '0' <= last && last <= '9' {
		return text + " " + unit
	}
	return text
}

// seconds reads 0:28 as 28.
func seconds(text string) string {
	if t, err := time.Parse("4:05", text); err == nil {
		return strconv.Itoa(60*t.Minute() + t.Second())
	}
	return text
}

// rest reads what only a table of ours has.
func (t Table) rest(r *Row, cell map[field]string) (err error) {
	if text := cell[fieldOf]; text != "" {
		if r.Of, err = t.dates.instant(text); err != nil {
			return Reason{Why: NoTime, What: text}
		}
	}
	turned, err1 := numberIn(cell, fieldTurned, -100, 100)
	meant, err2 := numberIn(cell, fieldMeant, 0, 1000)
	sd, err3 := numberIn(cell, fieldTimeSD, 0, 60)
	if err := cmp.Or(err1, err2, err3); err != nil {
		return err
	}
	r.Shot.Turned, r.Shot.Meant, r.Shot.TimeSD = turned, bar.Grams(meant), bar.Seconds(sd)
	if t.has(fieldMarks) {
		if r.Shot.Marks, err = bar.MarksOf(strings.Fields(cell[fieldMarks])); err != nil {
			return Reason{Why: BadCell, What: cell[fieldMarks], More: string(fieldMarks)}
		}
	}
	if text := cell[fieldUnread]; text != "" {
		r.Shot.Unread = append(r.Shot.Unread, strings.Split(text, ", ")...)
	}
	return r.sources(cell)
}

// numberIn returns the number in a cell, 0 for none, if it lies between two.
func numberIn(cell map[field]string, f field, low, high float64) (float64, error) {
	text := cell[f]
	if text == "" {
		return 0, nil
	}
	if n, err := number(text); err == nil && low <= n && n <= high {
		return n, nil
	}
	return 0, Reason{Why: BadCell, What: text, More: string(f)}
}

// sources reads where values come from, and which of them are rough.
func (r *Row) sources(cell map[field]string) error {
	s := &r.Shot
	from := map[field]*bar.Provenance{
		fieldGrind: &s.Grind.From, fieldDose: &s.Dose.From, fieldYield: &s.Yield.From, fieldTime: &s.Time.From,
	}
	rough := map[field]*bool{
		fieldGrind: &s.Grind.Rough, fieldDose: &s.Dose.Rough, fieldYield: &s.Yield.Rough, fieldTime: &s.Time.Rough,
	}
	for text := range strings.FieldsSeq(cell[fieldFrom]) {
		name, word, _ := strings.Cut(text, "=")
		if field(name) == fieldTurned && s.Turned != 0 && s.TurnedFrom.UnmarshalText([]byte(word)) == nil {
			continue
		}
		if where := from[field(name)]; where != nil && *where != bar.None && where.UnmarshalText([]byte(word)) == nil {
			continue
		}
		return Reason{Why: BadCell, What: text, More: string(fieldFrom)}
	}
	for text := range strings.FieldsSeq(cell[fieldRough]) {
		where := rough[field(text)]
		if where == nil {
			return Reason{Why: BadCell, What: text, More: string(fieldRough)}
		}
		*where = true
	}
	return nil
}

// Ours reports whether the table was written by a [Writer]: what it leaves
// empty was not known.
func (t Table) Ours() bool { return t.has(fieldFrom) }
