package advisor

import (
	"maps"
	"math"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/flow"
	"shothand/advisor/history"
	"shothand/advisor/taste"
)

// What is taken of shots that were not measured well; sd of the quantity's
// logarithm. Common practice, no source.
const (
	roughTime     = 0.07
	roughYield    = 0.10 // a volume or a glance: crema makes it anything
	roughDose     = 0.03
	roughGrind    = 0.04 // what half a step or so is worth
	unplacedGrind = 0.3  // the grinder has been moved, nobody knows how far
	assumedYield  = 0.06
	assumedDose   = 0.02
	farYield      = 0.25 // for each unit of log yield away from the recipe's
)

// Times a bar lives by. Common practice, no source.
const (
	idle       = time.Hour        // after which a shot is half a witness
	serving    = 20 * time.Minute // after which shots were pulled that nobody posted
	purgeGrams = 5                // a purge, where the bar has not said
	chokeTime  = 60               // s; a shot that takes longer pours nothing one can serve
)

// A pull is one shot of the coffee, as the advisor sees it.
type pull struct {
	bar.Entry
	shot     bar.Shot
	grind    float64 // steps on the grinder, + is finer
	time     float64 // s at the recipe's dose and yield, or NaN
	reading  taste.Reading
	odd      float64    // probability, when it came, that it is no witness of its setting
	expected float64    // log s that was expected of it
	before   float64    // log s that its setting was believed to run at before it came, or NaN
	runs     float64    // log s that its setting was believed to run at, once it had been seen
	tasted   []tasted   // by whom, in order
	words    []bar.Word // of all who tasted it
	idle     bool       // the grinder had stood for an hour
	mixed    bool       // it held old grounds of another coffee
	beyond   float64    // which way its time lay beyond the noise: -1 faster, +1 slower, 0 within it
	seen     flow.Shot
	opened   int  // how many shots came before something last happened to the bar
	dialling bool // it was not pulled at a setting that had been called dialled in
}

// A tasted is what one person's words on a cup read.
type tasted struct {
	taster  uint64
	reading taste.Reading
}

// A replay is what the entries of one coffee come to.
type replay struct {
	bar     bar.Bar
	coffee  bar.Coffee
	grinder bar.Grinder
	day     bar.Day // today

	filter     *flow.Filter
	answers    response    // how its taste answers
	steady     flow.Steady // of the filter, at the recipe's dose and yield
	oldGrounds flow.OldGrounds
	ref        float64 // steps on the grinder where the filter's grind is 0
	aim        *taste.Belief
	curves     map[cupSize]*taste.Curve // how likely a cup is right, by its time
	low        bool                     // the hopper has run low and nobody has filled it
	pulls      []pull                   // oldest first
	opened     int                      // how many of them came before something last happened
	informed   bool                     // what a step is worth has shown, or was told
	placed     bool                     // what the dial says at the last shot is known
	shift      float64                  // steps from what the dial says to the grinder's own count
	untaught   int                      // shots that are too old to teach of the taste
	lately     [2]bar.EntryID           // the coffee's last two shots, the last first
	judged     map[string]taste.Reading // what words read, by the words
	called     bar.Entry                // the last Dialled of the coffee, if it still stands
	byCall     int                      // how many shots of the coffee there were at its last Dialled
	service    service                  // since then
	fresh      bool                     // a new bag was opened since the last shot
}

// A grinderState is the state of one grinder while its entries are replayed.
type grinderState struct {
	grinder    bar.Grinder
	filters    map[bar.CoffeeID]*coffeeState
	oldGrounds flow.OldGrounds
	last       time.Time
	set        float64 // steps of the last shot
	used       bool
	shift      float64 // steps to add to what the dial says, since it was re-zeroed
	placed     bool    // the dial's position has been told since it was last re-zeroed
	carried    bool    // its first coffee began with what other coffees had taught
	informed   bool    // it has been pulled at two settings
	started    bool    // the coffee that is asked about has been pulled
	swapped    bool    // the coffee in it was exchanged, and not pulled since
	still      bool    // nothing happened to it that nobody told
}

// A coffeeState is one coffee on the grinder.
type coffeeState struct {
	filter *flow.Filter
	ref    float64
	day    bar.Day
	taught bool    // it has seen a shot
	last   float64 // and at which grind the last one was
}

// A replaying is a replay under way: what it comes to, and the grinder it passes
// through.
type replaying struct {
	replay
	state grinderState
	last  bar.Day
}

// A replayInput is what there is to replay.
type replayInput struct {
	history  bar.History
	coffee   bar.Coffee
	entries  []bar.Entry
	later    map[bar.EntryID][]taste.Tasting // words that came after their shots
	newest   int                             // index of the coffee's last shot, or -1
	lately   [2]bar.EntryID                  // its last two, the last first
	untaught int                             // the coffee's shots that are too old to teach of the taste
	readings []extraction.Reading
}

// newReplayInput collects what h knows of a coffee.
func newReplayInput(h bar.History, coffee bar.Coffee) replayInput {
	s := replayInput{history: h, coffee: coffee, entries: history.Recent(h), later: history.Later(h.Entries), newest: -1}
	s.readings = readings(s.entries, coffee.ID)
	shots := 0
	for i, e := range s.entries {
		if shot, ok := e.What.(bar.Shot); ok && shot.Coffee == coffee.ID {
			s.newest, s.lately = i, [2]bar.EntryID{e.ID, s.lately[0]}
			shots++
		}
	}
	s.untaught = max(0, (shots-1)/maxCups-1) * maxCups // stays for many shots, so that what was replayed of them stands
	return s
}

