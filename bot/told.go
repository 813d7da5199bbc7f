package bot

import (
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// happened records what happened to the bar.
func (t *turn) happened(r *room, p parse.Happened) ([]Out, error) {
	coffee, known := r.which(p.Coffee)
	told, err := r.told(p, coffee, known)
	if err != nil {
		return nil, err
	}
	if _, again := r.repeated(told); again && t.m.ReplyTo == "" {
		return t.say(chat.Info, t.in().Say(say.NotedAlready)), nil
	}
	return t.note(r, told, r.happened(told))
}

// told returns what p is about: the coffee or the grinder it names, else those
// of the coffee it is taken to be about; the machine's is the whole bar's.
func (r *room) told(p parse.Happened, coffee bar.Coffee, known bool) (bar.Told, error) {
	told := bar.Told{Event: p.Event}
	switch p.Event.About() {
	case bar.TheBar:
	case bar.TheCoffee:
		if !known {
			return told, mistake(r.in().WhichCoffee(r.onBar()))
		}
		told.Coffee = coffee.ID
	case bar.NamedCoffee:
		told.Coffee = p.Coffee
	case bar.CoffeeInGrinder:
		if told.Coffee = p.Coffee; told.Coffee == 0 {
			coffee = r.other(p.Grinder)
			told.Coffee = coffee.ID
		}
		if told.Coffee == 0 {
			return told, mistake(r.in().WhichCoffee(r.onBar()))
		}
		if told.Grinder = p.Grinder; told.Grinder == 0 {
			told.Grinder = coffee.Grinder
		}
	case bar.TheGrinder:
		switch {
		case p.Grinder != 0:
			told.Grinder = p.Grinder
		case p.Coffee == 0 && len(r.inUse()) == 1:
			told.Grinder = r.inUse()[0].ID
		case known:
			told.Grinder = coffee.Grinder
		default:
			return told, mistake(r.in().WhichGrinder(r.inUse()))
		}
	}
	return told, nil
}

// other returns the coffee that a grinder holds after a swap that names none: the
// only other one on it besides the one last pulled there.
func (r *room) other(g bar.GrinderID) bar.Coffee {
	last := r.shots(func(_ bar.Entry, s bar.Shot) bool { return g == 0 || s.Grinder == g })
	if len(last) == 0 {
		return bar.Coffee{}
	}
	s := last[0].What.(bar.Shot)
	in := r.inGrinder(s.Coffee, s.Grinder, last[0])
	var others []bar.Coffee
	for _, c := range r.onBar() {
		if c.Grinder == s.Grinder && c.ID != in {
			others = append(others, c)
		}
	}
	if len(others) != 1 {
		return bar.Coffee{}
	}
	return others[0]
}

// inGrinder returns the coffee that a grinder holds of which one was pulled
// there: it, or the one that was swapped in since.
func (r *room) inGrinder(c bar.CoffeeID, g bar.GrinderID, since bar.Entry) bar.CoffeeID {
	for _, e := range r.recent {
		if w, ok := e.What.(bar.Told); ok && w.Event == bar.Swapped && w.Grinder == g && earlier(since, e) {
			c = w.Coffee
		}
	}
	return c
}

// before records what a shot's message told beside it, as having happened just
// before. It is undone with the shot.
func (t *turn) before(r *room, shot bar.Entry, p parse.Shot, coffee bar.Coffee) error {
	if p.Event == 0 {
		return nil
	}
	h := parse.Happened{Event: p.Event, Coffee: p.Coffee, Grinder: p.Grinder}
	if p.Event == bar.Swapped {
		h.Coffee = coffee.ID
	}
	told, err := r.told(h, coffee, true)
	if err != nil {
		return err
	}
	e := bar.Entry{With: shot.Message, Person: shot.Person, At: toldAt(shot.At), Day: shot.Day, Raw: shot.Raw, What: told}
	err = t.update(func(tx *store.Tx) error {
		e.ID = 0
		e.ID, err = tx.AddEntry(t.bar.ID, e)
		return err
	})
	r.recent = with(r.recent, e)
	return err
}

// toldAt is when something happened that a shot's message told: before what
// the shot has shown of its dial.
func toldAt(shot time.Time) time.Time { return shot.Add(-2 * time.Millisecond) }

// untell takes back what a shot's message told beside it.
func (t *turn) untell(r *room, shot bar.Entry) error {
	for _, e := range r.recent {
		if w, told := e.What.(bar.Told); !told || w.Shown || e.With == "" || e.With != shot.Message {
			continue
		}
		e.Deleted = true
		if err := t.update(func(tx *store.Tx) error { return tx.PutEntry(t.bar.ID, e) }); err != nil {
			return err
		}
		r.recent = with(r.recent, e)
	}
	return nil
}

// happened says what was noted of the bar.
func (r *room) happened(t bar.Told) string {
	coffee, _ := r.coffee(t.Coffee)
	grinder, _ := r.grinder(t.Grinder)
	return r.in().Happened(t, coffee, grinder, r.stood(coffee, grinder))
}

// stood says where a coffee last stood on a grinder.
func (r *room) stood(c bar.Coffee, g bar.Grinder) string {
	e, ok := r.newest(func(_ bar.Entry, s bar.Shot) bool { return s.Coffee == c.ID })
	if !ok || r.rezeroed(g.ID, e.At, bar.Entry{At: r.now}) {
		return ""
	}
	return r.in().Stood(c, g, e.What.(bar.Shot))
}

// happenings returns what was told of the bar today, oldest first.
func (r *room) happenings() []say.Happening {
	var list []say.Happening
	for _, e := range r.recent {
		w, ok := e.What.(bar.Told)
		if !ok || e.Day != r.day || e.Raw == "" { // without a text it was seen in a shot, or is told with its setting
			continue
		}
		coffee, _ := r.coffee(w.Coffee)
		grinder, _ := r.grinder(w.Grinder)
		text := r.in().EventName(w, coffee.Name, grinder.Name)
		if w.Event == bar.Moved && w.Dial.From != bar.None {
			text = r.in().PutAt(grinder, w.Dial.X)
		}
		list = append(list, say.Happening{At: e.At.Round(time.Second), Text: text, Who: r.name(e.Person)})
	}
	return list
}
