package carry

import (
	"cmp"
	"errors"
	"fmt"
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

// Import puts the rows of a table in the book of the bar of a channel, which it
// makes if need be, in one transaction. Coffees, grinders and people are found
// by name or made. A row that is in the book already is left alone, so that a
// table may be taken again. With dry, nothing is written.
func Import(s *store.Store, channel string, t sheet.Table, dry bool) (Imported, error) {
	var done Imported
	write := s.Update
	if dry {
		write = s.Try
	}
	err := write(func(tx *store.Tx) error {
		b, err := openBook(s, tx, channel, t)
		if err != nil {
			return err
		}
		for _, r := range t.Refused {
			b.done.Refused.Add(r)
		}
		for row, refused := range t.Rows() {
			if refused != nil {
				b.done.Refused.Add(sheet.Refusal{Line: row.Line, Err: refused})
				continue
			}
			err := b.add(row)
			if said, theirs := errors.AsType[say.Error](err); theirs {
				b.done.Refused.Add(sheet.Refusal{Line: row.Line, Err: said})
				continue
			}
			if err != nil {
				return fmt.Errorf("line %d: %w", row.Line, err)
			}
		}
		done = b.done
		if done.Added+done.Known == 0 {
			return ErrNoShot
		}
		return nil
	})
	return done, err
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
	shots    map[shotKey][]bar.EntryID
	words    map[wordsKey]bool
	rows     map[shotKey]int // of the table, so far
	ours     bool            // the table says where values come from
	done     Imported
}

func openBook(s *store.Store, tx *store.Tx, channel string, t sheet.Table) (*book, error) {
	b := &book{store: s, tx: tx, people: map[string]bar.PersonID{}, devices: map[string]bar.DeviceID{}, shots: map[shotKey][]bar.EntryID{}, words: map[wordsKey]bool{}, rows: map[shotKey]int{}, ours: t.Ours()}
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
	if b.coffees, err = tx.Coffees(b.bar.ID); err != nil {
		return nil, err
	}
	if b.grinders, err = tx.Grinders(b.bar.ID); err != nil {
		return nil, err
	}
	people, err := tx.People(b.bar.ID)
	for _, p := range people {
		b.people[strings.ToLower(p.Name)] = p.ID
	}
	if err != nil {
		return nil, err
	}
	devices, err := tx.Devices(b.bar.ID)
	for _, d := range devices {
		b.devices[strings.ToLower(d.Name)] = d.ID
	}
	if err != nil {
		return nil, err
	}
	return b, tx.EachEntry(b.bar.ID, func(e bar.Entry) error {
		switch w := e.What.(type) {
		case bar.Shot:
			k := shotKey{e.At.UnixNano(), w.Coffee, e.Person}
			b.shots[k] = append(b.shots[k], e.ID)
		case bar.Words:
			b.words[wordsKey{e.At.UnixNano(), w.Shot, e.Person}] = true
		case bar.Told, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
		}
		return nil
	})
}

// A shotKey is what a row of a shot has in common with the entry it became.
// Several may: a table that tells days alone.
type shotKey struct {
	at     int64 // ns since 1970
	coffee bar.CoffeeID
	person bar.PersonID
}

// A wordsKey is the same of words.
type wordsKey struct {
	at     int64 // ns since 1970
	shot   bar.EntryID
	person bar.PersonID
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
	k := shotKey{at.UnixNano(), coffee.ID, person}
	if b.rows[k]++; b.rows[k] <= len(b.shots[k]) {
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
	id, err := b.tx.AddEntry(b.bar.ID, e)
	b.shots[k] = append(b.shots[k], id)
	b.done.Added++
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
	var shot bar.EntryID
	for k, ids := range b.shots {
		if k.at == row.Of.UnixNano() && k.coffee == coffee.ID && (shot == 0 || ids[0] < shot) {
			shot = ids[0]
		}
	}
	if shot == 0 {
		b.done.Refused.Add(sheet.Refusal{Line: row.Line, Err: sheet.Reason{Why: sheet.NoSuchShot, What: row.Of.Format(time.RFC3339)}})
		return nil
	}
	k := wordsKey{e.At.UnixNano(), shot, e.Person}
	if b.words[k] {
		b.done.Known++
		return nil
	}
	e.What = bar.Words{Shot: shot, Words: row.Shot.Words, Unread: row.Shot.Unread}
	_, err := b.tx.AddEntry(b.bar.ID, e)
	b.words[k] = true
	b.done.Added++
	return err
}

// coffee finds the coffee of a row by its name, or makes it.
func (b *book) coffee(row sheet.Row) (bar.Coffee, error) {
	name := row.Coffee
	if name == "" {
		if on := slices.DeleteFunc(slices.Clone(b.coffees), func(c bar.Coffee) bool { return c.Retired }); len(on) == 1 {
			return on[0], nil
		}
		name = say.HouseName
	}
	name, err := say.NewName(name, nil)
	if err != nil {
		return bar.Coffee{}, err
	}
	for _, c := range b.coffees {
		if strings.EqualFold(c.Name, name) {
			return c, nil
		}
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
	name, err := say.NewName(cmp.Or(name, say.HouseGrinder), nil)
	if err != nil {
		return bar.Grinder{}, err
	}
	for _, g := range b.grinders {
		if strings.EqualFold(g.Name, name) {
			return g, nil
		}
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
	name, err := say.NewName(name, nil)
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
