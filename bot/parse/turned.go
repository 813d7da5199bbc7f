package parse

import (
	"math"
	"slices"
	"strings"
)

// A turning is what a message holds of a dial that was turned, in whatever order it stands.
type turning struct {
	way, steps float64 // 1 finer, -1 coarser; 0: not said
	from, till int     // the tokens that say how far
	at, n      int     // where the place stands, in tokens; n is 0 where none was said
	near       bool    // it is near where the grinder stood
	fraction   bool    // it is no whole number
	hour       bool    // it is written as an hour is, or something else stands right behind it
	on         bool    // "to", "at" before it
	upwards    bool    // "up a click": which way that is nobody said
	verb       bool    // "turned", "went"
	now        bool
	grinder    bool // a word for it
	alone      bool // nothing else but small words stands beside the grinder and the place
	going      bool // "going 10" alone, near where who writes had it
	strange    int  // words that say nothing here, of the clauses with a number or a way
}

// mostAlone is how many tokens a grinder and its place alone have at the most. Assumed.
const mostAlone = 6

// mostBeside is how many tokens a place near where who writes had it may stand among, where
// they say nothing of something else. Assumed.
const mostBeside = 5

// leastTurned is how much must speak for a dial that was turned. Assumed.
const leastTurned = 3

// turned reads that a dial was turned where no other reader has: by what the message holds,
// a way and how far or a place, and what speaks for the grinder, against what does not.
func (s *sheet) turned() (Meaning, bool) {
	if len(s.tokens) == 0 || len(s.tokens) > mostRemarkTokens || s.numbers > 3 || s.asks() || s.unsure.Kind != 0 || s.tokens[0].is(questionWords()...) {
		return nil, false
	}
	if i := s.placeAmongNothing(); i >= 0 {
		return Set{Grind: s.readDial(i, 1)}, true
	}
	var all turning
	for _, c := range s.clauses() {
		one, ok := s.turning(c)
		if !ok || !all.then(one) {
			return nil, false
		}
	}
	_, known := s.vocab.Stands[s.shot.Grinder]
	all.alone = s.shot.Grinder != 0 && all.n > 0 && len(s.tokens) <= mostAlone && s.used[min(1, all.at)] && (!known || all.fraction || all.near && s.used[max(0, all.at-1)] && all.at+all.n == len(s.tokens) && len(s.tokens) <= 3)
	all.alone = all.alone || s.onlyNearby(all)
	all.going = all.n > 0 && (s.doneAt() || len(s.tokens) == 2 && s.at(0).is("going") && s.dialLike(1) || len(s.tokens) == 3 && s.at(0).is("up", "down", "back") && s.at(1).is("to") && s.dialLike(2) && (s.vocab.Pulled.Dial == math.Trunc(s.vocab.Pulled.Dial) || strings.ContainsAny(s.at(2).text, ".,")))
	if !all.enough(s.shot.Grinder != 0 || s.shot.Coffee != 0) {
		return nil, false
	}
	set := Set{Coffee: s.shot.Coffee, Grinder: s.shot.Grinder}
	if all.n > 0 {
		set.Grind = s.readDial(all.at, all.n)
		set.Grind.Said = true
		return set, !set.Grind.Odd
	}
	if all.way == 0 {
		set.Grind = Grind{Said: true, Relative: true, Odd: true, Back: true, X: all.steps, Text: s.text}
		return s.onTheNumbers(set), true
	}
	set.Grind = Grind{Said: true, Relative: true, X: all.way * all.steps, Text: s.text[s.tokens[all.from].start:s.tokens[all.till-1].end()]}
	return set, true
}

// doneAt reports whether a message is a word that the dial was turned, and a place near where who
// writes had it: "done, 16".
func (s *sheet) doneAt() bool {
	i := s.skip(1, ",", ":", "-")
	if dial := s.vocab.Pulled.Dial; dial != math.Trunc(dial) && !strings.ContainsAny(s.at(i).text, ".,") {
		return false
	}
	return i == len(s.tokens)-1 && s.at(0).is("done", "fertig", "gemacht", "fatto", "fait", "hecho", "feito") && s.dialNear(i)
}

