package bot

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// What a device posts is a shot of nobody's until somebody says how it tasted,
// calls it theirs, or tells of it with the same numbers (devicejoin.go). It is
// recorded where its time is, once however often it comes.

const (
	// oldestPost is how old a posted shot may be: a room looks back as far.
	oldestPost = recentSpan
	// ahead is by how much a device's clock may run ahead of ours.
	ahead = 2 * time.Minute
)

// outsidePrefix begins the id under which a device posts that has shown its
// secret, from outside the chat.
const outsidePrefix = "device "

// outside reports whether the message came from there.
func (t *turn) outside() bool { return strings.HasPrefix(t.m.From.ID, outsidePrefix) }

// posted handles what a device posts. All that comes from none that was allowed
// stays unread, as does an edit: a device posts a shot when it has ended.
func (t *turn) posted() ([]Out, error) {
	d, ok, err := t.sender()
	if err == nil && !ok && t.m.Alone { // at the console, where nobody else posts
		all, err := t.devices()
		return nil, errors.Join(err, mistake(t.own().NotAllowed(t.m.From.Name, say.DeviceNames(all))))
	}
	if err != nil || !ok || t.m.Kind != chat.Text {
		return nil, err
	}
	if seen, err := t.seen(); err != nil || seen && !t.outside() {
		return nil, err
	}
	r, err := t.room()
	if err != nil {
		return nil, err
	}
	p, ok, err := parse.Post(t.m.Text, r.vocab())
	if err != nil {
		return nil, t.badPost(d, err)
	}
	if !ok {
		if t.outside() || t.m.Alone {
			return nil, mistake(t.own().Say(say.NoShotPosted))
		}
		return nil, nil
	}
	if err := t.meet(d); err != nil {
		return nil, err
	}
	keys := postKeys(d, p, t.m.Text, t.now)
	known, err := t.knownAs(keys)
	if err != nil {
		return nil, err
	}
	if known != "" {
		return t.repeated(r, d, known)
	}
	if t.outside() {
		t.m.ID = keys[0]
	}
	outs, err := t.postedAt(r, d, p, keys[0])
	if err == nil {
		err = t.postedAgain(d, p, outs)
	}
	return outs, err
}

// sender returns the device that posted the message: by the secret it showed,
// by the id of its webhook, or by its name, if its id is not known yet or there
// are none, as on the console.
func (t *turn) sender() (bar.Device, bool, error) {
	all, err := t.devices()
	id, outside := strings.CutPrefix(t.m.From.ID, outsidePrefix)
	for _, d := range all {
		switch {
		case d.Retired:
		case outside && idText(d.ID) == id, !outside && d.Hook != "" && d.Hook == t.m.From.ID:
			return d, true, err
		}
	}
	for _, d := range all {
		byName := !outside && (d.Hook == "" || t.m.From.ID == "")
		if !d.Retired && byName && strings.EqualFold(d.Name, t.m.From.Name) {
			return d, true, err
		}
	}
	return bar.Device{}, false, err
}

// meet notes the webhook of a device that was allowed by its name: from then
// on no other of that name is read.
func (t *turn) meet(d bar.Device) error {
	if d.Hook != "" || t.m.From.ID == "" || t.outside() {
		return nil
	}
	d.Hook = t.m.From.ID
	return t.update(func(tx *store.Tx) error {
		now := d
		return tx.PutDevice(t.bar.ID, &now)
	})
}

// badPost tells what of a device's message cannot be taken: in the chat once a
// day for each sort of mistake, since a device makes it with every shot.
func (t *turn) badPost(d bar.Device, err error) error {
	var m parse.Mistake
	if t.outside() || !errors.As(err, &m) {
		return err
	}
	about, _, _ := strings.Cut(m.What, " ")
	key := fmt.Sprintf("post %d mistake %d %s %s", d.ID, m.Kind, about, bar.DayOf(t.now))
	if told, err := t.toldOnce(key); err != nil || told {
		return err
	}
	return errors.Join(err, t.update(func(tx *store.Tx) error { return tx.TellOnce(t.bar.ID, key, t.now) }))
}

// postedAt takes a shot at the time that its device tells.
func (t *turn) postedAt(r *room, d bar.Device, p parse.Posted, key string) ([]Out, error) {
	at := t.now
	if !p.At.IsZero() {
		at = p.At.In(t.now.Location())
	}
	switch {
	case at.After(t.now.Add(ahead)), at.Before(t.now.Add(-oldestPost)):
		return nil, mistake(t.in().PostedAt(at, t.now))
	case at.After(t.now):
		at = t.now
	}
	entry := bar.Entry{Message: t.m.ID, At: at, Day: bar.DayOf(at), Raw: t.m.Text}
	return t.postedShot(r, entry, d, p.Shot, key)
}

