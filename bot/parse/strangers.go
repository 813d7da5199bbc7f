package parse

import (
	"math"
	"slices"
	"strings"

	"shothand/advisor/bar"
)

// strangest is the coffee that a strange word is taken for on trial.
const strangest bar.CoffeeID = math.MaxUint64

// mostWords is how long a message is in which a strange word may name a coffee.
const mostWords = 8

// noSuchCoffee finds the word that stands where a coffee's name would in a message
// that tells something of one, "new bag of lighthouse", and is none.
func (s *sheet) noSuchCoffee() (m Mistake, ok bool) {
	if s.shot.Coffee != 0 || len(s.tokens) > mostWords || len(s.vocab.Coffees) == 0 || s.asked() {
		return m, false
	}
	for i, t := range s.tokens {
		if t.kind != wordToken || len(t.low) < 4 || !s.unknown(i) || t.is(household()...) {
			continue
		}
		near := nearCoffee(keys(s.vocab.Coffees), t.low)
		v := s.vocab
		v.Coffees = append(slices.Clone(v.Coffees), Name[bar.CoffeeID]{Name: t.text, ID: strangest})
		said, tells := newSheet(s.text, v).ofCoffee(strangest)
		_, amends := said.(Correction)
		after := s.at(i-1).is("of", "to", "di", "von", "de", "auf")
		if !tells || near == 0 && amends && !t.is("decaf") || near == 0 && !amends && !after {
			continue
		}
		var names []string
		for _, c := range s.vocab.Coffees {
			if near == 0 || c.ID == near {
				names = append(names, c.Name)
			}
		}
		return Mistake{Kind: NoCoffee, What: cut(t.text), More: strings.Join(names, ", ")}, true
	}
	return m, false
}

// ofCoffee reads what a message tells of a coffee, if it does.
func (s *sheet) ofCoffee(id bar.CoffeeID) (Meaning, bool) {
	if m, ok := correction(s); ok {
		return m, m.(Correction).Coffee == id
	}
	if m, ok := happened(s); ok {
		return m, m.(Happened).Coffee == id
	}
	return nil, false
}

// household are what else comes in bags, and is opened or changed at a bar.
func household() []string {
	return []string{
		"milk", "sugar", "cups", "lids", "rice", "salt", "flour", "crisps", "chips", "napkins", "straws", "bins", "trash", "rubbish", "garbage",
		"gloves", "towels", "oats", "sweets", "cookies", "tricks", "money", "cash", "coins", "change", "shift", "music", "playlist", "shifts",
		"batteries", "filters", "tablets", "chocolate", "cocoa", "potatoes", "onions", "bread", "cement", "wine", "beer", "days", "hands", "seats",
		"milch", "zucker", "latte", "zucchero", "lait", "sucre", "leche", "azúcar", "leite", "açúcar", "beans", "coffee", "kaffee", "caffè", "café",
	}
}
