package parse

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
)

// How many words that nobody knows may stand beside a coffee put right. Assumed.
const mostBesideCoffee = 2

// otherCoffee reads that the writer's last shot was another coffee's than was said, in any
// words: the coffee it was booked under is denied beside the other, or the other alone is
// named with words of putting right and small ones: "not harbour. TIDE. i swear",
// "i put harbour but it was tide".
func (s *sheet) otherCoffee() (Meaning, bool) {
	if s.vocab.Pulled.Coffee == 0 || s.asks() || len(s.tokens) > mostRemarkTokens || s.shot.Event != 0 {
		return nil, false
	}
	var coffee, not bar.CoffeeID
	var said hint
	strange := 0
	if strings.HasPrefix(s.text, "*") { // "*tide"
		said = wrongHint | wasHint
	}
	for i, t := range s.tokens {
		id := s.coffeeOf(t)
		h := hints()[t.low]
		if s.at(i-1).is(denials()...) && s.shortFor(t, s.vocab.Pulled.Coffee) { // "tide not harb"
			id = s.vocab.Pulled.Coffee
		}
		switch {
		case id != 0 && id == s.vocab.Pulled.Coffee:
			not = id
		case id != 0 && (coffee == 0 || coffee == id):
			coffee = id
		case id != 0, t.kind == numberToken && !s.at(i-1).is(lasts()...), t.kind == mentionToken, t.kind == noiseToken:
			return nil, false
		case t.kind != wordToken || s.used[i]:
		case t.is("coffee", "beans", "caffè", "kaffee", "café"):
		case t.is("put"):
			said |= wrongHint
		case h&otherHint != 0, mayStill(t) && h == 0, t.is("next", "now"):
			return nil, false
		case h == 0:
			strange++
		default:
			said |= h
		}
	}
	righting := said & (sorryHint | wrongHint | denyHint | makeHint)
	of := said & (wasHint | wrongHint | sorryHint | lastHint)
	if not != 0 && of == 0 && s.at(0).is(denials()...) { // "not harbour. TIDE."
		of = denyHint
	}
	switch {
	case coffee == 0, righting == 0, of == 0:
		return nil, false
	case not == 0 && (strange > 0 || of == sorryHint || said&(wasHint|lastHint) == 0):
		return nil, false
	case strange > mostBesideCoffee:
		return nil, false
	}
	return Correction{Coffee: coffee, Not: not}, true
}

// back returns the token before i that is none of the words.
func (s *sheet) back(i int, words ...string) int {
	for i--; s.at(i).is(words...); i-- {
	}
	return i
}

// shortFor reports whether a word is how the name of a coffee begins.
func (s *sheet) shortFor(t token, id bar.CoffeeID) bool {
	return t.kind == wordToken && len(t.low) > 2 && slices.ContainsFunc(s.vocab.Coffees, func(n Name[bar.CoffeeID]) bool {
		return n.ID == id && strings.HasPrefix(fold(n.Name), t.low)
	})
}

// lasts stand before a number that only counts: "that last 1".
func lasts() []string { return []string{"last", "letzte", "letzten", "ultimo", "dernier", "último"} }

// An instead is how surely a shot takes the place of the writer's last, which was booked
// under another coffee.
type instead int

const (
	perhapsInstead instead = iota + 1 // "no, tide 18 40 27": the bot asks
	surelyInstead                     // "oops meant tide 18 40 27"
)

// insteadOf reads that a whole shot takes the place of the writer's last: what stands before
// its numbers are words of putting right, small ones, and the coffee.
func (s *sheet) insteadOf(shot Shot) (coffee bar.CoffeeID, how instead) {
	was := s.vocab.Pulled.Coffee
	if was == 0 || !shot.Time.Said || !shot.Dose.Said && !shot.Yield.Said || s.asks() {
		return 0, 0
	}
	var said hint
	denied := false
	for i, t := range s.tokens[:s.first] {
		h := hints()[t.low]
		switch id := s.coffeeOf(t); {
		case id == was && id != 0:
			deny := s.at(s.back(i, "of", "di", "de"))
			denied = denied || deny.is(denials()...) || hints()[deny.low]&denyHint != 0
		case id != 0 && (coffee == 0 || coffee == id):
			coffee = id
		case id != 0, t.kind == mentionToken, t.kind == noiseToken, t.is("forgot", "next", "now"), h&otherHint != 0, t.is("for", "about") && s.at(i-1).is(sorries()...):
			return 0, 0
		case t.kind != wordToken || s.used[i]:
		case t.is("coffee", "beans", "caffè", "kaffee", "café"):
		case t.is("intendevo", "supposed") || t.is("to") && s.at(i-1).is("supposed"):
			said |= wrongHint
		case h == 0:
			return 0, 0
		default:
			said |= h
		}
	}
	switch {
	case coffee == 0:
		return 0, 0
	case denied, said&(wrongHint|shouldHint) != 0, said&beHint != 0 && said&sorryHint != 0:
		return coffee, surelyInstead
	case said&(sorryHint|denyHint) != 0:
		return coffee, perhapsInstead
	}
	return 0, 0
}
