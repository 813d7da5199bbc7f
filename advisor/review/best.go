package review

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"shothand/advisor/bar"
)

// A Best is where a coffee tasted best.
type Best struct {
	Coffee     bar.CoffeeID
	Low, High  float64 // s that those shots took
	Yield      float64 // g, to 2 g
	Dial       bar.Dial
	HasDial    bool // Dial is that of the last of them
	Liked      int  // of Cups at that place
	Cups       int
	OtherLiked int // of OtherCups elsewhere
	OtherCups  int
}

// How cups are put together: by times and yields that one cannot tell apart.
const (
	binTime  = 3.0 // s
	binYield = 2.0 // g
)

// BestOf returns where a coffee tasted best. It is false if no place has had
// enough cups; all of them are elsewhere then. A place is as good as the lower tenth of Beta(2 + liked, 2 + not liked)
// says, so that one lucky cup is no best place.
func BestOf(coffee bar.CoffeeID, cups []Cup) (Best, bool) {
	type place struct{ time, yield float64 }
	at := map[place][]Cup{}
	var places []place
	var all []Cup
	for _, c := range cups {
		if c.Shot.Coffee != coffee || !c.teaches() {
			continue
		}
		p := place{math.Floor(float64(c.Shot.Time.X) / binTime), math.Round(float64(c.Shot.Yield.X) / binYield)}
		if at[p] == nil {
			places = append(places, p)
		}
		at[p] = append(at[p], c)
		all = append(all, c)
	}
	var best Best
	score := 0.0
	for _, p := range places {
		b := Best{Coffee: coffee, Low: p.time * binTime, High: (p.time + 1) * binTime, Yield: p.yield * binYield, Cups: len(at[p])}
		b.Liked = praised(at[p])
		b.OtherLiked, b.OtherCups = praised(all)-b.Liked, len(all)-b.Cups
		last := at[p][len(at[p])-1].Shot.Grind
		b.Dial, b.HasDial = last.X, last.From != bar.None
		low := distuv.Beta{Alpha: 2 + float64(b.Liked), Beta: 2 + float64(b.Cups-b.Liked)}.Quantile(0.1)
		if b.Cups >= Few && b.Liked > 0 && low > score {
			best, score = b, low
		}
	}
	if score == 0 {
		return Best{Coffee: coffee, OtherLiked: praised(all), OtherCups: len(all)}, false
	}
	return best, true
}

// teaches reports whether a cup says where its coffee tastes best, drunk black.
func (c Cup) teaches() bool {
	const not = bar.Practice | bar.Sink | bar.Single | bar.Choked | bar.InMilk
	s := c.Shot
	return c.Read.Tasted && s.Marks&not == 0 && s.Time.X > 0 && s.Dose.X > 0 && s.Yield.X > 0
}

// praised returns how many cups were praised.
func praised(cups []Cup) int {
	n := 0
	for _, c := range cups {
		n += one(c.Read.Praise > 0)
	}
	return n
}
