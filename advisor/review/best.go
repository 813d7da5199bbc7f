package review

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"shothand/advisor"
	"shothand/advisor/bar"
)

// A Best is where a coffee tasted best.
type Best struct {
	Coffee     bar.Coffee
	Low, High  float64 // s that those shots took
	Yield      float64 // g, to 2 g
	Dial       float64 // of the last of them, where HasDial
	HasDial    bool
	Liked      int // of Cups at that place
	Cups       int
	OtherLiked int // of OtherCups elsewhere
	OtherCups  int
}

// How cups are put together: by times and yields that one cannot tell apart.
const (
	binTime  = 3.0 // s
	binYield = 2.0 // g
)

// best returns where the coffee tasted best, or nothing if no place has had
// enough cups. A place is as good as the lower tenth of Beta(2 + liked, 2 + not
// liked) says, so that one lucky cup is no best place.
func (c Course) best(steps []advisor.Step) []Best {
	type place struct{ time, yield float64 }
	at := map[place][]advisor.Step{}
	var places []place
	var all []advisor.Step
	for _, s := range steps {
		if !s.Read.Tasted || s.Shot.Time.From == bar.None || !(s.Yield > 0) || s.Shot.Marks.Has(bar.Practice) {
			continue
		}
		p := place{math.Floor(float64(s.Shot.Time.X) / binTime), math.Round(float64(s.Yield) / binYield)}
		if at[p] == nil {
			places = append(places, p)
		}
		at[p] = append(at[p], s)
		all = append(all, s)
	}
	var best Best
	score := 0.0
	for _, p := range places {
		b := Best{Coffee: c.Coffee, Low: p.time * binTime, High: (p.time + 1) * binTime, Yield: p.yield * binYield, Cups: len(at[p])}
		b.Liked = praised(at[p])
		b.OtherLiked, b.OtherCups = praised(all)-b.Liked, len(all)-b.Cups
		last := at[p][len(at[p])-1].Shot.Grind
		b.Dial, b.HasDial = float64(last.X), last.From != bar.None && c.Grinder.Step > 0
		low := distuv.Beta{Alpha: 2 + float64(b.Liked), Beta: 2 + float64(b.Cups-b.Liked)}.Quantile(0.1)
		if b.Cups >= Few && b.Liked > 0 && low > score {
			best, score = b, low
		}
	}
	if score == 0 {
		return nil
	}
	return []Best{best}
}

// praised returns how many cups were praised.
func praised(steps []advisor.Step) int {
	n := 0
	for _, s := range steps {
		n += one(s.Read.Praise > 0)
	}
	return n
}
