package parse

import (
	"slices"
	"strings"
	"sync"

	"shothand/advisor/bar"
)

// What is asked of the day is read from what its words ask for, in any order: each asks for
// something below, is a small word, or is a name of the bar's. One word of another kind, and it
// is talk.

// A dayHint is what a word of such a question says.
type dayHint int

const (
	whatHint    dayHint = 1 << iota // "what", "how"
	whoHint                         // "who"
	whenHint                        // "when", "since"
	longHint                        // "long", "took"
	averageHint                     // "average"
	mostHint                        // "most"
	firstHint                       // "first"
	newestHint                      // "last"
	openHint                        // "opened"
	beganHint                       // "started"
	bagHint                         // "bag"
	pulledHint                      // "pulled", "shots"
	mineHint                        // "my"
	leftHint                        // "leave", "reads"
	placeHint                       // "dial", "on"
	todaysHint                      // "today's"
	listHint                        // "show"
	beforeHint                      // "yesterday"
	yieldedHint                     // "weigh"
	hourHint                        // "hour"
	madeHint                        // "made"
	manyHint                        // "many"
	meHint                          // "i"
)

// dayHints are the words.
//
//nolint:gochecknoglobals // made once, never changed
var dayHints = sync.OnceValue(func() map[string]dayHint {
	hints := map[string]dayHint{}
	for hint, words := range map[dayHint]string{
		whatHint: "what what's whats which how hows how's wie welcher welche welches che cosa com'era com'è com come quale qual quel quelle quoi comment combien qué cuál cómo cuánto cuanto quanto quais",
		whoHint:  "who who's whos wer chi qui quién quien quem",
		whenHint: "when when's since old wann seit alt quando quand depuis cuándo cuando desde",
		longHint: "long length time times took take takes last lasted run ran runs running lange lang gebraucht gedauert dauerte dauert brauchte zeit laufzeit messo messa durato durata dura tempo impiegato pris duré dure temps durée tardó tardo duró duro tiempo tarda demorou levou durou",
		averageHint: "average avg avrg averages averaging averaged mean taking durchschnitt durchschnittlich durchschnittszeit durchschnittliche schnitt mittel " +
			"media medio medi medie moyenne moyen promedio média médio",
		mostHint:    "most more meisten meiste più plus más mais",
		firstHint:   "first erste erster ersten erstes primo prima premier première primer primera primero primeiro primeira",
		newestHint:  strings.Join(newest(), " "),
		openHint:    strings.Join(openWords(), " ") + " öffnen geöffnet abrimos abrió ouverte s'est",
		beganHint:   "start started begin began angefangen begonnen iniziato cominciato commencé empezamos empezado comenzamos começámos começamos",
		bagHint:     strings.Join(bagWords(), " "),
		pulledHint:  "pull pulls pulled pulling gezogen tirato tirati tirata tiré tirés sacado sacados sacó sacamos saqué tirei tirou shot shots espresso espressos espressi expressos bezüge bezug extractions estrazioni extracciones extrações",
		madeHint:    "do done did made make gemacht fatto fatti fatte fait faits hecho feitos hizo fez",
		manyHint:    strings.Join(howMany(), " "),
		meHint:      "i i've me ich io ho j'ai je he yo saqué tirei fiz eu",
		mineHint:    "my mine mein meine meiner meinen mio mia mon ma mi mío meu minha",
		leftHint:    "leave we'd where'd left reads read reading shows gelassen zeigt lasciato lasciata lasciamo segna indica laissé laissée affiche marque dejamos dejado dejé marca está esta deixámos deixamos deixei",
		placeHint:   "at on where dial dials grind setting mahlgrad stand stood wo war auf macinatura dove stava réglage mouture à où molienda ajuste dónde moagem onde sur a em en",
		todaysHint:  "today's todays heutigen heutige",
		listHint:    "show list zeig zeige mostra mostrami montre muestra",
		beforeHint:  "yesterday yesterday's yesterdays gestern gestrige gestrigen ieri hier d'hier ayer ontem",
		yieldedHint: "weigh weighed weight dose yield gewogen pesava pesait pesó pesou",
		hourHint:    "hour ora heure hora horas uhrzeit uhr",
	} {
		for word := range strings.FieldsSeq(words) {
			hints[word] |= hint
		}
	}
	return withoutAccents(hints)
})

// mostDayWords is how long such a question is at the most, in tokens. Assumed.
const mostDayWords = 14

