package parse

import (
	"math"
	"slices"
	"strings"
)

// Whoever tells of the dial in passing has many words for it: "dropped left 3", "went
// one click coarser i think", "2 finer, no 3", "someone moved the grinder". What no
// other reader takes is read here by what its words are, in whatever order: who did it,
// a verb, a thing, a way, how far, where to. One word of another kind, and it is talk.

// A moving is what a clause says was done to a dial.
type moving struct {
	verb    bool    // "took", "went": it was done
	turns   bool    // the verb is of turning: "moved"
	tweaks  bool    // or of little else: "tweaked"
	opens   bool    // of a shop as well: "opened"
	changes bool    // or of changing: "changed the grind"
	thing   bool    // the grinder, its dial or its coffee is named
	grinder bool    // in a word for it
	dial    bool    // the dial or its setting itself
	it      bool    // or spoken of
	sign    float64 // 1 finer, -1 coarser, 0 not said
	lax     bool    // where sign: "tighter", which is said of other things too
	little  bool    // "a hair"
	x       float64 // how far, 0 not said
	counted bool    // in steps
	vague   bool    // by no number of steps: "a few clicks", "half a number"
	upwards bool    // "up", "dropped": which way that is nobody said
	signed  bool    // "+2", "-0.2"
	way     string  // what leads to the place: "to", "at"
	to      int     // the token of the place, -1 for none
	back    bool
	around  bool // there and back
	more    bool // "1 more"
	only    bool // "only 1 finer": what was said before is wrong
	from    int  // the tokens that say how far
	till    int
}

// movedInWords reads them.
func movedInWords(s *sheet) (Meaning, bool) {
	if s.unsure.Kind != 0 || s.asks() || len(s.tokens) > mostMovedWords {
		return nil, false
	}
	s = s.copied()
	if undone, back := s.undoes(); undone {
		return Set{Undone: true, Grind: Grind{Back: back}, Coffee: s.shot.Coffee, Grinder: s.shot.Grinder}, true
	}
	if set, ok := s.fromTo(); ok {
		return set, true
	}
	all, told := moving{to: -1}, false
	i := s.wrong()
	instead, rights := i > 0, false
	for i < len(s.tokens) {
		m, n, ok := s.moving(i, all.thing)
		if !ok {
			return nil, false
		}
		switch {
		case !m.says():
			all.thing, all.verb, all.it = all.thing || m.thing, all.verb || m.verb, all.it || m.it
		case !told:
			m.thing, m.verb, m.it = m.thing || all.thing, m.verb || all.verb, m.it || all.it
			all, told = m, true
		case rights:
			all = all.instead(m)
		case !all.then(m):
			return nil, false
		}
		i, rights = i+n, false
		j := i
		for i < len(s.tokens) && (s.rights(i) || s.at(i).is(clauseEnds()...) || s.at(i).is("-")) {
			rights = rights || s.rights(i)
			i++
		}
		if n == 0 && j == i {
			return nil, false
		}
	}
	m, ok := s.setOf(all, instead || all.only)
	if set, is := m.(Set); is {
		return s.onTheNumbers(set), ok
	}
	return m, ok
}

// sideways reports whether somebody "moved left".
func (s *sheet) sideways() bool {
	for i, t := range s.tokens {
		if t.is("left", "right") && i > 0 && s.at(i-1).is("moved", "shifted", "turned", "went") {
			return true
		}
	}
	return false
}

// wasAndWhy reads where the dial stood, and leaves out how it came there: "was 5.3, only
// went one".
func wasAndWhy(s *sheet) (Meaning, bool) {
	for i := 2; i < len(s.tokens); i++ {
		if !s.at(i).is(",", "actually", "only", "just", "i", "cos", "because") || s.numbers > 2 {
			continue
		}
		c, ok := amendOne(newSheet(strings.TrimRight(s.text[:s.tokens[i].start], " ,"), s.vocab))
		tail := newSheet(s.text[s.tokens[s.skip(i, ",", "actually", "cos", "because")-1].end():], s.vocab)
		m, n, told := tail.moving(0, true)
		if ok && c.Bare.Said && strings.ContainsAny(c.Grind.Text, ".,") && told && n > 1 && n == len(tail.tokens) && m.verb {
			return c, true
		}
	}
	return nil, false
}

// mostMovedWords is the longest such message, in tokens. Assumed.
const mostMovedWords = 20

// says reports whether a clause says how far, where to or which way.
func (m moving) says() bool {
	return m.sign != 0 || m.x > 0 || m.vague || m.to >= 0 || m.back || m.more || m.tweaks && m.little || m.verb && (m.thing || m.it)
}

