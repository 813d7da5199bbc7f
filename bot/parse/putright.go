package parse

import (
	"math"
	"slices"
	"strings"

	"shothand/advisor/bar"
)

// A Pulled is the last shot of who writes, if it is of the last minutes. A number that is
// not known is 0.
type Pulled struct {
	Coffee                  bar.CoffeeID
	Dose, Yield, Time, Dial float64 // g, g, s, and where the dial stood
}

// figure returns the number of a place.
func (p Pulled) figure(of place) float64 {
	switch of {
	case dosePlace:
		return p.Dose
	case yieldPlace:
		return p.Yield
	case timePlace:
		return p.Time
	case dialPlace:
		return p.Dial
	case waterPlace, inPlace:
	}
	return 0
}

// places of a shot that a number may put right.
func placesRight() []place { return []place{timePlace, yieldPlace, dosePlace, dialPlace} }

// A righting is what a message holds that may put a number of a shot right, in whatever
// order it stands.
type righting struct {
	said    []said // the numbers, one or two
	hints   hint   // of all its words
	named   []place
	place   place // the only one that is named, 0 for none
	mass    bool  // a weight is named, but not which
	on      bool  // only an "at" before the number says that it is the dial
	strange int   // words that say nothing here
}

// A said is a number of a message.
type said struct {
	quantity
	at, n  int  // its tokens
	denied bool // it is said not to be that
}

// How long such a message is at the most, in tokens, and how far it may move a number, as
// a logarithm. Assumed.
const (
	mostRighting = 16
	farRighting  = 0.6
	nearRighting = 0.16
)

// putRight reads a number of the writer's last shot that is put right. It goes by what the
// message holds and not by how its words stand: a number with the old one beside it, or one
// that is named, among words of putting right and such as say nothing. Surely is whether
// nothing else needs to be tried before.
func (s *sheet) putRight(surely bool) (Correction, bool) {
	r, ok := s.righting()
	if !ok {
		return Correction{}, false
	}
	of, now, old, ok := r.decided(s.vocab.Pulled)
	switch {
	case !ok:
		return Correction{}, false
	case of == dialPlace && (r.holds(turnHint) || !r.holds(wasHint|wrongHint) && !r.denies()):
		return Correction{}, false // what is done to it now
	case old.Said && r.strange > 1, !old.Said && !r.plain(surely):
		return Correction{}, false
	}
	c := Correction{Of: s.shot.Coffee, Was: old}
	switch of {
	case dosePlace:
		c.Dose, ok = now.dose()
	case yieldPlace:
		c.Yield, ok = now.yield()
	case timePlace:
		c.Time, ok = now.time()
	case dialPlace:
		c.Grind = s.readDial(now.at, now.n)
		c.Grind.Said, ok = true, now.unit == noUnit && !c.Grind.Odd
	case waterPlace, inPlace:
		ok = false
	}
	return c, ok
}

// plain reports whether a number is put right without the old one beside it.
func (r righting) plain(surely bool) bool {
	named, backward := r.place != 0, r.holds(wasHint|wrongHint)
	atMost := 0
	if named && backward && !r.on && !surely {
		atMost = 1
	}
	switch {
	case r.strange > atMost:
		return false
	case surely:
		return named && backward && r.holds(lastHint|beHint)
	}
	return r.holds(wasHint|wrongHint|makeHint|sorryHint) || named && r.holds(lastHint)
}

// holds reports whether one of the words says so.
func (r righting) holds(h hint) bool { return r.hints&h != 0 }

// righting gathers what a message holds. It is false for one that is of something else.
func (s *sheet) righting() (r righting, ok bool) {
	pulled := s.vocab.Pulled
	if pulled == (Pulled{}) || len(s.tokens) > mostRighting || s.asks() || s.shot.Grinder != 0 || s.unsure.Kind != 0 ||
		s.shot.Coffee != 0 && s.shot.Coffee != pulled.Coffee {
		return r, false
	}
	for i := 0; i < len(s.tokens); i++ {
		t := s.tokens[i]
		switch {
		case s.used[i], t.kind == symbolToken:
			continue
		case t.kind == numberToken:
			q, n := s.one(i)
			if n == 0 || len(r.said) == 2 || q.unit != noUnit && q.unit != gram && q.unit != second {
				return r, false
			}
			r.said = append(r.said, said{quantity: q, at: i, n: n})
			i += n - 1
			continue
		case t.kind != wordToken:
			return r, false
		}
		r.hear(s, i)
	}
	if len(r.said) == 0 || r.holds(otherHint) {
		return r, false
	}
	for i := range r.said {
		r.said[i].denied = s.deniedAt(r.said[i].at, i > 0)
		if r.said[i].unit == second {
			r.named = append(r.named, timePlace)
		}
		r.mass = r.mass || r.said[i].unit == gram
	}
	if r.named = slices.Compact(slices.Sorted(slices.Values(r.named))); len(r.named) == 1 {
		r.place = r.named[0]
	}
	r.on = r.on && !r.holds(dialHint)
	return r, len(r.named) <= 1
}

