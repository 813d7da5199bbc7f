package store

import (
	"fmt"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
)

// Said is advice as it was said, for looking back.
type Said struct {
	Entry    bar.EntryID // the shot it answered
	Coffee   bar.CoffeeID
	Grinder  bar.GrinderID
	Person   bar.PersonID // to whom
	At       time.Time
	Model    string // version of the model that gave it
	Lever    bar.Lever
	From, To float64
	Unit     advisor.Unit
	Purge    bool
	Expect   advisor.Expect
	Sure     float64
	State    advisor.State
	Reasons  []why.Reason
	Followed bool // the person said they did it
	Voided   bool // taken back: the shot was undone or corrected
}

// adviceRecord is the on-disk form of [Said]. Add fields; never rename them.
type adviceRecord struct {
	Coffee   uint64         `json:"coffee"`
	Grinder  uint64         `json:"grinder,omitempty"`
	Person   uint64         `json:"person,omitempty"`
	Model    string         `json:"model,omitempty"`
	Lever    string         `json:"lever"`
	From     float64        `json:"from"` // in Unit
	To       float64        `json:"to"`   // in Unit
	Unit     string         `json:"unit"`
	Purge    bool           `json:"purge,omitempty"`
	Time     float64        `json:"expect_time_s"`
	Low      float64        `json:"expect_low_s"`
	High     float64        `json:"expect_high_s"`
	Level    float64        `json:"expect_level"`
	Sure     float64        `json:"sure"`
	State    string         `json:"state"`
	Reasons  []reasonRecord `json:"reasons,omitempty"`
	Followed bool           `json:"followed,omitempty"`
	Voided   bool           `json:"voided,omitempty"`
	timeRecord
}

// reasonRecord is the on-disk form of an [why.Reason].
type reasonRecord struct {
	Name     why.Reason   `json:"name"`
	Evidence why.Evidence `json:"evidence"`
}

func newAdviceRecord(s Said) (adviceRecord, error) {
	f := first{}
	r := adviceRecord{
		Coffee: uint64(s.Coffee), Grinder: uint64(s.Grinder), Person: uint64(s.Person), Model: s.Model,
		Lever: keep(&f, func() (string, error) { return word(s.Lever, bar.Lever.String) }),
		From:  s.From, To: s.To,
		Unit: keep(&f, func() (string, error) { return word(s.Unit, advisor.Unit.String) }), Purge: s.Purge,
		Time: float64(s.Expect.Time), Low: float64(s.Expect.Low), High: float64(s.Expect.High),
		Level: s.Expect.Level, Sure: s.Sure,
		State:    keep(&f, func() (string, error) { return word(s.State, advisor.State.String) }),
		Followed: s.Followed, Voided: s.Voided,
		timeRecord: keep(&f, func() (timeRecord, error) { return newTimeRecord(s.At) }),
	}
	for _, reason := range s.Reasons {
		r.Reasons = append(r.Reasons, reasonRecord{reason, reason.Evidence()})
	}
	return r, f.err
}

func (r adviceRecord) said(entry bar.EntryID, zone *time.Location) (Said, error) {
	f := first{}
	s := Said{
		Entry: entry, Coffee: bar.CoffeeID(r.Coffee), Grinder: bar.GrinderID(r.Grinder),
		Person: bar.PersonID(r.Person), Model: r.Model,
		At:    keep(&f, func() (time.Time, error) { return r.time(zone) }),
		Lever: keep(&f, func() (bar.Lever, error) { return choice(r.Lever, bar.Lever.String) }),
		From:  r.From, To: r.To,
		Unit: keep(&f, func() (advisor.Unit, error) { return choice(r.Unit, advisor.Unit.String) }), Purge: r.Purge,
		Expect: advisor.Expect{
			Time: bar.Seconds(r.Time), Low: bar.Seconds(r.Low), High: bar.Seconds(r.High), Level: r.Level,
		},
		Sure:     r.Sure,
		State:    keep(&f, func() (advisor.State, error) { return choice(r.State, advisor.State.String) }),
		Followed: r.Followed, Voided: r.Voided,
	}
	for _, reason := range r.Reasons {
		s.Reasons = append(s.Reasons, reason.Name)
	}
	return s, f.err
}

// PutAdvice records what was said about an entry, in place of what was
// recorded for it before.
func (tx *Tx) PutAdvice(bar bar.ID, s Said) error {
	if err := there(tx, bar, bucketCoffees, "coffee", s.Coffee); err != nil {
		return fmt.Errorf("advice on entry %d: %w", s.Entry, err)
	}
	r, err := newAdviceRecord(s)
	if err != nil {
		return fmt.Errorf("advice on entry %d: %w", s.Entry, err)
	}
	old, found, err := tx.AdviceOf(bar, s.Entry)
	if err != nil {
		return err
	}
	if found {
		key, err := saidKey(old)
		if err != nil {
			return err
		}
		if err := tx.drop(bar, bucketAdviceByCoffee, key); err != nil {
			return err
		}
	}
	key, err := saidKey(s)
	if err != nil {
		return err
	}
	if err := tx.index(bar, bucketAdviceByCoffee, key, nil); err != nil {
		return err
	}
	return tx.write(bar, bucketAdvice, idKey(s.Entry), r)
}

// saidKey is the key of s among the advice on its coffee.
func saidKey(s Said) ([]byte, error) {
	at, err := instantOf(s.At)
	return ownedKey(s.Coffee, at, s.Entry), err
}

// AdviceOf returns what was said about an entry, or false if nothing was.
func (tx *Tx) AdviceOf(bar bar.ID, entry bar.EntryID) (Said, bool, error) {
	var r adviceRecord
	found, err := tx.read(bar, bucketAdvice, idKey(entry), &r)
	if err != nil || !found {
		return Said{}, false, err
	}
	zone, err := tx.zoneOf(bar)
	if err != nil {
		return Said{}, false, err
	}
	s, err := r.said(entry, zone)
	if err != nil {
		return Said{}, false, fmt.Errorf("bar %d: advice on entry %d: %w", bar, entry, err)
	}
	return s, true, nil
}

// LastAdvice returns what was said last about a coffee, voided or not, or
// false if nothing was.
func (tx *Tx) LastAdvice(bar bar.ID, coffee bar.CoffeeID) (Said, bool, error) {
	last, err := tx.LastAdvised(bar, coffee)
	if err != nil || last == 0 {
		return Said{}, false, err
	}
	return tx.AdviceOf(bar, last)
}

// LastAdvised returns the entry that the last advice on a coffee was about, 0
// if there was none.
func (tx *Tx) LastAdvised(bar bar.ID, coffee bar.CoffeeID) (last bar.EntryID, err error) {
	index, err := tx.in(bar, bucketAdviceByCoffee)
	if err != nil {
		return 0, err
	}
	owned(index, idKey(coffee), minInstant, func(key, _ []byte) bool {
		_, last = readEntryKey(key)
		return false
	})
	return last, nil
}