// instead puts what was said right: "no, 3" is of the same way.
func (m moving) instead(by moving) moving {
	if by.sign == 0 && by.to < 0 && m.sign != 0 {
		by.sign, by.lax = m.sign, m.lax
	}
	by.verb, by.thing, by.it = by.verb || m.verb, by.thing || m.thing, by.it || m.it
	return by
}

// then adds what was done after it: "went finer then back", "2 finer then 1 coarser".
func (m *moving) then(next moving) bool {
	switch {
	case next.to >= 0:
		next.verb, next.thing, next.it = true, next.thing || m.thing, next.it || m.it
		*m = next
	case next.back && next.sign == 0 && m.sign != 0 && m.to < 0:
		by := next.x
		if by == 0 {
			by = m.steps()
		}
		m.x = m.steps() - by
		if m.around = m.x == 0; m.x < 0 {
			m.x, m.sign = -m.x, -m.sign
		}
	case next.counted && next.sign == 0 && m.sign != 0 && m.x == 0 && !m.vague && m.to < 0: // "made it coarser, two clicks"
		m.x, m.counted = next.x, true
	case next.more && next.sign == 0 && m.sign != 0 && m.to < 0:
		m.x = m.steps() + next.steps()
	case next.sign != 0 && m.sign != 0 && m.to < 0 && next.to < 0:
		x := m.sign*m.steps() + next.sign*next.steps()
		m.vague = m.vague || next.vague
		if m.around = x == 0; x != 0 {
			m.x, m.sign = math.Abs(x), math.Copysign(1, x)
		}
	default:
		return next.sign == 0 && next.x == 0 && !next.back
	}
	return true
}

// steps is how many were said: one where none were.
func (m moving) steps() float64 {
	if m.x == 0 {
		return 1
	}
	return m.x
}

// setOf makes a setting of what was said, if that is surely of a dial.
func (s *sheet) setOf(m moving, instead bool) (Meaning, bool) {
	set := Set{Coffee: s.shot.Coffee, Grinder: s.shot.Grinder, Instead: instead}
	g := Grind{Said: true, Relative: true, Text: s.text}
	if m.from < m.till && m.till <= len(s.tokens) && !instead {
		g.Text = s.text[s.tokens[m.from].start:s.tokens[m.till-1].end()]
	}
	alone := m.little && m.till-m.from == len(s.tokens) || m.x > 0 && s.holds("by") && len(s.tokens) == 3 // "a hair tighter", "tighter by 2"
	switch {
	case m.to >= 0:
		return s.placeOf(m, set)
	case m.opens && s.holds("new", "fresh", "neue", "neuen", "nuovo", "nuova", "nouveau", "nouvelle", "nuevo", "nueva", "novo", "nova"): // "opened a new one"
		return nil, false
	case m.around:
		set.Left = true
		return set, true
	case m.back && m.sign == 0 && m.x > 0:
		g.Odd, g.Back, g.X = true, true, m.x
		set.Grind = g
		return set, m.counted || m.verb && (m.it || m.thing)
	case m.back && m.sign == 0:
		return nil, false
	case m.sign != 0 && m.lax && !m.verb && !m.counted && !m.thing && !alone:
		return nil, false
	case m.sign != 0 && m.opens && !m.counted && !m.vague && !m.grinder && s.shot.Grinder == 0 && !m.little && !(m.it && (m.upwards || m.x > 0)): // the shop, a box
		return nil, false
	case m.sign != 0 && !m.vague && (m.x > 0 || m.verb && !m.opens && !m.turns || m.verb && m.little):
		g.X = m.sign * m.steps()
	case m.sign != 0 && (m.verb || m.thing || m.vague || m.little):
		g.Odd, g.X = true, m.sign
	case m.x > 0 && (m.only && m.verb && len(s.tokens) <= 5 || (m.signed || m.upwards) && (m.counted || m.thing || m.x < 1) || m.verb && (m.counted || (m.it || m.thing) && m.upwards)):
		g.Odd, g.Back, g.X = true, true, m.x
	case m.turns && (m.thing && !s.sideways() || m.it && (m.little || m.tweaks)), m.tweaks && m.little, m.changes && m.dial, m.verb && (m.thing && (m.little || m.vague || m.upwards) || m.it && m.upwards && slices.ContainsFunc(s.tokens, isLittle)) && !s.holds("set"):
		g.Odd = true
	default:
		return nil, false
	}
	set.Grind, set.Weak = g, g.Odd && !m.thing && s.shot.Grinder == 0
	return set, true
}

