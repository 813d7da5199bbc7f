package advisor

import (
	"cmp"
	"math"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/flow"
	"shothand/advisor/history"
	"shothand/advisor/taste"
)

// A Trail is how a coffee went, shot by shot, for looking back.
type Trail struct {
	Steps []TrailShot
	Worth Band    // s that one step of the grinder changes a shot in the window by, with 90 %
	Curve []Point // steady time over the dial as it is believed now, finest last; none without numbers
}

// A TrailShot is one shot: what was believed of it before it came, from the shots
// before it alone, and how it came out.
type TrailShot struct {
	Entry    bar.Entry
	Shot     bar.Shot
	Grind    float64   // steps on the grinder, in its own count, + is finer
	Yield    bar.Grams // as poured
	First    bool      // no shot before it to compare with
	Moved    bool      // grind, yield or dose are not as they were
	Foretold Band      // its time, with 90 %, if nothing happened that nobody told
	// Stayed is the time believed of it had grind, yield and dose been left as
	// they were, with 90 %; its own scatter in dose and yield is allowed for.
	Stayed Band
	Odd    float64       // probability that it is no witness of its setting
	Words  []bar.Word    // everybody's, as they came
	Read   taste.Reading // by them
	Cups   []Cup         // by each person's
	// Meant is how the cup was believed to taste had nothing been changed, in
	// taste steps.
	Meant taste.Place
}

// A Band is a time and the interval around it, in s. It is zero where nothing
// is believed.
type Band struct{ Mid, Low, High float64 }

// A Cup is what one person's words on a shot read.
type Cup struct {
	Person bar.PersonID
	Read   taste.Reading
}

// A Point is the steady time believed at one position of the dial, with 90 %.
type Point struct {
	Dial bar.Dial
	Band
}

// bandLevel is the probability of a Band.
const bandLevel = 0.90

// doseMoved is the g by which a dose is taken to have been changed on purpose.
const doseMoved = 0.3

// TrailOf returns how a coffee of h went until now. It is false if the coffee
// is not known or has no shot. Where it has a recipe for milk, each shot stands
// beside that of its own cup; what a step is worth and the curve are those of
// the cup it was last pulled for.
func TrailOf(h bar.History, id bar.CoffeeID, now time.Time) (Trail, bool) {
	h = history.Heard(h)
	coffee, ok := bar.CoffeeOf(h.Coffees, id)
	if !ok {
		return Trail{}, false
	}
	cup := history.LastMarks(h, id) & bar.InMilk
	t, ok := trailIn(h, coffee, cup, now)
	if coffee.Milk == (bar.Recipe{}) || !ok {
		return t, ok
	}
	other, _ := trailIn(h, coffee, cup^bar.InMilk, now)
	t.Steps = append(t.Steps, other.Steps...)
	slices.SortStableFunc(t.Steps, func(a, b TrailShot) int {
		return cmp.Or(a.Entry.At.Compare(b.Entry.At), cmp.Compare(a.Entry.ID, b.Entry.ID))
	})
	return t, true
}

// trailIn returns the trail of a coffee's shots for one kind of cup.
func trailIn(h bar.History, coffee bar.Coffee, cup bar.Marks, now time.Time) (Trail, bool) {
	id, both := coffee.ID, coffee.Milk != (bar.Recipe{})
	h = history.FromPump(history.ForCup(h, coffee, cup))
	coffee, _ = bar.CoffeeOf(h.Coffees, id)
	s := newReplayInput(h, coffee)
	s.untaught = 0 // which cups had taught by a shot must not hang on how many came after it
	c := s.start()
	c.state.still = true // what a change did stands beside what would have been without one
	var t Trail
	for i, e := range s.entries {
		shot, ok := e.What.(bar.Shot)
		own := ok && shot.Coffee == id && (!both || shot.Marks&bar.InMilk == cup)
		var step TrailShot
		if own {
			step = c.clone().step(h, e, shot)
		}
		c.advance(s, i, i+1)
		if own {
			step.came(c.pulls[len(c.pulls)-1], s.later[e.ID])
			t.Steps = append(t.Steps, step)
		}
	}
	if len(t.Steps) == 0 {
		return Trail{}, false
	}
	r := c.end(s, now)
	t.Worth, t.Curve = r.worth(), r.curve(t.Steps)
	if h.Bar.FromDrip {
		t.fromDrip(coffee.Wetting())
	}
	return t, true
}

// came takes down how the shot came out.
func (s *TrailShot) came(p pull, later []taste.Tasting) {
	s.Grind, s.Read = p.grind, p.reading
	s.Words = slices.Clone(s.Shot.Words)
	for _, t := range later {
		s.Words = append(s.Words, t.Words...)
	}
	for _, one := range p.tasted {
		s.Cups = append(s.Cups, Cup{bar.PersonID(one.taster), one.reading})
	}
}

