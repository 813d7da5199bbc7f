package parse

import (
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

// lasts stand before a number that only counts: "that last 1".
func lasts() []string { return []string{"last", "letzte", "letzten", "ultimo", "dernier", "último"} }