// hear takes down what word i says.
func (r *righting) hear(s *sheet, i int) {
	t := s.tokens[i]
	h := hints()[t.low]
	people := s.vocab.People
	switch {
	case slices.Contains(people, t.low), slices.Contains(people, strings.TrimSuffix(strings.TrimSuffix(t.low, "s"), "'")):
		h |= otherHint
	case t.is("in") && (i > 0 && s.tokens[i-1].kind == numberToken && !s.the(i+1) || s.at(i-1).is("went", "put", "dosed")):
		h |= doseHint | wasHint
	case t.is(onWords()...) && s.dialLike(i+1):
		r.named, r.on = append(r.named, dialPlace), true
	}
	if h == 0 {
		r.strange++
	}
	r.hints |= h
	r.mass = r.mass || h&massHint != 0
	if p := h.place(); p != 0 {
		r.named = append(r.named, p)
	}
}

// the reports whether an article stands at i.
func (s *sheet) the(i int) bool {
	return s.at(i).is("the", "my", "der", "die", "dem", "la", "le", "il", "el", "a")
}

// onWords stand before where a dial is.
func onWords() []string { return []string{"at", "on", "auf", "bei", "a", "à", "en", "em", "su"} }

// dialLike reports whether a number stands at i that may be the writer's dial.
func (s *sheet) dialLike(i int) bool {
	if !s.isNumber(i) {
		return false
	}
	p, x := s.vocab.Pulled, first(s.tokens[i].num)
	return p.Dial > 0 && apart(x, p.Dial) < farRighting && !(apart(x, p.Time) < nearRighting)
}

// deniedAt reports whether a number is said not to be that: "not 28", "instead of 28",
// "no eran 28". Behind another number a no alone denies as well: "27 no 28".
func (s *sheet) deniedAt(i int, later bool) bool {
	for j := i - 1; j >= 0 && j >= i-3; j-- {
		switch h := hints()[s.tokens[j].low]; {
		case h&denyHint != 0:
			return true
		case s.tokens[j].is("no", "non", "não", "nao"):
			return later || s.butBehind(i)
		case h&(wasHint|softHint) == 0 || s.tokens[j].kind != wordToken:
			return false
		}
	}
	return false
}

// butBehind reports whether something else follows that it is: "no 28 sino 27".
func (s *sheet) butBehind(i int) bool {
	_, n := s.one(i)
	return s.at(i+n).is("but", "sondern", "ma", "mais", "sino", "mas", ",") && s.isNumber(s.skip(i+n+1, append(wasWords(), "it", "es", ",")...))
}

// denies reports whether one of the numbers is said not to be it.
func (r righting) denies() bool {
	return slices.ContainsFunc(r.said, func(n said) bool { return n.denied })
}

// decided returns which number of the shot is put right, the one that it is, and the one that
// it was, if that was said as well.
func (r righting) decided(p Pulled) (of place, now said, was Number, ok bool) {
	if len(r.said) == 1 {
		now = r.said[0]
		of, ok = r.single(p, now.vals[0])
		return of, now, was, ok && !now.denied
	}
	a, b := r.said[0], r.said[1]
	for _, at := range placesRight() {
		x := p.figure(at)
		if x == 0 || r.place != 0 && at != r.place || r.mass && (at == timePlace || at == dialPlace) {
			continue
		}
		old, other := a, b
		if b.vals[0] == x {
			old, other = b, a
		}
		typedSo := r.holds(wrongHint) && old.at == a.at // "typed 28 instead of 27"
		if old.vals[0] != x || other.vals[0] == x || other.denied && !typedSo || !(apart(other.vals[0], x) < farRighting) {
			continue
		}
		if of != 0 {
			return 0, now, was, false // it may be either
		}
		of, now, was = at, other, old.number()
	}
	return of, now, was, of != 0 && (r.denies() || r.holds(wasHint|wrongHint|makeHint|sorryHint))
}

// single returns which number of the shot one alone is: the named one, else the only one
// that it is near.
func (r righting) single(p Pulled, x float64) (place, bool) {
	near := farRighting
	if r.place == 0 {
		near = nearRighting
	}
	of := place(0)
	for _, at := range placesRight() {
		was := p.figure(at)
		if was == 0 || r.place != 0 && at != r.place || r.mass && (at == timePlace || at == dialPlace) || !(apart(x, was) < near) {
			continue
		}
		if of != 0 {
			return 0, false
		}
		of = at
	}
	return of, of != 0 && !(math.Abs(p.figure(of)-x) < 1e-9)
}
