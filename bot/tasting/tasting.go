package tasting

import (
	"fmt"
	"hash/fnv"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/say"
	"shothand/bot/say/bycup"
	"shothand/store"
)

// Records are those of the tastings of one bar.
type Records struct {
	See     func(func(*store.Tx) error) error // reads them
	Bar     bar.ID
	Coffees []bar.Coffee
	People  []bar.Person
}

// Of returns all tastings of a coffee, oldest first.
func (r Records) Of(c bar.CoffeeID) ([]layers.Table, error) {
	var all []layers.Table
	err := r.See(func(tx *store.Tx) error {
		entries, err := tx.LayersOf(r.Bar, c)
		for _, e := range entries {
			b := layers.Table{Entry: e, Begun: e.What.(bar.Layers)}
			b.Coffee, _ = bar.CoffeeOf(r.Coffees, c)
			if b.Sips, err = tx.SipsOf(r.Bar, e.ID); err != nil {
				return err
			}
			all = append(all, b)
		}
		return err
	})
	return all, err
}

// All returns all tastings of the bar, coffee by coffee, oldest first.
func (r Records) All() ([]layers.Table, error) {
	var all []layers.Table
	for _, c := range r.Coffees {
		tables, err := r.Of(c.ID)
		if err != nil {
			return nil, err
		}
		all = append(all, tables...)
	}
	return all, nil
}

// Table reads what has been said at a tasting.
func (r Records) Table(e bar.Entry) (b layers.Table, err error) {
	b.Entry, b.Begun = e, e.What.(bar.Layers)
	b.Coffee, _ = bar.CoffeeOf(r.Coffees, b.Begun.Coffee)
	err = r.See(func(tx *store.Tx) error {
		b.Sips, err = tx.SipsOf(r.Bar, e.ID)
		return err
	})
	return b, err
}

// openFor is how long a tasting takes messages: an abandoned one must not take
// those of the evening.
const openFor = 4 * time.Hour

// Open returns the newest tasting that is still going on, if there is one.
func Open(entries []bar.Entry, now time.Time) (bar.Entry, bool) {
	for _, e := range slices.Backward(entries) {
		if l, ok := e.What.(bar.Layers); ok {
			return e, !l.Stopped && now.Sub(e.At) <= openFor
		}
	}
	return bar.Entry{}, false
}

// AccountOf is the account of a tasting, or what to tell people why there is
// none.
func AccountOf(l say.Lang, b layers.Table) (layers.Account, error) {
	a, err := layers.AccountOf(b)
	if err != nil {
		return a, say.Error(l.Say(bycup.NoSplit))
	}
	return a, nil
}

// KeyFor draws the letters of three cups, from what nobody can foretell.
func KeyFor(at time.Time, c bar.CoffeeID) string {
	keys := []string{"ABC", "ACB", "BAC", "BCA", "CAB", "CBA"}
	return keys[Draw(at, c)%uint64(len(keys))]
}

// Draw returns a number that depends on the instant of a message.
func Draw(at time.Time, c bar.CoffeeID) uint64 {
	sum := fnv.New64a()
	sum.Write(fmt.Append(nil, at.UnixNano(), c))
	x := sum.Sum64()
	return x ^ x>>29
}
