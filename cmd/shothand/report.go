package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"shothand/bot"
	"shothand/store"
)

// runReport writes the review of a bar as a page.
func runReport(args []string, out, errOut io.Writer) (err error) {
	flags, db := fileFlags("report", errOut)
	to := flags.String("o", "", "the `file` to write")
	channel := flags.String("bar", "", "the `channel` of the bar, if there are several")
	since := flags.String("since", "", "the `span`, such as \"last month\"")
	if ok, err := parseFlags(flags, args, 0); !ok {
		return err
	}
	if *to == "" {
		return errors.New(bot.ReportWhereText)
	}
	s, err := store.OpenToRead(*db)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	f, err := os.Create(*to)
	if err != nil {
		return err
	}
	if err := errors.Join(bot.Report(f, s, *channel, *since, time.Now()), f.Close()); err != nil {
		return errors.Join(err, os.Remove(*to))
	}
	_, err = fmt.Fprintln(out, *to)
	return err
}
