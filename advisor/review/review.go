package review

import (
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
)

// A Said is an advice as it was said.
type Said struct {
	Shot     bar.EntryID // that it answered
	Lever    bar.Lever
	From, To float64
	Unit     advisor.Unit
	Done     bool // the person said they did it
}

// A Course is what is known of one coffee in the span.
type Course struct {
	Coffee  bar.Coffee
	Grinder bar.Grinder
	Trail   advisor.Trail
	Said    []Said // oldest first, none that was taken back
}

// A Span is what a review is of.
type Span struct {
	From, To bar.Day      // both within
	Person   bar.PersonID // whose shots, 0 for everybody's
}

// Holds reports whether an entry is in the span, whoever told it.
func (s Span) Holds(e bar.Entry) bool { return s.From <= e.Day && e.Day <= s.To }

// own reports whether an entry is in the span and of its person.
func (s Span) own(e bar.Entry) bool {
	return s.Holds(e) && (s.Person == 0 || s.Person == e.Person)
}

// Before returns the span of as many days that came before it.
func (s Span) Before() Span {
	from, err1 := time.Parse(time.DateOnly, string(s.From))
	to, err2 := time.Parse(time.DateOnly, string(s.To))
	if err1 != nil || err2 != nil {
		return Span{Person: s.Person}
	}
	days := int(to.Sub(from).Hours()/24) + 1
	day := func(t time.Time) bar.Day { return bar.Day(t.Format(time.DateOnly)) }
	return Span{From: day(from.AddDate(0, 0, -days)), To: day(from.AddDate(0, 0, -1)), Person: s.Person}
}

// A Book is what a review is made of.
type Book struct {
	Coffees []bar.Coffee // that it is of
	Cups    []Cup        // of the span and of the one before it, of these coffees
	Calls   []bar.Entry  // of the same days
	Courses []Course
}

// A Review is what a span shows, in numbers.
type Review struct {
	Span     Span
	Shots    int
	Days     int // with a shot
	Judged   int // cups that were tasted, or timed by a recipe
	Right    int // of them
	Effects  []Effect
	Repeats  int // shots of the control: pulled as the one before
	Regress  Regress
	Record   Record
	Mornings []Morning // by day
	Cost     Cost
	Best     []Best
	Worth    []Worth
	Agree    Agreement
	Scatter  Estimate // s by which single shots at one setting differ, sd; N shots
	Coffees  []Trouble
	Grinders []Trouble // none where each has one coffee
	Hours    []Trouble // of cups that were served
	Served   bool      // the hours are of cups after a call; else of all
}

// A Worth is what one step of a grinder is worth with a coffee.
type Worth struct {
	Grinder bar.Grinder
	Coffee  bar.Coffee
	Band    advisor.Band // s
}

// HasShown reports whether what a step is worth has shown, and is not only what
// is thought of any grinder: the ends of its interval are then no more than four
// times apart; assumed.
func HasShown(b advisor.Band) bool { return b.Low > 0 && b.High < 4*b.Low }

// Of looks back over a span.
func Of(span Span, b Book) Review {
	r := Review{Span: span}
	cups := r.count(b.Cups)
	r.Mornings = mornings(span, b.Cups, b.Calls)
	r.Cost = costOf(span, b.Coffees, b.Cups, b.Calls, r.Mornings)
	r.Coffees = troubles(cups, func(c Cup) Trouble { return Trouble{Coffee: c.Shot.Coffee} })
	if grindersShared(cups) {
		r.Grinders = troubles(cups, func(c Cup) Trouble { return Trouble{Grinder: c.Shot.Grinder} })
	}
	after, called := served(cups, b.Calls)
	r.Served = called
	r.Hours = troubles(after, func(c Cup) Trouble { return Trouble{Hour: c.Entry.At.Hour()} })
	for _, c := range b.Coffees {
		if best, ok := BestOf(c, cups); ok {
			r.Best = append(r.Best, best)
		}
	}
	r.replayed(b)
	return r
}

// count counts the shots of the span, and returns them.
func (r *Review) count(all []Cup) []Cup {
	var cups []Cup
	days := map[bar.Day]bool{}
	for _, c := range all {
		if !r.Span.own(c.Entry) {
			continue
		}
		cups = append(cups, c)
		days[c.Entry.Day] = true
		if c.Judged && c.serves() {
			r.Judged++
			r.Right += one(!c.off())
		}
	}
	r.Shots, r.Days = len(cups), len(days)
	return cups
}

// replayed adds what needs to know what was believed at each shot.
func (r *Review) replayed(b Book) {
	var uses []use
	var control []witness // shots pulled as the one before
	for _, c := range b.Courses {
		steps := c.in(r.Span)
		own := c.uses(r.Span, b.Calls)
		uses = append(uses, own...)
		for _, u := range own {
			if u.kind == 0 {
				control = append(control, u.witness)
			}
		}
		r.Regress.add(c.Coffee.Recipe, steps)
		r.Record.add(c, r.Span)
		if len(steps) > 0 && c.Trail.Worth.Mid > 0 {
			r.Worth = append(r.Worth, Worth{c.Grinder, c.Coffee, c.Trail.Worth})
		}
	}
	r.Repeats, r.Effects, r.Scatter = len(control), effects(uses), scatter(control)
	r.Agree = agreement(b.Courses, r.Span)
}

// in returns the steps of a course that are in the span and of its person.
func (c Course) in(span Span) []advisor.TrailShot {
	var list []advisor.TrailShot
	for _, s := range c.Trail.Steps {
		if span.own(s.Entry) {
			list = append(list, s)
		}
	}
	return list
}

// A Regress is what became of shots after one that was out of its window, with
// a change in between and without: most of what follows comes by itself.
type Regress struct {
	Changed, Nearer         int // shots after one that was out, with a change; of them nearer to the window
	Unchanged, NearerAnyway int // the same where nothing was changed
}

// add takes the steps of a course into r.
func (r *Regress) add(w bar.Recipe, steps []advisor.TrailShot) {
	for i := 1; i < len(steps); i++ {
		before, after := steps[i-1], steps[i]
		if !counts(after) || before.Entry.Day != after.Entry.Day || outside(w, before) == 0 || after.Shot.Time.From == bar.None {
			continue
		}
		nearer := away(w, after.Shot.Time.X) < away(w, before.Shot.Time.X)
		if after.Moved {
			r.Changed++
			r.Nearer += one(nearer)
		} else {
			r.Unchanged++
			r.NearerAnyway += one(nearer)
		}
	}
}

// away returns by how much a time is out of a window, 0 within.
func away(w bar.Recipe, x bar.Seconds) bar.Seconds {
	return max(0, w.Low-x, x-w.High)
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
