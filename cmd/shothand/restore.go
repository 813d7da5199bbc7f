package main

import (
	"errors"
	"io"
	"time"

	"github.com/spf13/cobra"

	"shothand/store"
)

func (p program) restore() *cobra.Command {
	c, db := onFile("restore BACKUP", restoreHelp)
	yes := yesFlag(c.Flags())
	return runs(c, 1, func(args []string) error { return p.runRestore(*db, first(args), *yes) })
}

// runRestore puts a backup in the place of the file.
func (p program) runRestore(db, from string, yes bool) error {
	if from == "" {
		return errors.New(restoreWhatText)
	}
	if err := store.Restorable(from); err != nil {
		return err
	}
	if err := p.confirm(yes, restoreDeed(from, db)); err != nil {
		return err
	}
	return p.slow("Restoring", func(out io.Writer) error {
		kept, err := store.Restore(db, from, time.Now())
		if err != nil {
			return err
		}
		return tell(out, restoredText(db, from, kept))
	})
}
