package recent

import (
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/bot/say"
)

// TastedAs returns how near to a shot its coffee has been tasted today.
func (r *Book) TastedAs(shot bar.Entry) say.Tasted {
	called, _ := shot.What.(bar.Shot)
	if r.TastedBy(shot, 0) {
		return say.TastedHere
	}
	tasted, turned := say.Untasted, called.Turned != 0
	for _, e := range r.Shots(func(e bar.Entry, s bar.Shot) bool {
		return s.Coffee == called.Coffee && e.Day == r.Day && e.ID != shot.ID && !e.At.After(shot.At)
	}) {
		s, _ := e.What.(bar.Shot)
		if r.TastedBy(e, 0) {
			if tasted = say.TastedElsewhere; !turned && alike(called, s) {
				return say.TastedHere
			}
		}
		turned = turned || s.Turned != 0
	}
	return tasted
}

// alike reports whether two shots were pulled at one setting.
func alike(a, b bar.Shot) bool {
	return a.Grinder == b.Grinder && (a.Grind.From == bar.None) == (b.Grind.From == bar.None) && a.Grind.X == b.Grind.X &&
		math.Abs(float64(a.Dose.X-b.Dose.X)) < 0.5 && math.Abs(float64(a.Yield.X-b.Yield.X)) < 3
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
