package tasting

import (
	"math"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
)

// Progress is how somebody tastes beside the others, over all tastings of the bar.
func (r Records) Progress(who bar.PersonID) (layers.Progress, error) {
	var p layers.Progress
	tables, err := r.All()
	if err != nil {
		return p, err
	}
	units := r.cups(tables, layers.ScoreOf)
	families := layers.Families()
	differ := make([][]float64, len(families))
	var far []float64 // of each cup
	for at := 0; at+len(families) <= len(units); at += len(families) {
		sum, ok := 0.0, false
		for f := range families {
			d, together := fromOthers(r.People, who, units[at+f])
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
	p.Cups = len(far)
	for f, all := range differ {
		if m, se := meanOf(all); len(all) >= layers.HabitCups && math.Abs(m) >= layers.HabitSize && math.Abs(m) >= layers.HabitSure*se {
			p.Habits = append(p.Habits, layers.Habit{Of: families[f], More: m})
		}
	}
	if p.Compared = len(far) >= layers.HalvesCups; p.Compared {
		p.Before, _ = meanOf(far[:len(far)/2])
		p.Now, _ = meanOf(far[len(far)/2:])
	}
	p.Right, p.Orders = ordersOf(who, tables)
	return p, nil
}

// fromOthers returns by how much the person's own value lies above the mean of
// the others'. It is false if there are not both.
func fromOthers(people []bar.Person, who bar.PersonID, unit []float64) (float64, bool) {
	own, sum, n := math.NaN(), 0.0, 0
	for i, x := range unit {
		switch {
		case math.IsNaN(x):
		case people[i].ID == who:
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
func ordersOf(who bar.PersonID, tables []layers.Table) (right, all int) {
	for _, b := range tables {
		for _, split := range b.Begun.Shown {
			order := b.Order(who, split)
			if order == "" || b.Begun.IsStruck(split) || b.Entry.Person == who {
				continue
			}
			all++
			if order == b.Begun.Key {
				right++
			}
		}
	}
	return right, all
}
