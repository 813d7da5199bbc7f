package store

import (
	"fmt"

	"shothand/advisor"
)

// coffeeRecord is the on-disk form of an [advisor.Coffee]. Add fields; never
// rename them.
type coffeeRecord struct {
	Name    string      `json:"name"`
	Grinder uint64      `json:"grinder,omitempty"`
	Dose    float64     `json:"dose_g"`
	Yield   float64     `json:"yield_g"`
	Low     float64     `json:"low_s"`
	High    float64     `json:"high_s"`
	Soft    bool        `json:"soft,omitempty"`
	Roasted advisor.Day `json:"roasted,omitempty"`
	Retired bool        `json:"retired,omitempty"`
}

func newCoffeeRecord(c advisor.Coffee) coffeeRecord {
	return coffeeRecord{
		Name: c.Name, Grinder: uint64(c.Grinder),
		Dose: float64(c.Recipe.Dose), Yield: float64(c.Recipe.Yield),
		Low: float64(c.Recipe.Low), High: float64(c.Recipe.High), Soft: c.Recipe.Soft,
		Roasted: c.Roasted, Retired: c.Retired,
	}
}

func (r coffeeRecord) coffee(id advisor.CoffeeID) (advisor.Coffee, error) {
	return advisor.Coffee{
		ID: id, Name: r.Name, Grinder: advisor.GrinderID(r.Grinder),
		Recipe: advisor.Recipe{
			Dose: advisor.Grams(r.Dose), Yield: advisor.Grams(r.Yield),
			Low: advisor.Seconds(r.Low), High: advisor.Seconds(r.High), Soft: r.Soft,
		},
		Roasted: r.Roasted, Retired: r.Retired,
	}, nil
}

// grinderRecord is the on-disk form of an [advisor.Grinder]. Add fields; never
// rename them.
type grinderRecord struct {
	Name  string  `json:"name"`
	Step  float64 `json:"step_dial"`
	Finer string  `json:"finer"`
	Min   float64 `json:"min_dial"`
	Max   float64 `json:"max_dial"`
	Worth float64 `json:"worth_s,omitempty"`
	Guess bool    `json:"step_guessed,omitempty"`
	Gone  bool    `json:"retired,omitempty"`
}

func newGrinderRecord(g advisor.Grinder) (grinderRecord, error) {
	finer, err := word(g.Finer, directionWord)
	return grinderRecord{
		Name: g.Name, Step: g.Step, Finer: finer,
		Min: float64(g.Min), Max: float64(g.Max), Worth: float64(g.Worth),
		Guess: g.Guessed, Gone: g.Retired,
	}, err
}

func (r grinderRecord) grinder(id advisor.GrinderID) (advisor.Grinder, error) {
	finer, err := choice(r.Finer, directionWord)
	return advisor.Grinder{
		ID: id, Name: r.Name, Step: r.Step, Finer: finer,
		Min: advisor.Dial(r.Min), Max: advisor.Dial(r.Max), Worth: advisor.Seconds(r.Worth),
		Guessed: r.Guess, Retired: r.Gone,
	}, err
}

// personRecord is the on-disk form of an [advisor.Person]. Add fields; never
// rename them.
type personRecord struct {
	Account string `json:"account"`
	Name    string `json:"name"`
}

func (r personRecord) person(id advisor.PersonID) (advisor.Person, error) {
	return advisor.Person{ID: id, Account: r.Account, Name: r.Name}, nil
}

// things returns all that lies in a bucket of numbered records.
func things[R any, ID ~uint64, T any](tx *Tx, bar advisor.BarID, bucket string, thing func(R, ID) (T, error)) ([]T, error) {
	b, err := tx.in(bar, bucket)
	if err != nil {
		return nil, err
	}
	var all []T
	err = b.ForEach(func(key, value []byte) error {
		var r R
		if err := decode(key, value, &r); err != nil {
			return fmt.Errorf("bar %d: %s %x: %w", bar, bucket, key, err)
		}
		t, err := thing(r, readID[ID](key))
		if err != nil {
			return fmt.Errorf("bar %d: %s %x: %w", bar, bucket, key, err)
		}
		all = append(all, t)
		return nil
	})
	return all, err
}

// putThing writes a numbered record, with the next number if *id is zero.
func putThing[ID ~uint64](tx *Tx, bar advisor.BarID, bucket string, id *ID, record any) error {
	b, err := tx.in(bar, bucket)
	if err != nil {
		return err
	}
	if err := assign(b, id); err != nil {
		return err
	}
	return tx.write(bar, bucket, idKey(*id), record)
}

// Coffees returns the coffees of a bar, retired ones too, in the order they
// were added.
func (tx *Tx) Coffees(bar advisor.BarID) ([]advisor.Coffee, error) {
	return things(tx, bar, bucketCoffees, coffeeRecord.coffee)
}

// PutCoffee adds c, or replaces the coffee with its id. It sets the id if it
// is zero; being called anew by [Store.Update], it must be given a copy of its
// own each time.
func (tx *Tx) PutCoffee(bar advisor.BarID, c *advisor.Coffee) error {
	return putThing(tx, bar, bucketCoffees, &c.ID, newCoffeeRecord(*c))
}

// Grinders returns the grinders of a bar, in the order they were added.
func (tx *Tx) Grinders(bar advisor.BarID) ([]advisor.Grinder, error) {
	return things(tx, bar, bucketGrinders, grinderRecord.grinder)
}

// PutGrinder adds g, or replaces the grinder with its id. It sets the id as
// [Tx.PutCoffee] does.
func (tx *Tx) PutGrinder(bar advisor.BarID, g *advisor.Grinder) error {
	r, err := newGrinderRecord(*g)
	if err != nil {
		return err
	}
	return putThing(tx, bar, bucketGrinders, &g.ID, r)
}

// People returns the people of a bar, in the order they came.
func (tx *Tx) People(bar advisor.BarID) ([]advisor.Person, error) {
	return things(tx, bar, bucketPeople, personRecord.person)
}

// PersonOf returns the person with that account in a bar, and adds them if
// they are new. A name that is not empty replaces the one known.
func (tx *Tx) PersonOf(bar advisor.BarID, account, name string) (advisor.Person, error) {
	known, err := tx.value(bar, bucketAccounts, textKey(account))
	if err != nil {
		return advisor.Person{}, err
	}
	p := advisor.Person{Account: text(account)}
	if known != nil {
		p.ID = readID[advisor.PersonID](known)
		var r personRecord
		if _, err := tx.read(bar, bucketPeople, idKey(p.ID), &r); err != nil {
			return advisor.Person{}, err
		}
		p.Name = r.Name
		if name = text(name); name == "" || name == p.Name {
			return p, nil
		}
	}
	p.Name = text(name)
	if err := putThing(tx, bar, bucketPeople, &p.ID, personRecord{Account: p.Account, Name: p.Name}); err != nil {
		return advisor.Person{}, err
	}
	return p, tx.index(bar, bucketAccounts, textKey(account), idKey(p.ID))
}
