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
	said    []said  // the numbers, one or two
	hints   hint    // of all its words
	named   []place // of the shot's numbers
	word    bool    // one is named by a word that says nothing else
	unit    bool    // a number has a unit
	mass    bool    // a weight is named, but not which
	on      bool    // only an "at" before the number says that it is the dial
	strange int     // words that say nothing here, one for each clause without a number
}

// A said is a number of a message.
type said struct {
	quantity
	at, n  int  // its tokens
	denied bool // it is said not to be that
	was    bool // a "was" stands right before it
}

// How long such a message is at the most, in tokens, how far it may move a number, as a
// logarithm, and how much must speak for it. Assumed.
const (
	mostRighting  = 20
	farRighting   = 0.45
	nearRighting  = 0.16
	leastRighting = 2
)

// putRight reads a number of the writer's last shot that is put right, "was 36 s". It goes by what the
// message holds and not by how its words stand: a number with the old one beside it, or one
// that is named, among words of putting right and such as say nothing. Surely is whether
// nothing else needs to be tried before.
func (s *sheet) putRight(surely bool) (Correction, bool) {
	r, ok := s.righting()
	if !ok {
		return Correction{}, false
	}
	of, now, old, ok := r.decided(s.vocab.Pulled)
	again := s.vocab.Righted && r.strange == 0 && len(r.said) == 1 && of != dialPlace && !surely // "hm 18.2"
	if !ok || of == dialPlace && !r.backward(now, old.Said) || !again && !r.enough(old.Said) || surely && !old.Said && !r.sure() {
		return Correction{}, false
	}
	c, ok := correctionOf(now.quantity, of)
	if of == dialPlace {
		c.Grind = s.readDial(now.at, now.n)
		c.Grind.Said, ok = true, now.unit == noUnit && !c.Grind.Odd
	}
	c.Of, c.Was = s.shot.Coffee, old
	return c, ok
}

// holds reports whether one of the words says so.
func (r righting) holds(h hint) bool { return r.hints&h != 0 }

// backward reports whether where the dial stood is put right, and not where it stands now.
func (r righting) backward(now said, paired bool) bool {
	switch {
	case paired:
		return now.was || r.holds(wrongHint) || !r.holds(turnHint) && (r.denies() || r.holds(wasHint|shouldHint))
	case r.holds(turnHint):
		return false
	}
	return r.holds(wasHint|wrongHint) || r.holds(lastHint) && r.word
}

// sure reports whether a number without the old one beside it is that of the last shot,
// and of no new one.
func (r righting) sure() bool {
	if r.strange > 0 || len(r.named) == 0 {
		return false
	}
	return r.holds(wasHint|wrongHint) && r.holds(lastHint|beHint)
}

// enough reports whether more speaks for a number put right than for talk.
func (r righting) enough(paired bool) bool {
	if r.strange == 0 && r.holds(wasHint|wrongHint|makeHint|sorryHint) {
		return true
	}
	n := -r.strange
	for _, of := range []struct {
		holds  bool
		points int
	}{
		{paired, 2},
		{r.denies(), 1},
		{r.word, 2},
		{r.unit && !r.word, 1},
		{r.holds(wasHint | wrongHint), 1},
		{r.holds(makeHint) && len(r.named) > 0, 1},
		{r.holds(sorryHint), 1},
		{r.holds(lastHint), 1},
	} {
		if of.holds {
			n += of.points
		}
	}
	least := leastRighting
	if paired && r.strange > 0 && len(r.named) == 0 && !r.unit { // two numbers of anything
		least++
	}
	return n >= least
}

// righting gathers what a message holds. It is false for one that is of something else.
func (s *sheet) righting() (r righting, ok bool) {
	pulled := s.vocab.Pulled
	if pulled == (Pulled{}) || len(s.tokens) > mostRighting || s.asks() || s.shot.Grinder != 0 || s.unsure.Kind != 0 || s.sawYou() ||
		s.shot.Coffee != 0 && s.shot.Coffee != pulled.Coffee {
		return r, false
	}
	strange, numbers, beside, of := 0, 0, 0, hint(0) // of the clause, and of those without a number
	ended := func() {
		switch {
		case numbers > 0 && of&personHint != 0:
			r.hints |= otherHint
		case numbers > 0:
			r.strange += strange
		case of&(wasHint|wrongHint|denyHint) != 0: // "the bill was wrong, 27"
			r.strange += min(strange, 1)
		default:
			beside += min(strange, 1)
		}
		strange, numbers, of = 0, 0, 0
	}
	for i := 0; i < len(s.tokens); i++ {
		t := s.tokens[i]
		switch {
		case s.used[i]:
		case t.is("ended") && s.at(i+1).is("up") && s.at(i+2).is("at", "on") && s.dialLike(i+3): // where it stands now
			return r, false
		case t.is("→") && len(r.said) == 1 && s.isNumber(i+1) && r.said[0].vals[0] != pulled.Dial: // "28 → 26"; the dial is moved so
			r.hints |= makeHint | wrongHint
		case t.kind == symbolToken:
			ended()
		case t.kind == numberToken:
			q, n := s.one(i)
			if n == 0 || len(r.said) == 2 || q.unit != noUnit && q.unit != gram && q.unit != second || s.the(i-1) && s.at(i+n).is("one", "shot") { // "the 30 second one" says which
				return r, false
			}
			r.said = append(r.said, said{quantity: q, at: i, n: n, was: hints()[s.at(i-1).low]&beHint != 0})
			numbers++
			i += n - 1
		case t.kind != wordToken:
			return r, false
		default:
			h := r.hear(s, i)
			of |= h
			switch {
			case h == 0:
				strange++
			case h&sorryHint != 0 && !t.is("no", "non", "não", "nao", "ne"):
				ended()
			}
		}
	}
	ended()
	if r.strange > 0 || !r.holds(sorryHint|wrongHint) { // a reason is given for what is plain
		r.strange += beside
	}
	for i := range r.said {
		n := &r.said[i]
		n.denied = s.at(n.at+n.n).is("?") || s.deniedAt(n.at, i > 0) && !s.at(n.at-2).is("?") // "28? no 26"
		if n.unit == second {
			r.named = append(r.named, timePlace)
		}
		r.unit, r.mass = r.unit || n.unit != noUnit, r.mass || n.unit == gram
	}
	r.on = r.on && !r.holds(dialHint)
	return r, len(r.said) > 0 && !r.holds(otherHint)
}

