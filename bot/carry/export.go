// Package carry takes a bar's records out as a table or as lines, and a table
// in. What a table is, package sheet knows.
package carry

import (
	"encoding/json"
	"errors"
	"io"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/sheet"
	"shothand/store"
)

// A Format is how records leave and enter a file.
type Format string

// The formats. CSV holds shots, JSON Lines everything of a bar.
const (
	CSV   Format = "csv"
	JSONL Format = "jsonl"
)

// FormatOf reads the name of a format. The error is for the person who named it.
func FormatOf(l say.Lang, name string) (Format, error) {
	switch f := Format(strings.ToLower(name)); f {
	case CSV, JSONL:
		return f, nil
	}
	return "", say.Error(setup.In(l).Format(name))
}

// Export writes what a bar has.
func Export(tx *store.Tx, here bar.ID, f Format, w io.Writer) error {
	if f == JSONL {
		lines := json.NewEncoder(w)
		lines.SetEscapeHTML(false)
		return tx.Export(here, func(l store.Line) error { return lines.Encode(l) })
	}
	table, err := sheet.NewWriter(w)
	if err != nil {
		return err
	}
	labels, err := labelsOf(tx, here)
	if err != nil {
		return err
	}
	counted, err := countedOf(tx, here)
	if err != nil {
		return err
	}
	err = tx.EachEntry(here, func(e bar.Entry) error {
		row, ok, err := labels.row(tx, here, e)
		if err != nil || !ok {
			return err
		}
		if counted.shot(e, row.Shot) {
			row.Shot.Grind = bar.Value[bar.Dial]{}
		}
		return table.Write(row)
	})
	return errors.Join(err, table.Flush())
}

// counted is when the numbers of dials began that had been counted from 0 before;
// the zero time is that of a dial which has none yet.
type counted map[bar.GrinderID]time.Time

func countedOf(tx *store.Tx, here bar.ID) (counted, error) {
	c := counted{}
	grinders, err := tx.Grinders(here)
	for _, g := range grinders {
		if !(g.Step > 0) {
			c[g.ID] = time.Time{}
		}
	}
	return c, errors.Join(err, tx.EachEntry(here, func(e bar.Entry) error {
		w, ok := e.What.(bar.Told)
		if ok && w.Shown && w.Event == bar.Rezeroed && !e.Deleted && e.At.After(c[w.Grinder]) {
			c[w.Grinder] = e.At
		}
		return nil
	}))
}

// shot reports whether nobody said where a shot's dial stood, and its position is
// only such a count.
func (c counted) shot(e bar.Entry, s bar.Shot) bool {
	began, ok := c[s.Grinder]
	return ok && s.Grind.From != bar.Said && (began.IsZero() || began.After(e.At))
}

// labels are the names of what a bar has.
type labels struct {
	coffees  map[bar.CoffeeID]string
	grinders map[bar.GrinderID]string
	people   map[bar.PersonID]string
	devices  map[bar.DeviceID]string
}

func labelsOf(tx *store.Tx, here bar.ID) (labels, error) {
	l := labels{map[bar.CoffeeID]string{}, map[bar.GrinderID]string{}, map[bar.PersonID]string{}, map[bar.DeviceID]string{}}
	coffees, err1 := tx.Coffees(here)
	for _, c := range coffees {
		l.coffees[c.ID] = c.Name
	}
	grinders, err2 := tx.Grinders(here)
	for _, g := range grinders {
		l.grinders[g.ID] = g.Name
	}
	people, err3 := tx.People(here)
	for _, p := range people {
		l.people[p.ID] = p.Name
	}
	devices, err4 := tx.Devices(here)
	for _, d := range devices {
		l.devices[d.ID] = d.Name
	}
	return l, errors.Join(err1, err2, err3, err4)
}

// row returns an entry as a row of a table, if it is a shot or words on one.
func (l labels) row(tx *store.Tx, here bar.ID, e bar.Entry) (sheet.Row, bool, error) {
	r := sheet.Row{At: e.At, Person: l.people[e.Person]}
	switch w := e.What.(type) {
	case bar.Shot:
		r.Device = l.devices[w.Device]
		r.Shot, r.Coffee, r.Grinder = w, l.coffees[w.Coffee], l.grinders[w.Grinder]
		return r, true, nil
	case bar.Words:
		of, err := tx.Entry(here, w.Shot)
		if err != nil {
			return sheet.Row{}, false, err
		}
		shot, ok := of.What.(bar.Shot)
		if !ok || of.Deleted {
			return sheet.Row{}, false, nil
		}
		r.Of, r.Coffee = of.At, l.coffees[shot.Coffee]
		r.Shot.Words, r.Shot.Unread = w.Words, w.Unread
		return r, true, nil
	case bar.Told, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
	}
	return sheet.Row{}, false, nil
}
