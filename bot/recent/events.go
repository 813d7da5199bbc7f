package recent

import (
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
