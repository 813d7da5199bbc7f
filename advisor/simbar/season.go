package simbar

import "math/rand/v2"

// seasons names the dice of seasons.
const seasons Row = "season"

// NewSeason returns n mornings, at least one, of one coffee on one
// grinder, whose dial has numbers in steps of 0.1, lower being finer. From one
// to the next the coffee's level moves by 6 % or so, and with a new bag, every
// so many mornings, by 20 %; both are assumed. The same index gives the same
// season. Call Begin before the first shot of each, in order.
func NewSeason(index, n, bag int) []*World {
	dice := rand.New(rand.NewPCG(seasons.seed(), uint64(index)))
	w := New(Bars, index)
	for try := index; w.table.Dial.Step != 0.1 || w.table.Dial.Finer > 0 || !w.ways.weighed; {
		try += 1000
		w = New(Bars, try)
	}
	w.Row = seasons
	days := []*World{w}
	for len(days) < n {
		w = mornings(w, 1, func(day *World) {
			b := day.truth.(theBar)
			b.jump = 0.8*b.jump + 0.06*dice.NormFloat64()
			if day.table.Day%bag == 0 {
				b.jump += 0.2 * dice.NormFloat64()
			}
			day.truth = b
		})
		days = append(days, w)
	}
	w.Reset()
	return days
}

// Begin lets the morning w start where the one before it ended.
func (w *World) Begin() { w.begin() }
