package store

import (
	"fmt"

	"shothand/advisor/bar"
)

// coffeeRecord is the on-disk form of a [bar.Coffee].
type coffeeRecord struct {
	coffeeFields
	bar.Recipe
	bar.Basket
}

type coffeeFields struct {
	ID      bar.CoffeeID  `json:"-"`
	Name    string        `json:"name"`
	Grinder bar.GrinderID `json:"grinder,omitempty"`
	Recipe  bar.Recipe    `json:"-"`
	Roasted bar.Day       `json:"roasted,omitempty"`
	Retired bool          `json:"retired,omitempty"`

	Roast       bar.Roast   `json:"roast,omitzero"`
	Aim         bar.Aim     `json:"aim,omitzero"`
	For         bar.Drink   `json:"for,omitzero"` // left out: black
	Milk        bar.Recipe  `json:"milk,omitzero"`
	Basket      bar.Basket  `json:"-"`
	PreInfusion bar.Seconds `json:"pre_infusion_s,omitempty"`
	Price       float64     `json:"price_per_kg,omitempty"`
}

func newCoffeeRecord(c bar.Coffee) coffeeRecord {
	return coffeeRecord{coffeeFields(c), c.Recipe, c.Basket}
}

func (r coffeeRecord) coffee(id bar.CoffeeID) bar.Coffee {
	c := bar.Coffee(r.coffeeFields)
	c.ID, c.Recipe, c.Basket = id, r.Recipe, r.Basket
	return c
}

// grinderRecord is the on-disk form of a [bar.Grinder].
type grinderRecord struct {
	ID      bar.GrinderID `json:"-"`
	Name    string        `json:"name"`
	Step    float64       `json:"step_dial"`
	Finer   bar.Direction `json:"finer"`
	Min     bar.Dial      `json:"min_dial"`
	Max     bar.Dial      `json:"max_dial"`
	Worth   bar.Seconds   `json:"worth_s,omitempty"`
	Guessed bool          `json:"step_guessed,omitempty"`
	Retired bool          `json:"retired,omitempty"`

	Doser   bar.Doser `json:"doser,omitzero"`
	Purge   bar.Grams `json:"purge_g,omitempty"`
	Small   int       `json:"small_steps,omitempty"`
	Letters bool      `json:"small_lettered,omitempty"`
	Wraps   float64   `json:"turn_dial,omitempty"`
	Plus    bool      `json:"plus_is_half,omitempty"`
}

func newGrinderRecord(g bar.Grinder) grinderRecord { return grinderRecord(g) }

func (r grinderRecord) grinder(id bar.GrinderID) bar.Grinder {
	r.ID = id
	return bar.Grinder(r)
}

// personRecord is the on-disk form of a [bar.Person].
type personRecord struct {
	ID      bar.PersonID `json:"-"`
	Account string       `json:"account"`
	Name    string       `json:"name"`
	Mention bool         `json:"mention,omitempty"`
}

func (r personRecord) person(id bar.PersonID) bar.Person {
	r.ID = id
	return bar.Person(r)
}

// things returns all that lies in a bucket of numbered records.
func things[R any, ID ~uint64, T any](tx *Tx, here bar.ID, bucket string, thing func(R, ID) T) ([]T, error) {
	b, err := tx.in(here, bucket)
	if err != nil {
		return nil, err
	}
	var all []T
	err = b.ForEach(func(key, value []byte) error {
		if len(key) != 8 {
			return fmt.Errorf("bar %d: %s %x: %w", here, bucket, key, errDamaged)
		}
		t, err := readThing(tx, thingKey{here, bucket, readID[uint64](key)}, value, func() (t T, err error) {
			var r R
			if err := decode(key, value, &r); err != nil {
				return t, err
			}
			return thing(r, readID[ID](key)), nil
		})
		if err != nil {
			return fmt.Errorf("bar %d: %s %x: %w", here, bucket, key, err)
		}
		all = append(all, t)
		return nil
	})
	return all, err
}

// putThing writes a numbered record, with the next number if *id is zero.
func putThing[ID ~uint64](tx *Tx, here bar.ID, bucket string, id *ID, record any) error {
	b, err := tx.in(here, bucket)
	if err != nil {
		return err
	}
	if err := assign(b, id); err != nil {
		return err
	}
	return tx.write(here, bucket, idKey(*id), record)
}

// Coffees returns the coffees of a bar, retired ones too, in the order they
// were added.
func (tx *Tx) Coffees(here bar.ID) ([]bar.Coffee, error) {
	return things(tx, here, bucketCoffees, coffeeRecord.coffee)
}

// PutCoffee adds c, or replaces the coffee with its id. It sets the id if it
// is zero; being called anew by [Store.Update], it must be given a copy of its
// own each time.
func (tx *Tx) PutCoffee(here bar.ID, c *bar.Coffee) error {
	return putThing(tx, here, bucketCoffees, &c.ID, newCoffeeRecord(*c))
}

// Grinders returns the grinders of a bar, in the order they were added.
func (tx *Tx) Grinders(here bar.ID) ([]bar.Grinder, error) {
	return things(tx, here, bucketGrinders, grinderRecord.grinder)
}

// PutGrinder adds g, or replaces the grinder with its id. It sets the id as
// [Tx.PutCoffee] does.
func (tx *Tx) PutGrinder(here bar.ID, g *bar.Grinder) error {
	return putThing(tx, here, bucketGrinders, &g.ID, newGrinderRecord(*g))
}

// People returns the people of a bar, in the order they came.
func (tx *Tx) People(here bar.ID) ([]bar.Person, error) {
	return things(tx, here, bucketPeople, personRecord.person)
}

// PersonOf returns the person with that account in a bar, and adds them if
// they are new. A name that is not empty replaces the one known.
func (tx *Tx) PersonOf(here bar.ID, account, name string) (bar.Person, error) {
	known, err := tx.value(here, bucketAccounts, textKey(account))
	if err != nil {
		return bar.Person{}, err
	}
	p := bar.Person{Account: text(account)}
	if known != nil {
		var r personRecord
		if _, err := tx.read(here, bucketPeople, known, &r); err != nil {
			return bar.Person{}, err
		}
		p = r.person(readID[bar.PersonID](known))
		if name = text(name); name == "" || name == p.Name {
			return p, nil
		}
	}
	p.Name = text(name)
	if err := putThing(tx, here, bucketPeople, &p.ID, personRecord(p)); err != nil {
		return bar.Person{}, err
	}
	return p, tx.index(here, bucketAccounts, textKey(account), idKey(p.ID))
}

// PutPerson replaces what is known of a person.
func (tx *Tx) PutPerson(here bar.ID, p bar.Person) error {
	return putThing(tx, here, bucketPeople, &p.ID, personRecord(p))
}
