package bot

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// words handles taste words that came without a shot: they belong to the shot
// they answer, or to one just pulled. Otherwise they are chat.
func (t *turn) words(r *room, p parse.Words) ([]Out, error) {
	shot, ok, err := t.tasted(r, p.Coffee)
	if err != nil || !ok && !p.Set.Grind.Said {
		return nil, err
	}
	if p.Both && ok && t.m.ReplyTo == "" {
		fresh := r.shots(func(e bar.Entry, _ bar.Shot) bool { return t.now.Sub(e.At) <= tasteWindow && !e.At.After(t.now) })
		if len(fresh) > 1 {
			return nil, mistake(t.own().OneCup(r.coffeesOf(fresh[:2]), p.Words))
		}
	}
	if !ok {
		p.Set.Coffee = p.Coffee
		return t.set(r, p.Set)
	}
	if shot, err = t.claim(r, shot); err != nil {
		return nil, err
	}
	if revises := r.revises(shot, t.who.ID, p); len(p.Else) > 0 && !revises && r.tastedBy(shot, t.who.ID) {
		p.Words, p.Instead = p.Else, true
	} else if revises {
		p.Instead = true
	}
	if p.Instead {
		if shot, err = t.unsay(r, shot); err != nil {
			return nil, err
		}
	}
	s, own := shot.What.(bar.Shot)
	if p.Marks == 0 || !own || shot.Person != t.who.ID {
		return t.addWords(r, shot, p)
	}
	was := s.Marks
	s.Marks = marked(s.Marks, p.Marks)
	if coffee, ok := r.coffee(s.Coffee); ok && p.Marks.Has(bar.InMilk) {
		s = assumed(s, coffee.RecipeFor(s.Marks))
	}
	shot.What = s
	if len(p.Words) == 0 {
		return t.mended(r, shot, s.Coffee, t.notedMarks(p.Marks, was == s.Marks), "")
	}
	err = t.update(func(tx *store.Tx) error { return tx.PutEntry(t.bar.ID, shot) })
	if err != nil {
		return nil, err
	}
	return t.addWords(r, shot, p)
}

// notedMarks says which marks were noted; of practice the advice says it.
func (t *turn) notedMarks(m bar.Marks, known bool) string {
	if m == bar.Practice {
		return ""
	}
	return t.in().NotedMarks(m, known)
}

// coffeesOf names the coffees of shots, each once.
func (r *room) coffeesOf(shots []bar.Entry) (names []string) {
	for _, e := range shots {
		s, _ := e.What.(bar.Shot)
		if c, ok := r.coffee(s.Coffee); ok && !slices.Contains(names, c.Name) {
			names = append(names, c.Name)
		}
	}
	return names
}

// unsay takes back what this person has said of how a shot tastes, and returns
// the shot without it.
func (t *turn) unsay(r *room, shot bar.Entry) (bar.Entry, error) {
	var changed []bar.Entry
	for _, e := range r.recent {
		w, ok := e.What.(bar.Words)
		if ok && w.Shot == shot.ID && e.Person == t.who.ID && !e.Deleted {
			e.Deleted = true
			changed = append(changed, e)
		}
	}
	if s, ok := shot.What.(bar.Shot); ok && shot.Person == t.who.ID && len(s.Words) > 0 {
		s.Words, s.Unread = nil, nil
		shot.What = s
		changed = append(changed, shot)
	}
	for _, e := range changed {
		if err := t.update(func(tx *store.Tx) error { return tx.PutEntry(t.bar.ID, e) }); err != nil {
			return shot, err
		}
		r.recent = with(r.recent, e)
	}
	return shot, nil
}

// assumed returns s with what was taken from a recipe taken from this one.
func assumed(s bar.Shot, recipe bar.Recipe) bar.Shot {
	if s.Dose.From == bar.Assumed {
		s.Dose.X = recipe.Dose
	}
	if s.Yield.From == bar.Assumed {
		s.Yield.X = recipe.Yield
	}
	return s
}

// marked returns marks with what was said of them later.
func marked(m, later bar.Marks) bar.Marks {
	if later&(bar.Purged|bar.NotPurged) != 0 {
		m &^= bar.Purged | bar.NotPurged
	}
	return m | later
}

// addWords records words about a shot and advises again.
func (t *turn) addWords(r *room, shot bar.Entry, p parse.Words) ([]Out, error) {
	s, ok := shot.What.(bar.Shot)
	if !ok {
		return nil, nil
	}
	coffee, _ := r.coffee(s.Coffee)
	set := ""
	if p.Set.Grind.Said {
		var err error
		if set, err = t.setBeside(r, t.now, s, p.Set); err != nil {
			return nil, err
		}
	}
	a := answer{turn: t, room: r, coffee: coffee, lead: set, notes: say.Notes{Unread: p.Unread}, entry: bar.Entry{
		Message: t.m.ID, Person: t.who.ID, At: t.now, Day: r.day, Raw: t.m.Text,
		What: bar.Words{Shot: shot.ID, Words: p.Words, Unread: p.Unread},
	}}
	if p.Instead {
		a.called = r.callOn(shot)
	}
	newest := r.shots(func(_ bar.Entry, other bar.Shot) bool { return other.Coffee == s.Coffee })
	if len(newest) > 0 && newest[0].ID != shot.ID { // the advice is on that one
		a.lead = strings.TrimSpace(t.in().NotedFor(shot, r.name(shot.Person), t.in().Echoed(p.Words, t.m.Text)) + "\n" + set)
	}
	return a.give()
}

