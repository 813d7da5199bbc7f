package main

import (
	"errors"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"shothand/advisor/bar"
	"shothand/bot/say"
	"shothand/store"
)

func (p program) forget() *cobra.Command {
	c, db := onFile("forget --person NAME", forgetHelp)
	person := c.Flags().String("person", "", "the account or the `name` to forget, in every bar of the file")
	yes := yesFlag(c.Flags())
	return runs(c, 0, func([]string) error { return p.runForget(*db, *person, *yes) })
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