// placeAmongNothing returns the token of a place near where who writes had it, among words
// that say nothing of anything else, "5.0 then", "let's try 5.0", or -1.
func (s *sheet) placeAmongNothing() int {
	at := slices.IndexFunc(s.tokens, func(t token) bool { return t.kind == numberToken })
	if n := len(s.tokens); n > mostBeside || s.numbers > 1 || !s.dialLike(at) || s.tokens[at].num.form != plainForm ||
		!OneDecimal(s.tokens[at].text) || first(s.tokens[at].num) == s.vocab.Pulled.Dial {
		return -1
	}
	for i, t := range s.tokens {
		if i != at && (s.used[i] || t.kind == wordToken && !s.saysNothingHere(t) && !t.is(triesToo()...) && !s.tellsOfTurning(t)) {
			return -1
		}
	}
	return at
}

// OneDecimal reports whether a number is written with one, as no hour and no price is.
func OneDecimal(text string) bool {
	_, decimals, _ := strings.Cut(strings.ReplaceAll(text, ",", "."), ".")
	return len(decimals) == 1
}

// pulledAt reads where the dial stood when the last shot was pulled: "it was pulled with the
// left grinder at 5.0". Told says that a message is of that, whether or not there is a shot.
func (s *sheet) pulledAt() (c Correction, told, ok bool) {
	i := slices.IndexFunc(s.tokens, func(t token) bool { return t.kind == numberToken })
	if i < 0 || numbered(s.tokens[i+1:]) || s.shot.Grinder == 0 && !s.holds(grinderWords()...) || s.asks() ||
		!s.at(i-1).is(onWords()...) || !s.holds("pulled", "gezogen", "tirato", "tirata", "tiré", "sacado", "tirado", "tirei") {
		return c, false, false
	}
	n := s.dialLength(i, true)
	of := s.vocab.Pulled
	if n == 0 || of.Coffee == 0 || s.shot.Coffee != 0 && s.shot.Coffee != of.Coffee || of.Dial > 0 && apart(first(s.tokens[i].num), of.Dial) > farRighting {
		return c, true, false
	}
	c.Grind, c.Grinder = s.readDial(i, n), s.shot.Grinder
	c.Grind.Said = true
	return c, true, !c.Grind.Odd
}

// then takes what another clause says: a later place is where the dial stands, and how far
// it went to it says nothing more.
func (t *turning) then(next turning) bool {
	twice := t.n == 0 && next.n == 0 && t.steps > 0 && next.steps > 0         // there and back
	if t.n > 0 && next.n > 0 && next.strange > 0 && !next.verb && !next.now { // "left 5.3, too bitter at 5.2"
		next.n = 0
	}
	was := *t
	*t = next
	if t.n == 0 {
		t.at, t.n, t.near, t.fraction, t.hour, t.on = was.at, was.n, was.near, was.fraction, was.hour, was.on
	}
	if t.way == 0 {
		t.way = was.way
	}
	if t.steps == 0 {
		t.steps, t.from, t.till = was.steps, was.from, was.till
	}
	t.upwards = t.upwards || was.upwards
	t.verb, t.now, t.grinder = t.verb || was.verb, t.now || was.now, t.grinder || was.grinder
	t.strange += was.strange
	return !twice
}

// enough reports whether more speaks for a dial that was turned than for talk.
func (t turning) enough(named bool) bool {
	n := -t.strange
	place, steps := t.n > 0, t.n == 0 && (t.way != 0 || t.upwards) && t.steps > 0
	for _, holds := range []bool{
		named, t.grinder, t.verb, t.now, t.way != 0 || t.upwards, t.way != 0, steps,
		place && t.near, place && t.near && t.fraction, place && t.on && (named || t.grinder || t.verb || t.now),
	} {
		if holds {
			n++
		}
	}
	if t.strange > 0 && place && !named && !t.grinder || place && t.hour && !t.grinder {
		return false // "meeting moved to 5.1", "pushed to 5.30"
	}
	if place && t.near && named && t.strange == 0 && t.alone || t.going {
		return true // "right 14", "left is at 4", "going 10"
	}
	bare := !named || !t.grinder || t.strange > 0 // unlike "new setting for tide 22"
	whole := place && !t.fraction && bare && (!t.near || !named && !t.grinder || !t.verb && !t.now && t.way == 0)
	return (place && t.near || steps) && !whole && n >= leastTurned
}

