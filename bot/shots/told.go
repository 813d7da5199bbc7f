package shots

import (
	"cmp"
	"errors"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// Happened records what happened to the bar.
func Happened(t *turn.Turn, r *recent.Book, p parse.Happened) ([]turn.Out, error) {
	if p.Not || p.Instead {
		if outs, ours, err := toldWrong(t, r, p); ours || err != nil {
			return outs, err
		}
	}
	coffee, known := r.Which(p.Coffee)
	about := p.Event.About()
	if len(r.OnBar()) > 1 && (about == bar.TheCoffee && !known || about == bar.CoffeeInGrinder && p.Coffee == 0 && other(r, p.Grinder).ID == 0) {
		return resolve.Ask(t, r, func(e bar.EntryID) chat.Post {
			post := t.Post(chat.Question, t.In().WhichCoffee(r.OnBar()))
			post.Buttons = resolve.CoffeeButtons(e, r.OnBar())
			return post
		})
	}
	told, err := told(r, p, coffee, known)
	if err != nil {
		return nil, err
	}
	if _, again := repeated(r, told); again && t.Msg.ReplyTo == "" {
		return t.Says(chat.Info, t.In().Say(say.NotedAlready)), nil
	}
	text := r.Happened(told)
	if p.Roasted == "" {
		return note(t, r, told, text)
	}
	day, err := parse.PastDate(p.Roasted, r.Now)
	if err != nil || !t.Msg.Manager {
		return note(t, r, told, text+"\n"+t.In().RoastedToo(coffee.Name, cmp.Or(string(day), string(bar.DayOf(r.Now)))))
	}
	if day != coffee.Roasted {
		text += "\n" + t.In().RoastedNow(coffee, day)
		t.Later(func(tx *store.Tx) error { return putRoasted(t, tx, coffee, day) })
	}
	return note(t, r, told, text)
}

// putRoasted writes down when the beans of a coffee's new bag were roasted. It is undone
// by itself.
func putRoasted(t *turn.Turn, tx *store.Tx, old bar.Coffee, day bar.Day) error {
	c := old
	c.Roasted = day
	_, err := tx.AddEntry(t.Bar.ID, bar.Entry{
		With: t.Msg.ID, Person: t.Who.ID, At: toldAt(t.Now), Day: bar.DayOf(t.Now), Raw: t.Msg.Text, What: bar.Setting{Coffee: old, ToCoffee: c},
	})
	return errors.Join(err, tx.PutCoffee(t.Bar.ID, &c))
}

// heldTold goes on with what happened, once it was said to which coffee.
func heldTold(t *turn.Turn, r *recent.Book, held bar.Entry, p parse.Happened, coffee string) ([]turn.Out, error) {
	id, ok := idOf(r, coffee)
	if !ok {
		return nil, turn.Mistake(t.Own().Say(say.OldButton))
	}
	held.Deleted = true
	putAll(t, r, []bar.Entry{held})
	p.Coffee, t.Msg.Text = id, held.Raw
	return Happened(t, r, p)
}

// told returns what p is about: the coffee or the grinder it names, else those
// of the coffee it is taken to be about; the machine's is the whole bar's.
func told(r *recent.Book, p parse.Happened, coffee bar.Coffee, known bool) (bar.Told, error) {
	if p.Event == bar.HopperFilled && p.Coffee != 0 && holdsOther(r, coffee) { // "new hopper of tide"
		p.Event = bar.Swapped
	}
	told := bar.Told{Event: p.Event}
	switch p.Event.About() {
	case bar.TheBar:
	case bar.TheCoffee:
		if !known {
			return told, turn.Mistake(r.In().WhichCoffee(r.OnBar()))
		}
		told.Coffee = coffee.ID
	case bar.NamedCoffee:
		told.Coffee = p.Coffee
	case bar.CoffeeInGrinder:
		if told.Coffee = p.Coffee; told.Coffee == 0 {
			coffee = other(r, p.Grinder)
			told.Coffee = coffee.ID
		}
		if told.Coffee == 0 {
			return told, turn.Mistake(r.In().WhichCoffee(r.OnBar()))
		}
		if told.Grinder = p.Grinder; told.Grinder == 0 {
			told.Grinder = coffee.Grinder
		}
	case bar.TheGrinder:
		switch {
		case p.Grinder != 0:
			told.Grinder = p.Grinder
		case p.Coffee == 0 && len(r.InUse()) == 1:
			told.Grinder = r.InUse()[0].ID
		case known:
			told.Grinder = coffee.Grinder
		default:
			return told, turn.Mistake(r.In().WhichGrinder(r.InUse()))
		}
	}
	return told, nil
}

// holdsOther reports whether the grinder of a coffee holds another one now.
func holdsOther(r *recent.Book, c bar.Coffee) bool {
	e, ok := r.Newest(func(_ bar.Entry, s bar.Shot) bool { return s.Grinder == c.Grinder })
	return ok && r.InGrinder(e.What.(bar.Shot).Coffee, c.Grinder, e) != c.ID
}

// other returns the coffee that a grinder holds after a swap that names none: the
// only other one on it besides the one last pulled there.
func other(r *recent.Book, g bar.GrinderID) bar.Coffee {
	last := r.Shots(func(_ bar.Entry, s bar.Shot) bool { return g == 0 || s.Grinder == g })
	if len(last) == 0 {
		return bar.Coffee{}
	}
	s := last[0].What.(bar.Shot)
	in := r.InGrinder(s.Coffee, s.Grinder, last[0])
	var others []bar.Coffee
	for _, c := range r.OnBar() {
		if c.Grinder == s.Grinder && c.ID != in {
			others = append(others, c)
		}
	}
	if len(others) != 1 {
		return bar.Coffee{}
	}
	return others[0]
}

// before records what a shot's message told beside it, as having happened just
// before. It is undone with the shot.
func before(t *turn.Turn, r *recent.Book, shot bar.Entry, p parse.Shot, coffee bar.Coffee) error {
	if p.Event == 0 {
		return nil
	}
	h := parse.Happened{Event: p.Event, Coffee: p.Coffee, Grinder: p.Grinder}
	if p.Event == bar.Swapped {
		h.Coffee = coffee.ID
	}
	told, err := told(r, h, coffee, true)
	if err != nil {
		return err
	}
	e := bar.Entry{With: shot.Message, Person: shot.Person, At: toldAt(shot.At), Day: shot.Day, Raw: shot.Raw, What: told}
	putAll(t, r, []bar.Entry{e})
	return nil
}

// toldAt is when something happened that a shot's message told: before what
// the shot has shown of its dial.
func toldAt(shot time.Time) time.Time { return shot.Add(-2 * time.Millisecond) }

// untell takes back what a shot's message told beside it.
func untell(t *turn.Turn, r *recent.Book, shot bar.Entry) {
	for _, e := range r.Recent {
		if w, told := e.What.(bar.Told); !told || w.Shown || e.With == "" || e.With != shot.Message {
			continue
		}
		e.Deleted = true
		r.Recent = recent.With(r.Recent, t.Put(e))
	}
}
