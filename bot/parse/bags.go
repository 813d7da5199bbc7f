package parse

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"shothand/advisor/bar"
)

// bagWords are what a coffee comes in.
//
//nolint:gochecknoglobals // made once, never changed
var bagWords = sync.OnceValue(func() []string {
	return barely([]string{
		"bag", "bags", "bag's", "batch", "sack", "sacks", "packet", "tüte", "packung", "beutel", "sacco", "sacchetto", "busta", "pacco", "pacchetto", "confezione", "sac", "paquet", "sachet",
		"bolsa", "saco", "paquete", "pacote", "embalagem",
	})
})

// newWords say that a bag is another one.
//
//nolint:gochecknoglobals // made once, never changed
var newWords = sync.OnceValue(func() []string {
	return []string{
		"new", "fresh", "next", "second", "third", "fourth", "2nd", "3rd", "4th", "another", "newly", "neue", "neuer", "neuen", "neues", "frische", "frischer", "frischen", "nächste", "nächster", "nächsten", "zweite", "zweiten", "dritte", "dritten", "andere", "anderen",
		"nuovo", "nuova", "prossimo", "prossima", "fresco", "fresca", "frais", "fraîche", "fraiche", "prochain", "secondo", "seconda", "terzo", "altro", "altra", "nouveau", "nouvelle", "deuxième", "second", "troisième", "autre", "nueva", "nuevo", "nuevos", "segunda", "segundo", "tercera", "otra", "otro", "novo", "nova", "terceiro", "outro", "outra",
	}
})

// openWords say that somebody has opened a bag.
//
//nolint:gochecknoglobals // made once, never changed
var openWords = sync.OnceValue(func() []string {
	return barely([]string{
		"opened", "opening", "open", "cracked", "cracking", "started", "starting", "ripped", "split", "angebrochen", "aufgemacht", "geöffnet", "angefangen", "aufgerissen", "öffne", "mach", "mache", "offen",
		"aperto", "aperta", "apro", "apriamo", "iniziato", "inizio", "cominciato", "ouvert", "ouvre", "j'ouvre", "ouvrons", "entamé", "entame", "j'entame", "abro", "abrimos", "abierto", "abrí", "empezado", "empiezo", "estreno", "abierta",
		"aberto", "abri", "abriu", "abro", "abrir", "abrimos", "comecei", "começámos", "aberta",
	})
})

// bagFillers may stand beside them.
//
//nolint:gochecknoglobals // made once, never changed
var bagFillers = sync.OnceValue(func() []string {
	return []string{
		"a", "an", "the", "of", "just", "now", "we", "i", "i've", "we've", "have", "has", "been", "is", "was", "it", "on", "for", "in", "into", "put", "up", "and", "today", "morning", "this", "our", "over", "already", "fyi", "btw", "hey", "ok", "right", "emptied", "emptying", "grinder", "im", "am", "so", "then", "one", "one's", "ones", "number", "hopper's", "coffee", "beans", "out", "went", "goes",
		"ein", "eine", "einen", "die", "den", "der", "das", "von", "vom", "für", "ich", "wir", "hab", "habe", "haben", "jetzt", "gerade", "eben", "heute", "auf", "drin", "ist", "und", "ins", "in", "im", "dem", "wurde", "kam", "nummer",
		"un", "una", "uno", "il", "lo", "la", "l'", "le", "di", "del", "della", "ho", "abbiamo", "è", "e", "per", "ora", "adesso", "oggi", "appena", "stamattina", "nel", "nella", "io", "numero", "i", "al",
		"une", "de", "du", "d'", "des", "pour", "j'ai", "on", "a", "nous", "avons", "maintenant", "viens", "vient", "d'ouvrir", "dans", "et", "je", "est", "ce", "matin", "aujourd'hui", "j'en", "en", "l'on", "numéro", "n",
		"el", "los", "las", "he", "hemos", "ha", "acabo", "abrir", "hoy", "ahora", "para", "en", "y", "mañana", "esta", "recién", "se", "una", "un", "número",
		"um", "uma", "o", "os", "as", "do", "da", "agora", "hoje", "acabei", "acabámos", "no", "na", "em", "esta", "manhã", "já", "eu",
	}
})

// pouredWords say that a bag went into a hopper.
//
//nolint:gochecknoglobals // made once, never changed
var pouredWords = sync.OnceValue(func() []string {
	return barely([]string{
		"going", "gone", "putting", "popping", "popped", "chucking", "chucked", "tipping", "tipped", "pouring", "poured", "loading", "loaded", "filling", "filled", "to", "onto", "swap", "swapped", "changed", "switched", "we're", "move", "moved", "moving", "back",
		"kommt", "rein", "reingetan", "getan", "reingekippt", "eingefüllt", "gefüllt", "tu", "fülle", "geht", "läuft",
		"metto", "messo", "messa", "mettiamo", "caricato", "carico", "versato", "dentro", "si", "passa", "passo", "al",
		"mets", "met", "mis", "mise", "mettons", "versé", "chargé", "passe", "au", "en", "vais",
		"pongo", "puesto", "puesta", "ponemos", "metido", "metida", "meto", "echado", "echo", "cargado", "paso", "al", "se",
		"pôr", "pus", "ponho", "meti", "metido", "coloquei", "posto", "deitei", "carreguei", "passo", "ao",
	})
})