// step returns what c believes of a shot that it has not seen. It uses c up.
func (c *replaying) step(h bar.History, e bar.Entry, shot bar.Shot) TrailShot {
	step := TrailShot{Entry: e, Shot: shot, Yield: shot.Yield.X, First: len(c.pulls) == 0}
	if shot.Grinder != c.grinder.ID {
		return step
	}
	before := c.state
	actual := pull{Entry: e, shot: shot}
	effective, doubt := c.state.grind(&actual)
	l := c.state.visit(h, c.coffee, &actual)
	seen := l.observed(c.coffee.Recipe, shot, effective, doubt)
	step.Foretold = band(l.filter.Next(seen))
	if shot.Time.From != bar.None && !shot.Marks.Has(bar.Choked) {
		step.Odd = l.filter.Odd(seen)
	}
	if step.First {
		return step
	}
	last := c.pulls[len(c.pulls)-1]
	same := shot
	step.Moved = actual.grind != last.grind
	if math.Abs(logRatio(shot.Yield, last.shot.Yield.X)) > sameYield {
		same.Yield, step.Moved = last.shot.Yield, true
	}
	if math.Abs(float64(shot.Dose.X-last.shot.Dose.X)) > doseMoved {
		same.Dose, step.Moved = last.shot.Dose, true
	}
	c.state = before
	effective, doubt = c.state.stay(last.grind, actual)
	step.Stayed = band(l.filter.Next(l.observed(c.coffee.Recipe, same, effective, doubt)))
	s := spot{
		yield: logRatio(same.Yield, c.coffee.Recipe.Yield), dose: logRatio(same.Dose, c.coffee.Recipe.Dose),
		time: l.filter.Steady(0, 0).Mean(last.grind-l.ref) - middle(c.coffee.Recipe),
	}
	step.Meant.Extraction, step.Meant.Strength = c.off(s)
	return step
}

// stay lets the dose of p through the grinder as if it had been left at grind.
func (m *grinderState) stay(grind float64, p pull) (flow.Effective, float64) {
	p.shot.Grind.From, p.shot.Turned = bar.None, grind-m.set
	return m.grind(&p)
}

// observed returns a shot as the coffee's filter sees it.
func (l *coffeeState) observed(r bar.Recipe, s bar.Shot, effective flow.Effective, doubt float64) flow.Shot {
	for i := range effective {
		effective[i] -= l.ref
	}
	seen := observed(r, s, effective)
	seen.Doubt = doubt
	return seen
}

// band returns the middle of a belief about log time, and what holds it.
func band(m flow.Mixture) Band {
	tail := (1 - bandLevel) / 2
	return Band{math.Exp(m.Mean()), math.Exp(m.Quantile(tail)), math.Exp(m.Quantile(1 - tail))}
}

// worth returns what one step is worth in the middle of the window.
func (r *replay) worth() Band {
	slopes := r.filter.Slopes()
	for i := range slopes {
		slopes[i].SD = slopeWidth * slopes[i].Mean
	}
	mid, tail := math.Exp(middle(r.coffee.Recipe)), (1-bandLevel)/2
	return Band{mid * slopes.Mean(), mid * slopes.Quantile(tail), mid * slopes.Quantile(1-tail)}
}

// slopeWidth is the width of one part of the belief about what a step is
// worth, as a share of it: about that of the filter's grid.
const slopeWidth = 0.1

// margin is how many steps past the shots that were pulled a curve is drawn.
const margin = 2

// maxPoints is how many points a curve has at most.
const maxPoints = 60

// curve returns the steady time over the dial where shots were pulled.
func (r *replay) curve(steps []TrailShot) []Point {
	if !(r.grinder.Step > 0) || !r.placed {
		return nil
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range steps {
		if s.Shot.Grinder == r.grinder.ID {
			low, high = min(low, s.Grind), max(high, s.Grind)
		}
	}
	if !(low <= high) {
		return nil
	}
	low, high = low-margin, high+margin
	var points []Point
	for at := low; at <= high+1e-9; at += max(0.25, (high-low)/maxPoints) {
		grind := at - r.ref
		mean, sd := r.steady.Mean(grind), math.Sqrt(r.steady.Variance(grind))
		const z = 1.6449 // of 90 %, both sides
		points = append(points, Point{
			Dial: bar.Dial(r.reading(at)),
			Band: Band{math.Exp(mean), math.Exp(mean - z*sd), math.Exp(mean + z*sd)},
		})
	}
	return points
}

// fromDrip returns the trail's times to a clock that starts at the first drip.
func (t *Trail) fromDrip(wet bar.Seconds) {
	for i := range t.Steps {
		s := &t.Steps[i]
		if s.Shot.Time.From != bar.None {
			s.Shot.Time.X -= wet
			s.Entry.What = s.Shot
		}
		s.Foretold, s.Stayed = s.Foretold.less(wet), s.Stayed.less(wet)
	}
	for i := range t.Curve {
		t.Curve[i].Band = t.Curve[i].less(wet)
	}
}

// less returns b earlier by so many seconds.
func (b Band) less(wet bar.Seconds) Band {
	if !(b.Mid > 0) {
		return b
	}
	by := float64(wet)
	return Band{b.Mid - by, b.Low - by, b.High - by}
}
