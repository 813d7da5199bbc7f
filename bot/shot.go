package bot

import (
	"cmp"
	"math"
	"slices"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// Times that decide what a message is about. Common practice, no source.
const (
	tasteWindow = 5 * time.Minute  // words alone belong to a shot this long
	toChange    = 15 * time.Second // the least it takes to read advice and turn a dial
	gusherTime  = 12               // s of a gusher nobody timed
)

// shot records a shot and advises on the next.
func (t *turn) shot(r *room, p parse.Shot) ([]Out, error) {
	posted, err := t.twins(r, p, t.now)
	if err != nil {
		return nil, err
	}
	if list := tied(posted); len(list) > 0 && len(p.Doubt) == 0 && !p.Count {
		return t.askPosted(r, list)
	}
	var same *twin
	if len(posted) > 0 {
		same = &posted[0]
		p.Coffee = cmp.Or(p.Coffee, same.coffee())
	}
	question, err := t.shotQuestion(r, p, same != nil)
	if err != nil {
		return nil, err
	}
	if question != nil {
		return t.ask(r, question)
	}
	coffee, ok := r.which(p.Coffee)
	entry := bar.Entry{Message: t.m.ID, Person: t.who.ID, At: t.now, Day: r.day, Raw: t.m.Text}
	return t.record(r, entry, p, coffee, ok, same)
}

// shotQuestion returns what must be asked of a message before it is a shot, or
// nil. Sure are numbers that a device has posted as well.
func (t *turn) shotQuestion(r *room, p parse.Shot, sure bool) (func(bar.EntryID) chat.Post, error) {
	coffee, ok := r.which(p.Coffee)
	if last, may := r.referred(p, bar.Entry{At: t.now}); may && !sure {
		return func(e bar.EntryID) chat.Post { return t.referPost(e, last) }, nil
	}
	switch {
	case p.Two:
		return func(e bar.EntryID) chat.Post { return t.coffeePost(r, e) }, nil
	case p.Stranger != "" && len(r.onBar()) > 0:
		return func(e bar.EntryID) chat.Post { return t.strangerPost(r, e, p) }, nil
	case p.Stranger != "" || len(p.Doubt) > 0 || p.Count:
		return func(e bar.EntryID) chat.Post { return t.doubtPost(r, e, p) }, nil
	case !ok && len(r.onBar()) > 1:
		return func(e bar.EntryID) chat.Post { return t.coffeePost(r, e) }, nil
	case p.Coffee == 0 && !sure && r.fitsAnother(p, coffee):
		return func(e bar.EntryID) chat.Post { return t.coffeePost(r, e) }, nil
	case p.Swapped:
		return func(e bar.EntryID) chat.Post { return t.orderPost(e, p) }, nil
	}
	if sure {
		return nil, nil
	}
	off, far, err := t.farOff(r, p, coffee)
	if err == nil && far && ok {
		return func(e bar.EntryID) chat.Post { return t.farPost(e, p, off, "") }, nil
	}
	return nil, err
}

// record puts a shot of a coffee in the book, as a new entry or in place of
// one, and answers it: the same as a device has posted, if that is not nil. If
// there is no coffee yet, it makes one.
func (t *turn) record(r *room, entry bar.Entry, p parse.Shot, coffee bar.Coffee, known bool, same *twin) ([]Out, error) {
	if !known {
		house, err := t.makeHouse(r, p.Stranger)
		if err != nil {
			return nil, err
		}
		coffee = house
	}
	if err := t.before(r, entry, p, coffee); err != nil {
		return nil, err
	}
	grinder, err := t.learnDial(r, cmp.Or(p.Grinder, coffee.Grinder), p.Grind, entry)
	if err != nil {
		return nil, err
	}
	p.Grind = r.settle(entry, p.Grind, grinder)
	shot, err := t.resolve(r, entry, p, coffee, grinder)
	if err != nil {
		return nil, err
	}
	var aside *bar.Entry
	lead := ""
	if same != nil {
		lead = t.in().SameShot(same.device)
		if shot, err = t.joined(r, shot, p, *same, coffee); err != nil {
			return nil, err
		}
		aside = &same.entry
		aside.Deleted = true
		r.recent = with(r.recent, *aside)
	}
	entry.What = shot
	a := answer{turn: t, room: r, entry: entry, coffee: coffee, call: p.Dialled, lead: lead, aside: aside, joined: same != nil, notes: say.Notes{
		House:     !known,
		Direction: p.Grind.Said && !p.Grind.Relative && grinder.Finer == bar.Unknown && grinder.Step > 0,
		Unread:    shot.Unread,
		Aside:     p.Aside,
	}}
	a.notes.Unplaced(p.Grind)
	if why := t.in().Uncalled(coffee, shot, len(shot.Words) > 0 || r.tastedToday(coffee.ID), false); a.call && why != "" {
		a.call, a.notes.Uncalled = false, why
	}
	outs, err := a.give()
	if err == nil {
		t.meter.Recorded()
	}
	return outs, err
}

// onBar returns the coffees that are not retired.
func (r *room) onBar() []bar.Coffee {
	return slices.DeleteFunc(slices.Clone(r.coffees), func(c bar.Coffee) bool { return c.Retired })
}

// which returns the coffee a message is about: the one it names, else the one
// this person last pulled today, else the only one on the bar.
func (r *room) which(named bar.CoffeeID) (bar.Coffee, bool) {
	if named != 0 {
		return r.coffee(named)
	}
	return r.usualCoffee()
}

// usualCoffee returns the coffee of a message that names none.
func (r *room) usualCoffee() (bar.Coffee, bool) {
	return r.lastCoffee(func(e bar.Entry, _ bar.Shot) bool { return e.Person == r.who.ID && e.Day == r.day })
}

// lastCoffee returns what is in the grinder now of the last of those shots, else the
// only coffee on the bar.
func (r *room) lastCoffee(of func(bar.Entry, bar.Shot) bool) (bar.Coffee, bool) {
	if last, ok := r.newest(of); ok {
		s := last.What.(bar.Shot)
		if c, ok := r.coffee(r.inGrinder(s.Coffee, s.Grinder, last)); ok && !c.Retired {
			return c, true
		}
	}
	if on := r.onBar(); len(on) == 1 {
		return on[0], true
	}
	return bar.Coffee{}, false
}

// How near the recipe of another coffee a shot that names none has to be, and how
// far in its dose from its own, to be asked whose it is; as parts. Assumed.
const (
	fitsRecipe = 0.025
	offRecipe  = 0.05
)

// fitsAnother reports whether a shot has the dose and the yield of another coffee's
// recipe, and not the dose of the one it would be taken for.
func (r *room) fitsAnother(p parse.Shot, taken bar.Coffee) bool {
	near := func(n parse.Number, of bar.Grams, within float64) bool { return math.Abs(n.X/float64(of)-1) <= within }
	if !p.Dose.Said || !p.Yield.Said || near(p.Dose, taken.RecipeFor(p.Marks).Dose, offRecipe) {
		return false
	}
	return slices.ContainsFunc(r.onBar(), func(c bar.Coffee) bool {
		recipe := c.RecipeFor(p.Marks)
		return c.ID != taken.ID && near(p.Dose, recipe.Dose, fitsRecipe) && near(p.Yield, recipe.Yield, fitsRecipe)
	})
}

// ask keeps the message as it is and asks what it means; the answer makes it a
// shot.
func (t *turn) ask(r *room, question func(bar.EntryID) chat.Post) ([]Out, error) {
	return t.hold(bar.Entry{Message: t.m.ID, Person: t.who.ID, At: t.now, Day: r.day, Raw: t.m.Text, What: bar.Held{}}, "", question)
}

// hold is ask for an entry; mark is what else it is known by, or empty.
func (t *turn) hold(entry bar.Entry, mark string, question func(bar.EntryID) chat.Post) ([]Out, error) {
	var post chat.Post
	err := t.update(func(tx *store.Tx) error {
		id, err := tx.AddEntry(t.bar.ID, entry)
		if err != nil {
			return err
		}
		if mark != "" {
			if err := tx.MarkSeen(t.bar.ID, mark, t.now); err != nil {
				return err
			}
		}
		post = question(id)
		return tx.PutReply(t.bar.ID, store.Reply{Cause: t.m.ID, Entry: id, Kind: post.Kind.String(), At: t.now})
	})
	return []Out{{Post: post}}, err
}

// makeHouse adds the coffee of a bar that has told of none, and its grinder, under
// the name that its shot had, if it had one.
func (t *turn) makeHouse(r *room, name string) (bar.Coffee, error) {
	c := bar.Coffee{Name: t.in().Say(say.HouseName), Recipe: bar.House()}
	if name = say.ShownName(name); name != "" && !parse.Reserved(name) {
		c.Name = name
	}
	g := bar.Grinder{Name: t.in().Say(say.HouseGrinder)}
	err := t.update(func(tx *store.Tx) error {
		c.ID, c.Grinder, g.ID = 0, 0, 0
		if used := r.inUse(); len(used) > 0 {
			g = used[0]
		} else if err := tx.PutGrinder(t.bar.ID, &g); err != nil {
			return err
		}
		c.Grinder = g.ID
		return tx.PutCoffee(t.bar.ID, &c)
	})
	r.coffees = append(r.coffees, c)
	if len(r.inUse()) == 0 {
		r.grinders = append(r.grinders, g)
	}
	return c, err
}

// resolve fills in what the message left out, and notes where each value comes
// from.
func (t *turn) resolve(r *room, entry bar.Entry, p parse.Shot, c bar.Coffee, g bar.Grinder) (bar.Shot, error) {
	said, done, err := t.advised(r, entry, p, c)
	if err != nil {
		return bar.Shot{}, err
	}
	advised := done > 0.5
	s := p.Told()
	s.Coffee, s.Grinder = c.ID, g.ID
	if p.Gushed && !p.Time.Said { // a gusher is a fast time, whatever the clock said
		s.Time = bar.Value[bar.Seconds]{X: gusherTime, From: bar.Assumed, Rough: true}
	}
	turned := advised && !p.Marks.Has(bar.Stuck)
	s.Grind, s.Turned = r.grind(entry, p.Grind, g, said, turned)
	if p.Grind.Odd {
		s.Marks |= bar.Unplaced
	}
	if grind, turned, err := t.byTheClock(r, entry, s, said, done); err != nil {
		return bar.Shot{}, err
	} else if turned {
		s.Grind = grind
	}
	if set, ok := r.dialSet(entry, g.ID); ok && set.Purged && s.Marks&bar.NotPurged == 0 {
		s.Marks |= bar.Purged
	}
	last, pulled := r.lastOf(entry, c.ID)
	recipe := c.RecipeFor(s.Marks)
	advised = advised && (!pulled || last.Marks&bar.InMilk == s.Marks&bar.InMilk)
	fill(&s.Dose, recipe.Dose, last.Dose, p.Same && pulled, advised && said.Lever == bar.Dose, said.To)
	if p.Ratio.Said {
		s.Yield = bar.Value[bar.Grams]{X: s.Dose.X * bar.Grams(p.Ratio.X), From: bar.Said, Rough: p.Ratio.Rough || s.Dose.From != bar.Said}
	}
	fill(&s.Yield, recipe.Yield, last.Yield, p.Same && pulled, advised && said.Lever == bar.Yield, said.To)
	if advised && said.Lever == bar.Yield {
		s.Meant = bar.Grams(said.To)
	}
	return s, nil
}

// fill puts in v, if it was not said, what was advised, what was the same as
// before, or what the recipe has.
func fill(v *bar.Value[bar.Grams], recipe bar.Grams, last bar.Value[bar.Grams], same, advised bool, to float64) {
	switch {
	case v.From != bar.None:
	case same && last.From != bar.None:
		*v = bar.Value[bar.Grams]{X: last.X, From: bar.Last, Rough: last.Rough}
	case advised:
		*v = bar.Value[bar.Grams]{X: bar.Grams(to), From: bar.Advised}
	default:
		*v = bar.Value[bar.Grams]{X: recipe, From: bar.Assumed}
	}
}

// lastOf returns the last shot of a coffee before an entry.
func (r *room) lastOf(before bar.Entry, c bar.CoffeeID) (bar.Shot, bool) {
	e, ok := r.newest(func(e bar.Entry, s bar.Shot) bool { return s.Coffee == c && earlier(e, before) })
	if !ok {
		return bar.Shot{}, false
	}
	return e.What.(bar.Shot), true
}

// earlier reports whether e came before other, which may not have an id yet.
func earlier(e, other bar.Entry) bool {
	return e.ID != other.ID && (e.At.Before(other.At) || e.At.Equal(other.At) && (other.ID == 0 || e.ID < other.ID))
}

// How likely an advice was done that nobody has said they did: by who got it, and
// by somebody else, in time. Assumed; the clock weighs it.
const (
	doneByOwn   = 0.85
	doneByOther = 0.5
)

// advised returns the last advice on a coffee, and how likely this shot followed
// it: it came after the coffee's last shot, and there was time to do it before the
// shot began.
func (t *turn) advised(r *room, entry bar.Entry, p parse.Shot, c bar.Coffee) (said store.Said, done float64, err error) {
	var found bool
	err = t.see(func(tx *store.Tx) (err error) {
		if said, found, err = tx.LastAdvice(t.bar.ID, c.ID); err != nil || !found {
			return err
		}
		on, err := tx.Entry(t.bar.ID, said.Entry)
		found = !on.Deleted // advice on what never was is none
		return err
	})
	shots := r.shots(func(e bar.Entry, s bar.Shot) bool { return s.Coffee == c.ID && earlier(e, entry) })
	between := 0
	if err == nil && found && said.Person != entry.Person && said.Person != 0 {
		said, between, err = t.sharedAdvice(entry.Person, said, shots)
	}
	if err != nil || !found || said.Voided || entry.ID == said.Entry || r.rezeroed(said.Grinder, said.At, entry) {
		return said, 0, err
	}
	for _, e := range shots[between:] {
		if e.ID > said.Entry {
			return said, 0, nil // pulled since, after other advice or none
		}
	}
	began := entry.At.Add(-time.Duration(p.Time.X * float64(time.Second)))
	switch own := said.Person == entry.Person || said.Person == 0; {
	case said.Followed && own:
		return said, 1, nil
	case began.Before(said.At.Add(toChange)):
		return said, 0, nil
	case own:
		return said, doneByOwn, nil
	}
	return said, doneByOther, nil
}

// byTheClock returns where the dial stood, if nobody has said it, and the time of
// the shot fits the other of what was advised and where it stood before.
func (t *turn) byTheClock(r *room, entry bar.Entry, s bar.Shot, said store.Said, done float64) (bar.Value[bar.Dial], bool, error) {
	g, _ := r.grinder(s.Grinder)
	last, known := r.position(entry, g)
	open := said.Lever == bar.Grind && said.Unit == advisor.DialUnit && said.Grinder == g.ID && done > 0 && done < 1
	if !open || !known || s.Grind.From != bar.Advised && s.Grind.From != bar.Last || s.Marks.Has(bar.Stuck) || s.Time.From != bar.Said {
		return s.Grind, false, nil
	}
	if _, set := r.dialSet(entry, g.ID); set {
		return s.Grind, false, nil
	}
	odds, instead := done/(1-done), bar.Value[bar.Dial]{X: bar.Dial(said.To), From: bar.Clocked}
	if s.Grind.From == bar.Advised {
		odds, instead.X = 1/odds, last
	}
	h, err := t.history(s.Coffee)
	if err != nil {
		return s.Grind, false, err
	}
	entry.ID, entry.What = cmp.Or(entry.ID, provisional), s
	h.Entries = with(h.Entries, entry)
	return instead, odds > t.clocked(h, entry.ID, instead), nil
}

// sharedAdvice returns the advice that a person had got when somebody else,
// whose shot was running, was told the same, and how many shots came since. If
// there is none, it returns what the other was told.
func (t *turn) sharedAdvice(to bar.PersonID, last store.Said, shots []bar.Entry) (said store.Said, since int, err error) {
	err = t.see(func(tx *store.Tx) error {
		for i, e := range shots { // newest first
			other, ok, err := tx.AdviceOf(t.bar.ID, e.ID)
			switch {
			case err != nil || !ok || !sameChange(other, last) || other.Voided:
				return err
			case other.Person == to:
				said, since = other, i
				return nil
			}
		}
		return nil
	})
	if said.Person != to || err != nil {
		return last, 0, err
	}
	return said, since, nil
}
