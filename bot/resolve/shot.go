package resolve

import (
	"cmp"
	"math"
	"slices"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// Times that decide what a message is about. Common practice, no source.
const (
	TasteWindow = 5 * time.Minute  // words alone belong to a shot this long
	LateTaste   = time.Hour        // and "it was bitter" to one's own last
	toChange    = 15 * time.Second // the least it takes to read advice and turn a dial
	gusherTime  = 12               // s of a gusher nobody timed
)

// How near the recipe of another coffee a shot that names none has to be, and how
// far in its dose from its own, to be asked whose it is; as parts. Assumed.
const (
	fitsRecipe = 0.025
	offRecipe  = 0.05
)

// FitsAnother reports whether a shot has the dose and the yield of another coffee's
// recipe, and not the dose of the one it would be taken for.
func FitsAnother(r *recent.Book, p parse.Shot, taken bar.Coffee) bool {
	near := func(n parse.Number, of bar.Grams, within float64) bool { return math.Abs(n.X/float64(of)-1) <= within }
	if !p.Dose.Said || !p.Yield.Said || near(p.Dose, taken.RecipeFor(p.Marks).Dose, offRecipe) {
		return false
	}
	return slices.ContainsFunc(r.OnBar(), func(c bar.Coffee) bool {
		recipe := c.RecipeFor(p.Marks)
		return c.ID != taken.ID && near(p.Dose, recipe.Dose, fitsRecipe) && near(p.Yield, recipe.Yield, fitsRecipe)
	})
}

// Ask keeps the message as it is and asks what it means; the answer makes it a
// shot.
func Ask(t *turn.Turn, r *recent.Book, question func(bar.EntryID) chat.Post) ([]turn.Out, error) {
	return Hold(t, bar.Entry{Message: t.Msg.ID, Person: t.Who.ID, At: t.Now, Day: r.Day, Raw: t.Msg.Text, What: bar.Held{}}, "", question)
}

// Hold is ask for an entry; mark is what else it is known by, or empty.
func Hold(t *turn.Turn, entry bar.Entry, mark string, question func(bar.EntryID) chat.Post) ([]turn.Out, error) {
	var post chat.Post
	err := t.Update(func(tx *store.Tx) error {
		id, err := tx.AddEntry(t.Bar.ID, entry)
		if err != nil {
			return err
		}
		if mark != "" {
			if err := tx.MarkSeen(t.Bar.ID, mark, t.Now); err != nil {
				return err
			}
		}
		post = question(id)
		if err := tx.PutReply(t.Bar.ID, store.Reply{Cause: t.Msg.ID, Entry: id, Kind: post.Kind.String(), At: t.Now}); err != nil {
			return err
		}
		return t.Remember(tx, post)
	})
	return []turn.Out{{Post: post}}, err
}

// OrHouse returns the coffee of a shot if it is known, else it adds that of a bar
// that has told of none, and its grinder, under the name that the shot had, if it had
// one.
func OrHouse(t *turn.Turn, r *recent.Book, coffee bar.Coffee, known bool, name string) (bar.Coffee, error) {
	if known {
		return coffee, nil
	}
	c := bar.Coffee{Name: t.Lang().Say(say.HouseName), Recipe: bar.House()}
	if name = say.ShownName(name); name != "" && !parse.Reserved(name) {
		c.Name = name
	}
	g, err := FirstGrinder(t, r)
	if err != nil {
		return c, err
	}
	c.Grinder = g.ID
	err = t.Update(func(tx *store.Tx) error {
		c.ID = 0
		return tx.PutCoffee(t.Bar.ID, &c)
	})
	r.Coffees = append(r.Coffees, c)
	return c, err
}

// FirstGrinder returns the first grinder in use. It adds that of a bar that has told of
// none.
func FirstGrinder(t *turn.Turn, r *recent.Book) (bar.Grinder, error) {
	if used := r.InUse(); len(used) > 0 {
		return used[0], nil
	}
	g := bar.Grinder{Name: t.Lang().Say(say.HouseGrinder)}
	err := t.Update(func(tx *store.Tx) error {
		g.ID = 0
		return tx.PutGrinder(t.Bar.ID, &g)
	})
	r.Grinders = append(r.Grinders, g)
	return g, err
}

// Resolve fills in what the message left out, and notes where each value comes
// from.
func Resolve(t *turn.Turn, r *recent.Book, entry bar.Entry, p parse.Shot, c bar.Coffee, g bar.Grinder) (bar.Shot, error) {
	said, done, err := advised(t, r, entry, p, c)
	if err != nil {
		return bar.Shot{}, err
	}
	advised := done > 0.5
	s := p.Told()
	s.Coffee, s.Grinder = c.ID, g.ID
	if p.Gushed && !p.Time.Said { // a gusher is a fast time, whatever the clock said
		s.Time = bar.Value[bar.Seconds]{X: gusherTime, From: bar.Assumed, Rough: true}
	}
	if p.Grind.Odd {
		s.Marks |= bar.Unplaced
	}
	if s, err = stood(t, r, entry, s, p.Grind, said, done); err != nil {
		return bar.Shot{}, err
	}
	if set, ok := r.DialSet(entry, g.ID); ok && set.Purged && s.Marks&bar.NotPurged == 0 {
		s.Marks |= bar.Purged
	}
	last, pulled := r.LastOf(entry, c.ID)
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

// stood returns a shot with where its dial stood, as said or as advised.
func stood(t *turn.Turn, r *recent.Book, entry bar.Entry, s bar.Shot, p parse.Grind, said store.Said, done float64) (bar.Shot, error) {
	g, _ := r.Grinder(s.Grinder)
	s.Grind, s.Turned, s.TurnedFrom = Grind(r, entry, p, g, said, done > 0.5 && !s.Marks.Has(bar.Stuck))
	grind, turned, err := byTheClock(t, r, entry, s, said, done)
	if err == nil && turned {
		s.Grind = grind
	}
	return s, err
}

// On returns a shot that was pulled on another grinder than it was taken for, of that
// coffee: its dial stood there as it does for a new shot.
func On(t *turn.Turn, r *recent.Book, entry bar.Entry, s bar.Shot, p parse.Grind, c bar.Coffee) (bar.Shot, error) {
	s.Coffee, s.Grinder = c.ID, c.Grinder
	shot := parse.Shot{Grind: p, Time: parse.Number{X: float64(s.Time.X)}}
	said, done, err := advised(t, r, entry, shot, c)
	if err != nil {
		return s, err
	}
	return stood(t, r, entry, s, p, said, done)
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

// How likely an advice was done that nobody has said they did: by who got it, and
// by somebody else, in time. Assumed; the clock weighs it.
const (
	doneByOwn   = 0.85
	doneByOther = 0.5
)

// advised returns the last advice on a coffee, and how likely this shot followed
// it: it came after the coffee's last shot, and there was time to do it before the
// shot began.
func advised(t *turn.Turn, r *recent.Book, entry bar.Entry, p parse.Shot, c bar.Coffee) (said store.Said, done float64, err error) {
	var found bool
	err = t.See(func(tx *store.Tx) (err error) {
		if said, found, err = tx.LastAdvice(t.Bar.ID, c.ID); err != nil || !found {
			return err
		}
		on, err := tx.Entry(t.Bar.ID, said.Entry)
		found = !on.Deleted // advice on what never was is none
		return err
	})
	shots := r.Shots(func(e bar.Entry, s bar.Shot) bool { return s.Coffee == c.ID && recent.Earlier(e, entry) })
	if err == nil && entry.ID != 0 && said.Entry >= entry.ID { // given on it, or since
		if found = len(shots) > 0; found {
			said, found, err = t.AdviceOf(shots[0].ID)
		}
	}
	between := 0
	if err == nil && found && said.Person != entry.Person && said.Person != 0 {
		said, between, err = sharedAdvice(t, entry.Person, said, shots)
	}
	if err != nil || !found || said.Voided || entry.ID == said.Entry || r.Rezeroed(said.Grinder, said.At, entry) {
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
	case began.Before(said.At.Add(toChange)), said.Lever == bar.Grind && r.MovedSince(entry, said.Grinder, said.At):
		return said, 0, nil
	case own:
		return said, doneByOwn, nil
	}
	return said, doneByOther, nil
}

// byTheClock returns where the dial stood, if nobody has said it, and the time of
// the shot fits the other of what was advised and where it stood before.
func byTheClock(t *turn.Turn, r *recent.Book, entry bar.Entry, s bar.Shot, said store.Said, done float64) (bar.Value[bar.Dial], bool, error) {
	g, _ := r.Grinder(s.Grinder)
	last, known := r.Position(entry, g)
	open := said.Lever == bar.Grind && said.Unit == advisor.DialUnit && said.Grinder == g.ID && done > 0 && done < 1
	if !open || !known || s.Grind.From != bar.Advised && s.Grind.From != bar.Last || s.Marks.Has(bar.Stuck) || s.Time.From != bar.Said {
		return s.Grind, false, nil
	}
	if _, set := r.DialSet(entry, g.ID); set {
		return s.Grind, false, nil
	}
	odds, instead := done/(1-done), bar.Value[bar.Dial]{X: bar.Dial(said.To), From: bar.Clocked}
	if s.Grind.From == bar.Advised {
		odds, instead.X = 1/odds, last
	}
	h, err := t.History(s.Coffee)
	if err != nil {
		return s.Grind, false, err
	}
	entry.ID, entry.What = cmp.Or(entry.ID, recent.Provisional), s
	h.Entries = recent.With(h.Entries, entry)
	return instead, odds > t.Clocked(h, entry.ID, instead), nil
}

// sharedAdvice returns the advice that a person had got when somebody else,
// whose shot was running, was told the same, and how many shots came since. If
// there is none, it returns what the other was told.
func sharedAdvice(t *turn.Turn, to bar.PersonID, last store.Said, shots []bar.Entry) (said store.Said, since int, err error) {
	err = t.See(func(tx *store.Tx) error {
		for i, e := range shots { // newest first
			other, ok, err := tx.AdviceOf(t.Bar.ID, e.ID)
			switch {
			case err != nil || !ok || !answer.SameChange(other, last) || other.Voided:
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
