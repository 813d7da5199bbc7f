package shots

import (
	"cmp"
	"errors"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/bot/which"
	"shothand/store"
)

// Happened records what happened to the bar.
func Happened(t *turn.Turn, r *recent.Book, p parse.Happened) ([]turn.Out, error) {
	if p.Not || p.Instead {
		if outs, ours, err := toldWrong(t, r, p); ours || err != nil {
			return outs, err
		}
	}
	if p.Doubt {
		return askPut(t, r, p)
	}
	if p.All && len(r.InUse()) > 1 {
		return cleanedAll(t, r)
	}
	coffee, known := r.Which(p.Coffee)
	about := p.Event.About()
	if len(r.OnBar()) > 1 && (about == bar.TheCoffee && !known || about == bar.CoffeeInGrinder && p.Coffee == 0 && which.OtherIn(r, p.Grinder).ID == 0) {
		return resolve.Ask(t, r, func(e bar.EntryID) chat.Post {
			post := t.Post(chat.Question, t.Lang().WhichCoffee(r.OnBar()))
			post.Buttons = resolve.CoffeeButtons(e, r.OnBar())
			return post
		})
	}
	told, err := which.ToldOf(r, p, coffee, known)
	if err != nil {
		return nil, err
	}
	if _, again := which.Repeated(r, told); again && t.Msg.ReplyTo == "" {
		if more := roastedToo(t, r, coffee, p.Roasted); more != "" {
			return t.Says(chat.Recorded, more[1:]), nil
		}
		if p.Event == bar.Swapped && p.Set.Grind.Said { // only the dial is news
			return Set(t, r, p.Set)
		}
		return t.Says(chat.Info, t.Lang().Say(say.NotedAlready)), nil
	}
	text := r.Happened(told)
	text += putInto(t, r, bar.Entry{Message: t.Msg.ID, Person: t.Who.ID, At: t.Now, Day: r.Day, Raw: t.Msg.Text}, told)
	if p.Set.Grind.Said || p.Set.Left {
		more, err := setSince(t, r, told, p.Set)
		if err != nil {
			return nil, err
		}
		text += "\n" + more
	}
	return note(t, r, told, text+roastedToo(t, r, coffee, p.Roasted))
}

// roastedToo writes down when the beans of a new bag were roasted, if who writes may, and
// returns what to say of it, in a line of its own.
func roastedToo(t *turn.Turn, r *recent.Book, coffee bar.Coffee, roasted string) string {
	if roasted == "" {
		return ""
	}
	day, err := parse.RoastDay(roasted, r.Now)
	if err != nil || !t.Msg.Manager {
		return "\n" + t.Lang().RoastedToo(coffee.Name, cmp.Or(string(day), string(bar.DayOf(r.Now))))
	}
	if day == coffee.Roasted {
		return ""
	}
	t.Later(func(tx *store.Tx) error { return putRoasted(t, tx, coffee, day) })
	return "\n" + t.Lang().RoastedNow(coffee, day)
}

// setSince writes down what was done to the dial after what a message tells, "new bag, 2
// finer", and returns what to say of it. It is undone with that.
func setSince(t *turn.Turn, r *recent.Book, told bar.Told, p parse.Set) (string, error) {
	g := told.Grinder
	if c, ok := r.Coffee(told.Coffee); ok && g == 0 {
		g = c.Grinder
	}
	return setBeside(t, r, t.Now.Add(3*time.Millisecond), bar.Shot{Grinder: g}, p) // behind it, as setBeside dates back
}

// putRoasted writes down when the beans of a coffee's new bag were roasted. It is undone
// by itself.
func putRoasted(t *turn.Turn, tx *store.Tx, old bar.Coffee, day bar.Day) error {
	c := old
	c.Roasted = day
	_, err := tx.AddEntry(t.Bar.ID, bar.Entry{
		With: t.Msg.ID, Person: t.Who.ID, At: toldAt(t.Now), Day: bar.DayOf(t.Now), Raw: t.Msg.Text, What: bar.Setting{Coffee: old, ToCoffee: c},
	})
	return errors.Join(err, tx.PutCoffee(t.Bar.ID, &c))
}

// heldTold goes on with what happened, once it was said to which coffee.
func heldTold(t *turn.Turn, r *recent.Book, held bar.Entry, p parse.Happened, coffee string) ([]turn.Out, error) {
	id, ok := idOf(r, coffee)
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	held.Deleted = true
	putAll(t, r, []bar.Entry{held})
	p.Coffee, p.Doubt, t.Msg.Text = id, false, held.Raw
	return Happened(t, r, p)
}

// before records what a shot's message told beside it, as having happened just
// before, and returns what to say of it. It is undone with the shot.
func before(t *turn.Turn, r *recent.Book, shot bar.Entry, p parse.Shot, coffee bar.Coffee) (string, error) {
	if p.Event == 0 {
		return "", nil
	}
	h := parse.Happened{Event: p.Event, Coffee: p.Coffee, Grinder: p.Grinder}
	if p.Event == bar.Swapped {
		h.Coffee = coffee.ID
	}
	told, err := which.ToldOf(r, h, coffee, true)
	if err != nil {
		return "", err
	}
	e := bar.Entry{With: shot.Message, Person: shot.Person, At: toldAt(shot.At), Day: shot.Day, Raw: shot.Raw, What: told}
	putAll(t, r, []bar.Entry{e})
	return putInto(t, r, shot, told) + roastedToo(t, r, coffee, p.Roasted), nil
}

// toldAt is when something happened that a shot's message told: before what
// the shot has shown of its dial.
func toldAt(shot time.Time) time.Time { return shot.Add(-2 * time.Millisecond) }

// untell takes back what a shot's message told beside it.
func untell(t *turn.Turn, r *recent.Book, shot bar.Entry) {
	for _, e := range r.Recent {
		if w, told := e.What.(bar.Told); !told || w.Shown || e.With == "" || e.With != shot.Message {
			continue
		}
		e.Deleted = true
		r.Recent = recent.With(r.Recent, t.Put(e))
	}
}
