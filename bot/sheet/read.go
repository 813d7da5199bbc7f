package sheet

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
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

// A Table is what was read.
type Table struct {
	Columns []Column
	Rows    []Row
	Refused []Refusal
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
	LargeTable                  // larger than [LargestTable]
)

// mark is the byte order mark that some programs put first.
const mark = "\ufeff"

// Read reads a table. Rows that cannot be taken are refused one by one, with
// their reason; an error is that of the whole table, or of reading it.
func Read(r io.Reader, o Options) (Table, error) {
	b := newBounded(r)
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
	c := csv.NewReader(b)
	c.Comma, c.FieldsPerRecord, c.LazyQuotes = delimiter(head), -1, true
	header, err := c.Read()
	if err != nil || len(b.long) > 0 {
		return Table{}, Reason{Why: NoTable}
	}
	t := Table{}
	var lines []int
	var records [][]string
	for {
		b.row = 0
		record, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		line := b.line
		if len(record) > 0 {
			line, _ = c.FieldPos(0)
		}
		switch _, odd := errors.AsType[*csv.ParseError](err); {
		case err == nil:
			lines, records = append(lines, line), append(records, record)
		case odd:
			t.Refused = append(t.Refused, Refusal{line, Reason{Why: NoTable}})
		case errors.Is(err, errLongRow):
			return Table{}, Reason{Why: LongRow, What: strconv.Itoa(line)}
		case errors.Is(err, errLargeTable):
			return Table{}, Reason{Why: LargeTable}
		default:
			return Table{}, err
		}
	}
	for _, line := range b.long {
		t.Refused = append(t.Refused, Refusal{line, Reason{Why: LongLine}})
	}
	if t.Columns, err = columns(header, records, o.Columns); err != nil {
		return Table{}, err
	}
	d := dates{zone: o.Zone, order: o.Dates}
	if d.zone == nil {
		d.zone = time.UTC
	}
	d.learn(t.Columns, records)
	for i, record := range records {
		row, err := t.row(record, d)
		if err != nil {
			t.Refused = append(t.Refused, Refusal{lines[i], err})
			continue
		}
		row.Line = lines[i]
		t.Rows = append(t.Rows, row)
	}
	return t, nil
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
	for _, c := range t.Columns {
		if c.field == f {
			return true
		}
	}
	return false
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
func (t Table) row(record []string, d dates) (Row, error) {
	cell := map[field]string{}
	command := chat.Command{Name: "shot"}
	for i, c := range t.Columns {
		if i >= len(record) || c.field == "" {
			continue
		}
		text := plainCell(record[i])
		if text == "" {
			continue
		}
		cell[c.field] = text
		if name, value := shotOption(c, text); name != "" {
			command.Options = append(command.Options, chat.Option{Name: name, Value: value})
		}
	}
	at, err := d.at(cell)
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
	return r, t.rest(&r, cell, d)
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
		return "text", withUnit(text, or(c.Unit, "C"))
	case fieldDrip:
		return "text", "first drip " + strings.TrimSuffix(text, "s") + " s"
	case fieldAt, fieldOf, fieldCoffee, fieldGrinder, fieldPerson, fieldTurned, fieldMarks, fieldUnread, fieldFrom, fieldRough, fieldDay, fieldClock, fieldDevice, fieldTimeSD:
	}
	return "", ""
}

func or(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
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
func (t Table) rest(r *Row, cell map[field]string, d dates) (err error) {
	if text := cell[fieldOf]; text != "" {
		if r.Of, err = d.instant(text); err != nil {
			return Reason{Why: NoTime, What: text}
		}
	}
	if text := cell[fieldTurned]; text != "" {
		n, err := number(text)
		if err != nil || !(-100 <= n && n <= 100) {
			return Reason{Why: BadCell, What: text, More: string(fieldTurned)}
		}
		r.Shot.Turned = n
	}
	if text := cell[fieldTimeSD]; text != "" {
		n, err := number(text)
		if err != nil || !(0 <= n && n <= 60) {
			return Reason{Why: BadCell, What: text, More: string(fieldTimeSD)}
		}
		r.Shot.TimeSD = bar.Seconds(n)
	}
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
