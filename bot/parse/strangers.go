package parse

import (
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"shothand/advisor/bar"
)

// strangest is the coffee that a strange word is taken for on trial, and its name.
const (
	strangest bar.CoffeeID = math.MaxUint64
	standIn                = "Xqxqxq"
)

// mostWords is how long a message is in which a strange word may name a coffee.
const mostWords = 8

// noSuchCoffee finds the word that stands where a coffee's name would in a message
// that tells something of one, "new bag of lighthouse", and is none.
func (s *sheet) noSuchCoffee() (m Mistake, ok bool) {
	if who, name := s.person(); len(s.tokens) > mostWords || len(s.vocab.Coffees) == 0 || s.asked() || name != "" && s.genitive(who) || s.longest(0, notMes()) > 0 { // "that was jo's idea"
		return m, false
	}
	rest, denied := s.undenied()
	if denied {
		s = newSheet(rest, s.vocab)
	}
	if s.shot.Coffee != 0 {
		return m, false
	}
	if name := s.strangeName(denied); name != "" {
		return Mistake{Kind: PerhapsCoffee, What: cut(name), More: strings.Join(namesOf(s.vocab.Coffees), ", ")}, true
	}
	for i, t := range s.tokens {
		if t.kind != wordToken || len(t.low) < 4 || !s.unknown(i) && !s.guessed(i) || t.is(household()...) {
			continue
		}
		near := nearCoffee(keys(s.vocab.Coffees), t.low)
		v := s.vocab
		v.Coffees = append(slices.Clone(v.Coffees), Name[bar.CoffeeID]{Name: standIn, ID: strangest})
		said, tells := ofCoffee(s.text[:t.start]+standIn+s.text[t.end():], v, strangest)
		_, amends := said.(Correction)
		happened, told := said.(Happened)
		after := s.at(i-1).is("of", "to", "di", "von", "de", "auf")
		told = told && !s.holds("switched", "ran", "run", "out") // "switched to decaf" may be what somebody drinks
		told = told && (near != 0 || happened.Event != bar.Swapped || happened.Grinder == 0)
		if !tells || near == 0 && amends && !t.is("decaf") || near == 0 && !amends && (!told || !after) {
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

// undenied returns a text without the coffee that it says a shot was not of: "it was
// night owl, not harbour".
func (s *sheet) undenied() (rest string, ok bool) {
	for i, t := range s.tokens[:max(0, len(s.tokens)-1)] {
		if s.used[i] || !s.used[i+1] || !t.is("not", "wasn't", "wasnt", "nicht", "non", "pas", "no", "não", "nee") {
			continue
		}
		end := i + 1
		for end < len(s.tokens) && s.used[end] {
			end++
		}
		before, after := s.text[:t.start], s.text[s.tokens[end-1].end():]
		return strings.Trim(strings.TrimRight(before, " ,")+" "+strings.TrimLeft(after, " ,"), " "), s.shot.Coffee != 0
	}
	return "", false
}

// strangeName returns two words, or one that is written like a name, which stand where a
// coffee's name does in a message that says of which a shot was, and are none:
// "that was night owl". Where another was denied, any word may be one.
func (s *sheet) strangeName(denied bool) string {
	for i, t := range s.tokens {
		from, to := i, i+1
		for s.nameless(to) {
			to++
		}
		r, _ := utf8.DecodeRuneInString(t.text)
		named := denied && to-from <= 2 || to-from == 2 || to-from == 1 && unicode.IsUpper(r) && t.text != strings.ToUpper(t.text)
		asks := i == 1 && s.at(0).is("was") && s.at(1).is("ist", "war", "hat", "soll", "machst", "macht", "gibt's", "läuft", "wird") || i == 2 && s.at(0).is("was") && s.at(1).is("war") // "was ist los"
		if asks || !s.nameless(i) || !s.at(i-1).is(wasWords()...) || !named || t.is(remarks()...) {
			continue
		}
		v := s.vocab
		v.Coffees = append(slices.Clone(v.Coffees), Name[bar.CoffeeID]{Name: standIn, ID: strangest})
		said, tells := ofCoffee(s.text[:t.start]+standIn+s.text[s.tokens[to-1].end():], v, strangest)
		if c, corrects := said.(Correction); tells && corrects && !c.Yesterday {
			return s.text[t.start:s.tokens[to-1].end()]
		}
	}
	return ""
}

// nameless reports whether token i is a word that nothing here is called or described by.
func (s *sheet) nameless(i int) bool {
	return s.unknown(i) && !s.readable(s.tokens[i].text) && !s.at(i).is(household()...) && !s.at(i).is(wasWords()...)
}

// remarks begin what people say of anything: "that was good fun".
func remarks() []string {
	return []string{
		"so", "very", "really", "bloody", "super", "too", "pretty", "quite", "a", "my", "the", "our", "your", "his", "her", "good", "great", "bad", "nice", "pure", "total", "totally",
		"such", "just", "only", "some", "way", "well", "like", "from", "for", "in", "on", "at", "not", "him", "me", "us", "you", "them", "what", "how", "why", "when", "where", "who", "all", "always",
		"lustig", "schön", "gut", "so", "bien", "super", "trop", "bello", "molto", "muy", "muito", "ganz", "echt", "total", "halt", "très", "vraiment", "proprio", "davvero",
	}
}

func namesOf(names []Name[bar.CoffeeID]) (list []string) {
	for _, n := range names {
		list = append(list, n.Name)
	}
	return list
}

// ofCoffee returns what a text tells of a coffee besides a shot, if it does.
func ofCoffee(text string, v Vocab, id bar.CoffeeID) (Meaning, bool) {
	m, err := newSheet(text, v).understood()
	if err != nil {
		return nil, false
	}
	switch w := m.(type) {
	case Correction:
		return m, w.Coffee == id && !w.Alone
	case Happened:
		return m, w.Coffee == id
	case Words:
		return m, w.Coffee == id
	case Set:
		return m, w.Coffee == id
	case CallIt:
		return m, w.Coffee == id
	case Shot, Call, Chatter:
	}
	return nil, false
}

// nearlyNamed reports whether a word that is one of taste only where it is misspelt
// is nearly a coffee's name as well, where none is named.
func (s *sheet) nearlyNamed() bool {
	coffees := keys(s.vocab.Coffees)
	for i := range s.tokens {
		if s.shot.Coffee == 0 && s.guessed(i) && nearCoffee(coffees, s.tokens[i].low) != 0 {
			return true
		}
	}
	return false
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