// tasted returns the shot that words without numbers are about: the one
// answered, else this person's own of the last minutes, else anybody's. Who has
// said how their own tastes speaks of the next one of that coffee.
func (t *turn) tasted(r *room, coffee bar.CoffeeID) (bar.Entry, bool, error) {
	if t.m.ReplyTo != "" {
		return t.answered()
	}
	if e, ok := t.askedTaste(r, coffee); ok {
		return e, true, nil
	}
	fresh := r.shots(func(e bar.Entry, s bar.Shot) bool {
		return t.now.Sub(e.At) <= tasteWindow && !e.At.After(t.now) && (coffee == 0 || s.Coffee == coffee)
	})
	last, ok := lastKept(fresh)
	for _, e := range fresh {
		if e.Person == t.who.ID && (!r.tastedBy(e, t.who.ID) || r.tastedBy(last, 0) && !r.next(e, last)) {
			return e, true, nil
		}
	}
	return last, ok, nil
}

// askedTaste returns the shot that this person was asked about in the last minutes,
// how it tastes, however old it is.
func (t *turn) askedTaste(r *room, coffee bar.CoffeeID) (bar.Entry, bool) {
	if len(t.asking.Taps) == 0 || t.asking.At.Before(t.now.Add(-tasteWindow)) {
		return bar.Entry{}, false
	}
	verb, id, _, _ := readPress(t.asking.Taps[0].State)
	return r.newest(func(e bar.Entry, s bar.Shot) bool {
		return verb == pressTaste && e.ID == id && e.Day == r.day && (coffee == 0 || s.Coffee == coffee) && !r.tastedBy(e, r.who.ID)
	})
}

// next reports whether the last shot is another one of the same coffee, which who
// writes has not tasted.
func (r *room) next(own, last bar.Entry) bool {
	a, b := own.What.(bar.Shot), last.What.(bar.Shot)
	return own.ID != last.ID && a.Coffee == b.Coffee && !r.tastedBy(last, r.who.ID)
}

// tastedBy reports whether a person, 0 for anybody, has said how a shot tastes.
func (r *room) tastedBy(shot bar.Entry, who bar.PersonID) bool {
	s, _ := shot.What.(bar.Shot)
	said := func(e bar.Entry, words []bar.Word) bool {
		return len(words) > 0 && (who == 0 || e.Person == who)
	}
	return said(shot, s.Words) || slices.ContainsFunc(r.recent, func(e bar.Entry) bool {
		w, ok := e.What.(bar.Words)
		return ok && w.Shot == shot.ID && said(e, w.Words)
	})
}

// answered returns the shot that the message, or the post, it answers is about.
func (t *turn) answered() (e bar.Entry, ok bool, err error) {
	err = t.see(func(tx *store.Tx) error {
		if e, ok, err = tx.EntryOf(t.bar.ID, t.m.ReplyTo); err != nil {
			return err
		}
		if !ok {
			reply, found, err := tx.ReplyByPost(t.bar.ID, t.m.ReplyTo)
			if err != nil || !found || reply.Entry == 0 {
				return err
			}
			if e, err = tx.Entry(t.bar.ID, reply.Entry); err != nil {
				return err
			}
		}
		if w, words := e.What.(bar.Words); words {
			e, err = tx.Entry(t.bar.ID, w.Shot)
		}
		if err == nil {
			e, err = standing(tx, t.bar.ID, e)
		}
		_, shot := e.What.(bar.Shot)
		ok = shot && !e.Deleted
		return err
	})
	return e, ok, err
}

// note records an entry that is no shot, and says so.
func (t *turn) note(r *room, w bar.What, text string) ([]Out, error) {
	err := t.update(func(tx *store.Tx) error {
		id, err := tx.AddEntry(t.bar.ID, bar.Entry{
			Message: t.m.ID, Person: t.who.ID, At: t.now, Day: r.day, Raw: t.m.Text, What: w,
		})
		if err != nil {
			return err
		}
		return tx.PutReply(t.bar.ID, store.Reply{Cause: t.m.ID, Entry: id, Kind: chat.Recorded.String(), At: t.now})
	})
	return t.say(chat.Recorded, text), err
}

// dialled calls a coffee dialled in, as its last shot was pulled.
func (t *turn) dialled(r *room, named bar.CoffeeID) ([]Out, error) {
	coffee, ok := r.which(named)
	if !ok {
		return nil, mistake(t.own().WhichCoffee(r.onBar()))
	}
	shots := r.shots(func(e bar.Entry, s bar.Shot) bool {
		return s.Coffee == coffee.ID && e.Day == r.day && !s.Marks.Has(bar.Practice)
	})
	if len(shots) == 0 {
		return nil, mistake(t.own().NotPulled(coffee))
	}
	grinder, _ := r.grinder(coffee.Grinder)
	last := shots[0].What.(bar.Shot)
	for _, e := range r.recent {
		if d, ok := e.What.(bar.Dialled); ok && d.Coffee == coffee.ID && d.Shot == shots[0].ID { // called already
			return t.say(chat.Info, t.in().Dialled(coffee, grinder, last, r.name(e.Person))), nil
		}
	}
	if asked, err := t.askCall(r, coffee, shots[0]); asked != nil || err != nil {
		return asked, err
	}
	return t.note(r, bar.Dialled{Coffee: coffee.ID, Shot: shots[0].ID}, t.in().Dialled(coffee, grinder, last, t.who.Name))
}
