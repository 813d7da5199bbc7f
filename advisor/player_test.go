package advisor_test

import (
	"slices"
	"strings"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/simbar"
	"shothand/advisor/taste"
	"shothand/advisor/why"
)

// An advised is a bar that does what the advisor says: the player of the
// scorecard. It sees what a bar sees, and nothing of the world behind it.
type advised struct {
	part // what the advisor has to do without

	// What looks on: each shot before it is in the history, and each advice
	// that is followed.
	onShot   func(number int, e bar.Entry)
	onAdvice func(simbar.Shot, advisor.Advice)

	bar.History
	memory *advisor.Memory
	table  simbar.Table
	coffee bar.CoffeeID
	now    time.Time
	runs   int  // runs begun
	seen   int  // shots of this run already in the history
	asked  int  // the shot that was asked about
	second int  // the shot that somebody else was to taste
	stayed int  // shots in a row that the advice has left where they were
	cut    bool // the last advice was of the yield
}

// Start opens a run: a new grinder, another coffee on it, or another morning.
func (p *advised) Start(t simbar.Table) {
	p.table, p.seen, p.asked, p.second, p.stayed = t, 0, 0, 0, 0
	p.runs++
	if !t.SameGrinder || p.part == noCarry {
		p.History = bar.History{Grinders: []bar.Grinder{grinder(t.Dial)}}
		p.memory, p.coffee = advisor.NewMemory(2), 0
	}
	if !t.SameCoffee || p.coffee == 0 {
		p.coffee++
		p.Coffees = append(p.Coffees, bar.Coffee{ID: p.coffee, Name: "coffee", Grinder: 1, Recipe: recipe(t.Recipe)})
	}
	p.now = time.Date(2026, 3, 2+t.Day, 6, 30, 0, 0, time.UTC)
}

// grinder returns what a bar tells of a grinder with that dial.
func grinder(d simbar.Dial) bar.Grinder {
	g := bar.Grinder{ID: 1, Name: "left", Finer: bar.Lower}
	if d.Numbered {
		g.Step, g.Min, g.Max = d.Step, bar.Dial(d.Min), bar.Dial(d.Max)
	}
	if d.Finer > 0 {
		g.Finer = bar.Higher
	}
	return g
}

func recipe(r simbar.Recipe) bar.Recipe {
	return bar.Recipe{
		Dose: bar.Grams(r.Dose), Yield: bar.Grams(r.Yield),
		Low: bar.Seconds(r.Low), High: bar.Seconds(r.High), Soft: r.Soft,
	}
}

// Next does what the advice says.
func (p *advised) Next(shots []simbar.Shot) simbar.Move {
	for _, s := range shots[p.seen:] {
		p.report(s)
	}
	p.seen = len(shots)
	last := shots[len(shots)-1]
	if p.asked == len(shots) || p.second == len(shots) { // an answer came, or none
		p.taste(last)
	}
	a, ok := p.advise()
	move := simbar.Move{Setting: last.Set}
	if !ok {
		return move
	}
	if slices.Contains(a.Reasons, why.Unmoved) { // asked where the dial stands, people look
		p.look(shots)
		a, _ = p.advise()
	}
	if p.silent(last) && a.Lever != bar.Keep && p.asked != len(shots) {
		p.asked, move.Ask = len(shots), true
		return move
	}
	if slices.Contains(a.Reasons, why.SecondPalate) && p.second != len(shots) {
		p.second, move.Second = len(shots), true
		return move
	}
	if p.onAdvice != nil {
		p.onAdvice(last, a)
	}
	p.obey(a, last, &move)
	return move
}

// advise asks the advisor.
func (p *advised) advise() (advisor.Advice, bool) {
	if given := p.given(); given != nil {
		return advisor.AdviseGiven(p.History, p.coffee, p.now, given)
	}
	return p.memory.Advise(p.History, p.coffee, p.now)
}

// silent reports whether s is worth asking about.
func (p *advised) silent(s simbar.Shot) bool {
	return len(s.Tastings) == 0 && !s.Choked && p.part != noTaste
}

