package advisor

import (
	"math"
	"slices"

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

// A Trend is how a coffee's shots change with its age at one setting.
type Trend struct {
	Day   Seconds // longer for each day, below 0 faster
	SD    Seconds // its standard error
	Shots int
	Known bool // there are shots enough, over days enough
}

// Shows reports whether a trend is more than what chance does one time in
// twenty.
func (t Trend) Shows() bool { return t.Known && math.Abs(float64(t.Day)) > 2*float64(t.SD) }

// What it takes to speak of ageing; assumed. No study has measured it, so only
// a bar's own shots count.
const (
	pageShots = 8
	pageDays  = 2
)

// PageOf returns what the shots of a coffee say of it.
func PageOf(h History, id CoffeeID) Page {
	var p Page
	later := laterWords(h.Entries)
	var seconds, ratios []float64
	for _, e := range h.Entries {
		s, ok := e.What.(Shot)
		if !ok || s.Coffee != id || !s.teachesTaste() {
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
	p.Ageing = ageing(h, id)
	return p
}

// teachesTaste reports whether a shot says where its coffee tastes best.
func (s Shot) teachesTaste() bool {
	return s.Marks&(Practice|Sink|Single|Choked|InMilk) == 0 && s.Time.X > 0 && s.Dose.X > 0 && s.Yield.X > 0
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

// An aged is a shot at one setting, by the age of its coffee.
type aged struct{ days, seconds float64 }

// ageing returns how the times of a coffee's shots go with its age, at settings
// where nothing else has changed: the slope within them, all together.
func ageing(h History, id CoffeeID) Trend {
	var xx, xy, yy, first, last float64
	n, groups := 0, 0
	for _, g := range settings(h, id) {
		if len(g) < 2 {
			continue
		}
		groups++
		var x, y float64
		for _, a := range g {
			x, y = x+a.days/float64(len(g)), y+a.seconds/float64(len(g))
			if n == 0 || a.days < first {
				first = a.days
			}
			last = max(last, a.days)
			n++
		}
		for _, a := range g {
			xx += (a.days - x) * (a.days - x)
			xy += (a.days - x) * (a.seconds - y)
			yy += (a.seconds - y) * (a.seconds - y)
		}
	}
	t := Trend{Shots: n}
	if n < pageShots || last-first < pageDays || !(xx > 0) || n <= groups+1 {
		return t
	}
	slope := xy / xx
	left := max(0, yy-slope*xy) / float64(n-groups-1)
	return Trend{Day: Seconds(slope), SD: Seconds(math.Sqrt(left / xx)), Shots: n, Known: true}
}

// settings returns the timed shots of a coffee near its recipe, those in one
// slice that were pulled at one setting of one grinder and from one bag.
func settings(h History, id CoffeeID) [][]aged {
	type setting struct {
		grinder GrinderID
		at      Dial
		era     int
	}
	coffee, _ := coffeeOf(h, id)
	by, era := map[setting][]aged{}, 0
	var order []setting
	for _, e := range h.Entries {
		switch w := e.What.(type) {
		case Told:
			era++ // whatever it was, it may have moved the time
		case Shot:
			if w.Coffee != id || !w.plainly(coffee.Recipe) {
				continue
			}
			k := setting{w.Grinder, w.Grind.X, era}
			if by[k] == nil {
				order = append(order, k)
			}
			by[k] = append(by[k], aged{float64(e.At.Unix()) / 86400, float64(w.Time.X)})
		case Words, Dialled, Setting, Held, Layers, Sips:
		}
	}
	var all [][]aged
	for _, k := range order {
		all = append(all, by[k])
	}
	return all
}

// plainly reports whether a shot was pulled by the recipe, so that its time can
// be laid beside others.
func (s Shot) plainly(r Recipe) bool {
	const odd = Practice | Single | Choked | Stopped | Spurted | First | NotPurged
	return s.Marks&odd == 0 && s.Time.From == Said && s.Grind.From != None && r.Yield > 0 &&
		math.Abs(float64(s.Dose.X-r.Dose)) <= 0.5 && math.Abs(float64(s.Yield.X/r.Yield-1)) <= 0.1
}
