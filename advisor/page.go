package advisor

import (
	"math"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// A Page is what a coffee's own shots say of it.
type Page struct {
	Tasted, Liked int    // shots
	Time          Spread // s, of those that were liked
	Ratio         Spread // yield to dose, of those that were liked
	Ageing        Trend
}

// A Spread is the middle of some values, and the ends of the middle four in
// five.
type Spread struct{ Middle, Low, High float64 }

// PageOf returns what the shots of a coffee say of it, as of now.
func PageOf(h bar.History, id bar.CoffeeID, now time.Time) Page {
	var p Page
	if r, ok := (*Memory)(nil).replay(h, id, now); ok {
		p.Ageing = r.ageing()
	}
	h = Heard(h)
	later := laterWords(h.Entries)
	var seconds, ratios []float64
	for _, e := range h.Entries {
		s, ok := e.What.(bar.Shot)
		if !ok || s.Coffee != id || !teachesTaste(s) {
			continue
		}
		tastings := append([]taste.Tasting{{Taster: uint64(e.Person), Words: s.Words}}, later[e.ID]...)
		reading := taste.Default().Judge(tastings, taste.Measured{})
		if !reading.Tasted {
			continue
		}
		if p.Tasted++; reading.Praise > 0 {
			p.Liked++
			seconds = append(seconds, float64(s.Time.X))
			ratios = append(ratios, float64(s.Yield.X/s.Dose.X))
		}
	}
	p.Time, p.Ratio = spreadOf(seconds), spreadOf(ratios)
	return p
}

// teachesTaste reports whether a shot says where its coffee tastes best.
func teachesTaste(s bar.Shot) bool {
	return s.Marks&(bar.Practice|bar.Sink|bar.Single|bar.Choked|bar.InMilk) == 0 && s.Time.X > 0 && s.Dose.X > 0 && s.Yield.X > 0
}

// spreadOf returns the spread of values.
func spreadOf(all []float64) Spread {
	if len(all) == 0 {
		return Spread{}
	}
	all = slices.Sorted(slices.Values(all))
	at := func(share float64) float64 { return all[int(math.Round(share*float64(len(all)-1)))] }
	return Spread{Middle: at(0.5), Low: at(0.1), High: at(0.9)}
}
