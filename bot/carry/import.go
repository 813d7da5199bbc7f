package carry

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/sheet"
	"shothand/store"
)

// An Imported is what became of a table.
type Imported struct {
	Added   int            // rows that are in the book now
	Known   int            // rows that were in it already
	Refused sheet.Refusals // rows that cannot be read or placed
}

// updateRows is how many rows of a table go into an update: little memory, and
// not many updates.
const updateRows = 500

// Import puts the rows of a table in the book of the bar of a channel, which it
// makes if need be. Coffees, grinders and people are found by name or made. A row
// that is in the book already is left alone, so that a table may be taken again.
// The store is a copy as [store.Store.UpdateAside] gives it: the rows go into it
// in several updates; once ctx is done, no more do.
func Import(ctx context.Context, s *store.Store, channel string, t sheet.Table) (Imported, error) {
	done := Imported{Refused: sheet.Refusals{First: slices.Clone(t.Refused.First), N: t.Refused.N}}
	rows := map[shotKey]int{}
	next, stop := iter.Pull2(t.Rows())
	defer stop()
	for more := true; more; {
		if err := ctx.Err(); err != nil {
			return done, err
		}
		err := s.Update(func(tx *store.Tx) error {
			b, err := openBook(s, tx, channel)
			if err != nil {
				return err
			}
			b.ours, b.rows, b.done = t.Ours(), rows, &done
			more, err = b.take(next)
			return err
		})
		if err != nil {
			return done, err
		}
	}
	if done.Added+done.Known == 0 {
		return done, ErrNoShot
	}
	return done, nil
}

// take puts the next rows in the book, and reports whether there are more.
func (b *book) take(next func() (sheet.Row, error, bool)) (more bool, err error) {
	for range updateRows {
		row, refused, ok := next()
		if !ok {
			return false, nil
		}
		if lost, is := errors.AsType[sheet.Lost](refused); is {
			return false, lost
		}
		if refused == nil {
			refused = b.add(row)
			if theirs := say.Error(""); refused != nil && !errors.As(refused, &theirs) {
				return false, fmt.Errorf("line %d: %w", row.Line, refused)
			}
		}
		if refused != nil {
			b.done.Refused.Add(sheet.Refusal{Line: row.Line, Err: refused})
		}
	}
	return true, nil
}

// ErrNoShot is a table of which no row can be placed. Nothing of it is taken.
var ErrNoShot = errors.New("no row is a shot")

// A book is a bar into which rows go.
type book struct {
	store    *store.Store
	tx       *store.Tx
	bar      bar.Bar
	coffees  []bar.Coffee
	grinders []bar.Grinder
	people   map[string]bar.PersonID // by name in small letters
	devices  map[string]bar.DeviceID // the same
	rows     map[shotKey]int         // of the table, so far
	ours     bool                    // the table says where values come from
	done     *Imported
}

func openBook(s *store.Store, tx *store.Tx, channel string) (*book, error) {
	b := &book{store: s, tx: tx, people: map[string]bar.PersonID{}, devices: map[string]bar.DeviceID{}}
	id, known := tx.BarOf(channel)
	var err error
	if known {
		b.bar, err = tx.Bar(id)
	} else {
		b.bar, err = tx.AddBar(channel, bar.Bar{Name: channel})
	}
	if err != nil {
		return nil, err
	}
	var err1, err2 error
	b.coffees, err1 = tx.Coffees(b.bar.ID)
	b.grinders, err2 = tx.Grinders(b.bar.ID)
	people, err3 := tx.People(b.bar.ID)
	for _, p := range people {
		b.people[strings.ToLower(p.Name)] = p.ID
	}
	devices, err4 := tx.Devices(b.bar.ID)
	for _, d := range devices {
		b.devices[strings.ToLower(d.Name)] = d.ID
	}
	return b, errors.Join(err1, err2, err3, err4)
}

// A shotKey is what a row of a shot has in common with the entry it became.
// Several may: a table that tells days alone.
type shotKey struct {
	at     int64 // ns since 1970
	coffee bar.CoffeeID
	person bar.PersonID
}

// shots returns the shots of a coffee at an instant, by anybody.
func (b *book) shots(at time.Time, coffee bar.CoffeeID) ([]bar.Entry, error) {
	return b.at(at, func(e bar.Entry) bool {
		shot, is := e.What.(bar.Shot)
		return is && shot.Coffee == coffee
	})
}

// at returns the entries of an instant that are such as is says, in the order in
// which they came.
func (b *book) at(at time.Time, is func(bar.Entry) bool) ([]bar.Entry, error) {
	entries, err := b.tx.EntriesAt(b.bar.ID, at)
	return slices.DeleteFunc(entries, func(e bar.Entry) bool { return !is(e) }), err
}

// add puts a row in the book, if it is not there.
func (b *book) add(row sheet.Row) error {
	coffee, err := b.coffee(row)
	if err != nil {
		return err
	}
	person, err := b.person(row.Person)
	if err != nil {
		return err
	}
	at := b.store.InZone(row.At, b.bar.Zone)
	e := bar.Entry{Person: person, At: at, Day: bar.DayOf(at)}
	if !row.Of.IsZero() {
		return b.addWords(row, e, coffee)
	}
	known, err := b.shots(at, coffee.ID)
	if err != nil {
		return err
	}
	known = slices.DeleteFunc(known, func(e bar.Entry) bool { return e.Person != person })
	k := shotKey{at.UnixNano(), coffee.ID, person}
	if b.rows[k]++; b.rows[k] <= len(known) {
		b.done.Known++
		return nil
	}
	grinder, err := b.grinder(row, coffee)
	if err != nil {
		return err
	}
	s := row.Shot
	s.Coffee, s.Grinder = coffee.ID, grinder.ID
	if s.Device, err = b.device(row.Device); err != nil {
		return err
	}
	if !b.ours {
		s.Dose, s.Yield = orRecipe(s.Dose, coffee.Recipe.Dose), orRecipe(s.Yield, coffee.Recipe.Yield)
	}
	e.What = s
	b.done.Added++
	_, err = b.tx.AddEntry(b.bar.ID, e)
	return err
}