// turning takes down what one clause says. It is false for what may still be done.
func (s *sheet) turning(c clause) (t turning, ok bool) {
	numbers, other, behind := 0, false, 0 // behind: strange words behind what is said
	for i := c.from; i < c.to; {
		k := s.tokens[i]
		if s.used[i] || k.kind == symbolToken {
			i++
			continue
		}
		if x, n := s.stepsAt(i); n > 0 {
			if t.steps > 0 {
				return t, false
			}
			t.strange, behind = t.strange+behind, 0
			t.steps, t.from, t.till, numbers = x, i, i+n, numbers+1
			i += n
			continue
		}
		if k.is("for", "für", "per", "pour", "para") && (slices.Contains(s.vocab.People, s.at(i+1).low) || s.at(i+1).is("that", "this", "it")) {
			i += 2
			continue
		}
		if n := s.aboutWhen(i); n > 0 {
			t.strange++
			if s.shot.Grinder == 0 && s.shot.Coffee == 0 { // "leaving it at 6 for the bus"
				t.strange++
			}
			i += n
			continue
		}
		if n := s.turnsIt(i); n > 0 {
			t.verb, t.grinder = true, t.grinder || s.shot.Grinder == 0
			i += n
			continue
		}
		if k.num.form == colonForm && s.at(i-1).is("at", "um", "alle", "à", "a", "las", "às") { // o'clock
			i++
			continue
		}
		if k.kind == numberToken {
			n := s.dialLength(i, true)
			if n == 0 {
				return t, false
			}
			if t.n > 0 && s.at(i-1).is(onWords()...) { // "left 5.3 / too bitter at 5.2"
				t.strange++
				i += n
				continue
			}
			t.at, t.n, numbers = i, n, numbers+1
			t.strange, behind = t.strange+behind, 0
			t.near, t.fraction = s.nearStand(first(k.num)), strings.ContainsAny(k.text, ".,")
			_, decimals, _ := strings.Cut(strings.ReplaceAll(k.text, ",", "."), ".")
			t.hour = len(decimals) > 1 || s.shot.Grinder == 0 && i+n < c.to && s.strangeBehind(i+n)
			t.on = s.on(i)
			i += n
			continue
		}
		way := directionOf(k)
		if sign, now := s.turnOf(k); sign != 0 && !now && t.way == 0 && (s.shot.Grinder != 0 || s.shot.Coffee != 0) {
			if x, n := s.closedBy(i + 1); n > 0 {
				t.way, t.verb, t.steps, t.from, t.till, numbers = sign, true, x, i, i+1+n, numbers+1
				i += 1 + n
				continue
			}
		}
		switch {
		case way != 0 && t.way == 0:
			if t.way = way; i == t.till && t.steps > 0 { // "1 coarser"
				t.till++
			}
		case way != 0:
			return t, false
		case negates(k) && t.n > 0 && s.isNumber(i+1): // "5.1 not 5.0"
			i++
		case k.is("again", "wieder", "ancora", "encore", "otra") && t.n > 0 && i == t.at+t.n: // "4.9 again"
			t.now = true
		case k.is("splitting", "split") && s.at(i+1).is("the") && s.at(i+2).is("difference"):
			t.verb, i = true, i+2
		case k.is("next") && s.at(i+1).is("person", "shift", "barista", "guy"):
			i++
		case k.is("si") && s.at(i+1).is(setWords()...): // "si macina"
		case mayStill(k) || negates(k):
			other = true
		case k.is(upsAndDowns()...) && t.n == 0 && s.upDown(i):
			t.upwards = true
		case k.is(grinderWords()...), k.is(dialWords()...):
			t.grinder = true
		case s.tellsOfTurning(k):
			t.verb = true
		case k.is("were") && s.holds("now", "currently"), k.is("hand") && i > 0 && s.used[i-1], k.is("advice", "suggestion", "info", "l'ai", "l'ho"):
		case s.saysNothingHere(k), k.is("one", "one's", "ones") && i > 0 && s.used[i-1]: // "right one"
		case s.at(i-1).is("the", "my", "our", "a"): // of something else
			t.strange += 2
		default:
			behind++
			i++
			continue
		}
		if !s.saysNothingHere(k) {
			t.strange, behind = t.strange+behind, 0
		}
		i++
	}
	t.strange += min(behind, 1)                   // a reason: "its getting warm in here"
	if numbers == 0 && t.way == 0 && !t.upwards { // a remark
		return turning{verb: t.verb && t.strange == 0, grinder: t.grinder, now: t.now && t.strange == 0}, true
	}
	return t, !other
}

