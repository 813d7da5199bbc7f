package main

import (
	"io"

	"github.com/spf13/cobra"

	"shothand/store"
)

func (p program) check() *cobra.Command {
	c, db := onFile("check", checkHelp)
	return runs(c, 0, func([]string) error {
		return p.untilStopped(c.Context(), "Checking", func(out io.Writer) error { return runCheck(*db, out) })
	})
}

// runCheck says whether a file is whole.
func runCheck(db string, out io.Writer) error {
	if err := store.Check(db); err != nil {
		return err
	}
	return tell(out, wholeText(db))
}
