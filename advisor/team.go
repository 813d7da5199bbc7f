package advisor

import (
	"fmt"
	"hash/maphash"
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/flow"
	"shothand/advisor/history"
	"shothand/advisor/taste"
)

// teamCups is how many cups of other coffees, of the newest, tell how the team leans.
const teamCups = 60

// earlier returns the tasted shots of the other coffees on the days before, the
// newest of them.
func (s replayInput) earlier(today bar.Day) []bar.Entry {
	var cups []bar.Entry
	for _, e := range slices.Backward(s.entries) {
		shot, ok := e.What.(bar.Shot)
		if !ok || e.Day >= today || shot.Coffee == s.coffee.ID || shot.Time.From != bar.Said || shot.Marks.Has(bar.Practice) || shot.Marks.Has(bar.Choked) {
			continue
		}
		if len(shot.Words) == 0 && len(s.later[e.ID]) == 0 {
			continue
		}
		if cups = append(cups, e); len(cups) == teamCups {
			break
		}
	}
	return cups
}

// leans returns how the team leans, by those cups. Nobody knows how their coffees
// ran; their time is brought to the recipe's dose and yield as usual.
func (s replayInput) leans(cups []bar.Entry) taste.Leans {
	usual := flow.Unknown(1)
	l := taste.Leans{}
	for _, coffee := range s.history.Coffees { // in the bar's order, so that the product is always the same
		if !slices.ContainsFunc(cups, func(e bar.Entry) bool { return e.What.(bar.Shot).Coffee == coffee.ID }) {
			continue // a belief is not made for nothing
		}
		answers, recipe := respond(coffee.Recipe, nil), coffee.Recipe
		b := newAim(recipe, answers)
		for _, e := range cups {
			shot := e.What.(bar.Shot)
			if shot.Coffee != coffee.ID {
				continue
			}
			at := math.Log(judged(recipe, shot, usual.Dose, usual.Yield)) - middle(recipe)
			cup := taste.Cup{Time: at, Expected: at, Odds: 1, Shift: answers.shift(spot{
				yield: logRatio(shot.Yield, recipe.Yield), dose: logRatio(shot.Dose, recipe.Dose),
			})}
			for _, t := range history.Tastings(e, shot, s.later[e.ID]) {
				b.Learn(t, cup, false)
			}
		}
		b.Leans(l)
	}
	return l
}

// leans returns how the team leans, as remembered: it stays the same for a day.
func (m *Memory) leans(s replayInput, today bar.Day) taste.Leans {
	cups := s.earlier(today)
	if m == nil || len(cups) == 0 {
		return s.leans(cups)
	}
	var sum maphash.Hash
	sum.SetSeed(m.seed)
	sum.Write(fmt.Append(nil, s.coffee.ID, s.history.Coffees))
	for _, e := range cups {
		hashEntry(e, &sum)
		sum.Write(fmt.Append(nil, s.later[e.ID]))
	}
	key := digest(sum.Sum64())
	m.mu.Lock()
	l, ok := m.team[key]
	m.mu.Unlock()
	if ok {
		return l
	}
	l = s.leans(cups) // which other bars need not wait for
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(m.team) >= m.size {
		clear(m.team)
	}
	m.team[key] = l
	return l
}
