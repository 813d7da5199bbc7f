package parse

import (
	"slices"
	"strings"
)

// Concerns reports whether a message that no reader took is about a shot, a taste or the
// dial all the same: it says so in at least three ways, as talk between other people
// hardly does, and at least once in a word of the trade. Then it should not be met with silence.
func Concerns(text string, v Vocab) bool {
	s := newSheet(text, v)
	if len(s.tokens) > mostConcerning || s.asks() || s.orders() {
		return false
	}
	if s.ofOwnShot() {
		return true
	}
	var figure, dial, taste, righting, turning, shot bool
	_, who := s.person()
	tastes, numbers, whose, strong := 0, 0, who != "", false
	for i, t := range s.tokens {
		h := hints()[t.low]
		wrong := t.is("wrong", "meant", "typo", "falsch", "sbagliato", "equivocado", "faux", "errado")
		switch {
		case t.kind == numberToken && t.num.form == plainForm && first(t.num) > 0:
			unit := unitOf(s.at(i + 1).low)
			numbers++
			measured := unit == gram || unit == second || strings.ContainsAny(t.text, ".,")
			strong = strong || measured
			figure = figure || measured || figureLike(first(t.num)) && unit == noUnit
		case t.kind != wordToken:
		case s.used[i] && s.shot.Coffee != 0, t.isDial(), t.is(stepWords()...), directionOf(t) != 0:
			dial = true
		case s.lex.known(t.low) && !t.is("good", "nice", "great", "fine", "bad", "right", "off", "hot", "cold", "gut", "buono", "bueno", "bon", "bom"):
			tastes++
			taste, strong = true, true
		case t.is(turningWords()...), t.is(tweaks()...):
			turning = true
		case t.is(shotWords()...):
			shot = true
			strong = strong || !t.is("time", "in", "out", "last", "before", "first", "shot", "shots", "bezug")
		case t.is("no") && s.at(i+1).is(noWhat()...):
		case h&beHint != 0 || t.is(nots()...) || t.is(sorries()...) || outWords()[t.low]&(outVerb|outIgnore|outNot) != 0, wrong:
			righting = true
			strong = strong || wrong
		}
	}
	ways := 0
	for _, said := range []bool{figure, dial, taste, righting, turning, shot, whose, tastes > 1, numbers > 1 && figure && righting} {
		if said {
			ways++
		}
	}
	return strong && ways >= leastConcerning
}

// orders reports whether a message speaks of drinks for people: "2 flat whites for table 6".
func (s *sheet) orders() bool {
	for i, t := range s.tokens {
		counted := t.kind == numberToken && first(t.num) < 14 || t.is("one", "two", "three", "four", "due", "tre", "zwei", "drei", "deux", "trois", "dos", "tres", "dois", "três", "un", "una", "ein", "einen", "um", "uma", "no", "more", "noch", "another")
		if counted && (s.drink(i+1) > 0 || s.at(i+1).is(served()...)) || t.is("hot") && s.at(i+1).is("choc", "chocs", "chocolate", "chocolates") || t.is("table", "tisch", "tavolo", "mesa") && s.isNumber(i+1) {
			return true
		}
	}
	return false
}

// served are drinks without milk, and short names of those with it.
func served() []string {
	return []string{
		"flatties", "flattie", "caps", "cap", "capps", "lattes", "mocha", "mochas", "americano", "americanos", "americani", "espresso", "espressos", "espressi", "teas", "tea", "batch", "filters", "chais", "cortados", "cafés", "caffè", "café", "kaffee", "allongés", "doubles", "takeaway", "takeaways",
	}
}

// noWhat follow a no that denies nothing: "no worries".
func noWhat() []string {
	return []string{"worries", "worry", "prob", "probs", "problem", "problems", "rush", "sugar", "stress", "biggie", "drama", "idea", "pasa", "problema", "zucchero", "hay"}
}

// ofOwnShot reports whether a message is of the writer's last shot whatever else it says: it
// denies a figure of that beside another near it, where a few words may be strange, or names
// one of its figures beside a number near that.
func (s *sheet) ofOwnShot() bool {
	if s.vocab.Pulled == (Pulled{}) {
		return false
	}
	said, strange := s.hinted(), 0
	for i, t := range s.tokens {
		if hints()[t.low] == 0 && t.kind == wordToken && !s.used[i] && !slices.Contains(s.vocab.People, t.low) {
			strange++
		}
	}
	if said&otherHint != 0 || strange > mostUnread {
		return false
	}
	righting := strange == 0 && said&(wasHint|wrongHint|sorryHint|makeHint|lastHint) != 0
	for i := range s.tokens {
		q, n := s.one(i)
		if n == 0 {
			continue
		}
		for _, at := range placesRight() {
			is := s.vocab.Pulled.figure(at)
			near := is != 0 && apart(q.vals[0], is) < nearRighting && q.vals[0] != is
			if near && (s.denies(is) || righting && said.place() == at) {
				return true
			}
		}
	}
	return false
}

// denies reports whether a number is said not to be it: "not 28", "28 is wrong".
func (s *sheet) denies(x float64) bool {
	for i := range s.tokens {
		q, n := s.one(i)
		if n > 0 && q.vals[0] == x && (s.deniedAt(i, true) || hints()[s.at(i-1).low]&wrongHint != 0) {
			return true
		}
	}
	return false
}

// In how many ways such a message speaks of a shot, and how long it is at the most, in
// tokens. Assumed.
const (
	leastConcerning = 3
	mostConcerning  = 32
)

// figureLike reports whether a bare number may be one of a shot's.
func figureLike(x float64) bool { return 14 <= x && x <= 60 }

// shotWords are words of pulling one.
func shotWords() []string {
	return []string{
		"shot", "shots", "pulled", "pull", "yield", "dose", "time", "in", "out", "seconds", "sec", "secs", "grams", "choked", "last", "before", "first",
		"bezug", "gezogen", "sekunden", "sek", "estrazione", "tirato", "secondi", "extracción", "sacado", "segundos", "extraction", "tiré", "secondes", "extração", "tirei",
	}
}