// start returns the replay before its first entry.
func (s replayInput) start() *replaying {
	c := &replaying{replay: replay{bar: s.history.Bar, coffee: s.coffee, untaught: s.untaught, judged: map[string]taste.Reading{}}}
	for _, g := range s.history.Grinders {
		if g.ID == s.coffee.Grinder {
			c.grinder = g
		}
	}
	c.answers = respond(s.coffee.Recipe, s.readings)
	c.aim = newAim(s.coffee.Recipe, c.answers)
	c.state = grinderState{grinder: c.grinder, filters: map[bar.CoffeeID]*coffeeState{}}
	return c
}

// advance goes on with entries from one index to another.
func (c *replaying) advance(s replayInput, from, to int) {
	c.lately = s.lately
	for _, e := range s.entries[from:to] {
		if c.last != "" && e.Day != c.last {
			c.aim.Fade(overnight)
		}
		c.last = e.Day
		switch w := e.What.(type) {
		case bar.Shot:
			c.shot(s.history, &c.state, e, w, s.later[e.ID])
		case bar.Told:
			c.told(&c.state, w)
		case bar.Dialled:
			if w.Coffee == c.coffee.ID {
				c.called, c.byCall = e, len(c.pulls)
				c.call(&c.state)
			}
		case bar.Setting, bar.Words, bar.Held, bar.Layers, bar.Sips:
		}
	}
}

// end returns what the replay has come to by now. It changes nothing of c, which
// may go on.
func (c *replaying) end(s replayInput, now time.Time) *replay {
	r, m := c.replay, c.state
	r.day = bar.DayOf(now)
	m.filters = maps.Clone(m.filters)
	l := m.stateOf(s.history, s.coffee)
	r.informed = m.informed || r.grinder.Worth > 0 || m.carried
	r.filter, r.ref, r.oldGrounds, r.shift, r.placed = l.filter, l.ref, m.oldGrounds, m.shift, m.placed
	if l.day != "" && l.day != r.day {
		r.filter = r.filter.Clone()
		r.filter.Wait(nights(l.day, r.day))
	}
	r.steady = r.filter.Steady(0, 0)
	r.curves = map[cupSize]*taste.Curve{}
	return &r
}

// clone returns a replay under way that shares nothing with c that either changes.
func (c *replaying) clone() *replaying {
	d := *c
	d.aim = c.aim.Clone()
	d.judged = maps.Clone(c.judged)
	d.pulls = append(make([]pull, 0, len(c.pulls)+1), c.pulls...) // most often for one more
	d.state.filters = make(map[bar.CoffeeID]*coffeeState, len(c.state.filters))
	for id, l := range c.state.filters {
		copied := *l
		copied.filter = l.filter.Clone()
		d.state.filters[id] = &copied
	}
	return &d
}

// told lets what happened re-open what it should.
func (r *replay) told(m *grinderState, t bar.Told) {
	if t.Grinder != 0 && t.Grinder != m.grinder.ID {
		return
	}
	if t.Coffee != 0 && t.Coffee == r.coffee.ID {
		r.called = bar.Entry{}
		r.fresh = r.fresh || t.Event == bar.NewBag
	}
	r.opened = len(r.pulls)
	switch t.Event { //nolint:exhaustive // the others do no more than is below
	case bar.HopperLow, bar.HopperFilled:
		r.low = t.Event == bar.HopperLow // a coffee that was called stays so, and is watched
	case bar.Swapped:
		m.swapped = true
	case bar.NewFilter, bar.Descaled:
		r.aim.Fade(otherWater)
	case bar.Cleaned:
		m.oldGrounds = flow.OldGrounds{}
	case bar.Rezeroed:
		m.placed = false
	case bar.NewBurrs:
		m.oldGrounds, m.filters = flow.OldGrounds{}, map[bar.CoffeeID]*coffeeState{}
	}
	if sd := t.Event.Moves(); sd > 0 {
		m.loosen(t.Coffee, sd)
	}
	if t.Coffee == 0 && t.Event.Reopens() {
		r.called = bar.Entry{}
	}
}

// otherWater is what share of what tasters have taught another water takes away.
// Common practice, no source.
const otherWater = 0.3

// loosen lets the level of a coffee on the grinder, of all for 0, move by sd of
// log time.
func (m *grinderState) loosen(c bar.CoffeeID, sd float64) {
	for id, l := range m.filters {
		if c == 0 || c == id {
			l.filter.Loosen(sd * sd)
		}
	}
}

// stateOf returns the state of a coffee, a new one with what the others on this
// grinder have taught if it has none.
func (m *grinderState) stateOf(h bar.History, c bar.Coffee) *coffeeState {
	if l, ok := m.filters[c.ID]; ok {
		return l
	}
	target := math.Sqrt(float64(c.Recipe.Low * c.Recipe.High))
	p := flow.Unknown(target)
	switch steps := m.grinder.Length(); {
	case m.grinder.Worth > 0:
		p = p.Worth(float64(m.grinder.Worth), target)
	case steps > 0:
		p = p.Over(steps)
	}
	p.Still = m.still
	var carried *flow.Carried
	for _, other := range h.Coffees { // in the bar's order, so that the sum is always the same
		l, ok := m.filters[other.ID]
		switch {
		case !ok:
		case carried == nil:
			carried = l.filter.Carry()
		default:
			carried = carried.Times(l.filter.Carry())
		}
	}
	if carried != nil {
		m.carried = true
		carried = carried.Widened()
	}
	l := &coffeeState{filter: flow.New(p, carried), ref: m.set}
	m.filters[c.ID] = l
	return l
}
