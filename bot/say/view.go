package say

import (
	"math"
	"slices"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/history"
	"shothand/advisor/why"
	"shothand/bot/chat"
	"shothand/bot/parse"
)

// Notes are what must be said of a shot besides the advice.
type Notes struct {
	House     bool     // the coffee was made for it
	Direction bool     // which way the dial goes is not known
	Unread    []string // words nobody could place
	Uncalled  string   // why its coffee was not called dialled in, though the message did
	Aside     []string // numbers that are none of the shot's
	Alike     string   // another coffee moved the same way
	Odd       string   // a dial position nobody could place
	Beyond    bool     // since the dial does not go so far
	Over      string   // a word that its numbers deny
	Volume    bool     // what came out was said as a volume
	Before    bool     // it was said of the shot before one that is taken out
	Moved     bool     // who tasted has moved the dial already
	MovedTo   bar.Dial // there, on a dial with numbers
	Purged    bool     // and let the old grounds out
}

// Silent reports whether nothing must be said besides.
func (n Notes) Silent() bool {
	return !n.House && !n.Direction && len(n.Unread) == 0 && n.Uncalled == "" && len(n.Aside) == 0 && n.Alike == "" && n.Odd == "" && n.Over == "" && !n.Volume && !n.Before && !n.Moved
}

// Unplaced notes a position that could not be placed.
func (n *Notes) Unplaced(g parse.Grind) {
	if g.Odd {
		n.Odd, n.Beyond = g.Text, g.Beyond
	}
}

// An Advice is an advice and what it is about, looked up for the wording.
type Advice struct {
	advisor.Advice
	coffee  bar.Coffee
	grinder bar.Grinder
	shot    bar.Shot
	known   bool       // the shot is there
	Other   bar.Coffee // that drifts the same way, so that both grinds may be innocent; or none
	ends    bar.Ends
	later   []bar.Word
	voices  []voice
	echo    []string // the words of taste as they were typed
	lang    Lang
	alerts  bool     // it tells that a drift has begun
	as      bool     // it ran as when it was called dialled in
	again   bool     // the shot before, that day, was out of the window on the same side
	who     []string // want to be told
	long    bool     // the first advice to purge today: say it at length
}

// spoken returns what was said of the shot, then and later.
func (v Advice) spoken() []bar.Word { return append(slices.Clone(v.shot.Words), v.later...) }

// AdviceOf looks up what an advice is about.
func AdviceOf(h bar.History, a advisor.Advice) Advice {
	h = history.Heard(h)
	v := Advice{lang: In(h.Bar.Language), Advice: a, ends: h.Bar.Ends, long: a.Nth <= 1}
	for _, g := range h.Grinders {
		if g.ID == a.Grinder {
			v.grinder = g
		}
	}
	for _, c := range h.Coffees {
		if c.ID == a.Coffee {
			v.coffee = c
		}
	}
	for _, e := range h.Entries {
		if e.ID != a.Shot {
			if w, ok := e.What.(bar.Words); ok && w.Shot == a.Shot {
				v.later = append(v.later, w.Words...)
			}
			continue
		}
		if s, ok := e.What.(bar.Shot); ok {
			v.shot, v.known = s, true
			v.coffee.Recipe = v.coffee.RecipeFor(s.Marks)
			if s.Grind.From != bar.Said && numberedSince(h, s.Grinder, e.At) {
				v.shot.Grind = bar.Value[bar.Dial]{} // it was counted from 0 before there were numbers
			}
		}
	}
	v.as = v.known && v.asCalled(h)
	v.again = v.known && v.offBefore(h)
	v.voices = v.lang.voicesOn(h, a.Shot)
	for _, voice := range v.voices {
		v.echo = append(v.echo, voice.said...)
	}
	return v
}

// numberedSince reports whether a dial's numbers have begun since.
func numberedSince(h bar.History, g bar.GrinderID, since time.Time) bool {
	return slices.ContainsFunc(h.Entries, func(e bar.Entry) bool {
		t, ok := e.What.(bar.Told)
		return ok && t.Shown && t.Event == bar.Rezeroed && t.Grinder == g && !e.Deleted && e.At.After(since)
	})
}

// near is how many seconds and grams two shots may lie apart that ran alike.
const near = 1

// asCalled reports whether the shot ran as the one by which its coffee was last
// called dialled in outside its window: whoever called it was asked about that.
func (v Advice) asCalled(h bar.History) bool {
	var called bar.EntryID
	for _, e := range h.Entries {
		if d, ok := e.What.(bar.Dialled); ok && d.Coffee == v.Coffee && !e.Deleted {
			called = d.Shot
		}
	}
	for _, e := range h.Entries {
		if e.ID != called || e.ID == v.Shot {
			continue
		}
		if s, ok := e.What.(bar.Shot); ok {
			r := v.coffee.RecipeFor(s.Marks)
			return (s.Time.X < r.Low || s.Time.X > r.High) && s.Timed() && v.shot.Timed() && s.Grind.X == v.shot.Grind.X &&
				math.Abs(float64(s.Time.X-v.shot.Time.X)) <= near && math.Abs(float64(s.Yield.X-v.shot.Yield.X)) <= near
		}
	}
	return false
}

// offBefore reports whether the coffee's shot before this one, the same day, was out
// of the window on the same side.
func (v Advice) offBefore(h bar.History) bool {
	var before, own bar.Entry
	for _, e := range h.Entries {
		if s, ok := e.What.(bar.Shot); ok && !e.Deleted && s.Coffee == v.Coffee {
			if e.ID == v.Shot {
				own = e
				break
			}
			before = e
		}
	}
	s, ok := before.What.(bar.Shot)
	r := v.coffee.Recipe
	return ok && before.Day == own.Day && s.Timed() && v.shot.Timed() && s.Marks == v.shot.Marks &&
		(s.Time.X > r.High && v.shot.Time.X > r.High || s.Time.X < r.Low && v.shot.Time.X < r.Low)
}

// Because reports whether a reason was given.
func (v Advice) Because(r why.Reason) bool {
	return slices.Contains(v.Reasons, r)
}

// Alerting returns the advice that tells as well that a drift has begun, and names
// those who want to be told.
func (v Advice) Alerting(who []string) Advice {
	v.alerts, v.who = true, who
	return v
}

// Kind returns what sort of post the advice is.
func (v Advice) Kind() chat.PostKind {
	switch {
	case v.alerts, v.Because(why.Cleaner):
		return chat.Alert
	case v.Lever == bar.NoLever:
		return chat.Info
	case v.shot.Marks.Has(bar.Practice), v.served():
		return chat.Recorded
	case v.Because(why.Untasted), v.Because(why.Unmoved):
		return chat.Question
	}
	return chat.Advice
}

// served reports a shot of a dialled-in coffee that needs no word.
func (v Advice) served() bool {
	return v.State != advisor.Dialling && (v.Lever == bar.Keep || v.Because(why.Confirm) || v.Because(why.Untasted) ||
		v.as && v.Because(why.InsideTheNoise) && len(v.echo) == 0)
}

// Lang is the language that an advice is said in.
func (v Advice) Lang() Lang { return v.lang }