// dayAsked reads what is asked of the day: how long shots took, who pulled most, which was the
// first, where a dial stood yesterday, when a bag was opened.
func (s *sheet) dayAsked() (Call, bool) {
	if len(s.tokens) < 2 || len(s.tokens) > mostDayWords || s.numbers > 0 {
		return Call{}, false
	}
	said, ok := s.dayHinted()
	if !ok {
		return Call{}, false
	}
	has := func(all dayHint) bool { return said&all == all }
	any := func(some dayHint) bool { return said&some != 0 }
	coffee, by := s.coffeeNamed(), s.personNamed()
	about := coffee != 0 || has(pulledHint)
	ask := func(a Asked) (Call, bool) { return Call{Asked: a, Of: coffee}, true }
	switch {
	case has(beforeHint) && (s.shot.Grinder != 0 && has(placeHint) || coffee != 0 && any(placeHint|longHint|newestHint)) && !has(bagHint):
		return Call{Asked: Asked{Before: true}, Of: coffee, Stands: s.dialsOf(coffee)}, true
	case has(beforeHint):
	case any(whenHint|hourHint) && any(bagHint|openHint) && (coffee != 0 || has(bagHint)) && !any(whoHint):
		return ask(Asked{Bag: true})
	case has(averageHint) && (about || any(longHint)) && !any(whoHint|mostHint):
		return ask(Asked{Average: true})
	case has(whoHint|mostHint) && (about || s.holds("coffee", "coffees", "kaffee", "caffè", "café", "cafés")), has(manyHint) && about && (has(meHint) || by != ""):
		return ask(Asked{Most: true})
	case any(firstHint) && about && s.shot.Grinder == 0, any(whenHint|hourHint) && has(beganHint|pulledHint):
		return ask(Asked{First: true, By: by, Mine: has(mineHint)})
	case has(whoHint|newestHint) && (about || has(madeHint)) && s.shot.Grinder == 0 && !any(bagHint|openHint):
		return ask(Asked{Last: 1})
	case has(newestHint) && any(whatHint|longHint|whenHint|hourHint) && (coffee != 0 || any(mineHint|pulledHint) && any(longHint|yieldedHint|mineHint|meHint|whenHint) || by != "" && has(pulledHint)) && s.shot.Grinder == 0 && !any(bagHint|averageHint|mostHint):
		return ask(Asked{Last: 1 + s.couple(), By: by, Mine: by == "" && any(mineHint|meHint)})
	case has(todaysHint) && coffee != 0 && any(listHint|whatHint):
		return ask(Asked{Count: true, Last: mostListed})
	case has(leftHint) && (s.shot.Grinder != 0 && coffee == 0 || coffee != 0 && has(placeHint)):
		return Call{Stands: s.dialsOf(coffee), Of: coffee}, true
	}
	return Call{}, false
}

// personNamed returns who of the bar's people a question names.
func (s *sheet) personNamed() string {
	for _, t := range s.tokens {
		if name := strings.TrimSuffix(t.low, "'s"); slices.Contains(s.vocab.People, name) {
			return name
		}
	}
	return ""
}

// couple is 1 where a question says that two are meant, else 0.
func (s *sheet) couple() int {
	if s.holds("couple", "pair", "two", "zwei", "due", "paio", "deux", "dos", "par", "dois", "duas") {
		return 1
	}
	return 0
}

// dialsOf returns the grinder of a coffee, else the one that is named.
func (s *sheet) dialsOf(coffee bar.CoffeeID) []bar.GrinderID {
	if home := s.vocab.Recipes[coffee].Grinder; home != 0 {
		return []bar.GrinderID{home}
	}
	return []bar.GrinderID{s.shot.Grinder}
}

// dayHinted returns what the words of a question ask for; it is false where one is of
// something else, or where it is no question.
func (s *sheet) dayHinted() (said dayHint, ok bool) {
	asks := s.asks()
	for i, t := range s.tokens {
		if s.leftIn(i) {
			said |= leftHint
		}
		if t.kind != wordToken || s.used[i] || s.coffeeOf(t) != 0 || slices.Contains(s.vocab.People, t.low) {
			continue
		}
		before, after, two := strings.Cut(t.low, "'")
		hint := dayHints()[t.low]
		if t.is("time") && s.at(i-1).is("what") {
			hint |= whenHint
		}
		if hint == 0 && two && !slices.Contains(smallWords(), t.low) {
			hint = dayHints()[before] | dayHints()[after]
			if !s.smallOrHint(before) || !s.smallOrHint(after) {
				return 0, false
			}
		} else if hint == 0 && s.manyOf(t) == 0 && !s.smallOrHint(t.low) && !t.is(greets()...) {
			return 0, false
		}
		said |= hint
	}
	i := s.skip(0, "so", "ok", "okay", "and", ",", "also", "e", "und", "y", "et")
	first := dayHints()[s.at(i).low] | dayHints()[strings.TrimSuffix(s.at(i).low, "'s")]
	wars := s.at(i).is("was", "à", "a", "c'était", "c'est") && s.at(i+1).is("war", "quelle", "che", "qué", "que", "quoi", "comment", "combien") // "was war der letzte"
	if asks = asks || first&(whatHint|whoHint|whenHint|listHint) != 0 || wars || s.at(i).is("where", "where'd", "wo", "dove", "où", "dónde", "onde"); !asks {
		return 0, false
	}
	if wars {
		said |= whatHint
	}
	return said, true
}

// leftIn reports whether token i, a grinder's name as well, says where something was left:
// "where have we left harbour".
func (s *sheet) leftIn(i int) bool {
	return i > 0 && s.tokens[i].is("left") && s.tokens[i-1].is("we", "have", "has", "we've") && s.coffeeNamed() != 0 && !s.holds("yesterday")
}

// smallOrHint reports whether a word says nothing else in a question of the day.
func (s *sheet) smallOrHint(low string) bool {
	return dayHints()[low] != 0 || slices.Contains(newWords(), low) || slices.Contains(smallWords(), low) || slices.Contains(whichWords(), low) || s.isName(low) ||
		slices.Contains([]string{"our", "up", "end", "ended", "couple", "ago", "one", "it", "get", "go", "going", "went", "put", "by", "am", "wurde", "worden", "qu'on", "a-t-on", "her", "his", "their", "she", "he", "they", "il", "an", "with", "so", "au", "qu", "j", "d", "l", "c", "s", "n", "ci", "nella", "estaba", "estava", "esta", "estaban", "wir", "hat", "lief", "liefen", "venuto", "uscito", "andato", "salió", "salio", "saiu", "avons", "ont", "abbiamo", "kam"}, low)
}
