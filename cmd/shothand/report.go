package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
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
	force := flags.Bool("force", false, "replace the file whatever it holds, unless it is one of records")
	if ok, err := parseFlags(flags, args, 0); !ok {
		return err
	}
	if *to == "" {
		return errors.New(bot.ReportWhereText)
	}
	if ending := strings.ToLower(filepath.Ext(*to)); ending != ".html" && ending != ".htm" {
		return errors.New(bot.PageEndingText(*to))
	}
	s, err := store.OpenToRead(*db)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	page := func(w io.Writer) error { return bot.Report(w, s, *channel, *since, time.Now()) }
	if err := replace(*to, *force, isPage, page); err != nil {
		return err
	}
	_, err = fmt.Fprintln(out, *to)
	return err
}

// isPage reports whether a file begins as a report does.
func isPage(head []byte) bool { return bytes.HasPrefix(head, []byte(bot.ReportHead)) }
