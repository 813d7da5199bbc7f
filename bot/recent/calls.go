package recent

import (
	"slices"

	"shothand/advisor/bar"
)

// TastedToday reports whether anybody has said how a shot of the coffee tasted today.
func (r *Book) TastedToday(c bar.CoffeeID) bool {
	_, ok := r.Newest(func(e bar.Entry, s bar.Shot) bool { return s.Coffee == c && e.Day == r.Day && r.TastedBy(e, 0) })
	return ok
}

// CallOn returns the call that a shot was called dialled in by, or zero.
func (r *Book) CallOn(shot bar.Entry) bar.Entry {
	for _, e := range slices.Backward(r.Recent) {
		if d, ok := e.What.(bar.Dialled); ok && d.Shot == shot.ID && !e.Deleted {
			return e
		}
	}
	return bar.Entry{}
}
