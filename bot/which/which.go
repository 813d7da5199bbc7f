package which

import (
	"cmp"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/bot/figures"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/turn"
)

// OfCoffee returns the shots of a coffee; 0 is any.
func OfCoffee(shots []bar.Entry, id bar.CoffeeID) []bar.Entry {
	return slices.DeleteFunc(shots, func(e bar.Entry) bool { return id != 0 && e.What.(bar.Shot).Coffee != id })
}

// clockSlip is how far the time may be from a shot's that somebody names it by, as they
// read it off a clock. Assumed.
const clockSlip = 3 * time.Minute

// Meant returns some shots of a day, newest first, from the one on that is meant.
func Meant(r *recent.Book, shots []bar.Entry, which parse.Which, wrong parse.Number) []bar.Entry {
	switch {
	case which.Before:
		return earlierOf(shots, wrong)
	case which.Nth > 0 && which.Nth <= len(shots):
		return shots[len(shots)-which.Nth:][:1]
	case which.Nth > 0:
		return nil
	case which.Had.Said:
		return having(shots, which)
	case which.Around > 0:
		return about(r, shots, which.Around)
	case which.Clock > 0:
		midnight := time.Date(r.Now.Year(), r.Now.Month(), r.Now.Day(), 0, 0, 0, 0, r.Now.Location())
		off := func(e bar.Entry) time.Duration {
			return (e.At.Sub(midnight).Truncate(time.Minute) - time.Duration(which.Clock-1)*time.Minute).Abs()
		}
		shots = slices.DeleteFunc(slices.Clone(shots), func(e bar.Entry) bool { return off(e) > clockSlip })
		slices.SortStableFunc(shots, func(a, b bar.Entry) int { return cmp.Compare(off(a), off(b)) })
	case which == parse.Which{}:
		late := func(e bar.Entry) bool { return Had(e, wrong) && r.Now.Sub(e.At) <= resolve.LateTaste }
		return shots[max(0, slices.IndexFunc(shots, late)):]
	}
	return shots
}

// having returns the shots with a number that names one: those whose time it is, else those
// of which it is any.
func having(shots []bar.Entry, which parse.Which) []bar.Entry {
	timed := func(e bar.Entry) bool { return known(e.What.(bar.Shot).Time) == which.Had.X }
	others := func(e bar.Entry) bool { return !timed(e) }
	list := slices.DeleteFunc(slices.Clone(shots), others)
	if len(list) == 0 && !which.Timed {
		list = slices.DeleteFunc(slices.Clone(shots), func(e bar.Entry) bool { return !Had(e, which.Had) })
	}
	return list
}

// Had reports whether just one number of a shot is so.
func Had(e bar.Entry, wrong parse.Number) bool {
	s, _ := e.What.(bar.Shot)
	_, ok := figures.Naming(s, wrong)
	return ok
}

// about returns the shots that were pulled about an hour of the day, else those whose dial
// stood there: "the one i did at 6".
func about(r *recent.Book, shots []bar.Entry, hour int) (then []bar.Entry) {
	for _, after := range []int{0, 12} {
		for _, e := range shots {
			at := e.At.In(r.Now.Location())
			from := time.Date(at.Year(), at.Month(), at.Day(), hour+after, 0, 0, 0, at.Location()).Add(-halfHour)
			if !at.Before(from) && at.Before(from.Add(3*halfHour)) {
				then = append(then, e)
			}
		}
		if len(then) > 0 {
			return then
		}
	}
	return slices.DeleteFunc(slices.Clone(shots), func(e bar.Entry) bool {
		s, _ := e.What.(bar.Shot)
		return s.Grind.From == bar.None || s.Grind.X != bar.Dial(hour)
	})
}

// halfHour is how long before an hour people may still mean that hour. Assumed.
const halfHour = 30 * time.Minute

// earlierOf returns the shot before the last and those before it; where one of the
// last two alone had a number that is said to be wrong, that one first. Who has pulled
// one says so with the next in hand.
func earlierOf(shots []bar.Entry, wrong parse.Number) []bar.Entry {
	if len(shots) < 2 {
		return shots
	}
	if Had(shots[0], wrong) && !Had(shots[1], wrong) {
		return shots
	}
	return shots[1:]
}

// OtherGrinder returns the only other grinder there is.
func OtherGrinder(r *recent.Book, than bar.GrinderID) bar.GrinderID {
	var others []bar.GrinderID
	for _, g := range r.InUse() {
		if g.ID != than {
			others = append(others, g.ID)
		}
	}
	if len(others) != 1 {
		return 0
	}
	return others[0]
}

// LastOpen returns the shot that was put in the book last of those that are
// nobody's and still asked about.
func LastOpen(r *recent.Book) (bar.Entry, bool) {
	return LastKept(r.Shots(func(e bar.Entry, _ bar.Shot) bool {
		return recent.IsOpen(e) && r.Now.Sub(e.At) <= resolve.TasteWindow && !e.At.After(r.Now)
	}))
}

