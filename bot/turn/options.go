package turn

import (
	"errors"
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/store"
)

// Retired returns the retired coffee of that name, the last of several.
func Retired(r *recent.Book, name string) (bar.Coffee, bool) {
	for _, c := range slices.Backward(r.Coffees) {
		if c.Retired && strings.EqualFold(c.Name, name) {
			return c, true
		}
	}
	return bar.Coffee{}, false
}

// PrivatePost returns a post for the person who wrote only.
func (t *Turn) PrivatePost(kind chat.PostKind, text string) chat.Post {
	p := t.Post(kind, text)
	p.Private = true
	return p
}

// Private tells the person who wrote something, and nobody else.
func (t *Turn) Private(text string) ([]Out, error) {
	return []Out{{Post: t.PrivatePost(chat.Info, text)}}, nil
}

// Option returns the value of an option, or without if it was not given.
func Option(c chat.Command, name, without string) string {
	for _, o := range c.Options {
		if o.Name == name {
			return o.Value
		}
	}
	return without
}

// Said reports whether an option of yes or no was given as yes.
func Said(c chat.Command, name string) bool { return Option(c, name, "no") == "yes" }

// Each calls read for every option of c that has a value, in order.
func Each(c chat.Command, read func(name, value string) error) error {
	for _, o := range c.Options {
		if o.Value == "" {
			continue
		}
		err := read(o.Name, o.Value)
		if m, ok := errors.AsType[parse.Mistake](err); ok && m.Kind == parse.Impossible { // no shot is meant
			return parse.Mistake{Kind: parse.BadOption, What: o.Name + ":" + o.Value, More: m.More, Would: m.Would}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// Meant returns the coffee that an option of c names; else the one a message
// without a name is about.
func (t *Turn) Meant(r *recent.Book, c chat.Command, name string) (bar.Coffee, error) {
	if said := Option(c, name, ""); said != "" {
		return FindCoffee(r, said)
	}
	if coffee, ok := r.Which(0); ok {
		return coffee, nil
	}
	if last, ok := r.Newest(func(bar.Entry, bar.Shot) bool { return true }); ok {
		coffee, _ := r.Coffee(last.What.(bar.Shot).Coffee)
		return coffee, nil
	}
	return bar.Coffee{}, Mistake(t.WriterLang().WhichCoffee(r.OnBar()))
}

// FindCoffee returns the coffee of that name, or the only one that begins so.
func FindCoffee(r *recent.Book, said string) (bar.Coffee, error) {
	found, err := Named(r.OnBar(), said, func(c bar.Coffee) string { return c.Name }, r.Lang().NoCoffee)
	if old, ok := Retired(r, said); err != nil && ok {
		return found, Mistake(r.Lang().RetiredCoffee(old))
	}
	return found, err
}

// FindGrinder returns the grinder of that name, or the only one that begins so.
func FindGrinder(r *recent.Book, said string) (bar.Grinder, error) {
	return Named(r.InUse(), said, func(g bar.Grinder) string { return g.Name }, r.Lang().NoGrinder)
}

// Named returns the thing of that name, or the only one whose name begins so or has that
// word.
func Named[T any](all []T, said string, name func(T) string, none func(said string, names []string) string) (T, error) {
	var zero T
	var names []string
	for _, x := range all {
		names = append(names, name(x))
	}
	if found := parse.Called(said, names); len(found) == 1 {
		return all[found[0]], nil
	}
	return zero, MisnamedOf(none(said, names), said, names)
}

// ChangeBar writes the bar in place of what it was.
func (t *Turn) ChangeBar(here bar.Bar) error {
	return t.Change(func(tx *store.Tx) (bar.Setting, error) {
		return bar.Setting{Bar: t.Bar, ToBar: here}, tx.PutBar(here)
	})
}

// Change makes a change of settings and an entry by which it can be undone.
func (t *Turn) Change(do func(*store.Tx) (bar.Setting, error)) error {
	return t.Update(func(tx *store.Tx) error {
		old, err := do(tx)
		if err != nil {
			return err
		}
		_, err = tx.AddEntry(t.Bar.ID, bar.Entry{
			Message: t.Msg.ID, Person: t.Who.ID, At: t.Now, Day: bar.DayOf(t.Now), Raw: t.Msg.Text, What: old,
		})
		return errors.Join(err, t.Remember(tx, t.Post(chat.Recorded, "")))
	})
}

// A Misnamed is a mistake about a name that nothing has.
type Misnamed struct {
	Mistake
	Said, Right string // as typed, and what was probably meant, or empty
}

// MisnamedOf returns the mistake that text tells of a name.
func MisnamedOf(text, said string, all []string) error {
	return Misnamed{Mistake(text), said, say.Nearest(said, all)}
}

// IsDark reports whether pictures are asked for in dark colours.
func IsDark(c chat.Command) bool { return Option(c, "look", "light") == "dark" }
