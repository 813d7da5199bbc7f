package shots

import (
	"cmp"
	"strings"

	"shothand/bot/say/setup"
	"shothand/bot/which"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/device"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// Shot records a shot and advises on the next.
func Shot(t *turn.Turn, r *recent.Book, p parse.Shot) ([]turn.Out, error) {
	posted, err := device.Twins(t, r, p, t.Now)
	if err != nil {
		return nil, err
	}
	if list := device.Tied(posted); len(list) > 0 && len(p.Doubt) == 0 && !p.Count {
		return device.AskPosted(t, r, list)
	}
	if outs, ours, err := pieced(t, r, p); len(posted) == 0 && (ours || err != nil) {
		return outs, err
	}
	e, ok := which.Unsaid(r, p)
	if !ok && p.Instead {
		e, ok = which.OwnWithin(r, turn.AnswerWindow)
	}
	if ok && len(posted) == 0 {
		return timed(t, r, e, p)
	}
	var same *device.Twin
	if len(posted) > 0 {
		same = &posted[0]
		p.Coffee = cmp.Or(p.Coffee, same.Coffee())
	}
	if len(r.Coffees) == 0 && r.IsPerson(p.Stranger) { // "jo: 18 36 24"
		p.Unread, p.Stranger, p.Guess = append(p.Unread, p.Stranger), "", false
	}
	if len(r.Coffees) == 0 && p.Stranger == "" {
		p.Stranger = openStranger(r)
	}
	question, err := shotQuestion(t, r, p, same != nil)
	if err != nil {
		return nil, err
	}
	if question != nil {
		return resolve.Ask(t, r, question)
	}
	overtaken(t, r, p)
	coffee, ok := r.Which(p.Coffee)
	entry := bar.Entry{Message: t.Msg.ID, Person: t.Who.ID, At: t.Now, Day: r.Day, Raw: t.Msg.Text}
	return record(t, r, entry, p, coffee, ok, same)
}

// shotQuestion returns what must be asked of a message before it is a shot, or
// nil. Sure are numbers that a device has posted as well.
func shotQuestion(t *turn.Turn, r *recent.Book, p parse.Shot, sure bool) (func(bar.EntryID) chat.Post, error) {
	if question := doubt(t, r, p, sure); question != nil || sure {
		return question, nil
	}
	coffee, ok := r.Which(p.Coffee)
	off, far, err := farOff(t, r, p, coffee)
	if err == nil && far && (ok || off.Typed != "") {
		return func(e bar.EntryID) chat.Post { return resolve.FarPost(t, e, p, off, "") }, nil
	}
	return nil, err
}

// doubt returns what must be asked besides whether its numbers are far off.
func doubt(t *turn.Turn, r *recent.Book, p parse.Shot, sure bool) func(bar.EntryID) chat.Post {
	coffee, ok := r.Which(p.Coffee)
	if last, may := which.Referred(r, p, bar.Entry{At: t.Now}); may && !sure {
		return func(e bar.EntryID) chat.Post { return referPost(t, e, last) }
	}
	switch {
	case p.Two:
		return func(e bar.EntryID) chat.Post { return resolve.CoffeePost(t, r, e) }
	case p.Guess && len(r.Coffees) == 0 && !p.Count:
		return func(e bar.EntryID) chat.Post { return resolve.NamePost(t, e, p) }
	case p.Stranger != "" && len(r.Coffees) > 0: // else it is the first
		return func(e bar.EntryID) chat.Post { return resolve.StrangerPost(t, r, e, p) }
	case p.Weight && !sure:
		return func(e bar.EntryID) chat.Post { return resolve.PiecePost(t, e, p) }
	case len(p.Doubt) > 0 || p.Count:
		return func(e bar.EntryID) chat.Post { return resolve.DoubtPost(t, r, e, p) }
	case !ok && len(r.OnBar()) > 1:
		return func(e bar.EntryID) chat.Post { return resolve.CoffeePost(t, r, e) }
	case p.Coffee == 0 && !sure && len(r.OnBar()) > 0 && (resolve.FitsAnother(r, p, coffee) || openStranger(r) != ""):
		return func(e bar.EntryID) chat.Post { return resolve.CoffeePost(t, r, e) }
	case p.Swapped:
		return func(e bar.EntryID) chat.Post { return resolve.OrderPost(t, e, p) }
	}
	return nil
}

// openStranger returns the strange name of a person's last shot, where that still waits
// for its coffee: the next one without a name may be of the same.
func openStranger(r *recent.Book) string {
	_, p, _ := waiting(r)
	return p.Stranger
}

// resolved settles where the dial stood, in p as well, and returns the whole shot and its
// grinder.
func resolved(t *turn.Turn, r *recent.Book, e bar.Entry, p *parse.Shot, coffee bar.Coffee) (bar.Shot, bar.Grinder, error) {
	grinder := resolve.LearnDial(t, r, cmp.Or(p.Grinder, coffee.Grinder), p.Grind, e)
	p.Grind = r.Settle(e, p.Grind, grinder)
	if p.Tastes {
		e := e
		e.What = bar.Shot{Coffee: coffee.ID}
		p.Words = which.LastTaste(r, e.Person, e)
	}
	shot, err := resolve.Resolve(t, r, e, *p, coffee, grinder)
	return shot, grinder, err
}

// record puts a shot of a coffee in the book, as a new entry or in place of
// one, and answers it: the same as a device has posted, if that is not nil. If
// there is no coffee yet, it makes one.
func record(t *turn.Turn, r *recent.Book, entry bar.Entry, p parse.Shot, coffee bar.Coffee, known bool, same *device.Twin) ([]turn.Out, error) {
	lead := ""
	if who := personNamed(t, r, p.By); p.By != "" && who != 0 && entry.Person != 0 && who != entry.Person {
		entry, lead = toldFor(entry, who), t.Lang().NotedAs(r.NameOf(who))
	}
	coffee, err := resolve.OrHouse(t, r, coffee, known, p.Stranger)
	if err != nil {
		return nil, err
	}
	told, err := before(t, r, entry, p, coffee)
	if err != nil {
		return nil, err
	}
	lead = strings.TrimPrefix(lead+told, "\n")
	shot, grinder, err := resolved(t, r, entry, &p, coffee)
	if err != nil {
		return nil, err
	}
	var aside *bar.Entry
	if same != nil {
		lead = setup.In(t.Lang()).SameShot(same.Device)
		if shot, err = device.Joined(t, r, shot, p, *same, coffee); err != nil {
			return nil, err
		}
		aside = &same.Entry
		aside.Deleted = true
		r.Recent = recent.With(r.Recent, *aside)
	}
	entry.What = shot
	a := answer.Answer{Turn: t, Book: r, Entry: entry, Coffee: coffee, Call: p.Dialled, Lead: lead, Aside: aside, Joined: same != nil, Notes: say.Notes{
		House:     !known,
		Direction: p.Grind.Said && !p.Grind.Relative && grinder.Finer == bar.Unknown && grinder.Step > 0,
		Unread:    shot.Unread,
		Aside:     p.Aside,
		Over:      p.Over,
		Volume:    p.Volume,
	}}
	a.Recipe = otherRecipe(t.Lang(), coffee, shot)
	a.Notes.Unplaced(p.Grind)
	if a.Call {
		said := taste.Judge([]taste.Tasting{{Words: shot.Words}}, taste.Measured{})
		a.Notes.Uncalled = t.Lang().Uncalled(coffee, shot, r.TastedAs(entry), advisor.Outlook{Blamed: said.Tasted && advisor.Blamed(coffee.Aim, shot, said)})
		a.Call = a.Notes.Uncalled == ""
	}
	outs, err := a.Give()
	if err == nil {
		t.Meter.Recorded()
	}
	return outs, err
}