// LastKept returns the entry that was put in the book last: what people have seen
// last. One that is told late is not the last by its time.
func LastKept(list []bar.Entry) (bar.Entry, bool) {
	if len(list) == 0 {
		return bar.Entry{}, false
	}
	return slices.MaxFunc(list, func(a, b bar.Entry) int { return cmp.Compare(a.ID, b.ID) }), true
}

// SpokenOf returns the shots that a person may put right without a name, the one
// that is meant first: what a device has posted since their own last is.
func SpokenOf(r *recent.Book, who bar.PersonID) []bar.Entry {
	own := r.Shots(func(e bar.Entry, _ bar.Shot) bool { return e.ToldBy(who) && e.Day == r.Day })
	if open, ok := LastOpen(r); ok && (len(own) == 0 || open.ID > own[0].ID) {
		return append([]bar.Entry{open}, own...)
	}
	return own
}

// Nameless reports whether the first of some shots is just pulled, was given without a
// coffee's name, and was taken for another one than this.
func Nameless(r *recent.Book, shots []bar.Entry, coffee bar.CoffeeID) bool {
	if len(shots) == 0 || r.Now.Sub(shots[0].At) > resolve.TasteWindow {
		return false
	}
	p, ok, err := resolve.ReadShot(shots[0].Raw, r.Vocab())
	s, _ := shots[0].What.(bar.Shot)
	return err == nil && ok && p.Coffee == 0 && s.Coffee != coffee && !r.NamedFor(shots[0], s)
}

// Referred returns this person's last shot where a message may be of it: one of
// the last minutes.
func Referred(r *recent.Book, p parse.Shot, before bar.Entry) (bar.Entry, bool) {
	e, ok := r.Newest(func(e bar.Entry, _ bar.Shot) bool { return e.ToldBy(r.Who.ID) && recent.Earlier(e, before) })
	window := resolve.TasteWindow
	if s, _ := e.What.(bar.Shot); p.Coffee != 0 && p.Coffee != s.Coffee { // "no, tide 18 40 27"
		window = turn.AnswerWindow
	}
	if !ok || !p.Refers && !p.Weight || before.At.Sub(e.At) > window {
		return e, false
	}
	_, moved := r.DialSet(before, e.What.(bar.Shot).Grinder) // then it is of the next
	return e, !moved && !r.Named.At.After(e.At)
}

// Unsaid returns this person's last shot where a message says little more than numbers
// which that has not: "28 s" of one whose time was asked, "38 out" of one that was told by
// its time alone.
func Unsaid(r *recent.Book, p parse.Shot) (bar.Entry, bool) {
	e, ok := r.Newest(func(e bar.Entry, _ bar.Shot) bool { return e.ToldBy(r.Who.ID) })
	if !ok || r.Now.Sub(e.At) > turn.AnswerWindow {
		return e, false
	}
	s := e.What.(bar.Shot)
	more := p.Ratio.Said || p.Grind.Said || p.Same || p.Stranger != "" || p.Event != 0 || p.Gushed
	timed := p.Time.Said && !p.Dose.Said && !p.Yield.Said && s.Time.From == bar.None && !s.Marks.Has(bar.Choked)
	weighed := p.Weight && (!p.Dose.Said || s.Dose.From == bar.Assumed) && (!p.Yield.Said || s.Yield.From == bar.Assumed)
	return e, !more && (timed || weighed) && (p.Coffee == 0 || p.Coffee == s.Coffee) && (len(p.Doubt) == 0 || p.Half)
}

// Repeated reports whether the same was told of the bar minutes ago.
func Repeated(r *recent.Book, w bar.Told) (bar.Entry, bool) {
	for _, e := range slices.Backward(r.Recent) {
		if o, ok := e.What.(bar.Told); ok && !e.Deleted && o == w && w.Event != bar.Moved && r.Now.Sub(e.At) < 5*time.Minute {
			return e, true
		}
		if _, shot := e.What.(bar.Shot); shot {
			break
		}
	}
	return bar.Entry{}, false
}

// Revises reports whether words deny what the same person has said of a shot, or
// say that it was not that: "no balanced" after "sour".
func Revises(r *recent.Book, shot bar.Entry, who bar.PersonID, p parse.Words) bool {
	before := map[string]bool{}
	for _, w := range SaidOf(r, shot, who) {
		before[w.Term] = before[w.Term] || !w.Not && !w.Than
	}
	return slices.ContainsFunc(p.Words, func(w bar.Word) bool { return w.Not && before[w.Term] })
}

// SaidOf returns what a person has said of how a shot tastes.
func SaidOf(r *recent.Book, shot bar.Entry, who bar.PersonID) (words []bar.Word) {
	if s, ok := shot.What.(bar.Shot); ok && shot.Person == who {
		words = append(words, s.Words...)
	}
	for _, e := range WordsOn(r, shot.ID, who) {
		words = append(words, e.What.(bar.Words).Words...)
	}
	return words
}