// orRecipe returns v, or what the recipe has if nobody said it.
func orRecipe(v bar.Value[bar.Grams], recipe bar.Grams) bar.Value[bar.Grams] {
	if v.From != bar.None {
		return v
	}
	return bar.Value[bar.Grams]{X: recipe, From: bar.Assumed}
}

// addWords puts what somebody said later with its shot, whoever pulled it.
func (b *book) addWords(row sheet.Row, e bar.Entry, coffee bar.Coffee) error {
	shots, err := b.shots(row.Of, coffee.ID)
	if err != nil {
		return err
	}
	if len(shots) == 0 {
		b.done.Refused.Add(sheet.Refusal{Line: row.Line, Err: sheet.Reason{Why: sheet.NoSuchShot, What: row.Of.Format(time.RFC3339)}})
		return nil
	}
	shot := shots[0].ID
	known, err := b.at(e.At, func(old bar.Entry) bool {
		words, is := old.What.(bar.Words)
		return is && words.Shot == shot && old.Person == e.Person
	})
	if err != nil {
		return err
	}
	if len(known) > 0 {
		b.done.Known++
		return nil
	}
	e.What = bar.Words{Shot: shot, Words: row.Shot.Words, Unread: row.Shot.Unread}
	b.done.Added++
	_, err = b.tx.AddEntry(b.bar.ID, e)
	return err
}

// coffee finds the coffee of a row by its name, or makes it.
func (b *book) coffee(row sheet.Row) (bar.Coffee, error) {
	name := row.Coffee
	if name == "" {
		if on := slices.DeleteFunc(slices.Clone(b.coffees), func(c bar.Coffee) bool { return c.Retired }); len(on) == 1 {
			return on[0], nil
		}
		name = string(say.HouseName)
	}
	name, err := say.Lang{}.NewName(name, nil)
	if err != nil {
		return bar.Coffee{}, err
	}
	if i := slices.IndexFunc(b.coffees, func(c bar.Coffee) bool { return strings.EqualFold(c.Name, name) }); i >= 0 {
		return b.coffees[i], nil
	}
	g, err := b.grinderCalled(row.Grinder)
	if err != nil {
		return bar.Coffee{}, err
	}
	c := bar.Coffee{Name: name, Grinder: g.ID, Recipe: bar.House()}
	err = b.tx.PutCoffee(b.bar.ID, &c)
	b.coffees = append(b.coffees, c)
	return c, err
}

// grinder finds the grinder of a row; a number read off it shows its step.
func (b *book) grinder(row sheet.Row, coffee bar.Coffee) (bar.Grinder, error) {
	var g bar.Grinder
	var err error
	if i := slices.IndexFunc(b.grinders, func(g bar.Grinder) bool { return g.ID == coffee.Grinder }); row.Grinder == "" && i >= 0 {
		g = b.grinders[i]
	} else if g, err = b.grinderCalled(row.Grinder); err != nil {
		return g, err
	}
	step := parse.StepOf(float64(row.Shot.Grind.X))
	if row.Shot.Grind.From == bar.None || g.Step > 0 && (!g.Guessed || g.Step <= step) {
		return g, nil
	}
	g.Step, g.Guessed = step, true
	i := slices.IndexFunc(b.grinders, func(old bar.Grinder) bool { return old.ID == g.ID })
	b.grinders[i] = g
	return g, b.tx.PutGrinder(b.bar.ID, &g)
}

// grinderCalled finds a grinder by its name, or makes it. No name is the bar's
// first.
func (b *book) grinderCalled(name string) (bar.Grinder, error) {
	if name == "" && len(b.grinders) > 0 {
		return b.grinders[0], nil
	}
	name, err := say.Lang{}.NewName(cmp.Or(name, string(say.HouseGrinder)), nil)
	if err != nil {
		return bar.Grinder{}, err
	}
	if i := slices.IndexFunc(b.grinders, func(g bar.Grinder) bool { return strings.EqualFold(g.Name, name) }); i >= 0 {
		return b.grinders[i], nil
	}
	g := bar.Grinder{Name: name}
	err = b.tx.PutGrinder(b.bar.ID, &g)
	b.grinders = append(b.grinders, g)
	return g, err
}

// device finds the device of a row, or makes it: one that nobody has allowed to
// post.
func (b *book) device(name string) (bar.DeviceID, error) {
	if name == "" {
		return 0, nil
	}
	name, err := say.Lang{}.NewName(name, nil)
	if err != nil {
		return 0, err
	}
	low := strings.ToLower(name)
	if id, known := b.devices[low]; known {
		return id, nil
	}
	d := bar.Device{Name: name, Retired: true}
	err = b.tx.PutDevice(b.bar.ID, &d)
	b.devices[low] = d.ID
	return d.ID, err
}

// person finds who a row is by, or makes them. Nobody stays nobody.
func (b *book) person(name string) (bar.PersonID, error) {
	if name == "" {
		return 0, nil
	}
	low := strings.ToLower(name)
	if id, known := b.people[low]; known {
		return id, nil
	}
	p, err := b.tx.PersonOf(b.bar.ID, low, name)
	b.people[low] = p.ID
	return p.ID, err
}
