package review

import (
	"cmp"
	"slices"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
)

// A Said is an advice as it was said.
type Said struct {
	Shot     bar.EntryID // that it answered
	At       time.Time
	Lever    bar.Lever
	From, To float64
	Unit     advisor.Unit
	Expect   advisor.Expect
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

// A Review is what a span shows, in numbers.
type Review struct {
	Span     Span
	Shots    int
	Days     int // with a shot
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
}

// A Worth is what one step of a grinder is worth with a coffee.
type Worth struct {
	Grinder bar.Grinder
	Coffee  bar.Coffee
	Band    advisor.Band // s
	Shots   int
}

// HasShown reports whether what a step is worth has shown, and is not only what
// is thought of any grinder: the ends of its interval are then no more than four
// times apart; assumed.
func HasShown(b advisor.Band) bool { return b.Low > 0 && b.High < 4*b.Low }

// Of looks back over courses.
func Of(span Span, courses []Course, calls []bar.Entry) Review {
	r := Review{Span: span}
	var uses []use
	var control []witness
	days := map[bar.Day]bool{}
	for _, c := range courses {
		steps := c.in(span)
		r.Shots += len(steps)
		for _, s := range steps {
			days[s.Entry.Day] = true
		}
		own := c.uses(span)
		uses = append(uses, own...)
		control = append(control, repeats(steps, own)...)
		r.Regress.add(c.Coffee.Recipe, steps)
		r.Record.add(c, span)
		r.Mornings = append(r.Mornings, c.mornings(span, calls)...)
		r.Best = append(r.Best, c.best(steps)...)
		if len(steps) > 0 && c.Trail.Worth.Mid > 0 {
			r.Worth = append(r.Worth, Worth{c.Grinder, c.Coffee, c.Trail.Worth, len(c.Trail.Steps)})
		}
	}
	r.Days, r.Repeats = len(days), len(control)
	r.Effects = effects(uses, control)
	r.Scatter = scatter(control)
	slices.SortStableFunc(r.Mornings, func(a, b Morning) int { return cmp.Compare(a.Day, b.Day) })
	r.Cost = cost(r.Mornings)
	r.Agree = agreement(courses, span)
	return r
}

// in returns the steps of a course that are in the span and of its person.
func (c Course) in(span Span) []advisor.Step {
	var list []advisor.Step
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
func (r *Regress) add(w bar.Recipe, steps []advisor.Step) {
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