// obey turns an advice on the last shot into a move.
func (p *advised) obey(a advisor.Advice, last simbar.Shot, move *simbar.Move) {
	to := &move.Setting
	to.Purge, to.Care = a.Purge, a.Lever == bar.Prep
	p.cut = a.Lever == bar.Yield
	switch a.Lever {
	case bar.Keep:
		move.Keep = true
	case bar.Grind:
		if a.Unit == advisor.DialUnit && last.Untold {
			to.Grind = a.To
		} else if a.Unit == advisor.DialUnit { // who has misread the dial turns it by what was advised
			to.Grind += a.To - last.Grind
		} else {
			to.Grind = p.table.Dial.Turn(last.Set.Grind, a.To)
		}
	case bar.Yield:
		to.Yield = a.To
	case bar.Dose:
		to.Dose = a.To
	case bar.NoLever, bar.Time, bar.Temperature, bar.Prep, bar.Repeat:
	}
	if p.stayed++; to.Grind != last.Set.Grind || to.Yield != last.Set.Yield {
		p.stayed = 0
	}
	if p.part == noTaste && p.stayed == 3 { // nobody will ever say more of it
		move.Keep = true
	}
}

// report puts a shot into the history.
func (p *advised) report(s simbar.Shot) {
	p.now = p.now.Add(3 * time.Minute)
	shot := bar.Shot{
		Coffee: p.coffee, Grinder: 1,
		Grind: bar.Value[bar.Dial]{X: bar.Dial(s.Grind), From: bar.Said},
		Dose:  bar.Value[bar.Grams]{X: bar.Grams(s.Dose), From: bar.Said},
		Yield: bar.Value[bar.Grams]{X: bar.Grams(s.Yield), From: bar.Said, Rough: !s.Weighed},
		Time:  bar.Value[bar.Seconds]{X: bar.Seconds(s.Time), From: bar.Said},
		Marks: marks(s),
	}
	if p.cut {
		shot.Meant = bar.Grams(s.Set.Yield)
	}
	e := bar.Entry{Person: bar.PersonID(s.Person), At: p.now, Day: bar.DayOf(p.now), What: shot}
	if p.onShot != nil {
		p.onShot(s.Number, e)
	}
	p.add(e)
	p.clock(s)
	p.taste(s)
}

// look puts down where the dial stood in this run's shots that nobody had told of.
func (p *advised) look(shots []simbar.Shot) {
	n := len(shots)
	for i, e := range slices.Backward(p.Entries) {
		s, ok := e.What.(bar.Shot)
		if !ok {
			continue
		}
		if n--; n < 0 {
			return
		}
		if s.Grind.From != bar.Said {
			s.Grind = bar.Value[bar.Dial]{X: bar.Dial(shots[n].Set.Grind), From: bar.Said}
			p.Entries[i].What = s
		}
	}
}

// clock puts the dial back to where it stood before, where nobody has said that it
// was turned and the time says that it was not: as the chat does it.
func (p *advised) clock(s simbar.Shot) {
	i := len(p.Entries) - 1
	shot := p.Entries[i].What.(bar.Shot)
	j := i - 1
	for j >= 0 && (!isShot(p.Entries[j]) || p.Entries[j].What.(bar.Shot).Coffee != p.coffee) {
		j--
	}
	if !s.Untold || j < 0 {
		return
	}
	shot.Grind.From = bar.Advised
	p.Entries[i].What = shot
	before := p.Entries[j].What.(bar.Shot).Grind.X
	stood := bar.Value[bar.Dial]{X: before, From: bar.Clocked}
	const notDone = 0.15 // as in the chat
	if before != shot.Grind.X && notDone/(1-notDone) > p.memory.DialOdds(p.History, p.Entries[i].ID, stood) {
		shot.Grind = stood
		p.Entries[i].What = shot
	}
}

// add puts e behind the last entry.
func (p *advised) add(e bar.Entry) {
	e.ID = bar.EntryID(len(p.Entries) + 1)
	p.Entries = append(p.Entries, e)
}

func marks(s simbar.Shot) bar.Marks {
	var marks bar.Marks
	for mark, is := range map[bar.Marks]bool{
		bar.Purged: s.Purge == simbar.Purged, bar.NotPurged: s.Purge == simbar.NotPurged,
		bar.Choked: s.Choked, bar.Spurted: s.Spurted,
	} {
		if is {
			marks |= mark
		}
	}
	return marks
}

// taste puts down what was said of the last shot.
func (p *advised) taste(s simbar.Shot) {
	i := len(p.Entries) - 1
	for !isShot(p.Entries[i]) {
		i--
	}
	shot := p.Entries[i]
	p.Entries = p.Entries[:i+1]
	if p.part == noTaste {
		return
	}
	for _, t := range s.Tastings {
		words, unread := taste.Default().Read(strings.Join(t.Words, ", "))
		p.add(bar.Entry{
			Person: bar.PersonID(t.Person), At: p.now, Day: shot.Day,
			What: bar.Words{Shot: shot.ID, Words: words, Unread: unread},
		})
	}
}

func isShot(e bar.Entry) bool {
	_, ok := e.What.(bar.Shot)
	return ok
}
