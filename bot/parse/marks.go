package parse

import (
	"slices"
	"strings"
	"sync"

	"shothand/advisor/bar"
)

// mark takes what is said of a shot besides numbers and taste.
func mark(s *sheet, i int) int {
	if n := s.longest(i, spoilt()); n > 0 && s.numbers > 0 {
		s.shot.Marks |= bar.Practice
		return n
	}
	if n := s.longest(i, thrownAway()); n > 0 && s.numbers > 0 && !s.negated(i) {
		s.shot.Marks |= bar.Sink
		return n
	}
	t := s.at(i)
	if t.is("test", "prova", "prueba", "teste", "essai") && s.at(i-1).is("a", "just", "only", "ein", "nur", "una", "un", "um") && s.skip(i+1, "shot", "one", ".", "!") == len(s.tokens) {
		s.shot.Marks |= bar.Practice // "that was just a test"
		return 1
	}
	m := markOf(t)
	if g := s.shot.Grind; m == bar.First && g.Said && i > 0 && s.used[i-1] && (g.Relative || s.holds(setWords()...)) && !s.at(i+1).is("shot", "one", "of") {
		return 1 // that was done before
	}
	if m == bar.Sink && s.at(i-1).is("he", "hemos", "ha", "tenho", "temos") && (s.at(i+1).is("un", "una", "uno", "um", "uma", "el", "o") || i+1 < len(s.tokens) && s.used[i+1]) {
		return 0 // "he tirado un tide" was pulled
	}
	if m == 0 || s.negated(i) || m == bar.First && s.at(i-1).is("at") {
		return 0
	}
	s.shot.Marks |= m
	if m == bar.Spurted && s.lex.known(t.low) {
		return 0 // it is a word about the cup as well
	}
	if m == bar.First {
		return s.skip(i+1, "shot", "one", "of", "the", "day", "today") - i
	}
	return s.markLength(i, m)
}

// spoilt say that a shot was not pulled as others are, so that it teaches nothing.
func spoilt() []string {
	return []string{
		"wrong basket", "the wrong basket", "forgot to tamp", "didn't tamp", "not tamped", "falsches sieb", "falschen sieb", "falscher korb", "vergessen zu tampen", "nicht getampt",
		"cestello sbagliato", "filtro sbagliato", "senza pressare", "mauvais panier", "mauvais filtre", "pas tassé", "cesta equivocada", "filtro equivocado", "sin prensar", "cesto errado", "filtro errado", "sem prensar",
	}
}

// thrownAway say in several words that nobody drank a shot.
//
//nolint:gochecknoglobals // made once, never changed
var thrownAway = sync.OnceValue(func() []string {
	return []string{
		"threw it away", "threw it out", "threw away", "threw that away", "threw it", "thrown away", "poured it out", "poured it away", "poured away", "down the sink", "down the drain", "in the sink", "in the bin", "chucked it out", "chucked it away", "tossed it out", "dumped it out",
		"weg damit", "hab ich weggeschüttet", "hab ich weggekippt", "hab ich weggeworfen", "in den ausguss", "in die spüle", "buttato via", "buttata via", "l'ho buttato", "l'ho buttata", "l'ho buttata via", "l'ho buttato via", "nel lavandino", "je l'ai jeté", "l'ai jeté", "à l'évier", "à la poubelle",
		"lo tiré", "lo he tirado", "al fregadero", "a la basura", "deitei fora", "deitado fora", "joguei fora", "jogado fora", "para o lixo", "pelo ralo",
	}
})

func markOf(t token) bar.Marks {
	switch {
	case t.is("practice", "practise", "training", "trainee", "práctica", "übung", "treino", "entraînement", "prova", "essai"):
		return bar.Practice
	case t.is("sink", "sinked", "binned", "dumped", "chucked", "tossed", "buttato", "buttata", "weggeschüttet", "weggekippt", "weggeworfen", "jeté", "jetée", "balancé", "tirado", "tirada", "descartado", "descartada", "deitado", "deitada"):
		return bar.Sink
	case t.is("single", "singolo", "einzeln", "simple", "sencillo", "simples"):
		return bar.Single
	case t.is("first", "primo", "erster", "premier", "primero", "primeiro"):
		return bar.First
	case t.is("purged", "spurgato", "spurgata", "purgato", "gespült", "durchgemahlen", "gepurged", "durchgespült", "gespühlt", "purgé", "purgée", "purgado", "purgada", "purgué", "purguei"):
		return bar.Purged
	case t.is("spurted", "spurting", "spurts", "sprayed", "spraying", "channelled", "channeled", "channelling",
		"channeling", "squirted", "squirting"):
		return bar.Spurted
	}
	return 0
}

// drinks are the words for a cup in milk.
func drinks() []string {
	return []string{"milk", "milch", "lait", "leche", "leite", "latte", "cappuccino", "cappuccini", "cappucci", "capp", "cortado", "macchiato", "macchiati", "milchkaffee", "galão", "galões"}
}

