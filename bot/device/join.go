package device

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strings"
	"time"

	"shothand/bot/say/setup"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// apart returns how far two readings are apart, in tolerances. It is false if
// they cannot be of one shot, or have nothing in common to tell by. A dose is
// often told from habit, and counts little.
func apart(a, b bar.Reading) (float64, bool) {
	off := func(x, y, most float64) (float64, bool) {
		if !(x > 0) || !(y > 0) {
			return 0, false
		}
		return math.Abs(x-y) / most, true
	}
	inTime, timed := off(float64(a.Time), float64(b.Time), recent.SameTime)
	inYield, weighed := off(float64(a.Yield), float64(b.Yield), recent.SameYield)
	inDose, _ := off(float64(a.Dose), float64(b.Dose), recent.SameDose)
	far := math.Hypot(inTime, inYield)
	if far > 1+1e-9 || inDose > 1+1e-9 {
		return 0, false
	}
	return math.Hypot(far, inDose), timed || weighed
}

// saidOf returns the numbers of a shot that were said.
func saidOf(s bar.Shot) bar.Reading {
	var r bar.Reading
	if s.Dose.From == bar.Said {
		r.Dose = s.Dose.X
	}
	if s.Yield.From == bar.Said {
		r.Yield = s.Yield.X
	}
	if s.Time.From == bar.Said {
		r.Time = s.Time.X
	}
	return r
}

// toldOf returns the person's shot that a device posts, the nearest in numbers;
// of two as near the one told first.
func toldOf(r *recent.Book, d bar.Device, posted bar.Entry, p parse.Shot) (bar.Entry, bool) {
	var best bar.Entry
	least := math.Inf(1)
	if p.Stranger != "" {
		return best, false
	}
	shots := r.Shots(func(e bar.Entry, s bar.Shot) bool {
		return s.Device == 0 && e.Person != 0 && e.Message != "" && recent.Around(e.At, posted.At) && (p.Coffee == 0 || p.Coffee == s.Coffee)
	})
	began := posted.At.Add(-time.Duration(p.Time.X * float64(time.Second)))
	for _, e := range slices.Backward(shots) { // the oldest first
		s := e.What.(bar.Shot)
		c, _ := r.Coffee(s.Coffee)
		off, ok := seenBy(r, d, p, c, saidOf(s))
		if ok && off < least-1e-9 && !began.After(e.At.Add(recent.BeganAfter)) && !postedFor(r, d, e, saidOf(s), posted.ID) {
			best, least = e, off
		}
	}
	return best, !math.IsInf(least, 1)
}

// postedFor reports whether a device has posted another shot that a person's may
// be, and that has not been taken for it: then none that comes later is.
func postedFor(r *recent.Book, d bar.Device, told bar.Entry, said bar.Reading, but bar.EntryID) bool {
	c, _ := r.Coffee(told.What.(bar.Shot).Coffee)
	return slices.ContainsFunc(r.Recent, func(e bar.Entry) bool {
		if recent.PostedBy(e) != d.ID || e.ID == but || !recent.Around(e.At, told.At) {
			return false
		}
		p, ok, err := parse.Post(e.Raw, r.Vocab())
		if err == nil && ok {
			_, ok = seenBy(r, d, p.Shot, c, said)
		}
		return err == nil && ok
	})
}

// seenBy returns how far what a person said is from what a device posted: as it
// shows it, or as it is corrected, whichever is nearer.
func seenBy(r *recent.Book, d bar.Device, p parse.Shot, c bar.Coffee, said bar.Reading) (float64, bool) {
	shown := readingOf(p)
	right, _ := d.Correct(shown, r.Bar.FromDrip, c.Wetting())
	if d.NoDose {
		shown.Dose = 0
	}
	off1, ok1 := apart(shown, said)
	off2, ok2 := apart(right, said)
	switch {
	case ok1 && ok2:
		return min(off1, off2), true
	case ok1:
		return off1, true
	}
	return off2, ok2
}

