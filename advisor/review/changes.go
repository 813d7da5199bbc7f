package review

import (
	"math"
	"slices"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
)

// A Kind is a kind of change.
type Kind int

// The kinds.
const (
	Finer Kind = iota + 1
	Coarser
	Longer  // more yield, or a later stop
	Shorter // less yield
	MoreDose
	LessDose
	Care // of the puck
	Water
)

// Kinds returns all of them, in the order in which they are told.
func Kinds() []Kind { return []Kind{Finer, Coarser, Longer, Shorter, MoreDose, LessDose, Care, Water} }

// A use is a shot after another of its coffee, with what was changed in between:
// kind is 0 where nothing was, and such shots are the control.
type use struct {
	kind    Kind
	coffee  bar.CoffeeID
	grinder bar.GrinderID
	week    int // of its year
	at      time.Time
	right   float64 // how right the cup was, 0 to 1
	before  float64 // the same of the cup before
	out     float64 // how far the clock found the cup before out of the window, 0 to 1, where it was not right
	left    float64 // how right the clock was believed to find it, had nothing been changed
	proven  float64 // how far the setting before had been right that day, 0 to 1
	called  bool    // the coffee had been called dialled in that day
	clocked bool    // nobody tasted it, so the clock said it
	witness
}

// wasRight and wasHalf tell of the cup before.
func (u use) wasRight() bool { return u.before > 0.75 }
func (u use) wasHalf() bool  { return 0.25 < u.before && u.before <= 0.75 }

// A witness is what a shot's time says of the change before it.
type witness struct {
	seconds float64 // by which its time differs from the one believed without a change; NaN if not known
	log     float64 // the same as a share, in logs
	weight  float64 // how far it is a witness of its setting
	mid     float64 // s, believed without a change
}

// waits is how long after an advice, or a shot, the next shot still answers it.
const waits = 12 * time.Hour

// uses returns the shots of a course in the span that one thing or nothing was
// changed before.
func (c Course) uses(span Span, calls []bar.Entry) []use {
	advised := map[bar.EntryID]Kind{}
	for _, p := range c.pairs(span) {
		if c.followed(p) {
			advised[p.after.Entry.ID] = c.kind(p.said)
		}
	}
	last := map[bar.Marks]advisor.TrailShot{} // of each kind of cup
	settings := map[bar.Marks]setting{}       // before the last
	var list []use
	for _, s := range c.Trail.Steps {
		cup := s.Shot.Marks & bar.InMilk
		before, ok := last[cup]
		at := settings[cup]
		last[cup], settings[cup] = s, at.then(c, before, s)
		if !ok || !span.own(s.Entry) || !follows(before, s) {
			continue
		}
		kind, one := Moved(before, s)
		if told := advised[s.Entry.ID]; told != 0 && kind == 0 {
			kind = told // what leaves no trace in the numbers
		}
		u, ok := c.useOf(before, s)
		u.proven, u.called = at.proven(), c.called(s.Entry, calls)
		if u.kind = kind; ok && one && (kind == 0 || !u.wasRight()) { // a cup that was right is not mended
			list = append(list, u)
		}
	}
	return list
}

// A setting is how a coffee stands since it was last changed, or since the
// morning: how many cups were judged before the last one, and how right they were.
type setting struct {
	right, cups float64
}

// then returns the setting of the shot before the next: before joins it if s was
// pulled as before was, the same day.
func (a setting) then(c Course, before, s advisor.TrailShot) setting {
	if kind, one := Moved(before, s); kind != 0 || !one || before.Entry.Day != s.Entry.Day {
		return setting{}
	}
	if right, ok := rightness(c.Coffee, before.Shot, before.Read); ok {
		a.right, a.cups = a.right+right, a.cups+1
	}
	return a
}

// proven returns how far a setting had been right: none without a cup, half of
// the way with one right cup, near 1 with many and few wrong ones between.
func (a setting) proven() float64 { return a.right / (a.cups + 1) }

// called reports whether the coffee had been called dialled in on the day of a
// shot, before it.
func (c Course) called(shot bar.Entry, calls []bar.Entry) bool {
	return slices.ContainsFunc(calls, func(e bar.Entry) bool {
		call, ok := e.What.(bar.Dialled)
		return ok && call.Coffee == c.Coffee.ID && e.Day == shot.Day && e.At.Before(shot.At)
	})
}

// follows reports whether a shot says what came of what was changed since the
// one before.
func follows(before, s advisor.TrailShot) bool {
	return !s.First && s.Shot.Marks&noWitness == 0 && before.Shot.Grinder == s.Shot.Grinder && s.Entry.At.Sub(before.Entry.At) < waits &&
		before.Shot.Marks&(bar.Practice|bar.Single|bar.Unplaced) == 0
}

// How far a yield or a dose has to lie from the one before to have been changed
// on purpose, in logs and g: as the advisor takes it.
const (
	movedYield = 0.06
	movedDose  = 0.3
)

