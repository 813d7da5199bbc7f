package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"shothand/advisor/bar"
	"shothand/bot/console"
	"shothand/bot/say"
	"shothand/cmd/shothand/health"
	"shothand/store"
	"shothand/store/file"
)

// backupEvery is how often a running bot backs up by itself.
const backupEvery = 24 * time.Hour

// defaultDB is the file in the current directory.
const defaultDB = "shothand.db"

// using opens a file of records, does something with it and closes it.
func using(open func(path string) (*store.Store, error), path string, do func(*store.Store) error) error {
	s, err := open(path)
	if err != nil {
		return err
	}
	return errors.Join(do(s), s.Close())
}

// tell says something on a line of its own, broken between words if out is a
// terminal.
func tell(out io.Writer, text string) error {
	seen := out
	if a, ok := out.(afterwards); ok {
		seen = a.Writer
	}
	_, err := fmt.Fprintln(out, console.Fit(seen, text))
	return err
}

// existing opens a file that must be there.
func existing(path string) (*store.Store, error) {
	if err := file.There(path); err != nil {
		return nil, err
	}
	return store.Open(path)
}

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

func (p program) forget() *cobra.Command {
	c, db := onFile("forget --person NAME", forgetHelp)
	person := c.Flags().String("person", "", "the account or the `name` to forget, in every bar of the file")
	yes := yesFlag(c.Flags())
	return runs(c, 0, func([]string) error { return p.runForget(*db, *person, *yes) })
}

// runForget takes a person out of a file.
func (p program) runForget(db, person string, yes bool) error {
	if person == "" {
		return errors.New(forgetWhomText)
	}
	known, err := knows(db, person)
	if err != nil {
		return err
	}
	if known {
		if err := p.confirm(yes, forgetDeed(person, db)); err != nil {
			return err
		}
	}
	return p.slow("Forgetting", func(out io.Writer) error {
		return using(existing, db, func(s *store.Store) error { return forgetIn(s, person, out) })
	})
}

// knows reports whether somebody in a file is called so.
func knows(db, person string) (known bool, err error) {
	err = using(store.OpenToRead, db, func(s *store.Store) error {
		accounts, err := accountsOf(s, person)
		known = len(accounts) > 0
		return err
	})
	return known, err
}

// forgetIn does it, and says what is left to do.
func forgetIn(s *store.Store, person string, out io.Writer) error {
	bars, err := forget(s, person)
	if err != nil {
		return err
	}
	if bars > 0 {
		if _, _, err := s.Compact(); err != nil {
			return err
		}
	}
	places, partial, err := backupsOf(s.Path())
	if err != nil {
		return err
	}
	text := forgottenEverywhereText(person, bars, places, s.Swept()+partial)
	if bars == 0 {
		named, err := everybody(s)
		if err != nil {
			return err
		}
		text += say.Lang{}.Meant(person, named)
	}
	return tell(out, text)
}

// forget takes whoever has that account, or else that name, out of every bar,
// and returns in how many.
func forget(s *store.Store, who string) (int, error) {
	accounts, err := accountsOf(s, who)
	if err != nil {
		return 0, err
	}
	return len(accounts), s.Update(func(tx *store.Tx) error {
		for bar, account := range accounts {
			if _, err := tx.Forget(bar, account); err != nil {
				return err
			}
		}
		return nil
	})
}

// accountsOf returns the account of whoever has that account, or else that name,
// in each bar that knows them.
func accountsOf(s *store.Store, who string) (accounts map[bar.ID]string, err error) {
	err = s.View(func(tx *store.Tx) error {
		accounts = map[bar.ID]string{}
		bars, err := tx.Bars()
		for _, bar := range bars {
			people, err := tx.People(bar.ID)
			if err != nil {
				return err
			}
			account, err := accountOf(people, who)
			if err != nil {
				return err
			}
			if account != "" {
				accounts[bar.ID] = account
			}
		}
		return err
	})
	return accounts, err
}

// everybody returns the names of all people in a file, each once.
func everybody(s *store.Store) (named []string, err error) {
	err = s.View(func(tx *store.Tx) error {
		named = nil
		bars, err := tx.Bars()
		for _, bar := range bars {
			people, err := tx.People(bar.ID)
			if err != nil {
				return err
			}
			for _, p := range people {
				if !slices.Contains(named, p.Name) {
					named = append(named, p.Name)
				}
			}
		}
		return err
	})
	return named, err
}

// accountOf finds the one person that who can mean, or nobody.
func accountOf(people []bar.Person, who string) (string, error) {
	var named []string
	for _, p := range people {
		if p.Account == who {
			return p.Account, nil
		}
		if strings.EqualFold(p.Name, who) {
			named = append(named, p.Account)
		}
	}
	switch len(named) {
	case 0:
		return "", nil
	case 1:
		return named[0], nil
	}
	return "", errors.New(severalCalledText(who, named))
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