// emptyWords say that the bag before is empty.
//
//nolint:gochecknoglobals // made once, never changed
var emptyWords = sync.OnceValue(func() []string {
	return barely([]string{
		"last", "end", "finished", "finishing", "done", "empty", "gone", "that's", "thats", "bag's", "old", "leer", "alle", "letzte", "letzten", "fertig",
		"finito", "finita", "vuoto", "vuota", "terminato", "ultimo", "fini", "finie", "vide", "terminé", "c'est", "dernier",
		"acabó", "acabado", "acabada", "terminado", "terminada", "vacío", "vacía", "acabou", "acabo", "vazio", "vazia", "terminou", "último", "última",
	})
})

// bagSenses begin a remark on the beans in a bag.
//
//nolint:gochecknoglobals // made once, never changed
var bagSenses = sync.OnceValue(func() []string {
	return []string{
		"smell", "smells", "smelled", "smelling", "look", "looks", "looking", "aroma", "aromas", "riecht", "riechen", "duftet", "duften", "duft", "sieht", "sehen",
		"profuma", "profumo", "odore", "odora", "sent", "sentent", "odeur", "huele", "huelen", "olor", "cheira", "cheiram", "cheiro",
	}
})

// barely adds to words how a phone types them that has no accents. It leaves no room behind
// them: lists made once are shared, and are appended to.
func barely(words []string) []string {
	for _, word := range words {
		for _, bare := range []string{unaccented.Replace(word), umlauts.Replace(word)} {
			if bare != word && len(bare) >= leastAccented && !slices.Contains(words, bare) {
				words = append(words, bare)
			}
		}
	}
	return slices.Clip(words)
}

// A bagTold is what a message says of bags.
type bagTold struct {
	bag, fresh, opened, empty bool
	number                    bool // "bag 2"
	roasted                   string
}

// isNew reports whether a bag of a coffee is another one.
func (b bagTold) isNew(coffee bool) bool {
	switch {
	case b.bag && (b.fresh || b.opened):
		return coffee || b.roasted != ""
	case b.bag && !b.empty:
		return coffee && b.number || b.roasted != ""
	}
	return coffee && b.fresh && (b.opened || b.roasted != "")
}

// bagOpened reads a new bag of a coffee that is named, and when it was roasted, in any order
// of words: "opened the second bag of harbour, its from 20th feb". How its beans smell or
// look may stand behind it.
func bagOpened(s *sheet) (Meaning, bool) {
	if s.asks() || s.unsure.Kind != 0 || len(s.tokens) == 0 || s.tokens[0].is("is", "are") || !s.holds(bagWords()...) && (s.shot.Coffee == 0 || !s.holds(newWords()...)) {
		return nil, false
	}
	s, roasted := s.roastedOn()
	told, stop, ok := bagTold{roasted: roasted}, bagTold{}, false
	for i, t := range s.tokens {
		if t.is(stops()...) {
			stop = told
		}
		if !s.bagAt(i, &told) {
			if !stop.isNew(s.shot.Coffee != 0) || !s.beansRemarked(i) {
				return nil, false
			}
			told, ok = stop, true
			break
		}
	}
	if open := s.tokens[0].is("open"); !ok && !told.isNew(s.shot.Coffee != 0) || open && !told.bag { // "open a new tide" tells somebody to
		return nil, false
	}
	return Happened{Event: bar.NewBag, Coffee: s.shot.Coffee, Roasted: roasted}, true
}

// stops stand between two clauses.
func stops() []string { return []string{".", ",", "!", ";", ":", "-", "(", ")"} }

// bagAt takes what token i says of a bag, and reports whether it is of one.
func (s *sheet) bagAt(i int, told *bagTold) bool {
	switch t := s.tokens[i]; {
	case t.is("no") && s.isBagNumber(i+1):
	case t.is("no") && (s.shot.Coffee == 0 || i == 0 || !s.at(i+1).is(hoppers()...)):
		return false
	case s.used[i], t.is(stops()...):
	case s.isBagNumber(i):
		told.number = true
	case t.is(newWords()...):
		told.fresh = true
	case t.is(openWords()...):
		told.opened = true
	case t.is(bagWords()...), t.is(emptyWords()...):
		told.bag, told.empty = told.bag || t.is(bagWords()...), told.empty || t.is(emptyWords()...)
	case t.is(bagFillers()...), t.is(hoppers()...), t.is(pouredWords()...), t.is("#"):
	default:
		return false
	}
	return true
}

// isBagNumber reports whether token i says which bag of the day it is: "bag 2", "sacco n. 3".
func (s *sheet) isBagNumber(i int) bool {
	x, before := countOf(s.at(i)), i-1
	if number, ok := strings.CutPrefix(s.at(i).text, "#"); ok { // "bag #2"
		x, _ = strconv.ParseFloat(number, 64)
	}
	if s.isNumber(i) && s.at(i).num.form == plainForm && unitOf(s.at(i+1).low) == noUnit {
		x = first(s.at(i).num)
	}
	for before >= 0 && s.tokens[before].is("no", "number", "nr", "n", ".", "#", "nummer", "numero", "numéro", "número") {
		before--
	}
	return 2 <= x && x <= mostBags && x == math.Trunc(x) && s.at(before).is(bagWords()...)
}

// mostBags is how many bags of a coffee are opened in a day at the most. Assumed.
const mostBags = 20

// beansRemarked reports whether the clause of token i, the last, says how beans smell or look.
func (s *sheet) beansRemarked(i int) bool {
	for i > 0 && !s.tokens[i-1].is(stops()...) {
		i--
	}
	rest := s.tokens[i:]
	return !numbered(rest) && !slices.ContainsFunc(rest, mayStill) && slices.ContainsFunc(rest, func(t token) bool { return t.is(bagSenses()...) })
}
