package store

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/closed"
)

// A Deed is something that the bot does once on a bar's day without being
// asked: it reminds, opens the day's thread, tells of a drift, says what a day
// came to. It is written down before it is done.
type Deed struct {
	Name  string    `json:"name"` // "reminder"
	State DeedState `json:"state"`
	Kind  string    `json:"kind,omitempty"`  // of the post
	Post  string    `json:"post,omitempty"`  // its id, once it is sent
	Shown string    `json:"shown,omitempty"` // a digest of what the post says
	At    time.Time `json:"-"`
}

// A DeedState is how far a deed has come.
type DeedState int

// The states.
const (
	Intended DeedState = iota // to be sent; perhaps sent, but not known to be
	Done
	Passed // there was nothing to do
)

func deedStates() []string { return []string{Intended: "intended", Done: "done", Passed: "passed"} }

// MarshalText names s, as records do.
func (s DeedState) MarshalText() ([]byte, error) { return closed.Marshal(s, deedStates()) }

// UnmarshalText sets s to the state of that name.
func (s *DeedState) UnmarshalText(text []byte) error { return closed.Unmarshal(s, text, deedStates()) }

// dayRecord is the on-disk form of the deeds of a day.
type dayRecord struct {
	Deeds []deedRecord `json:"deeds"`
}

type deedRecord struct {
	Deed
	timeRecord
}

func newDeedRecord(d Deed) (deedRecord, error) {
	at, err := newTimeRecord(d.At)
	return deedRecord{d, at}, err
}

func (r deedRecord) deed(zone *time.Location) (Deed, error) {
	at, err := r.time(zone)
	r.Deed.At = at
	return r.Deed, err
}

// Deeds returns what the bot has done on a day, oldest first.
func (tx *Tx) Deeds(here bar.ID, day bar.Day) ([]Deed, error) {
	record, err1 := tx.dayRecord(here, day)
	zone, err2 := tx.zoneOf(here)
	if err := errors.Join(err1, err2); err != nil {
		return nil, err
	}
	var deeds []Deed
	for _, r := range record.Deeds {
		d, err := r.deed(zone)
		if err != nil {
			return nil, fmt.Errorf("bar %d: day %s: %w", here, day, err)
		}
		deeds = append(deeds, d)
	}
	return deeds, nil
}

// PutDeed records a deed of a day, in place of the one of its name.
func (tx *Tx) PutDeed(here bar.ID, day bar.Day, d Deed) error {
	record, err := tx.dayRecord(here, day)
	if err != nil {
		return err
	}
	r, err := newDeedRecord(d)
	if err != nil {
		return fmt.Errorf("bar %d: day %s: %s: %w", here, day, d.Name, err)
	}
	if i := slices.IndexFunc(record.Deeds, func(old deedRecord) bool { return old.Name == text(r.Name) }); i >= 0 {
		record.Deeds[i] = r
	} else {
		record.Deeds = append(record.Deeds, r)
	}
	return tx.putDay(here, day, record)
}

func (tx *Tx) putDay(here bar.ID, day bar.Day, record dayRecord) error {
	return tx.write(here, bucketDays, textKey(string(day)), record)
}

func (tx *Tx) dayRecord(here bar.ID, day bar.Day) (record dayRecord, err error) {
	_, err = tx.read(here, bucketDays, textKey(string(day)), &record)
	return record, err
}
