package review

import (
	"cmp"
	"math"
	"slices"

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
// says, so that one lucky cup is no best place. Places where as many were liked as
// that are as good, for all that the cups show: of them one with the recipe's yield is the best.
func BestOf(coffee bar.Coffee, cups []Cup) (Best, bool) {
	type place struct{ time, yield float64 }
	at := map[place][]Cup{}
	var places []place
	var all []Cup
	for _, c := range cups {
		if c.Shot.Coffee != coffee.ID || !c.teaches() {
			continue
		}
		p := place{math.Floor(float64(c.Shot.Time.X) / binTime), math.Round(float64(c.Shot.Yield.X) / binYield)}
		if at[p] == nil {
			places = append(places, p)
		}
		at[p] = append(at[p], c)
		all = append(all, c)
	}
	var list []placed
	for _, p := range places {
		b := Best{Coffee: coffee.ID, Low: p.time * binTime, High: (p.time + 1) * binTime, Yield: p.yield * binYield, Cups: len(at[p])}
		b.Liked = praised(at[p])
		b.OtherLiked, b.OtherCups = praised(all)-b.Liked, len(all)-b.Cups
		last := at[p][len(at[p])-1].Shot.Grind
		b.Dial, b.HasDial = last.X, last.From != bar.None
		share := distuv.Beta{Alpha: 2 + float64(b.Liked), Beta: 2 + float64(b.Cups-b.Liked)}
		if b.Cups >= Few && b.Liked > 0 {
			list = append(list, placed{b, share.Mean(), share.Quantile(0.1)})
		}
	}
	if len(list) == 0 {
		return Best{Coffee: coffee.ID, OtherLiked: praised(all), OtherCups: len(all)}, false
	}
	return bestOf(list, float64(coffee.Recipe.Yield)), true
}

// A placed is a place and how good it is.
type placed struct {
	Best
	mean, low float64
}

// bestOf returns the best place; of those that are as good, one with that yield.
func bestOf(list []placed, yield float64) Best {
	good := func(a, b placed) int { return cmp.Compare(a.low, b.low) }
	best := slices.MaxFunc(list, good)
	own := slices.DeleteFunc(list, func(p placed) bool { return p.mean < best.low || math.Abs(p.Yield-yield) > binYield/2 })
	if len(own) > 0 {
		best = slices.MaxFunc(own, good)
	}
	return best.Best
}

// teaches reports whether a cup says where its coffee tastes best, drunk black.
func (c Cup) teaches() bool {
	const not = bar.Practice | bar.Sink | bar.Single | bar.Choked | bar.InMilk
	s := c.Shot
	return c.Read.Tasted && s.Marks&not == 0 && s.Time.X > 0 && s.Dose.X > 0 && s.Yield.X > 0
}

// praised returns how many cups were praised, and nothing held against them.
func praised(cups []Cup) int {
	n := 0
	for _, c := range cups {
		n += one(c.Read.Praise > 0 && !c.Blamed)
	}
	return n
}
