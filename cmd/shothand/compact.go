package main

import (
	"io"

	"github.com/spf13/cobra"

	"shothand/store"
)

func (p program) compact() *cobra.Command {
	c, db := onFile("compact", compactHelp)
	return runs(c, 0, func([]string) error {
		return p.untilStopped(c.Context(), "Compacting", func(out io.Writer) error { return runCompact(*db, out) })
	})
}

// runCompact writes a file anew without the room of what is gone.
func runCompact(db string, out io.Writer) error {
	return using(existing, db, func(s *store.Store) error {
		before, after, err := s.Compact()
		if err != nil {
			return err
		}
		return tell(out, compactedText(db, before, after))
	})
}