// A Twin is what a device posted that a person may have told of.
type Twin struct {
	Entry  bar.Entry // as posted: a shot of nobody's, or held
	Device bar.Device
	posted parse.Shot // as it shows it
	apart  float64
	// elsewhere is the coffee that the device's shot was taken for, if that is
	// another than the person's; else empty.
	elsewhere string
}

// Coffee returns the coffee that the device's shot was taken for, or none.
func (l Twin) Coffee() bar.CoffeeID {
	s, _ := l.Entry.What.(bar.Shot)
	return s.Coffee
}

// Twins returns what devices posted about an instant with the numbers of
// p, the nearest first.
func Twins(t *turn.Turn, r *recent.Book, p parse.Shot, at time.Time) ([]Twin, error) {
	all, err := t.Devices()
	if err != nil || len(all) == 0 || !p.Time.Said && !p.Yield.Said {
		return nil, err
	}
	var list []Twin
	for _, e := range r.Recent {
		if !recent.Around(e.At, at) || e.Person != 0 {
			continue
		}
		l, ok := twin(r, all, e, p)
		if ok {
			list = append(list, l)
		}
	}
	if slices.ContainsFunc(list, func(l Twin) bool { return l.elsewhere == "" }) {
		list = slices.DeleteFunc(list, func(l Twin) bool { return l.elsewhere != "" })
	}
	slices.SortStableFunc(list, func(a, b Twin) int { return cmp.Compare(a.apart, b.apart) })
	return list, nil
}

func twin(r *recent.Book, all []bar.Device, e bar.Entry, p parse.Shot) (l Twin, ok bool) {
	id := recent.PostedBy(e)
	i := slices.IndexFunc(all, func(d bar.Device) bool { return d.ID == id })
	if id == 0 || i < 0 {
		return l, false
	}
	shown, ok, err := parse.Post(e.Raw, r.Vocab())
	l = Twin{Entry: e, Device: all[i], posted: shown.Shot}
	if err != nil || !ok {
		return l, false
	}
	c, _ := r.Coffee(cmp.Or(l.Coffee(), p.Coffee))
	l.elsewhere = shown.Shot.Stranger
	if p.Coffee != 0 && l.Coffee() != 0 && p.Coffee != l.Coffee() {
		l.elsewhere = c.Name
	}
	l.apart, ok = seenBy(r, l.Device, l.posted, c, readingOf(p))
	return l, ok
}

// Tied returns those of a list that cannot be told from the first, or the first
// where it may as well be another shot altogether. There are none if it is clear.
func Tied(list []Twin) []Twin {
	n := 0
	for n < len(list) && list[n].apart-list[0].apart < recent.AsNear {
		n++
	}
	if n == 1 && list[0].elsewhere == "" {
		return nil
	}
	return list[:n]
}

// AskPosted asks which of the shots that devices posted a person has told of.
func AskPosted(t *turn.Turn, r *recent.Book, list []Twin) ([]turn.Out, error) {
	return resolve.Ask(t, r, func(held bar.EntryID) chat.Post {
		post := t.Post(chat.Question, setup.In(t.Lang()).WhichPosted())
		if first := list[0]; first.elsewhere != "" {
			post.Text = setup.In(t.Lang()).PostedElsewhere(first.Device, first.elsewhere)
		}
		for _, l := range list[:min(len(list), turn.MaxButtons-1)] {
			s := bar.Shot{Time: bar.Value[bar.Seconds]{X: bar.Seconds(l.posted.Time.X)}}
			label := setup.In(t.Lang()).PostedLabel(l.Device, l.Entry, s)
			if slices.ContainsFunc(post.Buttons, func(b chat.Button) bool { return b.Label == label }) {
				label += ", " + t.Lang().Number(l.posted.Yield.X) + " g"
			}
			post.Buttons = append(post.Buttons, chat.Button{Label: label, State: turn.PressState(turn.PressPosted, held, turn.IDText(l.Entry.ID))})
		}
		post.Buttons = append(post.Buttons, chat.Button{Label: t.Lang().Say(setup.AnotherLabel), State: turn.PressState(turn.PressPosted, held, "0")})
		return post
	})
}

