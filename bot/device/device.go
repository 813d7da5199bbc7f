package device

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
	"shothand/store"
)

// What a device posts is a shot of nobody's until somebody says how it tasted,
// calls it theirs, or tells of it with the same numbers (join.go). It is
// recorded where its time is, once however often it comes.

const (
	// oldestPost is how old a posted shot may be: a [recent.Book] goes back as far.
	oldestPost = recent.Span
	// ahead is by how much a device's clock may run ahead of ours.
	ahead = 2 * time.Minute
)

// OutsidePrefix begins the id under which a device posts that has shown its
// secret, from outside the chat.
const OutsidePrefix = "device "

// Outside reports whether the message came from there.
func Outside(t *turn.Turn) bool { return strings.HasPrefix(t.Msg.From.ID, OutsidePrefix) }

// Posted handles what a device posts. All that comes from none that was allowed
// stays unread, as does an edit: a device posts a shot when it has ended.
func Posted(t *turn.Turn) ([]turn.Out, error) {
	d, ok, err := sender(t)
	if err == nil && !ok && t.Msg.Alone { // at the console, where nobody else posts
		all, err := t.Devices()
		return nil, errors.Join(err, turn.Mistake(setup.In(t.WriterLang()).NotAllowed(t.Msg.From.Name, setup.DeviceNames(all))))
	}
	if err != nil || !ok || t.Msg.Kind != chat.Text {
		return nil, err
	}
	if seen, err := t.Seen(); err != nil || seen && !Outside(t) {
		return nil, err
	}
	r, err := t.Book()
	if err != nil {
		return nil, err
	}
	p, ok, err := parse.Post(t.Msg.Text, r.Vocab())
	if err != nil {
		return nil, badPost(t, d, err)
	}
	if !ok {
		if Outside(t) || t.Msg.Alone {
			return nil, turn.Mistake(t.WriterLang().Say(setup.NoShotPosted))
		}
		return nil, nil
	}
	if err := meet(t, d); err != nil {
		return nil, err
	}
	keys := postKeys(d, p, t.Msg.Text, t.Now)
	known, err := knownAs(t, keys)
	if err != nil {
		return nil, err
	}
	if known != "" {
		return repeated(t, r, d, known)
	}
	if Outside(t) {
		t.Msg.ID = keys[0]
	}
	outs, err := postedAt(t, r, d, p, keys[0])
	if err == nil {
		err = postedAgain(t, d, p, outs)
	}
	return outs, err
}

// sender returns the device that posted the message: by the secret it showed,
// by the id of its webhook, or by its name, if its id is not known yet or there
// are none, as on the console.
func sender(t *turn.Turn) (bar.Device, bool, error) {
	all, err := t.Devices()
	id, outside := strings.CutPrefix(t.Msg.From.ID, OutsidePrefix)
	for _, d := range all {
		switch {
		case d.Retired:
		case outside && turn.IDText(d.ID) == id, !outside && d.Hook != "" && d.Hook == t.Msg.From.ID:
			return d, true, err
		}
	}
	for _, d := range all {
		byName := !outside && (d.Hook == "" || t.Msg.From.ID == "")
		if !d.Retired && byName && strings.EqualFold(d.Name, t.Msg.From.Name) {
			return d, true, err
		}
	}
	return bar.Device{}, false, err
}

// meet notes the webhook of a device that was allowed by its name: from then
// on no other of that name is read.
func meet(t *turn.Turn, d bar.Device) error {
	if d.Hook != "" || t.Msg.From.ID == "" || Outside(t) {
		return nil
	}
	d.Hook = t.Msg.From.ID
	return t.Update(func(tx *store.Tx) error {
		now := d
		return tx.PutDevice(t.Bar.ID, &now)
	})
}

// badPost tells what of a device's message cannot be taken: in the chat once a
// day for each sort of mistake, since a device makes it with every shot.
func badPost(t *turn.Turn, d bar.Device, err error) error {
	var m parse.Mistake
	if Outside(t) || !errors.As(err, &m) {
		return err
	}
	about, _, _ := strings.Cut(m.What, " ")
	key := fmt.Sprintf("post %d mistake %d %s %s", d.ID, m.Kind, about, bar.DayOf(t.Now))
	if told, err := t.ToldOnce(key); err != nil || told {
		return err
	}
	return errors.Join(err, t.Update(func(tx *store.Tx) error { return tx.TellOnce(t.Bar.ID, key, t.Now) }))
}

// postedAt takes a shot at the time that its device tells.
func postedAt(t *turn.Turn, r *recent.Book, d bar.Device, p parse.Posted, key string) ([]turn.Out, error) {
	at := t.Now
	if !p.At.IsZero() {
		at = p.At.In(t.Now.Location())
	}
	switch {
	case at.After(t.Now.Add(ahead)), at.Before(t.Now.Add(-oldestPost)):
		return nil, turn.Mistake(setup.In(t.Lang()).PostedAt(at, t.Now))
	case at.After(t.Now):
		at = t.Now
	}
	entry := bar.Entry{Message: t.Msg.ID, At: at, Day: bar.DayOf(at), Raw: t.Msg.Text}
	return postedShot(t, r, entry, d, p.Shot, key)
}

