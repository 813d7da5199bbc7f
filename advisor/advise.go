package advisor

import (
	"math"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/why"
)

// Model is the version of the model; advice as said is kept with it.
const Model = "1"

// Advise returns what to do next with a coffee. It is false if the coffee is
// not known or has no shot.
func Advise(h bar.History, id bar.CoffeeID, now time.Time) (Advice, bool) {
	return (*Memory)(nil).Advise(h, id, now)
}

// advise returns the advice that follows from a replay.
func (r *replay) advise() (Advice, bool) {
	if len(r.pulls) == 0 {
		return Advice{}, false
	}
	s := r.situation()
	for _, rule := range rules() {
		if v, ok := rule.ask(s); ok {
			a := s.advice(rule, s.serve(rule, v))
			if r.bar.FromDrip {
				a = a.fromDrip(r.coffee.Wetting())
			}
			return a, true
		}
	}
	return Advice{}, false // unreachable: decide always speaks
}

// situation returns what there is to look at. There is a shot.
func (r *replay) situation() *situation {
	s := &situation{replay: r, last: r.pulls[len(r.pulls)-1]}
	n := 0
	for i := range r.pulls {
		if r.pulls[i].Day == s.last.Day {
			n++
		}
	}
	s.today = make([]pull, 0, n)
	for i := range r.pulls {
		if r.pulls[i].Day == s.last.Day {
			s.today = append(s.today, r.pulls[i])
		}
	}
	s.moves = r.grinds()
	s.here = s.moves[0]
	s.cups = r.yields()
	return s
}

// serve holds back a change to a coffee that was called dialled in, until the
// setting is probably out or two cups that agree ask for it. What has to be put
// right first is never held back.
func (s *situation) serve(by rule, v verdict) verdict {
	state := s.state()
	if by.reason != why.Decide || state == Dialling {
		return v
	}
	moving := v.lever == bar.Grind || v.lever == bar.Yield || v.lever == bar.Dose
	if state == Drifting && s.timed() && !s.inside() {
		if d, _ := s.drift(); d.Lever == bar.Grind { // what the alert says
			m := moveTo(s.here, s.here.steps+d.Steps)
			if len(s.guarded([]move{m})) > 0 {
				return verdict{move: m, then: d.Then, silent: true, reasons: []why.Reason{why.Drifting}}
			}
		}
	}
	switch under, over := s.agreed(); {
	case !moving && v.lever != bar.Repeat, 1-s.here.inTime >= outsideAlarm, under, over:
		return v
	case s.complained():
		if s.last.uneven() {
			return verdict{move: s.again(bar.Prep), silent: true, reasons: []why.Reason{why.Uneven}}
		}
		return verdict{move: s.again(bar.Repeat), silent: true, reasons: []why.Reason{why.Noted}}
	}
	return verdict{move: s.again(bar.Keep), silent: true}
}

// state returns where the coffee stands today.
func (s *situation) state() State {
	if s.called.ID == 0 || s.called.Day != s.day {
		return Dialling
	}
	if _, moved := s.drift(); moved {
		return Drifting
	}
	return DialledIn
}

// advice puts together what a rule decided.
func (s *situation) advice(by rule, v verdict) Advice {
	a := Advice{
		Coffee:  s.coffee.ID,
		Grinder: s.grinder.ID,
		Shot:    s.last.ID,
		Nth:     len(s.today),
		Read:    s.last.reading,
		Lever:   v.lever,
		Sure:    s.here.right,
		State:   s.state(),
	}
	if !v.silent {
		a.Reasons = append(a.Reasons, by.reason)
	}
	a.Reasons = append(a.Reasons, v.reasons...)
	a.Reasons = append(a.Reasons, s.seen()...)
	dose, yield := s.doseUsed(), s.yieldUsed()
	switch v.lever {
	case bar.Grind, bar.Yield, bar.Keep:
		a.From, a.To, a.Unit = s.fromTo(v.move)
		if by.reason == why.YieldOff {
			a.From = float64(s.last.shot.Yield.X)
		}
		a.Purge = v.lever == bar.Grind
		yield = v.yield
	case bar.Dose:
		a.From, a.To, a.Unit = float64(s.last.shot.Dose.X), float64(v.dose), GramUnit
		dose = v.dose
	case bar.Temperature:
		a.From, a.To, a.Unit = float64(s.last.shot.Water), float64(v.water), CelsiusUnit
	case bar.NoLever, bar.Time, bar.Prep, bar.Repeat:
	}
	if v.lever == bar.NoLever {
		a.Trim = s.trim(a.Reasons)
	} else {
		a.Expect = s.expect(v.move, dose, yield)
	}
	if v.then > 0 {
		a.Expect = a.Expect.around(v.then)
	}
	if v.lever == bar.Yield && s.bar.Ends == bar.ByTime { // the same cup, told by the clock
		now := s.expect(s.here, dose, s.yieldUsed())
		a.Lever, a.Unit = bar.Time, SecondUnit
		a.From, a.To = math.Round(float64(now.Time)), math.Round(float64(a.Expect.Time))
	}
	if back := by.reason == why.DoseOff || by.reason == why.YieldOff; !back && !s.bar.Crew.Has(a.Lever) {
		a.Reasons = append(a.Reasons, why.ForTheLead)
	}
	if by.reason == why.Unmoved {
		a.Stands = s.stands()
	}
	a.Learnt = s.learnt()
	if a.State == Drifting {
		a.Drift, _ = s.drift()
	}
	a.Beyond = s.last.beyond
	a.Others = s.candidates(append(s.guarded(slices.Concat(s.cups, s.moves[1:])), s.here), a)
	return a
}

// learnt returns what the coffee's shots have taught.
func (s *situation) learnt() Learnt {
	l := Learnt{Shots: len(s.pulls), Wrong: s.misplaced()}
	l.Step = bar.Seconds(math.Exp(middle(s.coffee.Recipe)) * s.filter.Slopes().Mean())
	l.Old, l.Noise = s.filter.Grounds()
	for _, p := range s.pulls {
		if p.reading.Tasted {
			l.Cups++
		}
	}
	return l
}

// seen returns what can be seen in the last shot without any rule.
func (s *situation) seen() []why.Reason {
	var list []why.Reason
	add := func(is bool, r why.Reason) {
		if is {
			list = append(list, r)
		}
	}
	add(s.sour(), why.UnderExtracted)
	add(s.bitter(), why.OverExtracted)
	add(s.weak(), why.Weak)
	add(s.strong(), why.Strong)
	add(s.timed() && s.fast(), why.Fast)
	add(s.timed() && s.slow(), why.Slow)
	add(s.last.shot.Marks.Has(bar.First), why.FirstOfDay)
	add(s.last.idle, why.IdleHour)
	add(s.last.mixed, why.OtherGrounds)
	return list
}
