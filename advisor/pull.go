package advisor

import (
	"fmt"
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/flow"
	"shothand/advisor/history"
	"shothand/advisor/taste"
)

// shot replays one shot of any coffee on the grinder, and takes it down if it is
// of the coffee in question.
func (r *replay) shot(h bar.History, m *grinderState, e bar.Entry, s bar.Shot, later []taste.Tasting) {
	own := s.Coffee == r.coffee.ID
	if !own && s.Grinder != r.grinder.ID {
		return
	}
	coffee, ok := bar.CoffeeOf(h.Coffees, s.Coffee)
	if !ok {
		return
	}
	p := pull{Entry: e, shot: s, time: math.NaN(), expected: math.NaN(), before: math.NaN(), runs: math.NaN(), opened: r.opened}
	if s.Grinder == r.grinder.ID {
		p.reading = r.judge(history.Tastings(e, s, later))
		r.pull(h, m, coffee, &p)
	} else if s.Time.From != bar.None {
		usual := flow.Unknown(1)
		p.time = judged(coffee.Recipe, s, usual.Dose, usual.Yield)
	}
	if own {
		r.taste(&p, later)
		r.pulls = append(r.pulls, p)
		if r.called.ID != 0 && len(r.pulls) > 1 {
			if prev := r.pulls[len(r.pulls)-2]; prev.grind != p.grind {
				r.called = bar.Entry{} // somebody moved the grind: it has to earn it again
			}
		}
		r.watch(m)
	}
}

// pull lets a shot pass through the grinder and, if it teaches, through its
// coffee's filter.
func (r *replay) pull(h bar.History, m *grinderState, c bar.Coffee, p *pull) {
	own := c.ID == r.coffee.ID
	effective, doubt := m.grind(p)
	if !own && m.started {
		return // what it could teach of the grinder comes too late
	}
	m.started = m.started || own
	l := m.visit(h, c, p)
	seen := l.observed(c.Recipe, p.shot, effective, doubt)
	if p.shot.Marks.Has(bar.Unplaced) && l.taught {
		seen.Extra += sq(unplacedGrind)
	}
	seen.Odd = p.channelled()
	p.seen = seen
	p.before = l.filter.Steady(0, 0).Mean(p.grind - l.ref)
	if own && (slices.Contains(r.lately[:], p.ID) || !teaches(p.shot)) {
		r.foresee(l, p, seen)
	}
	if !teaches(p.shot) {
		return
	}
	l.filter.Observe(seen)
	m.informed = m.informed || own && l.taught && l.last != p.grind
	l.taught, l.last = true, p.grind
	if own {
		dose, yield := l.filter.Exponents()
		p.runs = l.filter.Steady(0, 0).Mean(p.grind - l.ref)
		p.time = judged(c.Recipe, p.shot, dose, yield)
	}
}

// channelled returns how likely the bed of p channelled, by how it ran and what was
// said of the cup, 0 where neither tells: such a shot runs fast at any setting.
func (p *pull) channelled() float64 {
	if p.shot.Marks.Has(bar.Spurted) {
		return spurted
	}
	return max(0, 1-unevenShare-p.reading.Even)
}

// grind lets the dose of p through the grinder. It returns its effective grind
// and how much the shot is doubted: 1 is half a witness.
func (m *grinderState) grind(p *pull) (e flow.Effective, doubt float64) {
	gap := p.At.Sub(m.last)
	p.grind = m.turn(p.shot)
	if m.used && gap > serving {
		// Shots were pulled where the grinder stood; its old grounds are theirs.
		_, m.oldGrounds = m.oldGrounds.Grind(m.set, flow.Kept{})
	}
	p.idle = m.used && gap > idle
	if p.shot.Marks.Has(bar.First) || p.idle {
		doubt = 1
	}
	if m.swapped && !p.shot.Marks.Has(bar.Purged) {
		doubt, p.mixed = 1, true // old grounds of the other coffee are in it
	}
	m.swapped = false
	e, m.oldGrounds = m.oldGrounds.Grind(p.grind, m.kept(p.shot))
	m.set, m.used, m.last = p.grind, true, p.At
	return e, doubt
}

