package main

import (
	"context"
	"errors"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"shothand/cmd/shothand/health"
	"shothand/store"
	"shothand/store/file"
)

// backupEvery is how often a running bot backs up by itself.
const backupEvery = 24 * time.Hour

func (p program) backup() *cobra.Command {
	c, db := onFile("backup", backupHelp)
	to := c.Flags().String("to", "", "the new `file` to write; without it one named by the time, in DB.backups")
	keep := keepFlag(c.Flags())
	return runs(c, 0, func([]string) error {
		return p.untilStopped(c.Context(), "Backing up", func(out io.Writer) error { return runBackup(*db, *to, *keep, out) })
	})
}

// runBackup writes a backup of a file that no bot has open. One that runs is
// asked by SIGUSR1.
func runBackup(db, name string, keep file.Keep, out io.Writer) error {
	return using(existing, db, func(s *store.Store) (err error) {
		if name != "" {
			err = s.Backup(name)
		} else {
			name, err = s.BackupInto(backupDir(db), time.Now(), keep)
		}
		if err != nil {
			return err
		}
		return tell(out, backedUpText(name))
	})
}

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

// startBackups backs the records up when the process gets SIGUSR1, and once a
// day if daily is set, until stop is called.
func startBackups(log *slog.Logger, s *store.Store, last *health.LastBackup, keep file.Keep, daily bool) (stop func()) {
	sweepBackups(log, s)
	if err := last.Found(backupDir(s.Path())); err != nil {
		log.Warn("backups cannot be listed", "err", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	asked := make(chan os.Signal, 1)
	notifyBackup(asked)
	var done sync.WaitGroup
	done.Go(func() { keepBackups(ctx, log, s, last, keep, daily, asked) })
	return func() {
		signal.Stop(asked)
		cancel()
		done.Wait()
	}
}

func keepBackups(ctx context.Context, log *slog.Logger, s *store.Store, last *health.LastBackup, keep file.Keep, daily bool, asked <-chan os.Signal) {
	dir := backupDir(s.Path())
	for {
		var due <-chan time.Time
		if daily {
			due = time.After(untilBackup(dir))
		}
		select {
		case <-ctx.Done():
			return
		case <-asked:
		case <-due:
		}
		began := time.Now()
		name, err := s.BackupInto(dir, began, keep) // and checks it
		if err == nil {
			last.Set(began, health.BackupSound)
			log.Info("backup", "file", filepath.Base(name))
			continue
		}
		last.Set(time.Time{}, health.BackupFailed)
		log.Error("backup", "dir", filepath.Base(dir), "err", err)
		if !pause(ctx, time.Minute) { // a full disk must not fill the log
			return
		}
	}
}

// untilBackup returns how long until the next backup is due. One that is dated
// later than now, since the clock was wrong, puts off none.
func untilBackup(dir string) time.Duration {
	last, err := file.LastBackup(dir, time.Now())
	if err != nil || last.At.IsZero() {
		return 0
	}
	return max(0, time.Until(last.At.Add(backupEvery)))
}

// pause waits, and reports whether ctx still runs.
func pause(ctx context.Context, d time.Duration) bool {
	select {
	case <-ctx.Done():
		return false
	case <-time.After(d):
		return true
	}
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