// drink returns how many tokens from i on name a cup in milk, 0 for none.
func (s *sheet) drink(i int) int {
	t := s.at(i)
	one := t.kind == wordToken && slices.Contains(drinks(), strings.TrimSuffix(t.low, "s"))
	switch {
	case t.is("flat") && s.at(i+1).is("white", "whites"), t.is("milk", "oat") && s.at(i+1).is("drink", "drinks", "milk"):
		return 2
	case one:
		return 1
	}
	return 0
}

// inMilk takes "for milk", "in a flat white", and "milk" where it stands alone
// before or behind the numbers. "Lost in milk" is a word about the cup.
func inMilk(s *sheet, i int) int {
	stands := func(i int) bool { return s.at(i).kind != wordToken }
	whom := s.at(i).is("for", "per", "für", "pour", "para")
	if (whom || s.at(i).is("in", "with", "as")) && (stands(i-1) || whom && s.first < i || s.at(i-1).is("is") || s.at(i-1).is(wasWords()...)) {
		j := s.skip(i+1, "a", "an", "the", "du", "un", "une", "ein", "einen", "um", "two", "due", "zwei", "deux", "dos", "dois")
		if n := s.drink(j); n > 0 && (s.first < i || stands(j+n)) {
			s.shot.Marks |= bar.InMilk
			return j + n - i
		}
		return 0
	}
	j := s.skip(i+1, "a", "an", "the", "un", "une", "ein", "einem", "einer", "um")
	if n := s.drink(j); n > 0 && s.at(i).is("in", "with", "mit", "nel", "con", "en", "avec", "dans", "no", "com") && s.first < i && i > 0 && s.readable(s.at(i-1).text) && stands(j+n) && !s.holds("black", "straight", "neat") {
		s.shot.Marks |= bar.InMilk // "a bit weak in milk"
		return j + n - i
	}
	if n := s.drink(i); n > 0 && (s.first < i && stands(i-1) && stands(i+n) || i == 0 && s.coreFrom(n)) {
		s.shot.Marks |= bar.InMilk
		return n
	}
	return 0
}

// coreFrom reports whether three plain numbers stand from token i on, so that
// a drink before them is what the shot was for.
func (s *sheet) coreFrom(i int) bool {
	for i < len(s.tokens) && s.used[i] { // a coffee's name
		i++
	}
	i = s.skip(i, ":", ",", "-")
	return s.isNumber(i) && s.isNumber(i+1) && s.isNumber(i+2)
}

// drinksOf takes "2 flat whites" behind the numbers of a shot: what it was for,
// and no number of it.
func drinksOf(s *sheet, i int) int {
	if s.count()+s.said() < 2 || s.at(i).num.form != plainForm || s.at(i).num.vals[0] > 20 {
		return 0
	}
	n := s.drink(i + 1)
	if n > 0 {
		s.shot.Marks |= bar.InMilk
		return n + 1
	}
	return 0
}

// notPurged takes "not purged", "no purge", "unpurged", "didn't purge".
func notPurged(s *sheet, i int) int {
	n := 0
	switch {
	case s.at(i).is("unpurged"):
		n = 1
	case s.at(i).is("not", "no", "without", "didn't", "didnt", "wasn't", "never", "un") &&
		s.at(i+1).is("purged", "purge", "purging"):
		n = 2
	case s.at(i).is("nicht", "non", "pas", "no", "não", "sin", "senza", "sans", "ohne", "sem") &&
		(markOf(s.at(i+1)) == bar.Purged || s.at(i+1).is("purgar", "purger", "spurgare", "purgare", "spülen")):
		n = 2
	case s.at(i).is("forgot") && s.at(s.skip(i+1, "to", "the")).is("purge", "purging"):
		n = s.skip(i+1, "to", "the") + 1 - i
	}
	if n > 0 {
		s.shot.Marks |= bar.NotPurged
	}
	return n
}

// markLength is how many tokens a mark takes with what belongs to it.
func (s *sheet) markLength(i int, m bar.Marks) int {
	if m != bar.Purged {
		return 1
	}
	if n := s.purge(i + 1); n > 0 {
		return 1 + n
	}
	return s.grinderAt(i+1) - i
}

// grinderAt passes over "the grinder" from token i on, with its name.
func (s *sheet) grinderAt(i int) int {
	j := i
	for s.at(j).is("the", "die", "il", "lo", "le", "el", "o", "out") || j < len(s.tokens) && s.used[j] && s.shot.Grinder != 0 {
		j++
	}
	if end := s.skip(j, grinderWords()...); end > j {
		return end
	}
	return i
}

// purging takes "mühle gespült", where the grinder stands before what was done to it.
func purging(s *sheet, i int) int {
	from := s.skip(i, "i", "we", "hab", "habe", "haben", "ich", "wir", "he", "hemos", "ho", "abbiamo", "j'ai", "on", "a")
	j := s.skip(s.grinderAt(from), "is", "was", "been", "got", "wurde", "ist", "è", "est", "está")
	if j == i || markOf(s.at(j)) != bar.Purged || s.negated(i) || s.negated(j) {
		return 0
	}
	s.shot.Marks |= bar.Purged
	return j + 1 - i
}