// postedShot records a posted shot, or keeps it and asks what it is.
func (t *turn) postedShot(r *room, entry bar.Entry, d bar.Device, p parse.Shot, key string) ([]Out, error) {
	told, joins := r.toldOf(d, entry, p)
	if joins {
		p.Coffee = told.What.(bar.Shot).Coffee
	}
	coffee, ok := r.whichPosted(d, p.Coffee)
	ask := func(question func(bar.EntryID) chat.Post) ([]Out, error) {
		entry.What = bar.Held{Device: d.ID}
		return t.hold(entry, key, question)
	}
	switch {
	case p.Stranger != "" && len(r.onBar()) > 0:
		return ask(func(e bar.EntryID) chat.Post { return t.strangerPost(r, e, p) })
	case !ok && len(r.onBar()) > 1:
		return ask(func(e bar.EntryID) chat.Post { return t.coffeePost(r, e) })
	case p.Swapped:
		return ask(func(e bar.EntryID) chat.Post { return t.orderPost(e, p) })
	}
	if off, far := r.farOff(p, coffee, ""); far && ok && !joins {
		return ask(func(e bar.EntryID) chat.Post { return t.farPost(e, p, off, "") })
	}
	if joins {
		return t.joinTold(r, told, entry, d, p, key)
	}
	return t.recordPosted(r, entry, d, p, coffee, ok, key)
}

// heldPosted records a posted shot that was kept until somebody said what it is.
func (t *turn) heldPosted(r *room, e bar.Entry, id bar.DeviceID, p parse.Shot, coffee bar.Coffee, known bool) ([]Out, error) {
	d, err := t.deviceOf(id)
	if err != nil {
		return nil, err
	}
	p.Coffee, p.Stranger = coffee.ID, ""
	if told, joins := r.toldOf(d, e, p); joins && known {
		return t.joinTold(r, told, e, d, p, "")
	}
	return t.recordPosted(r, e, d, p, coffee, known, "")
}

// whichPosted returns the coffee of a posted shot: the one it names, else that
// of the device's last shot today, else the only one on the bar.
func (r *room) whichPosted(d bar.Device, named bar.CoffeeID) (bar.Coffee, bool) {
	if named != 0 {
		return r.coffee(named)
	}
	return r.lastCoffee(func(e bar.Entry, s bar.Shot) bool { return s.Device == d.ID && e.Day == r.day })
}

// recordPosted puts a posted shot in the book, as nobody's.
func (t *turn) recordPosted(r *room, entry bar.Entry, d bar.Device, p parse.Shot, coffee bar.Coffee, known bool, key string) ([]Out, error) {
	if !known {
		house, err := t.makeHouse(r, "")
		if err != nil {
			return nil, err
		}
		coffee = house
	}
	s, err := t.resolvePosted(r, entry, d, p, coffee)
	if err != nil {
		return nil, err
	}
	entry.What = s
	outs, err := answer{
		turn: t, room: r, entry: entry, coffee: coffee, mark: key, posted: &d,
		stale: t.m.Device && t.now.Sub(entry.At) > tasteWindow, notes: say.Notes{House: !known},
	}.give()
	if err == nil {
		t.meter.Recorded()
	}
	return outs, err
}

// resolvePosted corrects what a device posted, and fills in what it left out.
// Whoever had the last advice is taken to have pulled the shot: see pulledBy.
func (t *turn) resolvePosted(r *room, entry bar.Entry, d bar.Device, p parse.Shot, c bar.Coffee) (bar.Shot, error) {
	p, doubt := t.corrected(d, p, c)
	g, _ := r.grinder(c.Grinder)
	err := t.see(func(tx *store.Tx) error {
		last, _, err := tx.LastAdvice(t.bar.ID, c.ID)
		entry.Person = last.Person
		return err
	})
	if err != nil {
		return bar.Shot{}, err
	}
	s, err := t.resolve(r, entry, p, c, g)
	s.Device, s.TimeSD = d.ID, doubt
	return s, err
}

// corrected returns what a device posted by the bar's own clock and scale, and
// how unsure that leaves the time.
func (t *turn) corrected(d bar.Device, p parse.Shot, c bar.Coffee) (parse.Shot, bar.Seconds) {
	right, doubt := d.Correct(readingOf(p), t.bar.FromDrip, c.Wetting())
	p.Time.X, p.Yield.X, p.Drip.X = float64(right.Time), float64(right.Yield), float64(right.FirstDrip)
	if d.NoDose {
		p.Dose = parse.Number{}
	}
	return p, doubt
}

// readingOf returns the numbers of a message as a device shows them.
func readingOf(p parse.Shot) bar.Reading {
	return bar.Reading{
		Dose: bar.Grams(p.Dose.X), Yield: bar.Grams(p.Yield.X), Time: bar.Seconds(p.Time.X), FirstDrip: bar.Seconds(p.Drip.X),
	}
}

// deviceOf returns the device with that id.
func (t *turn) deviceOf(id bar.DeviceID) (bar.Device, error) {
	all, err := t.devices()
	for _, d := range all {
		if d.ID == id {
			return d, err
		}
	}
	return bar.Device{}, err
}

// isOpen reports whether a shot is one that a device posted and nobody's.
func isOpen(e bar.Entry) bool {
	s, ok := e.What.(bar.Shot)
	return ok && s.Device != 0 && e.Person == 0 && !e.Deleted
}

// asksWhose makes the post about an open shot ask how it tasted.
func asksWhose(l say.Lang, p chat.Post, e bar.EntryID) chat.Post {
	p.Kind, p.Buttons = chat.Question, tasteButtons(l, e)
	return p
}
