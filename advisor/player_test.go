package advisor_test

import (
	"strings"
	"time"

	"shothand/advisor"
	"shothand/advisor/simbar"
	"shothand/advisor/taste"
)

// An advised is a bar that does what the advisor says: the player of the
// scorecard. It sees what a bar sees, and nothing of the world behind it.
type advised struct {
	advisor.History
	table  simbar.Table
	coffee advisor.CoffeeID
	now    time.Time
	run    int // shots of this run already in the history
	asked  int // the shot that was asked about
	last   advisor.Advice
}

// Start opens a run: a new grinder, another coffee on it, or another morning.
func (p *advised) Start(t simbar.Table) {
	p.table, p.run, p.asked = t, 0, 0
	if !t.SameGrinder {
		g := advisor.Grinder{ID: 1, Name: "left", Finer: advisor.Lower}
		if t.Dial.Numbered {
			g.Step, g.Min, g.Max = t.Dial.Step, advisor.Dial(t.Dial.Min), advisor.Dial(t.Dial.Max)
		}
		if t.Dial.Finer > 0 {
			g.Finer = advisor.Higher
		}
		p.History = advisor.History{Grinders: []advisor.Grinder{g}}
		p.coffee = 0
	}
	if !t.SameCoffee {
		p.coffee++
		p.Coffees = append(p.Coffees, advisor.Coffee{ID: p.coffee, Name: "coffee", Grinder: 1, Recipe: advisor.Recipe{
			Dose: advisor.Grams(t.Recipe.Dose), Yield: advisor.Grams(t.Recipe.Yield),
			Low: advisor.Seconds(t.Recipe.Low), High: advisor.Seconds(t.Recipe.High), Soft: t.Recipe.Soft,
		}})
	}
	p.now = time.Date(2026, 3, 2+t.Day, 6, 30, 0, 0, time.UTC)
}

// Next does what the advice says.
func (p *advised) Next(shots []simbar.Shot) simbar.Move {
	for _, s := range shots[p.run:] {
		p.report(s)
	}
	p.run = len(shots)
	last := shots[len(shots)-1]
	if p.asked == len(shots) { // an answer came, or none
		p.taste(last)
	}
	a, ok := advisor.Advise(p.History, p.coffee, p.now)
	p.last = a
	move := simbar.Move{Setting: last.Set}
	move.Setting.Purge, move.Setting.Care = a.Purge, a.Lever == advisor.Prep
	switch {
	case !ok:
	case a.Lever == advisor.Keep:
		move.Keep = true
	case len(last.Tastings) == 0 && !last.Choked && p.asked != len(shots):
		p.asked, move.Ask = len(shots), true
	case a.Lever == advisor.Grind && a.Unit == advisor.DialUnit:
		// Somebody who has misread the dial turns it by what was advised.
		move.Setting.Grind += a.To - last.Grind
	case a.Lever == advisor.Grind:
		move.Setting.Grind = p.table.Dial.Turn(last.Set.Grind, a.To)
	case a.Lever == advisor.Yield:
		move.Setting.Yield = a.To
	case a.Lever == advisor.Dose:
		move.Setting.Dose = a.To
	}
	return move
}

// report puts a shot into the history.
func (p *advised) report(s simbar.Shot) {
	p.now = p.now.Add(3 * time.Minute)
	shot := advisor.Shot{
		Coffee: p.coffee, Grinder: 1,
		Grind: advisor.Value[advisor.Dial]{X: advisor.Dial(s.Grind), From: advisor.Said},
		Dose:  advisor.Value[advisor.Grams]{X: advisor.Grams(s.Dose), From: advisor.Said},
		Yield: advisor.Value[advisor.Grams]{X: advisor.Grams(s.Yield), From: advisor.Said, Rough: !s.Weighed},
		Time:  advisor.Value[advisor.Seconds]{X: advisor.Seconds(s.Time), From: advisor.Said},
	}
	for mark, is := range map[advisor.Marks]bool{
		advisor.Purged: s.Purge == simbar.Purged, advisor.NotPurged: s.Purge == simbar.NotPurged,
		advisor.Choked: s.Choked, advisor.Spurted: s.Spurted,
	} {
		if is {
			shot.Marks |= mark
		}
	}
	p.Entries = append(p.Entries, advisor.Entry{
		ID: advisor.EntryID(len(p.Entries) + 1), Person: advisor.PersonID(s.Person), At: p.now, Day: advisor.DayOf(p.now), What: shot,
	})
	p.taste(s)
}

// taste puts down what was said of the last shot.
func (p *advised) taste(s simbar.Shot) {
	i := len(p.Entries) - 1
	for ; ; i-- {
		if _, ok := p.Entries[i].What.(advisor.Shot); ok {
			break
		}
	}
	shot := p.Entries[i]
	p.Entries = p.Entries[:i+1]
	for _, t := range s.Tastings {
		words, unread := taste.Default().Read(strings.Join(t.Words, ", "))
		p.Entries = append(p.Entries, advisor.Entry{
			ID: advisor.EntryID(len(p.Entries) + 1), Person: advisor.PersonID(t.Person), At: p.now, Day: shot.Day,
			What: advisor.Words{Shot: shot.ID, Words: words, Unread: unread},
		})
	}
}