// placeOf makes a setting of where the dial was put. A number alone may be an hour.
func (s *sheet) placeOf(m moving, set Set) (Meaning, bool) {
	set.Grind = s.readDial(m.to, 1)
	set.Grind.Said = true
	text := s.tokens[m.to].text
	fraction := strings.ContainsAny(text, ".,")
	hour := fraction && !m.thing && len(text)-strings.IndexAny(text, ".,") > 2 // "pushed to 5.30"
	done := m.verb || (m.upwards || m.back) && m.way != "at" || m.sign != 0
	whole := m.thing && (m.verb || m.dial || m.sign != 0 || m.back) || m.it && m.verb && (!m.opens || m.way == "to") && !s.holds("made", "gave") || m.turns && m.back || (m.upwards || m.back) && (m.verb || m.back) && m.way != "at"
	switch {
	case set.Grind.Odd, hour, !done && s.isHour(set.Grind), m.opens && m.way == "at", !done && !m.thing && m.way == "", !fraction && !whole:
		return nil, false
	case !done && !m.thing, !m.thing && (m.sign == 0 || m.opens) && !fraction:
		set.Weak = true
	}
	return set, true
}

// moving reads one clause from i on, and how many tokens it has. Behind "4.8 was too
// fine" a place is one of the dial.
func (s *sheet) moving(i int, known bool) (m moving, n int, ok bool) {
	m.to, m.thing, m.from = -1, known, len(s.tokens)
	start := i
	for i < len(s.tokens) {
		if s.breaks(i, start) {
			break
		}
		took := s.movingAt(&m, i)
		if took == 0 {
			return m, 0, false
		}
		i += took
	}
	return m, i - start, true
}

// breaks reports whether a clause ends before token i.
func (s *sheet) breaks(i, start int) bool {
	t := s.tokens[i]
	if s.used[i] {
		return false
	}
	return i > start && (t.is(clauseEnds()...) || s.rights(i))
}

// rights reports whether token i begins what puts right what stands before it.
func (s *sheet) rights(i int) bool {
	next := s.at(i + 1)
	if s.at(i).is("no", "non") && !next.is(",", "wait", "actually", "sorry") && next.kind != numberToken && countOf(next) == 0 {
		return false // "mexi no moinho"
	}
	return s.at(i).is(rightings()...)
}

// movingAt takes the next tokens of a clause, 0 where they are of another kind.
func (s *sheet) movingAt(m *moving, i int) int {
	t := s.tokens[i]
	if s.used[i] {
		m.thing, m.dial = true, m.dial || strings.HasSuffix(t.low, "'s")
		return 1
	}
	if n := s.judged(i); n > 0 {
		m.thing = true
		return n
	}
	if n := s.placeAt(m, i); n > 0 {
		return n
	}
	if n := s.farAt(m, i); n > 0 {
		m.from, m.till = min(m.from, i), i+n
		return n
	}
	sign, lax := wayOf(t)
	if t.is("fine") && i > 0 && s.tokens[i-1].is(mores()...) {
		sign = 1
	}
	if sign != 0 && m.sign == 0 {
		m.sign, m.lax, m.from, m.till = sign, lax, min(m.from, i), i+1
		return 1
	}
	if sign, now := s.turnOf(t); (sign != 0 && !now || loosens(t)) && !s.at(i-1).is("is", "are", "was", "it's", "we're", "è", "ist", "est", "está") {
		if sign == 0 {
			sign = -1
		}
		m.sign, m.verb, m.turns, m.opens, m.lax = sign, true, true, t.is("opened", "closed"), true
		return 1
	}
	if n := s.asideAt(i); n > 0 {
		return n
	}
	if t.is("from", "von", "da", "de") && s.isNumber(i+1) && s.at(i+1).num.form == plainForm {
		m.verb = true
		return 2
	}
	if n := s.phrase(i, "been at") + s.phrase(i, "been playing with") + s.phrase(i, "been messing with"); n > 0 {
		m.verb, m.turns = true, true
		return n
	}
	switch {
	case t.is(climbs()...):
		m.verb, m.upwards, m.it = true, true, true
	case t.is(tweaks()...):
		m.verb, m.turns, m.tweaks = true, true, true
	case t.is(turningWords()...):
		m.verb, m.turns = true, true
	case t.is("zurückgestellt", "zurückgedreht"):
		m.verb, m.turns, m.back = true, true, true
	case t.is(setWords()...), t.is(movingWords()...):
		m.verb = true
		m.changes = m.changes || t.is("changed", "turned", "altered", "geändert", "verändert", "gedreht", "cambiato", "cambiado", "changé", "mudei", "mudado", "girado", "girato", "tourné")
		m.upwards, m.back = m.upwards || t.is(heightWords()...), m.back || t.is(restorings()...)
	case t.is(backs()...):
		m.back = true
	case t.is(upsAndDowns()...):
		m.upwards = true
	case t.is(grinderWords()...), t.is(dialWords()...):
		m.thing, m.grinder, m.dial = true, true, m.dial || t.is(dialWords()...)
	case t.is("was", "been", "wurde", "worden", "stato", "été", "sido", "foi", "gegen", "contra", "contre") && s.holds(turningWords()...):
	case t.is("another", "more", "mehr"):
		m.more = true
	case t.is("only", "nur", "solo", "seulement", "só"):
		m.only = true
	case t.is(littles()...):
		m.little, m.from, m.till = true, min(m.from, i), i+1
	case t.is("it", "this", "lo", "la", "le", "es", "o", "l'ho", "l'ai", "hab's", "habs"):
		m.it = true
	case t.is(setFillers()...), t.is(asideWords()...), t.is(mores()...), slices.Contains(s.vocab.People, t.low):
	default:
		return 0
	}
	return 1
}