// aboutWhen returns how many tokens from i on say when, for what or with what a dial was
// turned, and hold no number, no grinder and no word of turning: "after the deep clean".
func (s *sheet) aboutWhen(i int) int {
	if !s.at(i).is("for", "after", "before", "until", "till", "from", "during", "nach", "vor", "seit", "für", "bis", "while", "während", "mentre", "pendant", "mientras", "enquanto", "dopo", "prima", "per", "depuis", "après", "avant", "pour", "desde", "depois", "después", "antes", "para") {
		return 0
	}
	j := i + 1
	for j < len(s.tokens) && !s.used[j] && s.tokens[j].kind == wordToken && !s.tellsOfTurning(s.tokens[j]) && !s.tokens[j].is(onWords()...) && directionOf(s.tokens[j]) == 0 {
		j++
	}
	for j > i+1 && s.saysNothingHere(s.tokens[j-1]) && j < len(s.tokens) && s.used[j] { // "the right"
		j--
	}
	if s.isNumber(j) || j == i+1 {
		return 0
	}
	return j - i
}

// turnsIt takes a word of another kind for one of turning where a grinder and where it was
// put stand behind it, "swung the left to 5", and what is done with "it": "leaving it at 5".
func (s *sheet) turnsIt(i int) int {
	k := s.at(i)
	if to := s.skip(i+2, "up", "down", "back"); k.is("leaving", "left", "keeping", "kept", "put", "set", "putting", "setting", "opening", "closing", "moving", "taking", "bringing", "turning") && s.at(i+1).is("it") && s.at(to).is("at", "on", "to") && s.isNumber(to+1) {
		return 2
	}
	if k.is("ended") && s.at(i+1).is("up") && s.at(i+2).is("at", "on") && s.isNumber(i+3) {
		return 2
	}
	j := s.skip(i+1, "the", "die", "la", "le", "il", "el", "o", "a", "der")
	if k.kind != wordToken || s.saysNothingHere(k) || j == i+1 || j >= len(s.tokens) || !s.used[j] || s.shot.Grinder == 0 {
		return 0
	}
	for j < len(s.tokens) && (s.used[j] || s.tokens[j].is(grinderWords()...) || s.tokens[j].is("one")) {
		j++
	}
	if !s.at(j).is("to", "auf", "a", "à", "tae", "pra", "para") || !s.isNumber(j+1) {
		return 0
	}
	return 1
}

// tellsOfTurning reports whether a word is one of turning, or of how a dial stands.
func (s *sheet) tellsOfTurning(t token) bool {
	return t.is(setWords()...) || t.is(movingWords()...) || t.is(turningWords()...) || t.is(tweaks()...) || t.is(climbs()...) || t.is(turnedToo()...)
}

// turnedToo are words of turning that other readers do not need.
func turnedToo() []string {
	return []string{
		"serré", "desserré", "stretto", "allargato", "cerré", "abrí", "apertei", "abri", "fechei", "meti", "bougé", "redescendue", "redescendu", "remis", "rimesso", "tightened", "loosened", "put",
		"sat", "parked", "passés", "passées", "laissée", "meteu", "mexeu", "quedó", "gstellt", "coloquei", "regulei", "régler", "réglée", "messa", "mise", "eingestellt", "puesta", "posta", "bajo", "subo", "scendo", "salgo", "descends", "desço",
	}
}

// on reports whether a word or a sign of place stands before the number at i.
func (s *sheet) on(i int) bool {
	before := s.at(i - 1)
	portuguese := before.is("no") && (s.tellsOfTurning(s.at(i-2)) || s.at(i-2).is("ta", "tá", "está", "esta"))
	return portuguese || before.is(onWords()...) || before.is("to", "zu", "sur", "pra", "pro", "para", "ao", "tae", "→", ">", ":")
}

