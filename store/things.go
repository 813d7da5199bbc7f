package store

import (
	"fmt"

	"shothand/advisor/bar"
)

// coffeeRecord is the on-disk form of an [bar.Coffee]. Add fields; never
// rename them.
type coffeeRecord struct {
	Name    string `json:"name"`
	Grinder uint64 `json:"grinder,omitempty"`
	recipeRecord
	Roasted bar.Day `json:"roasted,omitempty"`
	Retired bool    `json:"retired,omitempty"`

	Roast       string       `json:"roast,omitempty"`
	Aim         string       `json:"aim,omitempty"`
	For         string       `json:"for,omitempty"` // left out: black
	Milk        recipeRecord `json:"milk,omitzero"`
	BasketLow   float64      `json:"basket_low_g,omitempty"`
	BasketHigh  float64      `json:"basket_high_g,omitempty"`
	PreInfusion float64      `json:"pre_infusion_s,omitempty"`
}

// recipeRecord is the on-disk form of an [bar.Recipe]. Add fields; never
// rename them.
type recipeRecord struct {
	Dose  float64 `json:"dose_g"`
	Yield float64 `json:"yield_g"`
	Low   float64 `json:"low_s"`
	High  float64 `json:"high_s"`
	Soft  bool    `json:"soft,omitempty"`
}

func newRecipeRecord(r bar.Recipe) recipeRecord {
	return recipeRecord{Dose: float64(r.Dose), Yield: float64(r.Yield), Low: float64(r.Low), High: float64(r.High), Soft: r.Soft}
}

func (r recipeRecord) recipe() bar.Recipe {
	return bar.Recipe{
		Dose: bar.Grams(r.Dose), Yield: bar.Grams(r.Yield),
		Low: bar.Seconds(r.Low), High: bar.Seconds(r.High), Soft: r.Soft,
	}
}

func newCoffeeRecord(c bar.Coffee) (coffeeRecord, error) {
	f := first{}
	r := coffeeRecord{
		Name: c.Name, Grinder: uint64(c.Grinder), recipeRecord: newRecipeRecord(c.Recipe),
		Roasted: c.Roasted, Retired: c.Retired, Milk: newRecipeRecord(c.Milk),
		BasketLow: float64(c.Basket.Low), BasketHigh: float64(c.Basket.High), PreInfusion: float64(c.PreInfusion),
	}
	r.Roast = named(&f, c.Roast, roastWord)
	r.Aim = named(&f, c.Aim, aimWord)
	r.For = named(&f, c.For, drinkWord)
	return r, f.err
}

func (r coffeeRecord) coffee(id bar.CoffeeID) (bar.Coffee, error) {
	f := first{}
	c := bar.Coffee{
		ID: id, Name: r.Name, Grinder: bar.GrinderID(r.Grinder), Recipe: r.recipe(),
		Roasted: r.Roasted, Retired: r.Retired, Milk: r.Milk.recipe(),
		Basket:      bar.Basket{Low: bar.Grams(r.BasketLow), High: bar.Grams(r.BasketHigh)},
		PreInfusion: bar.Seconds(r.PreInfusion),
	}
	c.Roast = known(&f, r.Roast, roastWord)
	c.Aim = known(&f, r.Aim, aimWord)
	c.For = known(&f, r.For, drinkWord)
	return c, f.err
}

// grinderRecord is the on-disk form of an [bar.Grinder]. Add fields; never
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

	Doser   string  `json:"doser,omitempty"`
	Purge   float64 `json:"purge_g,omitempty"`
	Small   int     `json:"small_steps,omitempty"`
	Letters bool    `json:"small_lettered,omitempty"`
	Wraps   float64 `json:"turn_dial,omitempty"`
	Plus    bool    `json:"plus_is_half,omitempty"`
}

func newGrinderRecord(g bar.Grinder) (grinderRecord, error) {
	f := first{}
	r := grinderRecord{
		Name: g.Name, Step: g.Step,
		Min: float64(g.Min), Max: float64(g.Max), Worth: float64(g.Worth),
		Guess: g.Guessed, Gone: g.Retired,
		Purge: float64(g.Purge), Small: g.Small, Letters: g.Letters, Wraps: g.Wraps, Plus: g.Plus,
	}
	r.Finer = keep(&f, func() (string, error) { return word(g.Finer, directionWord) })
	r.Doser = named(&f, g.Doser, doserWord)
	return r, f.err
}

