package advisor

import (
	"math"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/watch"
)

// A Drift is that a coffee that was called dialled in does not run as it did.
type Drift struct {
	Called   time.Time   // when it was called dialled in
	Since    time.Time   // of the shot with which it is likeliest to have begun
	Nth      int         // which drift since the call it is, from 1
	Was, Now bar.Seconds // its time at the recipe's dose and yield, then and since
	// Out says that it is probably outside its window.
	Out bool
	// The move that would bring it back; Lever is NoLever where a step of the
	// grinder is more than that.
	Lever    bar.Lever
	From, To float64
	Unit     Unit
	Then     bar.Seconds // what is expected there
	Steps    float64     // of the grinder, + is finer
}

// Way returns 1 for a coffee that runs slower, and -1 for one that runs faster.
func (d Drift) Way() int {
	if d.Now < d.Was {
		return -1
	}
	return 1
}

func (d Drift) fromDrip(wet bar.Seconds) Drift {
	if d.Nth > 0 {
		d.Was, d.Now, d.Then = d.Was-wet, d.Now-wet, d.Then-wet
	}
	return d
}

// A service is what is kept of a coffee since it was called dialled in.
type service struct {
	shots  watch.Series
	mean   float64 // log s that were expected when it was called
	out    bool    // it was called outside its window
	earned int     // index of the shot that was called
	noise  float64 // of a single shot when it was called, sd of log time: a drift would inflate its own measure
}

// call begins a service: the coffee has just been called dialled in.
func (r *replay) call(m *grinderState) {
	r.service = service{}
	r.service.earned = max(0, len(r.pulls)-1)
	l, ok := m.filters[r.coffee.ID]
	if !ok || len(r.pulls) == 0 {
		return
	}
	steady, grind := l.filter.Steady(0, 0), r.pulls[len(r.pulls)-1].grind-l.ref
	r.service.mean = steady.Mean(grind)
	_, r.service.noise = l.filter.Grounds()
	r.service.shots = watch.Begin(r.service.mean, steady.Variance(grind))
	r.service.out = 1-inWindow(steady, grind, r.coffee.Recipe) > 0.5
}

// watch takes the last shot into the service, if it is one of it.
func (r *replay) watch(m *grinderState) {
	p := &r.pulls[len(r.pulls)-1]
	p.dialling = r.called.ID == 0 || r.called.Day != p.Day
	r.fresh = false
	l, ok := m.filters[r.coffee.ID]
	if !ok || p.dialling || math.IsNaN(p.time) || p.seen.Beyond || p.shot.Grinder != r.grinder.ID || p.shot.Marks.Has(bar.Unplaced) {
		return
	}
	noise := r.service.noise
	_, before := r.service.shots.Moved()
	r.service.shots.Add(len(r.pulls), math.Log(p.time), quiet*noise*noise*(1+p.seen.Doubt)+p.seen.Extra)
	if _, moved := r.service.shots.Moved(); moved && !before {
		l.filter.Loosen(moves * moves)
	}
}

// moves is by how much the level of a coffee may have moved that is said to
// drift, sd of log time. Assumed.
const moves = 0.08

// quiet is by how much the variance of a shot is larger than the filter
// believes, which takes some of the wider ones for no witnesses: on simulated
// days of 5 % noise it believes in 4.5 %.
const quiet = 1.2

// drift returns how a coffee that was called has moved since. It has if its
// shots have, or if it is probably outside a window that it was called in.
func (s *situation) drift() (Drift, bool) {
	out := 1-s.here.inTime > outsideAlarm && !s.service.out
	move, moved := s.service.shots.Moved()
	switch {
	case moved:
	case out:
		move = watch.Move{First: s.outSince(), From: s.service.mean, To: s.here.time, Nth: 1}
	default:
		return Drift{}, false
	}
	d := Drift{
		Called: s.called.At, Since: s.pulls[move.First-1].At, Nth: move.Nth, Out: out,
		Was: bar.Seconds(math.Exp(move.From)), Now: bar.Seconds(math.Exp(move.To)),
	}
	slope := s.filter.Slopes().Mean()
	steps := math.Round((move.From - move.To) / slope)
	most := s.bound(s.here, math.Copysign(1, steps))
	steps = min(max(steps, -most), most)
	if to := s.here.steps + steps; steps != 0 && s.onDial(to) {
		d.Lever, d.Steps, d.Then = bar.Grind, steps, bar.Seconds(math.Exp(move.To+slope*steps))
		d.From, d.To, d.Unit = s.fromTo(moveTo(s.here, to))
	}
	return d, true
}

// outSince returns which shot, from 1, is the first of those in a row up to the last
// that ran on this side of the window.
func (s *situation) outSince() int {
	first, slow := len(s.pulls), s.here.time > middle(s.coffee.Recipe)
	for i := len(s.pulls) - 1; i > s.service.earned; i-- {
		switch t := s.pulls[i].time; {
		case math.IsNaN(t):
		case slow && tooSlow(s.coffee.Recipe, t) || !slow && tooFast(s.coffee.Recipe, t):
			first = i + 1
		default:
			return first
		}
	}
	return first
}

// around returns e as wide as it is, around another median.
func (e Expect) around(median bar.Seconds) Expect {
	by := median / e.Time
	return Expect{Time: median, Low: e.Low * by, High: e.High * by, Level: e.Level}
}

// moveTo returns m with the grind at steps.
func moveTo(m move, steps float64) move {
	m.lever, m.steps = bar.Grind, steps
	return m
}