// postedShot records a posted shot, or keeps it and asks what it is.
func postedShot(t *turn.Turn, r *recent.Book, entry bar.Entry, d bar.Device, p parse.Shot, key string) ([]turn.Out, error) {
	told, joins := toldOf(r, d, entry, p)
	if joins {
		p.Coffee = told.What.(bar.Shot).Coffee
	}
	coffee, ok := whichPosted(r, d, p.Coffee)
	ask := func(question func(bar.EntryID) chat.Post) ([]turn.Out, error) {
		entry.What = bar.Held{Device: d.ID}
		return resolve.Hold(t, entry, key, question)
	}
	switch {
	case p.Stranger != "" && len(r.OnBar()) > 0:
		return ask(func(e bar.EntryID) chat.Post { return resolve.StrangerPost(t, r, e, p) })
	case !ok && len(r.OnBar()) > 1:
		return ask(func(e bar.EntryID) chat.Post { return resolve.CoffeePost(t, r, e) })
	case p.Swapped:
		return ask(func(e bar.EntryID) chat.Post { return resolve.OrderPost(t, e, p) })
	}
	if off, far := resolve.FarOff(r, p, coffee, ""); far && ok && !joins {
		return ask(func(e bar.EntryID) chat.Post { return resolve.FarPost(t, e, p, off, "") })
	}
	if joins {
		return joinTold(t, r, told, entry, d, p, key)
	}
	return recordPosted(t, r, entry, d, p, coffee, ok, key)
}

// HeldPosted records a posted shot that was kept until somebody said what it is.
func HeldPosted(t *turn.Turn, r *recent.Book, e bar.Entry, id bar.DeviceID, p parse.Shot, coffee bar.Coffee, known bool) ([]turn.Out, error) {
	d, err := Of(t, id)
	if err != nil {
		return nil, err
	}
	p.Coffee, p.Stranger = coffee.ID, ""
	if told, joins := toldOf(r, d, e, p); joins && known {
		return joinTold(t, r, told, e, d, p, "")
	}
	return recordPosted(t, r, e, d, p, coffee, known, "")
}

// whichPosted returns the coffee of a posted shot: the one it names, else that
// of the device's last shot today, else the only one on the bar.
func whichPosted(r *recent.Book, d bar.Device, named bar.CoffeeID) (bar.Coffee, bool) {
	if named != 0 {
		return r.Coffee(named)
	}
	return r.LastCoffee(func(e bar.Entry, s bar.Shot) bool { return s.Device == d.ID && e.Day == r.Day })
}

// recordPosted puts a posted shot in the book, as nobody's.
func recordPosted(t *turn.Turn, r *recent.Book, entry bar.Entry, d bar.Device, p parse.Shot, coffee bar.Coffee, known bool, key string) ([]turn.Out, error) {
	coffee, err := resolve.OrHouse(t, r, coffee, known, "")
	if err != nil {
		return nil, err
	}
	s, err := resolvePosted(t, r, entry, d, p, coffee)
	if err != nil {
		return nil, err
	}
	entry.What = s
	outs, err := answer.Answer{
		Turn: t, Book: r, Entry: entry, Coffee: coffee, Mark: key, Posted: &d,
		Stale: t.Msg.Device && t.Now.Sub(entry.At) > resolve.TasteWindow, Notes: say.Notes{House: !known},
	}.Give()
	if err == nil {
		t.Meter.Recorded()
	}
	return outs, err
}

// resolvePosted corrects what a device posted, and fills in what it left out.
// Whoever had the last advice is taken to have pulled the shot: see pulledBy.
func resolvePosted(t *turn.Turn, r *recent.Book, entry bar.Entry, d bar.Device, p parse.Shot, c bar.Coffee) (bar.Shot, error) {
	p, doubt := corrected(t, d, p, c)
	g, _ := r.Grinder(c.Grinder)
	last, _, err := t.LastAdvice(c.ID)
	if err != nil {
		return bar.Shot{}, err
	}
	entry.Person = last.Person
	s, err := resolve.Resolve(t, r, entry, p, c, g)
	s.Device, s.TimeSD = d.ID, doubt
	return s, err
}

// corrected returns what a device posted by the bar's own clock and scale, and
// how unsure that leaves the time.
func corrected(t *turn.Turn, d bar.Device, p parse.Shot, c bar.Coffee) (parse.Shot, bar.Seconds) {
	right, doubt := d.Correct(readingOf(p), t.Bar.FromDrip, c.Wetting())
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

// Of returns the device with that id.
func Of(t *turn.Turn, id bar.DeviceID) (bar.Device, error) {
	all, err := t.Devices()
	if i := slices.IndexFunc(all, func(d bar.Device) bool { return d.ID == id }); i >= 0 {
		return all[i], err
	}
	return bar.Device{}, err
}