// visit returns the state of the coffee of p, as time has left it.
func (m *grinderState) visit(h bar.History, c bar.Coffee, p *pull) *coffeeState {
	l, known := m.filters[c.ID]
	if !known {
		l = m.stateOf(h, c)
		l.ref = p.grind
	}
	if l.day != "" {
		l.filter.Wait(nights(l.day, p.Day))
	}
	l.day = p.Day
	return l
}

// nights returns how many nights lie between two days.
func nights(from, to bar.Day) int {
	n, ok := to.Since(from)
	if !ok || n < 0 {
		return 0
	}
	return n
}

// turn returns where the grinder stands for s, in its own count of steps.
func (m *grinderState) turn(s bar.Shot) float64 {
	if s.Marks.Has(bar.Unplaced) {
		return m.set
	}
	if s.Grind.From == bar.None {
		m.placed = m.placed && s.Turned == 0
		return m.set + s.Turned
	}
	raw := m.grinder.Steps(s.Grind.X)
	if !m.placed && m.used { // the dial is read for the first time: it stands where it stood
		m.shift = m.set - raw
	}
	m.placed = true
	return raw + m.shift
}

// foresee notes what was believed of p before it came.
func (r *replay) foresee(l *coffeeState, p *pull, seen flow.Shot) {
	p.expected = p.before
	if teaches(p.shot) {
		p.odd = l.filter.Odd(seen)
		p.beyond = beyond(l, seen)
	}
}

// tail is how unlikely a time must be to lie beyond the noise, either way.
const tail = 0.02

// beyond returns which way a shot lies beyond what was expected of it.
func beyond(l *coffeeState, seen flow.Shot) float64 {
	if !l.taught || seen.Beyond || seen.Doubt > 0 {
		return 0
	}
	switch p := l.filter.Next(seen).Below(seen.LogTime); {
	case p < tail:
		return -1
	case p > 1-tail:
		return 1
	}
	return 0
}

// kept returns what of the old grounds is still there for s.
func (m *grinderState) kept(s bar.Shot) flow.Kept {
	if s.Marks.Has(bar.Purged) {
		return flow.PurgedBy(purgeOf(m.grinder), float64(max(s.Dose.X, 1)))
	}
	return flow.AllKept()
}

// teaches reports whether a shot says anything of how its setting runs.
func teaches(s bar.Shot) bool {
	return !s.Marks.Has(bar.Practice) && !s.Marks.Has(bar.Single) &&
		(s.Marks.Has(bar.Choked) || s.Time.From != bar.None)
}

// observed returns s as the filter sees it.
func observed(r bar.Recipe, s bar.Shot, effective flow.Effective) flow.Shot {
	if s.Marks.Has(bar.Choked) {
		bound := max(float64(s.Time.X), chokeTime)
		return flow.Shot{Grind: effective, LogTime: math.Log(bound), Beyond: true}
	}
	seen := flow.Shot{
		Grind:   effective,
		LogTime: math.Log(float64(s.Time.X)),
		LogDose: logRatio(s.Dose, r.Dose),
		LogOut:  logRatio(s.Yield, r.Yield),
	}
	seen.Extra = variance(s.Time, roughTime, 0) + 2.25*variance(s.Dose, roughDose, assumedDose) +
		0.56*variance(s.Yield, roughYield, assumedYield) + sq(farYield*seen.LogOut)
	if s.Grind.Rough {
		seen.Extra += sq(roughGrind)
	}
	if t := float64(s.Time.X); t == math.Trunc(t) { // read off a clock of whole seconds
		seen.Extra += 1 / (12 * t * t)
	}
	if s.TimeSD > 0 { // a device's clock is unsure by itself, not the bar
		seen.Extra += sq(float64(s.TimeSD / s.Time.X))
	}
	return seen
}

// logRatio returns log(v/reference), 0 where v is not known.
func logRatio(v bar.Value[bar.Grams], reference bar.Grams) float64 {
	if v.From == bar.None || !(v.X > 0) || !(reference > 0) {
		return 0
	}
	return math.Log(float64(v.X / reference))
}

