package store

import (
	"fmt"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// coffeeRecord is the on-disk form of a [bar.Coffee], its recipe and its basket
// beside its other fields.
type coffeeRecord struct {
	bar.Coffee
	bar.Recipe
	bar.Basket
}

func newCoffeeRecord(c bar.Coffee) coffeeRecord { return coffeeRecord{c, c.Recipe, c.Basket} }

func (r coffeeRecord) coffee(id bar.CoffeeID) bar.Coffee {
	c := r.Coffee
	c.ID, c.Recipe, c.Basket = id, r.Recipe, r.Basket
	return c
}

// grinderAs returns g with its id, which is no field of a record.
func grinderAs(g bar.Grinder, id bar.GrinderID) bar.Grinder { g.ID = id; return g }

func deviceAs(d bar.Device, id bar.DeviceID) bar.Device { d.ID = id; return d }

// things returns all that lies in a bucket of numbered records.
func things[R any, ID ~uint64, T any](tx *Tx, here bar.ID, bucket string, thing func(R, ID) T) ([]T, error) {
	b, err := tx.in(here, bucket)
	if err != nil {
		return nil, err
	}
	var all []T
	err = b.ForEach(func(key, value []byte) error {
		if len(key) != 8 {
			return fmt.Errorf("bar %d: %s %x: %w", here, bucket, key, file.ErrDamaged)
		}
		t, err := readThing(tx, thingKey{here, bucket, readID[uint64](key)}, value, func() (t T, err error) {
			var r R
			err = file.Decode(key, value, &r)
			return thing(r, readID[ID](key)), err
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
	return things(tx, here, bucketGrinders, grinderAs)
}

// PutGrinder adds g, or replaces the grinder with its id. It sets the id as
// [Tx.PutCoffee] does.
func (tx *Tx) PutGrinder(here bar.ID, g *bar.Grinder) error {
	return putThing(tx, here, bucketGrinders, &g.ID, *g)
}

// Devices returns the devices of a bar, retired ones too, in the order they
// were added.
func (tx *Tx) Devices(here bar.ID) ([]bar.Device, error) {
	return things(tx, here, bucketDevices, deviceAs)
}

// PutDevice adds d, or replaces the device with its id. It sets the id as
// [Tx.PutCoffee] does.
func (tx *Tx) PutDevice(here bar.ID, d *bar.Device) error {
	return putThing(tx, here, bucketDevices, &d.ID, *d)
}
