package shots

import (
	"strings"
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

// putInto makes the grinder that a coffee was put into its own, for its next shots, and
// gives back to its own grinder a coffee that was there for a while. It returns what to say
// of it. It is undone with what was told in e.
func putInto(t *turn.Turn, r *recent.Book, e bar.Entry, told bar.Told) string {
	coffee, ok := r.Coffee(told.Coffee)
	if told.Event != bar.Swapped || !ok {
		return ""
	}
	var text strings.Builder
	if from, ok := r.Grinder(coffee.Grinder); ok && from.ID != told.Grinder {
		to, _ := r.Grinder(told.Grinder)
		ownGrinder(t, r, e, coffee, to.ID)
		text.WriteString("\n" + t.Lang().NowOn(coffee, from, to))
	}
	for _, c := range r.OnBar() {
		if home, moved := putThere(r, c, told.Grinder); moved && c.ID != told.Coffee {
			ownGrinder(t, r, e, c, home)
			g, _ := r.Grinder(home)
			text.WriteString("\n" + t.Lang().OnAgain(c, g))
		}
	}
	return text.String()
}

// putThere returns where a coffee was that was put into the grinder it is on, if that was
// told in the last days.
func putThere(r *recent.Book, c bar.Coffee, g bar.GrinderID) (from bar.GrinderID, ok bool) {
	for _, e := range r.Recent {
		if w, is := swapped(e); is && w.Coffee.ID == c.ID {
			from, ok = w.Coffee.Grinder, w.ToCoffee.Grinder == g
		}
	}
	return from, ok && c.Grinder == g
}

// swapped returns the setting that came with a coffee that was put into another grinder.
func swapped(e bar.Entry) (bar.Setting, bool) {
	w, ok := e.What.(bar.Setting)
	return w, ok && !e.Deleted && e.With != "" && w.Coffee.ID != 0 && w.Coffee.Grinder != w.ToCoffee.Grinder
}

// ownGrinder gives a coffee another grinder, with what was told in e.
func ownGrinder(t *turn.Turn, r *recent.Book, e bar.Entry, c bar.Coffee, g bar.GrinderID) {
	to := c
	to.Grinder = g
	putAll(t, r, []bar.Entry{{With: e.Message, Person: e.Person, At: toldAt(e.At), Day: e.Day, Raw: e.Raw, What: bar.Setting{Coffee: c, ToCoffee: to}}})
	putCoffee(t, r, to)
}

func putCoffee(t *turn.Turn, r *recent.Book, c bar.Coffee) {
	for i := range r.Coffees {
		if r.Coffees[i].ID == c.ID {
			r.Coffees[i] = c
		}
	}
	t.Later(func(tx *store.Tx) error { return tx.PutCoffee(t.Bar.ID, &c) })
}

// takenOutOf puts coffees back on the grinder they had before what a message told, and
// returns what to say of it.
func takenOutOf(t *turn.Turn, r *recent.Book, message string) string {
	var text strings.Builder
	for _, e := range r.Recent {
		w, ok := swapped(e)
		c, known := r.Coffee(w.Coffee.ID)
		if !ok || !known || message == "" || e.With != message {
			continue
		}
		e.Deleted = true
		r.Recent = recent.With(r.Recent, t.Put(e))
		if c.Grinder == w.ToCoffee.Grinder { // else it was given another since
			c.Grinder = w.Coffee.Grinder
			putCoffee(t, r, c)
			g, _ := r.Grinder(c.Grinder)
			text.WriteString("\n" + t.Lang().OnAgain(c, g))
		}
	}
	return text.String()
}

// askPut asks whether a coffee was put into a grinder where a message may say no more than
// where it is.
func askPut(t *turn.Turn, r *recent.Book, p parse.Happened) ([]turn.Out, error) {
	coffee, _ := r.Coffee(p.Coffee)
	grinder, _ := r.Grinder(p.Grinder)
	return resolve.Ask(t, r, func(e bar.EntryID) chat.Post {
		post := t.Post(chat.Question, t.Lang().PutQuestion(coffee, grinder))
		yes := chat.Button{Label: t.Lang().Say(say.YesLabel), State: turn.PressState(turn.PressCoffee, e, turn.IDText(coffee.ID))}
		no := chat.Button{Label: t.Lang().Say(say.NoLabel), State: turn.PressState(turn.PressShot, e, say.ShotNo)}
		post.Buttons = []chat.Button{yes, no}
		return post
	})
}

// cleanedAll notes that every grinder was cleaned. All are undone with the first.
func cleanedAll(t *turn.Turn, r *recent.Book) ([]turn.Out, error) {
	all, again := r.InUse(), true
	for _, g := range all {
		_, noted := which.Repeated(r, bar.Told{Event: bar.Cleaned, Grinder: g.ID})
		again = again && noted
	}
	if again {
		return t.Says(chat.Info, t.Lang().Say(say.NotedAlready)), nil
	}
	for i, g := range all[1:] {
		at := t.Now.Add(time.Duration(i+1) * time.Millisecond)
		putAll(t, r, []bar.Entry{{With: t.Msg.ID, Person: t.Who.ID, At: at, Day: r.Day, Raw: t.Msg.Text, What: bar.Told{Event: bar.Cleaned, Grinder: g.ID}}})
	}
	return note(t, r, bar.Told{Event: bar.Cleaned, Grinder: all[0].ID}, t.Lang().CleanedAll(say.GrinderNames(all)))
}
