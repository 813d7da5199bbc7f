package main

import (
	"bufio"
	"context"
	"errors"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"shothand/advisor/bar"
	"shothand/bot/carry"
	"shothand/bot/say"
	"shothand/store"
)

func (p program) export() *cobra.Command {
	c, db := onFile("export [FILE]", exportHelp)
	channel := c.Flags().String("bar", "", "the `channel` of the bar, where the file has several")
	format := c.Flags().String("format", "", "`csv` for shots, jsonl for everything; without it by the file's name, else csv")
	force := c.Flags().Bool("force", false, "replace the file that is there, unless it is one of records")
	completes(c, "format", "csv", "jsonl")
	return runs(c, 1, func(args []string) error {
		return p.untilStopped(c.Context(), "Exporting", func(out io.Writer) error {
			return runExport(c.Context(), *db, *channel, *format, first(args), *force, out)
		})
	})
}

// runExport writes what a bar has to a new file, or to out.
func runExport(ctx context.Context, db, channel, format, name string, force bool, out io.Writer) error {
	f, err := formatOf(format, name)
	if err != nil {
		return err
	}
	return using(store.OpenToRead, db, func(s *store.Store) error {
		return s.View(func(tx *store.Tx) error {
			bar, err := barOf(tx, channel)
			if err != nil {
				return err
			}
			write := func(w io.Writer) error { return exportTo(w, tx, bar, f) }
			if name == "" || name == "-" {
				return write(out)
			}
			if err := replace(ctx, name, force, func([]byte) bool { return false }, write); err != nil {
				return err
			}
			return tell(out, wroteText(name))
		})
	})
}

// exportTo writes a bar.
func exportTo(w io.Writer, tx *store.Tx, bar bar.ID, f carry.Format) error {
	buffer := bufio.NewWriter(w)
	return errors.Join(carry.Export(tx, bar, f, buffer), buffer.Flush())
}

// formatOf returns the format that was named, or that a file's name ends in.
func formatOf(said, name string) (carry.Format, error) {
	if said != "" {
		return carry.FormatOf(say.Lang{}, said)
	}
	switch ending := strings.ToLower(filepath.Ext(name)); ending {
	case ".jsonl":
		return carry.JSONL, nil
	case "", ".csv", ".tsv", ".txt":
		return carry.CSV, nil
	default:
		return "", errors.New(endingText(ending))
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
		return 0, errors.New(noBarText)
	case len(bars) == 1 && channel == "":
		return bars[0].ID, nil
	case channel != "":
		return 0, errors.New(noSuchBarText(channel, channels))
	}
	return 0, errors.New(whichBarText + strings.Join(channels, ", "))
}
