package bot

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// A shot that a device posted and a person told of is one: the person's, with
// what the device measured. What the device posted stays in the book as an
// entry of its own, taken out for as long as the person's stands.

// How near what a person tells must be to what a device posted, in time of day
// and in each number that both have, to be the same shot. People round, and look
// at a display a moment late; assumed.
const (
	sameShot  = 2 * time.Minute
	sameTime  = 2.0 // s
	sameYield = 2.0 // g
	sameDose  = 1.0 // g
	// beganAfter is how much later than it was told of a shot may have begun.
	beganAfter = 10 * time.Second
	// notable is how far apart, in these tolerances, two readings are one shot
	// with a word about it.
	notable = 0.5
	// asNear is how little nearer one of two shots may be, in these
	// tolerances, for it to be asked which was meant.
	asNear = 0.25
	// sureClock is the doubt, in s, beyond which a person's clock is believed
	// before a device's.
	sureClock = 1.0
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
	inTime, timed := off(float64(a.Time), float64(b.Time), sameTime)
	inYield, weighed := off(float64(a.Yield), float64(b.Yield), sameYield)
	inDose, _ := off(float64(a.Dose), float64(b.Dose), sameDose)
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
func (r *room) toldOf(d bar.Device, posted bar.Entry, p parse.Shot) (bar.Entry, bool) {
	var best bar.Entry
	least := math.Inf(1)
	if p.Stranger != "" {
		return best, false
	}
	shots := r.shots(func(e bar.Entry, s bar.Shot) bool {
		return s.Device == 0 && e.Person != 0 && e.Message != "" && around(e.At, posted.At) && (p.Coffee == 0 || p.Coffee == s.Coffee)
	})
	began := posted.At.Add(-time.Duration(p.Time.X * float64(time.Second)))
	for _, e := range slices.Backward(shots) { // the oldest first
		s := e.What.(bar.Shot)
		c, _ := r.coffee(s.Coffee)
		off, ok := r.seenBy(d, p, c, saidOf(s))
		if ok && off < least-1e-9 && !began.After(e.At.Add(beganAfter)) && !r.postedFor(d, e, saidOf(s), posted.ID) {
			best, least = e, off
		}
	}
	return best, !math.IsInf(least, 1)
}

// postedFor reports whether a device has posted another shot that a person's may
// be, and that has not been taken for it: then none that comes later is.
func (r *room) postedFor(d bar.Device, told bar.Entry, said bar.Reading, but bar.EntryID) bool {
	c, _ := r.coffee(told.What.(bar.Shot).Coffee)
	return slices.ContainsFunc(r.recent, func(e bar.Entry) bool {
		if postedBy(e) != d.ID || e.ID == but || !around(e.At, told.At) {
			return false
		}
		p, ok, err := parse.Post(e.Raw, r.vocab())
		if err == nil && ok {
			_, ok = r.seenBy(d, p.Shot, c, said)
		}
		return err == nil && ok
	})
}

func around(a, b time.Time) bool { return a.Sub(b).Abs() <= sameShot }

// seenBy returns how far what a person said is from what a device posted: as it
// shows it, or as it is corrected, whichever is nearer.
func (r *room) seenBy(d bar.Device, p parse.Shot, c bar.Coffee, said bar.Reading) (float64, bool) {
	shown := readingOf(p)
	right, _ := d.Correct(shown, r.bar.FromDrip, c.Wetting())
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

// A twin is what a device posted that a person may have told of.
type twin struct {
	entry  bar.Entry // as posted: a shot of nobody's, or held
	device bar.Device
	posted parse.Shot // as it shows it
	apart  float64
	// elsewhere is the coffee that the device's shot was taken for, if that is
	// another than the person's; else empty.
	elsewhere string
}

// coffee returns the coffee that the device's shot was taken for, or none.
func (l twin) coffee() bar.CoffeeID {
	s, _ := l.entry.What.(bar.Shot)
	return s.Coffee
}

// twins returns what devices posted about an instant with the numbers of
// p, the nearest first.
func (t *turn) twins(r *room, p parse.Shot, at time.Time) ([]twin, error) {
	all, err := t.devices()
	if err != nil || len(all) == 0 || !p.Time.Said && !p.Yield.Said {
		return nil, err
	}
	var list []twin
	for _, e := range r.recent {
		if !around(e.At, at) || e.Person != 0 {
			continue
		}
		l, ok := r.twin(all, e, p)
		if ok {
			list = append(list, l)
		}
	}
	if slices.ContainsFunc(list, func(l twin) bool { return l.elsewhere == "" }) {
		list = slices.DeleteFunc(list, func(l twin) bool { return l.elsewhere != "" })
	}
	slices.SortStableFunc(list, func(a, b twin) int { return cmp.Compare(a.apart, b.apart) })
	return list, nil
}

func (r *room) twin(all []bar.Device, e bar.Entry, p parse.Shot) (l twin, ok bool) {
	id := postedBy(e)
	i := slices.IndexFunc(all, func(d bar.Device) bool { return d.ID == id })
	if id == 0 || i < 0 {
		return l, false
	}
	shown, ok, err := parse.Post(e.Raw, r.vocab())
	l = twin{entry: e, device: all[i], posted: shown.Shot}
	if err != nil || !ok {
		return l, false
	}
	c, _ := r.coffee(cmp.Or(l.coffee(), p.Coffee))
	l.elsewhere = shown.Shot.Stranger
	if p.Coffee != 0 && l.coffee() != 0 && p.Coffee != l.coffee() {
		l.elsewhere = c.Name
	}
	l.apart, ok = r.seenBy(l.device, l.posted, c, readingOf(p))
	return l, ok
}

// postedBy returns the device whose own entry e is, or none.
func postedBy(e bar.Entry) bar.DeviceID {
	switch w := e.What.(type) {
	case bar.Shot:
		if w.Posted == 0 {
			return w.Device
		}
	case bar.Held:
		return w.Device
	case bar.Words, bar.Told, bar.Dialled, bar.Setting, bar.Layers, bar.Sips:
	}
	return 0
}

// tied returns those of a list that cannot be told from the first, or the first
// where it may as well be another shot altogether. There are none if it is clear.
func tied(list []twin) []twin {
	n := 0
	for n < len(list) && list[n].apart-list[0].apart < asNear {
		n++
	}
	if n == 1 && list[0].elsewhere == "" {
		return nil
	}
	return list[:n]
}

// askPosted asks which of the shots that devices posted a person has told of.
func (t *turn) askPosted(r *room, list []twin) ([]Out, error) {
	return t.ask(r, func(held bar.EntryID) chat.Post {
		post := t.post(chat.Question, t.in().WhichPosted())
		if first := list[0]; first.elsewhere != "" {
			post.Text = t.in().PostedElsewhere(first.device, first.elsewhere)
		}
		for _, l := range list[:min(len(list), maxButtons-1)] {
			s := bar.Shot{Time: bar.Value[bar.Seconds]{X: bar.Seconds(l.posted.Time.X)}}
			label := t.in().PostedLabel(l.device, l.entry, s)
			if slices.ContainsFunc(post.Buttons, func(b chat.Button) bool { return b.Label == label }) {
				label += ", " + t.in().Number(l.posted.Yield.X) + " g"
			}
			post.Buttons = append(post.Buttons, chat.Button{Label: label, State: pressState(pressPosted, held, idText(l.entry.ID))})
		}
		post.Buttons = append(post.Buttons, chat.Button{Label: t.in().Say(say.AnotherLabel), State: pressState(pressPosted, held, "0")})
		return post
	})
}

// What its buttons begin with, and the one under a shot that was made one of two.
const (
	pressPosted = "posted"
	pressApart  = "apart"
	pressBack   = "back" // a posted shot that was taken out stands again
)

// twinOf returns what a device posted of the shot that a person's held message
// tells: the one that a button names, else the nearest.
func (t *turn) twinOf(r *room, held bar.Entry, p parse.Shot, verb, arg string) (*twin, error) {
	if postedBy(held) != 0 {
		return nil, nil
	}
	list, err := t.twins(r, p, held.At)
	switch {
	case verb == pressPosted:
		return meantBy(list, arg), err
	case len(list) == 0 || list[0].elsewhere != "":
		return nil, err
	}
	return &list[0], err
}

// meantBy returns the one of a list that a button names, or none.
func meantBy(list []twin, arg string) *twin {
	for _, l := range list {
		if idText(l.entry.ID) == arg {
			return &l
		}
	}
	return nil
}

// joined returns a person's shot with what a device measured of it. What the
// person did not say is as it was taken to be when the device posted it.
func (t *turn) joined(r *room, s bar.Shot, p parse.Shot, l twin, c bar.Coffee) (bar.Shot, error) {
	right, doubt := t.corrected(l.device, l.posted, c)
	seen := right.Told()
	own := doubt > sureClock && s.Time.From == bar.Said && otherThan(float64(s.Time.X), l.posted.Time.X, right.Time.X)
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
	s.Device, s.Posted = l.device.ID, l.entry.ID
	taken, ok := l.entry.What.(bar.Shot)
	if !ok || taken.Coffee != s.Coffee || taken.Grinder != s.Grinder {
		return s, nil
	}
	taken, err := t.pulledBy(r, l.entry, taken)
	if !p.Grind.Said {
		s.Grind, s.Turned = taken.Grind, taken.Turned
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
func (t *turn) joinTold(r *room, told, posted bar.Entry, d bar.Device, p parse.Shot, key string) ([]Out, error) {
	s := told.What.(bar.Shot)
	c, _ := r.coffee(s.Coffee)
	own, err := t.resolvePosted(r, posted, d, p, c)
	if err != nil {
		return nil, err
	}
	posted.What, posted.Deleted = own, true
	was := s
	said := parse.Shot{Grind: parse.Grind{Said: true}} // the person's dial stands
	if s, err = t.joined(r, s, said, twin{entry: posted, device: d, posted: p}, c); err != nil {
		return nil, err
	}
	if was.Dose.From != bar.Said && s.Dose.From != bar.Said {
		s.Dose = was.Dose
	}
	if was.Yield.From != bar.Said && s.Yield.From != bar.Said {
		s.Yield = was.Yield
	}
	told.What = s
	r.recent = with(r.recent, told)
	off, _ := r.seenBy(d, p, c, saidOf(was))
	return answer{
		turn: t, room: r, entry: told, coffee: c, mark: key, aside: &posted, joined: true,
		ifNews: off < notable, lead: t.in().SameShot(d),
	}.give()
}

// split makes two shots again of one that a device posted and a person told. The
// person's is as they told it.
func (t *turn) split(r *room, e bar.Entry) ([]Out, error) {
	old, _ := e.What.(bar.Shot)
	if old.Posted == 0 {
		return nil, nil // done already
	}
	p, ok, err := readShot(e.Raw, r.vocab())
	if err != nil || !ok {
		return nil, errors.Join(err, mistake(t.own().Say(say.OldButton)))
	}
	posted, err := t.stored(old.Posted)
	if err != nil {
		return nil, err
	}
	d, err := t.deviceOf(old.Device)
	if err != nil {
		return nil, err
	}
	coffee, _ := r.coffee(old.Coffee)
	grinder, _ := r.grinder(old.Grinder)
	p.Grind = r.settle(e, p.Grind, grinder)
	s, err := t.resolve(r, e, p, coffee, grinder)
	if err != nil {
		return nil, err
	}
	if s.Grind.From != bar.Said {
		s.Grind, s.Turned = old.Grind, old.Turned
	}
	e.What, posted.Deleted = s, false
	r.recent = with(with(r.recent, e), posted)
	a := t.mending(r, e, coffee, t.in().TwoShots(d), "")
	a.aside = &posted
	return a.give()
}

// rejoined returns a person's shot that was put right, with what the device
// measured of it still. If they are not of one shot any more, it returns what
// the device posted, to stand by itself again.
func (t *turn) rejoined(r *room, s bar.Shot, p parse.Shot, posted bar.EntryID, c bar.Coffee) (bar.Shot, *bar.Entry, error) {
	e, err := t.stored(posted)
	if err != nil {
		return s, nil, err
	}
	all, err := t.devices()
	if err != nil {
		return s, nil, err
	}
	p.Coffee = 0
	if l, ok := r.twin(all, e, p); ok {
		p.Grind.Said = true // the edit has seen to the dial
		s, err = t.joined(r, s, p, l, c)
		return s, nil, err
	}
	e.Deleted = false
	return s, &e, nil
}

// bringBack lets stand again what a device posted of a shot that a person takes
// back.
func (t *turn) bringBack(r *room, posted bar.EntryID) error {
	if posted == 0 {
		return nil
	}
	e, err := t.stored(posted)
	if err != nil {
		return err
	}
	e.Deleted = false
	r.recent = with(r.recent, e)
	return t.update(func(tx *store.Tx) error { return tx.PutEntry(t.bar.ID, e) })
}

// readHeld reads again what was kept until it is known what it is.
func readHeld(e bar.Entry, v parse.Vocab) (parse.Shot, bool, error) {
	if held, ok := e.What.(bar.Held); ok && held.Device != 0 {
		p, ok, err := parse.Post(e.Raw, v)
		return p.Shot, ok, err
	}
	return readShot(e.Raw, v)
}

// standing returns the entry that stands for one that a device posted: the
// person's who told of the same shot, or e itself.
func standing(tx *store.Tx, here bar.ID, e bar.Entry) (bar.Entry, error) {
	if postedBy(e) == 0 || !e.Deleted {
		return e, nil
	}
	around, err := tx.Recent(here, e.At.Add(-sameShot))
	for _, other := range around {
		if s, ok := other.What.(bar.Shot); ok && s.Posted == e.ID {
			return other, err
		}
	}
	return e, err
}
