package advisor

import (
	"time"

	"shothand/advisor/ageing"
	"shothand/advisor/bar"
)

// An Outlook is where a coffee stands today, and where to begin with it.
type Outlook struct {
	Pulled bool      // it has been, as far as is remembered
	Last   bar.Entry // its newest shot
	Shots  int       // today, without a trainee's
	DialIn int       // of them, before it was last called dialled in
	Ground bar.Grams // in those
	State  State
	Called bar.Entry // the call, while it stands today
	Earned bar.Entry // the shot that was called
	Drift  Drift     // while State is Drifting
	Leans  int       // the way its shots since the call have moved or may be moving: 1 slower, -1 faster
	Start  Start
	Blamed bool // something was held against the cup of its newest shot
}

// A Start is where to begin with a coffee that has not been pulled today.
type Start struct {
	Needed   bool    // it will not be right as it is
	Known    bool    // the setting is
	From, To float64 // in Unit: where the grinder stands and where to begin
	Unit     Unit
	Flag     Flag
	Undated  bool // the roast date is that of a bag before
}

// A Flag is the one thing worth knowing of a coffee in the morning.
type Flag int

// The flags.
const (
	NoFlag        Flag = iota
	OpenedBag          // a new bag, or a later roast, since its last shot
	StillDrifting      // when it was last pulled
	RunningOld         // by this bar's own shots, faster from day to day
	NoRoastDate
)

// Outlook returns it, as of now. It is false if the coffee is not known.
func (m *Memory) Outlook(h bar.History, id bar.CoffeeID, now time.Time) (Outlook, bool) {
	r, ok := m.replay(h, id, now)
	if !ok {
		return Outlook{}, false
	}
	o := r.outlook()
	if r.bar.FromDrip {
		o.Drift = o.Drift.fromDrip(r.coffee.Wetting())
	}
	return o, true
}

func (r *replay) outlook() Outlook {
	if len(r.pulls) == 0 {
		return Outlook{Start: Start{Needed: true, Flag: r.flag(nil)}}
	}
	s := r.situation()
	o := Outlook{Pulled: true, Last: s.last.Entry, State: s.state(), Blamed: s.last.reading.Tasted && !s.keepable()}
	ended := len(r.pulls)
	if n := r.byCall; n > 0 && r.pulls[n-1].Day == r.day {
		ended = n // what was pulled since it is open again is another dial-in
	}
	for i, p := range r.pulls {
		if p.Day != r.day || p.shot.Marks.Has(bar.Practice) {
			continue
		}
		o.Shots++
		if p.dialling && i < ended {
			o.DialIn++
			o.Ground += p.shot.Dose.X
		}
	}
	switch o.State {
	case Dialling:
	case Drifting:
		o.Drift, _ = s.drift()
		o.Called, o.Leans = r.called, o.Drift.Way()
	case DialledIn:
		o.Called, o.Leans = r.called, r.service.shots.Leans()
	}
	if o.State != Dialling {
		o.Earned = r.pulls[r.service.earned].Entry
	}
	o.Start = s.start()
	return o
}

// start returns where to begin.
func (s *situation) start() Start {
	top := s.best(s.moves)
	st := Start{Known: s.placed, Flag: s.flag(s)}
	st.From, st.To, st.Unit = s.fromTo(top)
	st.Undated = s.fresh && s.coffee.Roasted <= s.last.Day
	called := s.called.ID != 0 && s.called.Day == s.last.Day
	st.Needed = s.last.Day != s.day &&
		(!called || st.Flag != NoFlag && st.Flag != NoRoastDate || top.steps != s.here.steps || s.here.inTime < startSure)
	return st
}

// startSure is the probability that yesterday's setting is in time below which
// a coffee needs dialling in. Assumed.
const startSure = 0.6

// flag returns the one thing worth knowing; s is nil for a coffee that has not
// been pulled.
func (r *replay) flag(s *situation) Flag {
	switch {
	case s != nil && (r.fresh || r.coffee.Roasted > s.last.Day):
		return OpenedBag
	case s != nil && s.drifted():
		return StillDrifting
	case s != nil && ageing.Of(r.dayMeans()).RunsOld():
		return RunningOld
	case r.coffee.Roasted == "":
		return NoRoastDate
	}
	return NoFlag
}

// drifted reports whether the coffee was drifting when it was last pulled.
func (s *situation) drifted() bool {
	if s.called.ID == 0 || s.called.Day != s.last.Day {
		return false
	}
	_, moved := s.service.shots.Moved()
	return moved
}
