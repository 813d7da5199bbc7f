package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"shothand/advisor/bar"
	"shothand/bot"
	"shothand/bot/sheet"
	"shothand/store"
)

func (p program) export() *cobra.Command {
	c, db := onFile("export [FILE]", exportHelp)
	channel := c.Flags().String("bar", "", "the `channel` of the bar, where the file has several")
	format := c.Flags().String("format", "", "`csv` for shots, jsonl for everything; without it by the file's name, else csv")
	completes(c, "format", "csv", "jsonl")
	return runs(c, 1, func(args []string) error {
		return runExport(*db, *channel, *format, first(args), p.out)
	})
}

// runExport writes what a bar has to a new file, or to out.
func runExport(db, channel, format, name string, out io.Writer) (err error) {
	f, err := formatOf(format, name)
	if err != nil {
		return err
	}
	s, err := store.OpenToRead(db)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if name != "" && name != "-" {
		file, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
		if err != nil {
			return err
		}
		defer func() { err = errors.Join(err, file.Close()) }()
		out = file
	}
	buffer := bufio.NewWriter(out)
	err = s.View(func(tx *store.Tx) error {
		bar, err := barOf(tx, channel)
		if err != nil {
			return err
		}
		return bot.Export(tx, bar, f, buffer)
	})
	return errors.Join(err, buffer.Flush())
}

// formatOf returns the format that was named, or that a file's name ends in.
func formatOf(said, name string) (bot.Format, error) {
	if said != "" {
		return bot.FormatOf(said)
	}
	switch ending := strings.ToLower(filepath.Ext(name)); ending {
	case ".jsonl":
		return bot.JSONL, nil
	case "", ".csv", ".tsv", ".txt":
		return bot.CSV, nil
	default:
		return "", errors.New(bot.EndingText(ending))
	}
}

// barOf finds the bar of a channel, or the only one.
func barOf(tx *store.Tx, channel string) (bar.ID, error) {
	if channel != "" {
		if id, ok := tx.BarOf(channel); ok {
			return id, nil
		}
	}
	bars, err := tx.Bars()
	if err != nil {
		return 0, err
	}
	var channels []string
	for _, bar := range bars {
		name, err := tx.ChannelOf(bar.ID)
		if err != nil {
			return 0, err
		}
		channels = append(channels, name)
	}
	switch {
	case len(bars) == 0:
		return 0, errors.New(bot.NoBarText)
	case len(bars) == 1 && channel == "":
		return bars[0].ID, nil
	case channel != "":
		return 0, errors.New(bot.NoSuchBarText(channel, channels))
	}
	return 0, errors.New(bot.WhichBarText + strings.Join(channels, ", "))
}

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
	return runs(c, 1, func(args []string) error { return runImport(*db, first(args), o, p.in, p.out) })
}

// importing says how a file is taken in.
type importing struct {
	channel, format      string
	dry                  bool
	zone, dates, columns string
}

// runImport takes in what another file, or anybody's table, has.
func runImport(db, name string, how importing, in io.Reader, out io.Writer) (err error) {
	if name == "" {
		if !isPiped(in) {
			return errors.New(bot.ImportWhatText)
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
			return errors.New(bot.ImportRecordsText(name))
		}
		in = read
	}
	s, err := store.Open(db)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if f == bot.JSONL {
		return importLines(s, how.channel, in, how.dry, out)
	}
	return importTable(s, how.channel, in, o, how.dry, out)
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

func importTable(s *store.Store, channel string, in io.Reader, o sheet.Options, dry bool, out io.Writer) error {
	t, err := sheet.Read(in, o)
	if err != nil {
		return errors.New(bot.RefusedText(err))
	}
	if channel == "" {
		channel = "bar"
	}
	done, err := bot.Import(s, channel, t, dry)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintln(out, bot.ImportText(t, done, dry))
	return err
}

// importLines adds bars as they were exported. All of them are taken, or none.
func importLines(s *store.Store, channel string, in io.Reader, dry bool, out io.Writer) error {
	bars, err := readLines(in)
	if err != nil {
		return err
	}
	var said []string
	write := s.Update
	if dry {
		write = s.Try
	}
	err = write(func(tx *store.Tx) error {
		said = nil
		for _, lines := range bars {
			id, err := tx.Import(channel, lines)
			if err != nil {
				return err
			}
			name, err := tx.ChannelOf(id)
			if err != nil {
				return err
			}
			said = append(said, bot.ImportedBarText(name, len(lines), dry))
		}
		return nil
	})
	if err != nil {
		return err
	}
	_, err = fmt.Fprintln(out, strings.Join(said, "\n"))
	return err
}

// readLines reads bars, each of which begins with a line of its own.
func readLines(in io.Reader) ([][]store.Line, error) {
	var bars [][]store.Line
	d := json.NewDecoder(in)
	for n := 1; ; n++ {
		var l store.Line
		err := d.Decode(&l)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, errors.New(recordText(n, err))
		}
		if l.Kind == "bar" || len(bars) == 0 {
			bars = append(bars, nil)
		}
		bars[len(bars)-1] = append(bars[len(bars)-1], l)
	}
	if len(bars) == 0 {
		return nil, errors.New(bot.NoBarText)
	}
	return bars, nil
}
