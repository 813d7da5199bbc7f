package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"shothand/advisor/bar"
	"shothand/bot"
	"shothand/bot/lookback"
	"shothand/store"
)

func (p program) report() *cobra.Command {
	c, db := onFile("report -o FILE.html", reportHelp)
	to := c.Flags().StringP("output", "o", "", "the `file` to write")
	channel := c.Flags().String("bar", "", "the `channel` of the bar, if there are several")
	since := c.Flags().String("since", "", "the `span`, such as \"last month\"")
	force := c.Flags().Bool("force", false, "replace the file whatever it holds, unless it is one of records")
	return runs(c, 0, func([]string) error {
		return p.untilStopped(c.Context(), "Looking back", func(out io.Writer) error {
			return runReport(c.Context(), *db, *to, *channel, *since, *force, out)
		})
	})
}

// runReport writes the review of a bar as a page.
func runReport(ctx context.Context, db, to, channel, since string, force bool, out io.Writer) error {
	if to == "" {
		return errors.New(reportWhereText)
	}
	if ending := strings.ToLower(filepath.Ext(to)); ending != ".html" && ending != ".htm" {
		return errors.New(pageEndingText(to))
	}
	return using(store.OpenToRead, db, func(s *store.Store) error {
		var of bar.ID
		err := s.View(func(tx *store.Tx) (err error) {
			of, err = barOf(tx, channel)
			return err
		})
		if err != nil {
			return err
		}
		isPage := func(head []byte) bool { return bytes.HasPrefix(head, []byte(lookback.PageHead)) }
		page := func(w io.Writer) error { return bot.Report(w, s, of, since, time.Now()) }
		if err := replace(ctx, to, force, isPage, page); err != nil {
			return err
		}
		return tell(out, wroteText(to))
	})
}