// LastTaste returns what a person has said of the last cup of a shot's coffee before it.
func LastTaste(r *recent.Book, who bar.PersonID, shot bar.Entry) []bar.Word {
	s, _ := shot.What.(bar.Shot)
	e, _ := r.Newest(func(e bar.Entry, other bar.Shot) bool {
		return e.ID != shot.ID && other.Coffee == s.Coffee && recent.Earlier(e, shot) && len(SaidOf(r, e, who)) > 0
	})
	return SaidOf(r, e, who)
}

// Contradicts reports whether words and what the same person has said of a shot cannot
// both be so: one praises and the other complains, or they are of too little and of too much.
func Contradicts(r *recent.Book, shot bar.Entry, who bar.PersonID, words []bar.Word) bool {
	side := func(words []bar.Word) (praised, little, much bool) {
		for _, w := range words {
			e, ok := taste.Default().Entry(w.Term)
			if !ok || w.Not || w.Than {
				continue
			}
			praised, little, much = praised || e.Praise > 0, little || e.Praise <= 0 && e.Extraction < -1, much || e.Praise <= 0 && e.Extraction > 1
		}
		return praised, little, much
	}
	praised, little, much := side(SaidOf(r, shot, who))
	nice, less, more := side(words)
	return praised && (less || more) || nice && (little || much) || little && !much && more && !less || much && !little && less && !more
}

// WordsOn returns the words that a person has said of a shot after it.
func WordsOn(r *recent.Book, shot bar.EntryID, who bar.PersonID) (list []bar.Entry) {
	for _, e := range r.Recent {
		if w, ok := e.What.(bar.Words); ok && w.Shot == shot && e.Person == who && !e.Deleted {
			list = append(list, e)
		}
	}
	return list
}

// ToldOf returns what p is about: the coffee or the grinder it names, else those
// of the coffee it is taken to be about; the machine's is the whole bar's.
func ToldOf(r *recent.Book, p parse.Happened, coffee bar.Coffee, known bool) (bar.Told, error) {
	if p.Event == bar.HopperFilled && p.Coffee != 0 && HoldsOther(r, coffee) { // "new hopper of tide"
		p.Event = bar.Swapped
	}
	told := bar.Told{Event: p.Event}
	switch p.Event.About() {
	case bar.TheBar:
	case bar.TheCoffee:
		if !known {
			return told, turn.Mistake(r.Lang().WhichCoffee(r.OnBar()))
		}
		told.Coffee = coffee.ID
	case bar.NamedCoffee:
		told.Coffee = p.Coffee
	case bar.CoffeeInGrinder:
		if told.Coffee = p.Coffee; told.Coffee == 0 {
			coffee = OtherIn(r, p.Grinder)
			told.Coffee = coffee.ID
		}
		if told.Coffee == 0 {
			return told, turn.Mistake(r.Lang().WhichCoffee(r.OnBar()))
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
			return told, turn.Mistake(r.Lang().WhichGrinder(r.InUse()))
		}
	}
	return told, nil
}

// HoldsOther reports whether the grinder of a coffee holds another one now.
func HoldsOther(r *recent.Book, c bar.Coffee) bool {
	e, ok := r.Newest(func(_ bar.Entry, s bar.Shot) bool { return s.Grinder == c.Grinder })
	return ok && r.InGrinder(e.What.(bar.Shot).Coffee, c.Grinder, e) != c.ID
}

// OtherIn returns the coffee that a grinder holds after a swap that names none: the
// only other one on it besides the one last pulled there.
func OtherIn(r *recent.Book, g bar.GrinderID) bar.Coffee {
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

// CoffeesOf names the coffees of shots, each once.
func CoffeesOf(r *recent.Book, shots []bar.Entry) (names []string) {
	for _, e := range shots {
		s, _ := e.What.(bar.Shot)
		if c, ok := r.Coffee(s.Coffee); ok && !slices.Contains(names, c.Name) {
			names = append(names, c.Name)
		}
	}
	return names
}

// JustPulled returns this person's last shot, if it is of the last minutes.
func JustPulled(r *recent.Book) (bar.Entry, bool) { return OwnWithin(r, resolve.TasteWindow) }

// OwnWithin returns the last shot of who writes, if it is no older than that.
func OwnWithin(r *recent.Book, window time.Duration) (bar.Entry, bool) {
	return r.Newest(func(e bar.Entry, _ bar.Shot) bool { return e.ToldBy(r.Who.ID) && r.Now.Sub(e.At) <= window })
}

// Pulled is a shot as what is typed of it is read.
func Pulled(s bar.Shot) parse.Pulled {
	return parse.Pulled{
		Coffee: s.Coffee, Dose: known(s.Dose), Yield: known(s.Yield), Time: known(s.Time), Dial: known(s.Grind),
	}
}

// known is a value, 0 where it is not known.
func known[T ~float64](v bar.Value[T]) float64 {
	if v.From == bar.None {
		return 0
	}
	return float64(v.X)
}
