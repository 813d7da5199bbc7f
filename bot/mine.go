package bot

import (
	"math"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
)

// A habit is what somebody finds more of in cups than the others do, on
// average, in scores of 0 to 5.
type habit struct {
	of   bar.Scale
	more float64
}

// A progress is how one taster has done in the tastings so far.
type progress struct {
	cups          int // that others tasted as well, before any were shown
	right, orders int // blind orders
	habits        []habit
	before, now   float64 // mean distance from the others in the older and the newer half
	compared      bool    // there are cups enough for the two
}

// How much it takes to speak of somebody's taste; assumed.
const (
	habitCups  = 6   // cups for a habit
	habitSize  = 0.5 // least difference, in scores
	habitSure  = 2.0 // standard errors
	halvesCups = 12  // cups for progress
)

// layersMine tells somebody, and nobody else, how they taste beside the others.
func (t *turn) layersMine(r *room) ([]Out, error) {
	p, err := t.progressOf(r)
	if err != nil {
		return nil, err
	}
	return t.private(p.text())
}

// progressOf looks back over all tastings of the bar.
func (t *turn) progressOf(r *room) (progress, error) {
	var p progress
	tables, err := t.allTables(r)
	if err != nil {
		return p, err
	}
	units := cupsOfAll(r, tables, layers.ScoreOf)
	families := layers.Families()
	differ := make([][]float64, len(families))
	var far []float64 // of each cup
	for at := 0; at+len(families) <= len(units); at += len(families) {
		sum, ok := 0.0, false
		for f := range families {
			d, together := fromOthers(r, units[at+f])
			if ok = together; !ok {
				break
			}
			differ[f] = append(differ[f], d)
			sum += math.Abs(d) / float64(len(families))
		}
		if ok {
			far = append(far, sum)
		}
	}
	p.cups = len(far)
	for f, all := range differ {
		if m, se := meanOf(all); len(all) >= habitCups && math.Abs(m) >= habitSize && math.Abs(m) >= habitSure*se {
			p.habits = append(p.habits, habit{families[f], m})
		}
	}
	if p.compared = len(far) >= halvesCups; p.compared {
		p.before, _ = meanOf(far[:len(far)/2])
		p.now, _ = meanOf(far[len(far)/2:])
	}
	p.right, p.orders = ordersOf(r.who.ID, tables)
	return p, nil
}

// fromOthers returns by how much the person's own value lies above the mean of
// the others'. It is false if there are not both.
func fromOthers(r *room, unit []float64) (float64, bool) {
	own, sum, n := math.NaN(), 0.0, 0
	for i, x := range unit {
		switch {
		case math.IsNaN(x):
		case r.people[i].ID == r.who.ID:
			own = x
		default:
			sum, n = sum+x, n+1
		}
	}
	if n == 0 || math.IsNaN(own) {
		return 0, false
	}
	return own - sum/float64(n), true
}

// meanOf returns the mean and its standard error.
func meanOf(all []float64) (mean, se float64) {
	n := float64(len(all))
	for _, x := range all {
		mean += x / n
	}
	for _, x := range all {
		se += (x - mean) * (x - mean)
	}
	return mean, math.Sqrt(se / max(n-1, 1) / max(n, 1))
}

// ordersOf counts the blind orders that a person gave without knowing, and
// those of them that were right.
func ordersOf(who bar.PersonID, tables []table) (right, all int) {
	for _, b := range tables {
		for _, split := range b.begun.Shown {
			order := b.order(who, split)
			if order == "" || b.begun.IsStruck(split) || b.entry.Person == who {
				continue
			}
			all++
			if order == b.begun.Key {
				right++
			}
		}
	}
	return right, all
}