// strangeBehind reports whether what stands behind a place makes it one of something else.
func (s *sheet) strangeBehind(i int) bool {
	t := s.at(i)
	return t.kind == wordToken && !s.saysNothingHere(t) && directionOf(t) == 0 && !s.tellsOfTurning(t) && s.aboutWhen(i) == 0
}

// saysNothingHere reports whether a word may stand beside what is said of a dial.
func (s *sheet) saysNothingHere(t token) bool {
	return hints()[t.low]&(softHint|sorryHint) != 0 || t.is(asideWords()...) || t.is(backs()...) || sigh(t) || t.is("in") || t.is(setFillers()...) || t.is(upsAndDowns()...) || slices.Contains(s.vocab.People, t.low)
}

// stepsAt reads how many steps stand at i: "2 clicks", "one" before or behind a way.
func (s *sheet) stepsAt(i int) (x float64, n int) {
	t := s.at(i)
	switch {
	case t.kind == numberToken && t.num.form == plainForm && first(t.num) > 0:
		x = first(t.num)
	case t.is("a") && s.at(i+1).is(append(stepWords(), moreSteps()...)...):
		x = 1
	case t.kind == wordToken:
		x = countOf(t)
	}
	if x == 0 {
		return 0, 0
	}
	j := s.skip(i+1, "more", "full", "whole")
	end := s.skip(j, append(stepWords(), moreSteps()...)...)
	way := s.skip(end, mores()...)
	beside := directionOf(s.at(way)) != 0 || s.at(i-1).is("by", "um", "di", "de") && directionOf(s.at(i-2)) != 0
	if k := s.skip(way+1, "by", "um", "di", "de"); t.is("one") && s.at(i-1).text == "" && i > 0 && k > way+1 && first(s.at(k).num)+countOf(s.at(k)) > 0 {
		return 0, 0 // "right one coarser by 1"
	}
	if end == j && !beside || end == i+1 && x == 1 && t.is("one") && !beside { // "right one up a click"
		return 0, 0
	}
	return x, end - i
}

// onlyNearby reports whether a message is a name and a place very near where that dial stands,
// with a word between: "tide at 19", "19 for tide".
func (s *sheet) onlyNearby(t turning) bool {
	if t.n == 0 || len(s.tokens) > 3 || s.grinderMeant() == 0 {
		return false
	}
	at, known := s.stands()
	between := s.on(t.at) || s.at(t.at+1).is("for", "für", "per", "pour", "para", "auf", "su", "sur", "en", "em")
	return known && between && apart(first(s.tokens[t.at].num), at) < nearRighting
}

// closedBy reads by how much a grinder was closed or opened, behind its name: "closed tide by
// one", "opened up harbour 0.2".
func (s *sheet) closedBy(i int) (x float64, n int) {
	j := i
	for s.at(j).is("up", "the", "il", "el", "le", "la", "o", "a", "den", "die") || j < len(s.tokens) && s.used[j] {
		j++
	}
	by := s.at(j).is("by", "um", "di", "de")
	if by {
		j++
	}
	t := s.at(j)
	x = max(first(t.num), countOf(t))
	end := s.skip(j+1, append(stepWords(), moreSteps()...)...)
	if x <= 0 || x > 9 || x >= 1 && !by && end == j+1 {
		return 0, 0
	}
	return x, end - i
}

// upDown reports whether steps stand behind an up or a down: "up a click".
func (s *sheet) upDown(i int) bool {
	_, n := s.stepsAt(s.skip(i+1, "by"))
	return n > 0
}

// nearStand reports whether a position is near where the grinder that is meant stood.
func (s *sheet) nearStand(x float64) bool {
	at, known := s.stands()
	switch named := s.shot.Grinder != 0 || s.vocab.Recipes[s.shot.Coffee].Grinder != 0; {
	case known:
		return apart(x, at) < farRighting
	case named: // the first that is heard of it
		return true
	}
	return s.vocab.Pulled.Dial > 0 && apart(x, s.vocab.Pulled.Dial) < nearRighting
}
