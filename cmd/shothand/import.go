package main

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"io"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"shothand/bot/carry"
	"shothand/bot/console"
	"shothand/bot/sheet"
	"shothand/store"
)

func (p program) importing() *cobra.Command {
	c, db := onFile("import FILE", importHelp)
	var o importing
	flags := c.Flags()
	flags.StringVar(&o.channel, "bar", "", "the `channel` of the bar it goes to; without it the one it came from, or bar")
	flags.StringVar(&o.format, "format", "", "`csv` or jsonl; without it by the file's name")
	flags.BoolVar(&o.dry, "dry-run", false, "only say what would be taken")
	flags.StringVar(&o.zone, "zone", "", "the `zone` of times without one, such as Europe/Berlin")
	flags.StringVar(&o.dates, "dates", "", "`dmy` or mdy: how dates such as 3/2/2026 are meant")
	flags.StringVar(&o.columns, "columns", "", "what columns are, such as `dose=In,yield=Out`")
	completes(c, "format", "csv", "jsonl")
	completes(c, "dates", "dmy", "mdy")
	return runs(c, 1, func(args []string) error {
		return p.slow("Importing", func(out io.Writer) error {
			return stoppedImport(c.Context(), runImport(c.Context(), *db, first(args), o, p.in, out))
		})
	})
}

// importing says how a file is taken in.
type importing struct {
	channel, format      string
	dry                  bool
	zone, dates, columns string
}

// runImport takes in what another file, or anybody's table, has.
func runImport(ctx context.Context, db, name string, how importing, in io.Reader, out io.Writer) (err error) {
	if name == "" {
		if !isPiped(in) {
			return errors.New(importWhatText)
		}
		name = "-"
	}
	f, err := formatOf(how.format, name)
	if err != nil {
		return err
	}
	o, err := tableOptions(how.zone, how.dates, how.columns)
	if err != nil {
		return err
	}
	if name != "-" {
		file, err := os.Open(name)
		if err != nil {
			return err
		}
		defer func() { err = errors.Join(err, file.Close()) }()
		read := bufio.NewReader(file)
		if head, _ := read.Peek(headSize); isRecords(head) {
			return errors.New(importRecordsText(name))
		}
		in = read
	}
	from := source{ctx: ctx, db: db, name: name, in: heeding{ctx, in}, channel: how.channel, dry: how.dry}
	if f == carry.JSONL {
		return importLines(from, out)
	}
	return importTable(from, o, out)
}

// isPiped reports whether something may be read from in without anybody typing it.
func isPiped(in io.Reader) bool {
	if f, ok := in.(*os.File); ok {
		return !term.IsTerminal(int(f.Fd()))
	}
	return in != nil
}

func tableOptions(zone, dates, named string) (sheet.Options, error) {
	o := sheet.Options{Columns: map[string]string{}}
	var err error
	if o.Zone, err = time.LoadLocation(zone); err != nil {
		return o, errors.New(zoneText(zone))
	}
	switch dates {
	case "":
	case "dmy":
		o.Dates = sheet.DayFirst
	case "mdy":
		o.Dates = sheet.MonthFirst
	default:
		return o, errors.New(datesText(dates))
	}
	if named == "" {
		return o, nil
	}
	for pair := range strings.SplitSeq(named, ",") {
		field, header, ok := strings.Cut(pair, "=")
		if !ok {
			return o, errors.New(columnsText(pair))
		}
		o.Columns[strings.TrimSpace(field)] = strings.TrimSpace(header)
	}
	return o, nil
}

// A source is what is taken in, and where it goes.
type source struct {
	ctx     context.Context // until when it is read
	db      string
	name    string // of what is read
	in      io.Reader
	channel string
	dry     bool
}

// into puts something there, wholly or not at all, or only for a try.
func (from source) into(put func(*store.Store) error) error {
	return using(store.Open, from.db, func(s *store.Store) error {
		if from.dry {
			return s.TryAside(put)
		}
		return s.UpdateAside(put)
	})
}

// importTable adds the shots of a table, if there is one among its rows.
func importTable(from source, o sheet.Options, out io.Writer) (err error) {
	kept, err := newScratch()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, kept.Close()) }()
	t, err := sheet.Read(from.in, kept, o)
	if err != nil {
		return errors.New(noTableText(from.name, err))
	}
	if refused, any := anyRow(t); !any {
		return errors.New(noShotsText(from.name, refused))
	}
	var done carry.Imported
	err = from.into(func(aside *store.Store) (err error) {
		done, err = carry.Import(from.ctx, aside, cmp.Or(from.channel, console.DefaultBar), t)
		return err
	})
	if errors.Is(err, carry.ErrNoShot) {
		return errors.New(noShotsText(from.name, done.Refused))
	}
	if err != nil {
		return err
	}
	return tell(out, importText(t.Columns, done.Added, done.Known, done.Refused, from.dry))
}

// anyRow reports whether a row of a table can be taken, and what was refused
// before it.
func anyRow(t sheet.Table) (refused sheet.Refusals, any bool) {
	refused = t.Refused
	for row, err := range t.Rows() {
		if err == nil {
			return refused, true
		}
		refused.Add(sheet.Refusal{Line: row.Line, Err: err})
	}
	return refused, false
}
