package recent

import (
	"cmp"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/say"
)

// InGrinder returns the coffee that a grinder holds of which one was pulled
// there: it, or the one that was swapped in since.
func (r *Book) InGrinder(c bar.CoffeeID, g bar.GrinderID, since bar.Entry) bar.CoffeeID {
	for _, e := range r.Recent {
		if w, ok := e.What.(bar.Told); ok && w.Event == bar.Swapped && w.Grinder == g && Earlier(since, e) {
			c = w.Coffee
		}
	}
	return c
}

// Happened says what was noted of the bar.
func (r *Book) Happened(t bar.Told) string {
	coffee, _ := r.Coffee(t.Coffee)
	grinder, _ := r.Grinder(t.Grinder)
	return r.Lang().Happened(t, coffee, grinder, r.Stood(coffee, grinder))
}

// Stood says where a coffee last stood on a grinder.
func (r *Book) Stood(c bar.Coffee, g bar.Grinder) string {
	e, ok := r.Newest(func(_ bar.Entry, s bar.Shot) bool { return s.Coffee == c.ID })
	if !ok || r.Rezeroed(g.ID, e.At, bar.Entry{At: r.Now}) {
		return ""
	}
	return r.Lang().Stood(c, g, e.What.(bar.Shot))
}

// justTold is how long after a new bag what is said of a dial is of its grinder. Assumed.
const justTold = 10 * time.Minute

// bagTold returns the coffee of a new bag that who writes has just told of, and has pulled no
// shot and moved no other dial since.
func (r *Book) bagTold() bar.CoffeeID {
	var moved bar.GrinderID
	for _, e := range slices.Backward(r.Recent) {
		if e.Person != r.Who.ID || e.Deleted {
			continue
		}
		switch w := e.What.(type) {
		case bar.Shot:
			return 0
		case bar.Told:
			c, _ := r.Coffee(w.Coffee)
			switch {
			case w.Event == bar.Moved:
				moved = cmp.Or(moved, w.Grinder)
			case w.Event != bar.NewBag:
			case r.Now.Sub(e.At) > justTold, moved != 0 && moved != c.Grinder:
				return 0
			default:
				return c.ID
			}
		case bar.Words, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
		}
	}
	return 0
}

// Happenings returns what was told of the bar today, oldest first.
func (r *Book) Happenings() []say.Happening {
	var list []say.Happening
	for _, e := range r.Recent {
		w, ok := e.What.(bar.Told)
		if !ok || e.Day != r.Day || e.Raw == "" { // without a text it was seen in a shot, or is told with its setting
			continue
		}
		coffee, _ := r.Coffee(w.Coffee)
		grinder, _ := r.Grinder(w.Grinder)
		text := r.Lang().EventName(w, coffee.Name, grinder.Name)
		if w.Event == bar.Moved && w.Dial.From != bar.None {
			if at, known := r.Stands(e, grinder); known && at == w.Dial.X {
				continue // it stood there
			}
			text = r.Lang().PutAt(grinder, w.Dial.X)
		}
		list = append(list, say.Happening{At: e.At.Round(time.Second), Text: text, Who: r.NameOf(e.Person)})
	}
	return list
}