// Moved returns what was moved between two shots, 0 for nothing, and false if
// it was more than one thing: nobody can say which of them did it.
func Moved(before, s advisor.TrailShot) (kind Kind, one bool) {
	n := 0
	if d := s.Grind - before.Grind; math.Abs(d) > 1e-9 {
		kind, n = either(d > 0, Finer, Coarser), n+1
	}
	if d := math.Log(float64(s.Shot.Yield.X / before.Shot.Yield.X)); math.Abs(d) > movedYield && s.Shot.Yield.From != bar.None {
		kind, n = either(d > 0, Longer, Shorter), n+1
	}
	if d := s.Shot.Dose.X - before.Shot.Dose.X; math.Abs(float64(d)) > movedDose {
		kind, n = either(d > 0, MoreDose, LessDose), n+1
	}
	return kind, n < 2
}

// useOf returns what a shot shows of what was changed before it, or false if it
// shows nothing.
func (c Course) useOf(before, s advisor.TrailShot) (use, bool) {
	u := use{
		coffee: c.Coffee.ID, grinder: s.Shot.Grinder, at: s.Entry.At, witness: witnessOf(s),
		clocked: !s.Read.Tasted,
	}
	year, week := s.Entry.At.ISOWeek()
	u.week = 100*year + week
	r := c.Coffee.RecipeFor(s.Shot.Marks)
	var ok1, ok2 bool
	u.right, ok1 = rightness(c.Coffee, s.Shot, s.Read)
	u.before, ok2 = rightness(c.Coffee, before.Shot, before.Read)
	if x := float64(before.Shot.Time.X); !u.wasRight() && counts(before) && before.Shot.Time.From != bar.None && x > 0 {
		u.out = 1 - rightTime(r, x)
	}
	u.left = rightTime(r, s.Stayed.Mid)
	return u, ok1 && ok2 && s.Stayed.Mid > 0
}

// A pair is an advice, the shot it answered and the shot after it.
type pair struct {
	said          Said
	before, after advisor.TrailShot
}

// pairs returns the advices in the span that a shot came after.
func (c Course) pairs(span Span) []pair {
	at := map[bar.EntryID]int{}
	for i, s := range c.Trail.Steps {
		at[s.Entry.ID] = i
	}
	var list []pair
	for _, s := range c.Said {
		i, ok := at[s.Shot]
		if !ok || i+1 == len(c.Trail.Steps) {
			continue
		}
		p := pair{s, c.Trail.Steps[i], c.Trail.Steps[i+1]}
		if span.own(p.after.Entry) && p.after.Entry.At.Sub(p.before.Entry.At) < waits && p.after.Shot.Grinder == p.before.Shot.Grinder {
			list = append(list, p)
		}
	}
	return list
}

// kind returns what kind of change an advice is that leaves no trace in a
// shot's numbers, 0 for any other.
func (c Course) kind(s Said) Kind {
	switch s.Lever {
	case bar.Prep:
		return Care
	case bar.Temperature:
		return Water
	case bar.Grind, bar.Yield, bar.Time, bar.Dose, bar.NoLever, bar.Repeat, bar.Keep:
	}
	return 0
}

func either[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}

// followed reports whether the shot after an advice was pulled as advised: at
// least half of the way, and nothing moved where nothing should.
func (c Course) followed(p pair) bool {
	s, shot := p.said, p.after.Shot
	near := func(x float64) bool { return math.Abs(x-s.To) < math.Abs(s.To-s.From)/2+1e-9 }
	switch s.Lever {
	case bar.Grind:
		if s.Unit == advisor.StepUnit {
			return near(p.after.Grind - p.before.Grind)
		}
		return shot.Grind.From != bar.None && near(float64(shot.Grind.X))
	case bar.Yield:
		return near(float64(shot.Yield.X))
	case bar.Time:
		return near(float64(shot.Time.X))
	case bar.Dose:
		return near(float64(shot.Dose.X))
	case bar.Temperature:
		return s.Done || near(float64(shot.Water))
	case bar.Prep, bar.Repeat, bar.Keep:
		return !p.after.Moved
	case bar.NoLever:
	}
	return false
}

// witnessOf returns what a shot's time says of the change before it.
func witnessOf(s advisor.TrailShot) witness {
	w := witness{seconds: math.NaN(), log: math.NaN(), mid: s.Stayed.Mid}
	if counts(s) && s.Shot.Time.From != bar.None && s.Stayed.Mid > 0 {
		w.seconds = float64(s.Shot.Time.X) - s.Stayed.Mid
		w.log = math.Log(float64(s.Shot.Time.X) / s.Stayed.Mid)
		w.weight = 1 - s.Odd
	}
	return w
}

// noWitness are the marks of shots that say nothing of a setting.
const noWitness = bar.Practice | bar.Single | bar.First | bar.Stopped | bar.Unplaced

// counts reports whether a shot's time says anything of its setting.
func counts(s advisor.TrailShot) bool {
	return !s.First && s.Shot.Marks&(noWitness|bar.Choked) == 0
}
