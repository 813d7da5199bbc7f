package main

import (
	"errors"
	"io"
	"log/slog"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"shothand/store"
	"shothand/store/file"
)

// keepUsual says which backups are kept unless -keep is given.
func keepUsual() *file.Keep { return &file.Keep{Days: 7, Weeks: 4, Months: 6} }

// keepFlag describes -keep, with which backups are kept.
func keepFlag(flags *pflag.FlagSet) *file.Keep {
	keep := keepUsual()
	describeKeep(flags, keep)
	return keep
}

func describeKeep(flags *pflag.FlagSet, keep *file.Keep) {
	flags.Func("keep", "of how many `days,weeks,months` the last backup is kept; 7,4,6 unless it is given", func(said string) (err error) {
		*keep, err = parseKeep(said)
		return err
	})
}

func parseKeep(said string) (file.Keep, error) {
	parts := strings.Split(said, ",")
	if len(parts) != 3 {
		return file.Keep{}, errors.New(keepText)
	}
	var n [3]int
	for i, part := range parts {
		var err error
		if n[i], err = strconv.Atoi(strings.TrimSpace(part)); err != nil || n[i] < 0 {
			return file.Keep{}, errors.New(keepText)
		}
	}
	return file.Keep{Days: n[0], Weeks: n[1], Months: n[2]}, nil
}

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

func backupDir(db string) string { return db + ".backups" }

// backupsOf counts the backups of a file, under its name and, if that is a
// link, under the name of the file itself, and what was there before a restore,
// and takes away partial ones.
func backupsOf(db string) (places []backupPlace, partial int, err error) {
	dirs := []string{backupDir(db)}
	if real, err := filepath.EvalSymlinks(db); err == nil && real != filepath.Clean(db) {
		dirs = append(dirs, backupDir(real))
	}
	for _, dir := range dirs {
		swept, err1 := file.Sweep(dir)
		backups, err2 := file.Backups(dir)
		if err := errors.Join(err1, err2); err != nil {
			return nil, 0, err
		}
		partial += swept
		places = append(places, backupPlace{Dir: dir, Backups: len(backups)})
	}
	replaced, err := file.Replaced(db)
	if err != nil {
		return nil, 0, err
	}
	return append(places, backupPlace{Dir: db + ".replaced-*", Backups: len(replaced)}), partial, nil
}

// sweepBackups takes away what a backup or a compaction left that was killed.
func sweepBackups(log *slog.Logger, s *store.Store) {
	_, partial, err := backupsOf(s.Path())
	if partial += s.Swept(); partial > 0 {
		log.Warn("partial copies taken away", "files", partial)
	}
	if err != nil {
		log.Warn("backups cannot be listed", "err", err)
	}
}