// hear takes down what word i says, and returns it.
func (r *righting) hear(s *sheet, i int) hint {
	t := s.tokens[i]
	h := hints()[t.low] | hints()[strings.TrimSuffix(t.low, "'s")] // "time's wrong"
	people := s.vocab.People
	switch {
	case t.is("ta") && i+1 == len(s.tokens): // thanks
		h = softHint
	case t.is("previous") && s.at(i-1).is("my") && s.at(i+1).is("shot", "one"):
		h = lastHint
	case slices.Contains(people, t.low):
		h |= personHint
	case t.is("uhr", "h") && i > 0 && s.tokens[i-1].kind == numberToken: // of the day
		h |= otherHint
	case t.is("in") && s.at(i-1).is("went", "put", "dosed"):
		h |= doseHint | wasHint
		r.word = true
	case t.is("in") && i > 0 && s.tokens[i-1].kind == numberToken && !s.the(i+1):
		h |= doseHint
	case t.is(onWords()...) && s.dialLike(i+1):
		r.named, r.on = append(r.named, dialPlace), true
	}
	r.hints |= h
	r.mass = r.mass || h&massHint != 0
	if p := h.place(); p != 0 {
		r.named = append(r.named, p)
		r.word = r.word || h&wasHint == 0
	}
	return h
}

// may reports whether the number of a place may be the one that is put right.
func (r righting) may(p Pulled, at place) bool {
	return p.figure(at) != 0 && (len(r.named) == 0 || slices.Contains(r.named, at))
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

// dialNear reports the same of one that is near it.
func (s *sheet) dialNear(i int) bool {
	return s.dialLike(i) && apart(first(s.tokens[i].num), s.vocab.Pulled.Dial) < nearRighting
}

// deniedAt reports whether a number is said not to be that: "not 28", "instead of 28",
// "no eran 28". Behind another number a no alone denies as well: "27 no 28".
func (s *sheet) deniedAt(i int, later bool) bool {
	for j := i - 1; j >= 0 && j >= i-3; j-- {
		switch h := hints()[s.tokens[j].low]; {
		case h&denyHint != 0:
			return true
		case s.tokens[j].is("no", "non", "não", "nao", "nn", "n"):
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
		if !r.may(p, at) {
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
	if of == 0 {
		if of, now, was, ok = r.byHowMuch(p); !ok {
			of, now, ok = r.ofWhich(p)
		}
		return of, now, was, ok
	}
	return of, now, was, of != 0 && (r.denies() || r.holds(wasHint|wrongHint|makeHint|sorryHint))
}

// ofWhich returns the number that is put right where the other says which shot is meant: "that
// 28 of mine was 18.5 in".
func (r righting) ofWhich(p Pulled) (of place, now said, ok bool) {
	if len(r.named) != 1 || !r.holds(wasHint|wrongHint) {
		return 0, now, false
	}
	of = r.named[0]
	which := slices.IndexFunc(r.said, func(n said) bool {
		return slices.ContainsFunc(placesRight(), func(at place) bool { return at != of && p.figure(at) == n.vals[0] })
	})
	if which < 0 {
		return 0, now, false
	}
	now = r.said[1-which]
	return of, now, apart(now.vals[0], p.figure(of)) < nearRighting && !now.denied
}

// byHowMuch returns the number that is put right where it is said by how much as well: "2
// seconds less, so 26".
func (r righting) byHowMuch(p Pulled) (of place, now said, was Number, ok bool) {
	by, is := r.said[0], r.said[1]
	for _, at := range placesRight() {
		x := p.figure(at)
		if r.may(p, at) && by.vals[0] > 0 && math.Abs(math.Abs(is.vals[0]-x)-by.vals[0]) < 1e-9 && apart(is.vals[0], x) < nearRighting {
			return at, is, Number{X: x, Said: true}, true
		}
	}
	return 0, now, was, false
}

// single returns which number of the shot one alone is: the named one, else the only one
// that it is near.
func (r righting) single(p Pulled, x float64) (place, bool) {
	near := farRighting
	if len(r.named) != 1 {
		near = nearRighting
	}
	of := place(0)
	for _, at := range placesRight() {
		if !r.may(p, at) || !(apart(x, p.figure(at)) < near) {
			continue
		}
		if of != 0 {
			return 0, false
		}
		of = at
	}
	return of, of != 0 && !(math.Abs(p.figure(of)-x) < 1e-9)
}