// TwinOf returns what a device posted of the shot that a person's held message
// tells: the one that a button names, else the nearest.
func TwinOf(t *turn.Turn, r *recent.Book, held bar.Entry, p parse.Shot, verb, arg string) (*Twin, error) {
	if recent.PostedBy(held) != 0 {
		return nil, nil
	}
	list, err := Twins(t, r, p, held.At)
	switch {
	case verb == turn.PressPosted:
		return meantBy(list, arg), err
	case len(list) == 0 || list[0].elsewhere != "":
		return nil, err
	}
	return &list[0], err
}

// meantBy returns the one of a list that a button names, or none.
func meantBy(list []Twin, arg string) *Twin {
	for _, l := range list {
		if turn.IDText(l.Entry.ID) == arg {
			return &l
		}
	}
	return nil
}

// Joined returns a person's shot with what a device measured of it. What the
// person did not say is as it was taken to be when the device posted it.
func Joined(t *turn.Turn, r *recent.Book, s bar.Shot, p parse.Shot, l Twin, c bar.Coffee) (bar.Shot, error) {
	right, doubt := corrected(t, l.Device, l.posted, c)
	seen := right.Told()
	own := doubt > recent.SureClock && s.Time.From == bar.Said && otherThan(float64(s.Time.X), l.posted.Time.X, right.Time.X)
	if seen.Time.From != bar.None && !own {
		s.Time, s.TimeSD = seen.Time, doubt
	}
	own = s.Yield.From == bar.Said && otherThan(float64(s.Yield.X), l.posted.Yield.X, right.Yield.X)
	if seen.Yield.From != bar.None && !own {
		s.Yield = seen.Yield
	}
	if seen.Dose.From != bar.None {
		s.Dose = seen.Dose
	}
	if s.FirstDrip == 0 {
		s.FirstDrip = seen.FirstDrip
	}
	s.Device, s.Posted = l.Device.ID, l.Entry.ID
	taken, ok := l.Entry.What.(bar.Shot)
	if !ok || taken.Coffee != s.Coffee || taken.Grinder != s.Grinder {
		return s, nil
	}
	taken, err := PulledBy(t, r, l.Entry, taken)
	if !p.Grind.Said {
		s.Grind, s.Turned, s.TurnedFrom = taken.Grind, taken.Turned, taken.TurnedFrom
	}
	if s.Dose.From != bar.Said {
		s.Dose = taken.Dose
	}
	if s.Yield.From != bar.Said {
		s.Yield = taken.Yield
	}
	return s, err
}

// otherThan reports whether what a person tells was not read off a device's
// display: it is nearer to what the reading is corrected to than to what it shows.
func otherThan(said, shown, right float64) bool {
	return math.Abs(said-right) < math.Abs(said-shown)
}

// joinTold completes a person's shot with what a device posts of it. It is
// told only if the advice is another then.
func joinTold(t *turn.Turn, r *recent.Book, told, posted bar.Entry, d bar.Device, p parse.Shot, key string) ([]turn.Out, error) {
	s := told.What.(bar.Shot)
	c, _ := r.Coffee(s.Coffee)
	own, err := resolvePosted(t, r, posted, d, p, c)
	if err != nil {
		return nil, err
	}
	posted.What, posted.Deleted = own, true
	was := s
	said := parse.Shot{Grind: parse.Grind{Said: true}} // the person's dial stands
	if s, err = Joined(t, r, s, said, Twin{Entry: posted, Device: d, posted: p}, c); err != nil {
		return nil, err
	}
	if was.Dose.From != bar.Said && s.Dose.From != bar.Said {
		s.Dose = was.Dose
	}
	if was.Yield.From != bar.Said && s.Yield.From != bar.Said {
		s.Yield = was.Yield
	}
	told.What = s
	r.Recent = recent.With(r.Recent, told)
	off, _ := seenBy(r, d, p, c, saidOf(was))
	return answer.Answer{
		Turn: t, Book: r, Entry: told, Coffee: c, Mark: key, Aside: &posted, Joined: true,
		IfNews: off < recent.Notable, Lead: setup.In(t.Lang()).SameShot(d),
	}.Give()
}

