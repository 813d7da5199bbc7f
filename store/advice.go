package store

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
)

// Said is advice as it was said, for looking back.
type Said struct {
	Entry    bar.EntryID    `json:"-"` // the shot it answered
	Coffee   bar.CoffeeID   `json:"coffee"`
	Grinder  bar.GrinderID  `json:"grinder,omitempty"`
	Person   bar.PersonID   `json:"person,omitempty"` // to whom
	At       time.Time      `json:"-"`
	Model    string         `json:"model,omitempty"` // version of the model that gave it
	Lever    bar.Lever      `json:"lever"`
	From     float64        `json:"from"`
	To       float64        `json:"to"`
	Unit     advisor.Unit   `json:"unit"`
	Purge    bool           `json:"purge,omitempty"`
	Expect   advisor.Expect `json:"-"`
	Sure     float64        `json:"sure"`
	State    advisor.State  `json:"state"`
	Reasons  []why.Reason   `json:"-"`
	Followed bool           `json:"followed,omitempty"` // the person said they did it
	Voided   bool           `json:"voided,omitempty"`   // taken back: the shot was undone or corrected
}

// adviceRecord is the on-disk form of [Said].
type adviceRecord struct {
	Said
	advisor.Expect
	Reasons []reasonRecord `json:"reasons,omitempty"`
	timeRecord
}

// reasonRecord is the on-disk form of a [why.Reason].
type reasonRecord struct {
	Name     why.Reason   `json:"name"`
	Evidence why.Evidence `json:"evidence"`
}

func newAdviceRecord(s Said) (adviceRecord, error) {
	at, err := newTimeRecord(s.At)
	r := adviceRecord{Said: s, Expect: s.Expect, timeRecord: at}
	for _, reason := range s.Reasons {
		r.Reasons = append(r.Reasons, reasonRecord{reason, reason.Evidence()})
	}
	return r, err
}

func (r adviceRecord) said(entry bar.EntryID, zone *time.Location) (Said, error) {
	at, err := r.time(zone)
	s := r.Said
	s.Entry, s.At, s.Expect = entry, at, r.Expect
	for _, reason := range r.Reasons {
		s.Reasons = append(s.Reasons, reason.Name)
	}
	return s, err
}

// PutAdvice records what was said about an entry, in place of what was
// recorded for it before.
func (tx *Tx) PutAdvice(here bar.ID, s Said) error {
	r, err := newAdviceRecord(s)
	if err := errors.Join(there(tx, here, bucketCoffees, "coffee", s.Coffee), err); err != nil {
		return fmt.Errorf("advice on entry %d: %w", s.Entry, err)
	}
	old, found, err := tx.AdviceOf(here, s.Entry)
	if err != nil {
		return err
	}
	if found {
		was, err1 := saidKey(old)
		if err := errors.Join(err1, tx.drop(here, bucketAdviceByCoffee, was)); err != nil {
			return err
		}
	}
	key, err := saidKey(s)
	return errors.Join(err,
		tx.index(here, bucketAdviceByCoffee, key, nil),
		tx.write(here, bucketAdvice, idKey(s.Entry), r))
}

// saidKey is the key of s among the advice on its coffee.
func saidKey(s Said) ([]byte, error) {
	at, err := instantOf(s.At)
	return ownedKey(s.Coffee, at, s.Entry), err
}

// AdviceOf returns what was said about an entry, or false if nothing was.
func (tx *Tx) AdviceOf(here bar.ID, entry bar.EntryID) (Said, bool, error) {
	var r adviceRecord
	found, err := tx.read(here, bucketAdvice, idKey(entry), &r)
	if err != nil || !found {
		return Said{}, false, err
	}
	zone, err1 := tx.zoneOf(here)
	s, err2 := r.said(entry, zone)
	if err := errors.Join(err1, err2); err != nil {
		return Said{}, false, fmt.Errorf("bar %d: advice on entry %d: %w", here, entry, err)
	}
	return s, true, nil
}

// LastAdvice returns what was said last about a coffee, voided or not, or
// false if nothing was.
func (tx *Tx) LastAdvice(here bar.ID, coffee bar.CoffeeID) (Said, bool, error) {
	last, err := tx.LastAdvised(here, coffee)
	if err != nil || last == 0 {
		return Said{}, false, err
	}
	return tx.AdviceOf(here, last)
}

// LastAdvised returns the entry that the last advice on a coffee was about, 0
// if there was none.
func (tx *Tx) LastAdvised(here bar.ID, coffee bar.CoffeeID) (bar.EntryID, error) {
	index, err := tx.in(here, bucketAdviceByCoffee)
	if err != nil {
		return 0, err
	}
	for key := range owned(index, idKey(coffee), maxInstant, minInstant) {
		_, last := readEntryKey(key)
		return last, nil
	}
	return 0, nil
}

// AdviceSince returns what was said about a coffee since an instant, oldest
// first, without what was taken back.
func (tx *Tx) AdviceSince(here bar.ID, coffee bar.CoffeeID, since time.Time) ([]Said, error) {
	from, err1 := instantOf(since)
	index, err2 := tx.in(here, bucketAdviceByCoffee)
	if err := errors.Join(err1, err2); err != nil {
		return nil, err
	}
	var list []Said
	for key := range owned(index, idKey(coffee), maxInstant, from) {
		_, id := readEntryKey(key)
		s, found, err := tx.AdviceOf(here, id)
		if err != nil {
			return nil, err
		}
		if found && !s.Voided {
			list = append(list, s)
		}
	}
	slices.Reverse(list)
	return list, nil
}