// variance returns the variance of the logarithm of a value that was not
// measured well.
func variance[T ~float64](v bar.Value[T], rough, assumed float64) float64 {
	switch {
	case v.Rough:
		return sq(rough)
	case v.From == bar.Assumed || v.From == bar.None:
		return sq(assumed)
	}
	return 0
}

func sq(x float64) float64 { return x * x }

// judged returns the time s would have taken at the recipe's dose and yield.
func judged(r bar.Recipe, s bar.Shot, dose, yield float64) float64 {
	if s.Time.From == bar.None {
		return math.NaN()
	}
	return float64(s.Time.X) * math.Exp(-dose*logRatio(s.Dose, r.Dose)-yield*logRatio(s.Yield, r.Yield))
}

// taste reads what was said of p, and lets the aim learn from it.
func (r *replay) taste(p *pull, later []taste.Tasting) {
	tastings := history.Tastings(p.Entry, p.shot, later)
	p.reading = r.judge(tastings)
	for _, t := range tastings {
		p.words = append(p.words, t.Words...)
	}
	if p.shot.Marks.Has(bar.Practice) || p.shot.Marks.Has(bar.Choked) {
		return
	}
	cup := r.cup(p)
	if !math.IsNaN(p.before) && r.servedOn(p) {
		was := cup
		was.Expected = p.before - middle(r.coffee.Recipe)
		r.aim.Serve(was)
	}
	for _, t := range tastings {
		one := p.reading
		if len(tastings) > 1 {
			one = r.judge([]taste.Tasting{t})
		}
		if one.Tasted {
			p.tasted = append(p.tasted, tasted{t.Taster, one})
		}
		if one.Tasted && len(r.pulls) >= r.untaught && !slices.Contains(p.reading.Faults, taste.Cleaner) && !slices.Contains(p.reading.Faults, taste.Stale) {
			r.aim.Learn(t, cup, p.shot.Marks.Has(bar.First) || p.mixed)
		}
	}
}

// servedOn reports whether p is the first shot of its day of a coffee that was called
// dialled in on a day before, and nothing has happened since: the bar opens with
// what it served.
func (r *replay) servedOn(p *pull) bool {
	n := len(r.pulls)
	return n > 0 && !r.called.At.IsZero() && r.called.Day < p.Day && r.pulls[n-1].Day != p.Day && r.opened < n
}

// spurting is by how much likelier an uneven bed is to spurt than an even one;
// common practice, no source. unevenShare is that of the uneven beds that a reading
// begins with; spurted is how likely a bed that spurted channelled, assumed.
const (
	spurting    = 6.0
	unevenShare = 0.07
	unevenOdds  = unevenShare / (1 - unevenShare)
	spurted     = 0.85
)

// cup returns what is known of the cup of p besides its words.
func (r *replay) cup(p *pull) taste.Cup {
	c := taste.Cup{Shift: r.answers.shift(spot{yield: logRatio(p.shot.Yield, r.coffee.Recipe.Yield), dose: logRatio(p.shot.Dose, r.coffee.Recipe.Dose)})}
	c.Odds = min(max((1-p.reading.Even)/max(p.reading.Even, 1e-9)/unevenOdds, 1/spurting), spurting)
	if p.shot.Marks.Has(bar.Spurted) {
		c.Odds = spurting
	}
	if !math.IsNaN(p.runs) {
		c.Expected = p.runs - middle(r.coffee.Recipe)
	}
	c.Time = c.Expected
	if !math.IsNaN(p.time) {
		c.Time = math.Log(p.time) - middle(r.coffee.Recipe)
	}
	if tds := float64(p.shot.TDS); tds > 0 && p.shot.Yield.From == bar.Said && !p.shot.Yield.Rough {
		if ey, err := extraction.Yield(tds, float64(p.shot.Yield.X), float64(p.shot.Dose.X)); err == nil && ey < extraction.BadYield {
			c.Shift, c.Measured = r.answers.measured(ey, tds), true
		}
	}
	return c
}

// judge reads tastings; a bar says the same few words over and over.
func (r *replay) judge(tastings []taste.Tasting) taste.Reading {
	key := fmt.Sprint(tastings)
	reading, ok := r.judged[key]
	if !ok {
		reading = taste.Judge(tastings, taste.Measured{})
		r.judged[key] = reading
	}
	return reading
}
