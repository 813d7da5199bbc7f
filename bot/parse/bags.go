package parse

import (
	"sync"

	"shothand/advisor/bar"
)

// bagWords are what a coffee comes in.
//
//nolint:gochecknoglobals // made once, never changed
var bagWords = sync.OnceValue(func() []string {
	return []string{
		"bag", "bags", "sack", "sacks", "packet", "tüte", "packung", "beutel", "sacco", "sacchetto", "busta", "pacco", "pacchetto", "confezione", "sac", "paquet", "sachet",
		"bolsa", "saco", "paquete", "pacote", "embalagem",
	}
})

// newWords say that a bag is another one.
//
//nolint:gochecknoglobals // made once, never changed
var newWords = sync.OnceValue(func() []string {
	return []string{
		"new", "fresh", "next", "second", "third", "fourth", "2nd", "3rd", "4th", "another", "neue", "neuer", "neuen", "neues", "frische", "frischer", "frischen", "nächste", "nächsten", "zweite", "zweiten", "dritte", "dritten", "andere", "anderen",
		"nuovo", "nuova", "fresco", "secondo", "seconda", "terzo", "altro", "altra", "nouveau", "nouvelle", "deuxième", "second", "troisième", "autre", "nueva", "nuevo", "segunda", "segundo", "tercera", "otra", "otro", "novo", "nova", "terceiro", "outro", "outra",
	}
})

// openWords say that somebody has opened a bag.
//
//nolint:gochecknoglobals // made once, never changed
var openWords = sync.OnceValue(func() []string {
	return []string{
		"opened", "opening", "open", "cracked", "cracking", "started", "starting", "ripped", "angebrochen", "aufgemacht", "geöffnet", "angefangen", "aufgerissen", "öffne", "mach", "mache",
		"aperto", "aperta", "apro", "apriamo", "iniziato", "inizio", "cominciato", "ouvert", "ouvre", "j'ouvre", "ouvrons", "entamé", "entame", "j'entame", "abro", "abrimos", "abierto", "abrí", "empezado", "empiezo", "estreno", "abierta",
		"aberto", "abri", "abriu", "comecei", "começámos", "aberta",
	}
})

// bagFillers may stand beside them.
//
//nolint:gochecknoglobals // made once, never changed
var bagFillers = sync.OnceValue(func() []string {
	return []string{
		"a", "an", "the", "of", "just", "now", "we", "i", "i've", "we've", "have", "has", "been", "is", "was", "it", "on", "for", "in", "into", "put", "up", "and", "today", "morning", "this", "our", "over", "already", "fyi", "btw", "hey", "ok", "right", "emptied", "emptying", "grinder", "im", "am", "coffee", "beans", "out", "went", "goes",
		"ein", "eine", "einen", "die", "den", "der", "das", "von", "vom", "für", "ich", "wir", "hab", "habe", "haben", "jetzt", "gerade", "eben", "heute", "auf", "drin", "ist", "und", "ins", "in", "im",
		"un", "una", "uno", "il", "lo", "la", "l'", "le", "di", "del", "della", "ho", "abbiamo", "è", "e", "per", "ora", "adesso", "oggi", "appena", "stamattina", "nel", "nella", "io",
		"une", "de", "du", "d'", "des", "pour", "j'ai", "on", "a", "nous", "avons", "maintenant", "viens", "vient", "d'ouvrir", "dans", "et", "je", "est", "ce", "matin", "aujourd'hui",
		"el", "los", "las", "he", "hemos", "ha", "acabo", "abrir", "hoy", "ahora", "para", "en", "y", "mañana", "esta", "recién",
		"um", "uma", "o", "os", "as", "do", "da", "agora", "hoje", "acabei", "acabámos", "no", "na", "em", "esta", "manhã", "já",
	}
})

// bagOpened reads a new bag of a coffee that is named, and when it was roasted, in any order
// of words: "opened the second bag of harbour, its from 20th feb".
func bagOpened(s *sheet) (Meaning, bool) {
	if s.asks() || s.unsure.Kind != 0 || !s.holds(bagWords()...) {
		return nil, false
	}
	s, roasted := s.roastedOn()
	if s.shot.Coffee == 0 && roasted == "" {
		return nil, false
	}
	bag, fresh := 0, false
	for i, t := range s.tokens {
		switch {
		case t.is("no") && (s.shot.Coffee == 0 || i == 0 || !s.at(i+1).is(hoppers()...)):
			return nil, false
		case s.used[i], t.is(".", ",", "!", ";", ":", "-", "(", ")"):
		case t.is(bagWords()...):
			bag++
		case t.is(newWords()...), t.is(openWords()...):
			fresh = true
		case t.is(bagFillers()...), t.is(hoppers()...):
		default:
			return nil, false
		}
	}
	if bag == 0 || !fresh && roasted == "" {
		return nil, false
	}
	return Happened{Event: bar.NewBag, Coffee: s.shot.Coffee, Roasted: roasted}, true
}