// Split makes two shots again of one that a device posted and a person told. The
// person's is as they told it.
func Split(t *turn.Turn, r *recent.Book, e bar.Entry) ([]turn.Out, error) {
	old, _ := e.What.(bar.Shot)
	if old.Posted == 0 {
		return nil, nil // done already
	}
	p, ok, err := resolve.ReadShot(e.Raw, r.Vocab())
	if err != nil || !ok {
		return nil, errors.Join(err, turn.Mistake(t.WriterLang().Say(say.OldButton)))
	}
	posted, err := t.Stored(old.Posted)
	if err != nil {
		return nil, err
	}
	d, err := Of(t, old.Device)
	if err != nil {
		return nil, err
	}
	coffee, _ := r.Coffee(old.Coffee)
	grinder, _ := r.Grinder(old.Grinder)
	p.Grind = r.Settle(e, p.Grind, grinder)
	s, err := resolve.Resolve(t, r, e, p, coffee, grinder)
	if err != nil {
		return nil, err
	}
	if s.Grind.From != bar.Said {
		s.Grind, s.Turned, s.TurnedFrom = old.Grind, old.Turned, old.TurnedFrom
	}
	e.What, posted.Deleted = s, false
	r.Recent = recent.With(recent.With(r.Recent, e), posted)
	a := answer.CorrectionOf(t, r, e, coffee, setup.In(t.Lang()).TwoShots(d), "")
	a.Aside = &posted
	return a.Give()
}

// Rejoined returns a person's shot that was put right, with what the device
// measured of it still. If they are not of one shot any more, it returns what
// the device posted, to stand by itself again.
func Rejoined(t *turn.Turn, r *recent.Book, s bar.Shot, p parse.Shot, posted bar.EntryID, c bar.Coffee) (bar.Shot, *bar.Entry, error) {
	e, err := t.Stored(posted)
	if err != nil {
		return s, nil, err
	}
	all, err := t.Devices()
	if err != nil {
		return s, nil, err
	}
	p.Coffee = 0
	if l, ok := twin(r, all, e, p); ok {
		p.Grind.Said = true // the edit has seen to the dial
		s, err = Joined(t, r, s, p, l, c)
		return s, nil, err
	}
	e.Deleted = false
	return s, &e, nil
}

// BringBack lets stand again what a device posted of a shot that a person takes
// back.
func BringBack(t *turn.Turn, r *recent.Book, posted bar.EntryID) error {
	if posted == 0 {
		return nil
	}
	e, err := t.Stored(posted)
	if err != nil {
		return err
	}
	e.Deleted = false
	r.Recent = recent.With(r.Recent, t.Put(e))
	return nil
}

// ReadHeld reads again what was kept until it is known what it is.
func ReadHeld(e bar.Entry, v parse.Vocab) (parse.Shot, bool, error) {
	if held, ok := e.What.(bar.Held); ok && held.Device != 0 {
		p, ok, err := parse.Post(e.Raw, v)
		return p.Shot, ok, err
	}
	p, ok, err := resolve.ReadShot(e.Raw, v)
	if held, _ := e.What.(bar.Held); err == nil && held.Settled != "" {
		err = resolve.Settle(say.Lang{}, &p, held.Settled)
	}
	if held, _ := e.What.(bar.Held); held.Named != "" {
		p.Stranger, p.Guess = held.Named, false
		if i := slices.IndexFunc(v.Coffees, func(c parse.Name[bar.CoffeeID]) bool { return strings.EqualFold(c.Name, held.Named) }); i >= 0 {
			p.Coffee, p.Stranger = v.Coffees[i].ID, ""
		}
	}
	return p, ok, err
}