// placeAt takes where the dial was put: "to 5", "at 5.1", or a number with a fraction.
func (s *sheet) placeAt(m *moving, i int) int {
	j := s.skip(i, "back", "up", "down", "over", "in")
	k := s.skip(j, "to", "at", "on", "@", "→", "auf", "bei", "zu", "a", "à", "en", "em", "su", "para", "sur", "all", "the", "way")
	t := s.at(k)
	if t.kind != numberToken || t.num.form != plainForm || t.num.vals[0] < 0 || unitOf(s.at(k+1).low) != noUnit && s.at(k+1).text != "" || s.at(k+1).is(stepWords()...) {
		return 0
	}
	if way, _ := wayOf(s.at(s.skip(k+1, mores()...))); way != 0 || s.at(k+1).is("and", "und") && s.halves(k+1) > 0 {
		return 0
	}
	fraction := strings.ContainsAny(t.text, ".,") && (m.verb || m.thing) && t.num.vals[0] >= 1
	labelled := m.dial && s.at(k-1).is(append(dialWords(), ":")...)
	if k == j && !fraction && !labelled {
		return 0
	}
	if k > j {
		m.way = s.tokens[j].low
	}
	m.back = m.back || s.holdsIn(i, j, "back")
	m.to = k
	return k + 1 - i
}

// holdsIn reports whether one of the words stands from from up to to.
func (s *sheet) holdsIn(from, to int, words ...string) bool {
	return slices.ContainsFunc(s.tokens[from:to], func(t token) bool { return t.is(words...) })
}

// judged takes why the dial was moved, which names where it stood: "4.8 was too fine".
func (s *sheet) judged(i int) int {
	if s.at(i).kind != numberToken || s.at(i).num.form != plainForm {
		return 0
	}
	j := s.skip(i+1, "was", "is", "felt", "ran", "war", "era", "était", "a", "bit", "way")
	k := s.skip(j, "too", "zu", "troppo", "trop", "demasiado", "muito", "muy")
	if j == i+1 || k == j && !s.at(k+1).is("demais") || s.at(k).kind != wordToken {
		return 0
	}
	return s.skip(k+1, "demais") - i
}

// asideAt takes what people put beside it: "i think", "by mistake", "for tide".
func (s *sheet) asideAt(i int) int {
	for _, words := range []string{
		"i think", "i guess", "i believe", "i reckon", "by mistake", "by accident", "by the way", "for now", "this time", "this morning", "a while ago", "had to go", "had to",
		"heads up", "my end", "in the end", "felt too far", "am ende", "alla fine", "al final", "à la fin", "no fim", "next person", "whoever is next", "credo", "mi sa", "glaub ich", "glaube ich", "je crois", "je pense", "creo", "acho", "per sbaglio", "aus versehen", "por error", "par erreur", "por engano",
	} {
		if n := s.phrase(i, words); n > 0 {
			return n
		}
	}
	return 0
}

// movedBecause reads what was done to a dial, and leaves out why: "went 2 finer because it
// was gushing".
func movedBecause(s *sheet) (Meaning, bool) {
	for i := 2; i < len(s.tokens); i++ {
		why := s.at(i).is("because", "cause", "cos", "cuz", "coz", "since", "weil", "perché", "perchè", "porque", "puisque", "parce")
		if !why && (!s.at(i).is("as", "da") || !s.at(i+1).is("it", "they", "er", "es")) {
			continue
		}
		m, err := Shorthand(strings.TrimRight(s.text[:s.tokens[i].start], " ,"), s.vocab)
		set, ok := m.(Set)
		return set, ok && err == nil && !s.asks() && s.numbers < 3
	}
	return nil, false
}

// wayOf is 1 for finer and -1 for coarser, and whether the word is said of other things
// as well.
func wayOf(t token) (sign float64, lax bool) {
	switch {
	case t.is("tighter"):
		return 1, true
	case t.is("looser"):
		return -1, true
	case t.is("fine"): // "that was fine"
		return 0, false
	}
	return directionOf(t), false
}

func isWay(t token) bool {
	sign, _ := wayOf(t)
	return sign != 0
}

// loosens is what is not said of what was done: "had to loosen it".
func loosens(t token) bool { return t.is("loosen") }