func (r grinderRecord) grinder(id bar.GrinderID) (bar.Grinder, error) {
	f := first{}
	g := bar.Grinder{
		ID: id, Name: r.Name, Step: r.Step,
		Min: bar.Dial(r.Min), Max: bar.Dial(r.Max), Worth: bar.Seconds(r.Worth),
		Guessed: r.Guess, Retired: r.Gone,
		Purge: bar.Grams(r.Purge), Small: r.Small, Letters: r.Letters, Wraps: r.Wraps, Plus: r.Plus,
	}
	g.Finer = keep(&f, func() (bar.Direction, error) { return choice(r.Finer, directionWord) })
	g.Doser = known(&f, r.Doser, doserWord)
	return g, f.err
}

// personRecord is the on-disk form of an [bar.Person]. Add fields; never
// rename them.
type personRecord struct {
	Account string `json:"account"`
	Name    string `json:"name"`
	Mention bool   `json:"mention,omitempty"`
}

func newPersonRecord(p bar.Person) personRecord {
	return personRecord{Account: text(p.Account), Name: text(p.Name), Mention: p.Mention}
}

func (r personRecord) person(id bar.PersonID) (bar.Person, error) {
	return bar.Person{ID: id, Account: r.Account, Name: r.Name, Mention: r.Mention}, nil
}

// things returns all that lies in a bucket of numbered records.
func things[R any, ID ~uint64, T any](tx *Tx, bar bar.ID, bucket string, thing func(R, ID) (T, error)) ([]T, error) {
	b, err := tx.in(bar, bucket)
	if err != nil {
		return nil, err
	}
	var all []T
	err = b.ForEach(func(key, value []byte) error {
		if len(key) != 8 {
			return fmt.Errorf("bar %d: %s %x: %w", bar, bucket, key, errDamaged)
		}
		t, err := readThing(tx, thingKey{bar, bucket, readID[uint64](key)}, value, func() (t T, err error) {
			var r R
			if err := decode(key, value, &r); err != nil {
				return t, err
			}
			return thing(r, readID[ID](key))
		})
		if err != nil {
			return fmt.Errorf("bar %d: %s %x: %w", bar, bucket, key, err)
		}
		all = append(all, t)
		return nil
	})
	return all, err
}

// putThing writes a numbered record, with the next number if *id is zero.
func putThing[ID ~uint64](tx *Tx, bar bar.ID, bucket string, id *ID, record any) error {
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
func (tx *Tx) Coffees(bar bar.ID) ([]bar.Coffee, error) {
	return things(tx, bar, bucketCoffees, coffeeRecord.coffee)
}

// PutCoffee adds c, or replaces the coffee with its id. It sets the id if it
// is zero; being called anew by [Store.Update], it must be given a copy of its
// own each time.
func (tx *Tx) PutCoffee(bar bar.ID, c *bar.Coffee) error {
	r, err := newCoffeeRecord(*c)
	if err != nil {
		return err
	}
	return putThing(tx, bar, bucketCoffees, &c.ID, r)
}

// Grinders returns the grinders of a bar, in the order they were added.
func (tx *Tx) Grinders(bar bar.ID) ([]bar.Grinder, error) {
	return things(tx, bar, bucketGrinders, grinderRecord.grinder)
}

// PutGrinder adds g, or replaces the grinder with its id. It sets the id as
// [Tx.PutCoffee] does.
func (tx *Tx) PutGrinder(bar bar.ID, g *bar.Grinder) error {
	r, err := newGrinderRecord(*g)
	if err != nil {
		return err
	}
	return putThing(tx, bar, bucketGrinders, &g.ID, r)
}

// People returns the people of a bar, in the order they came.
func (tx *Tx) People(bar bar.ID) ([]bar.Person, error) {
	return things(tx, bar, bucketPeople, personRecord.person)
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
		p.ID = readID[bar.PersonID](known)
		var r personRecord
		if _, err := tx.read(here, bucketPeople, idKey(p.ID), &r); err != nil {
			return bar.Person{}, err
		}
		p.Name, p.Mention = r.Name, r.Mention
		if name = text(name); name == "" || name == p.Name {
			return p, nil
		}
	}
	p.Name = text(name)
	if err := putThing(tx, here, bucketPeople, &p.ID, newPersonRecord(p)); err != nil {
		return bar.Person{}, err
	}
	return p, tx.index(here, bucketAccounts, textKey(account), idKey(p.ID))
}

// PutPerson replaces what is known of a person.
func (tx *Tx) PutPerson(bar bar.ID, p bar.Person) error {
	return putThing(tx, bar, bucketPeople, &p.ID, newPersonRecord(p))
}
