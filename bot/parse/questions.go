package parse

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"shothand/bot/chat"
)

// A plain question is about the book where it names one of its subjects, and where all its
// other words are small ones or names of the bar's: "what's the recipe for tide again?" is,
// "what's the recipe for banana bread?" is none.

// A subject is what a question is about, and the words that say so.
type subject int

const (
	recipeAsked subject = iota + 1
	dialAsked
	dialledAsked
	lastAsked
	countAsked
	nextAsked
	bestAsked
	whyAsked
	amountAsked // of a coffee
)

// question reads a plain question as the command that answers it.
func (s *sheet) question() (Meaning, bool) {
	if len(s.tokens) > mostAsked {
		return nil, false
	}
	said, asks, ok := s.askedAbout()
	if !ok {
		return nil, false
	}
	name, coffee := "", s.shot.Coffee
	for _, t := range s.tokens { // "che ricetta ha tide": ha may be short for another
		coffee = cmp.Or(s.coffeeOf(t), coffee)
	}
	for _, c := range s.vocab.Coffees {
		if c.ID == coffee {
			name = c.Name
		}
	}
	of := func(command, option string) (Meaning, bool) {
		c := chat.Command{Name: command}
		if option != "" {
			c.Options = []chat.Option{{Name: option, Value: name}}
		}
		return Call{Command: c}, true
	}
	has := func(of subject) bool { return slices.Contains(said, of) }
	switch {
	case has(whyAsked) && name != "":
		return of("why", "coffee")
	case (has(recipeAsked) || has(amountAsked) && asks) && name != "", has(bestAsked) && name != "" && s.numbers != 1: // which tells what tasted best
		return of("coffee show", "name")
	case has(recipeAsked) && (asks || s.asks() && len(s.tokens) == 2):
		return of("coffee list", "")
	case has(dialledAsked), has(dialAsked) && (asks || has(lastAsked) || s.asks() && len(s.tokens) < 4), has(lastAsked) && has(countAsked), has(countAsked) && asks:
		return of("today", "")
	case has(nextAsked) && asks && (s.numbers == 0 || s.numbers == 1 && s.holds(keeps()...)):
		return Call{Next: true, Of: coffee}, true
	case (name != "" || s.shot.Grinder != 0 || s.spokenTo()) && asks && (s.holds(stands()...) || s.spokenTo()):
		return of("today", "")
	}
	return nil, false
}

// mostAsked is how many words and signs a plain question has at the most. Assumed.
const mostAsked = 20

// askedAbout returns the subjects that a question names, and whether a word begins it that
// asks which, how or where. It is false for what is no question, or has a word of anything
// else.
func (s *sheet) askedAbout() (said []subject, asks, ok bool) {
	subjects, tasted := subjectWords(), false
	for i, t := range s.tokens {
		switch {
		case t.is("you") && s.at(i-1).is("could", "can", "would") && s.at(i+1).is("tell", "say"), t.is("change", "adjust", "ändern") && s.shot.Coffee != 0: // "what should i change on harbour"
			continue
		case t.kind == mentionToken || t.is("shothand", "bot"), slices.Contains(s.vocab.People, t.low):
			continue
		case s.used[i] || t.kind != wordToken || s.coffeeOf(t) != 0:
			continue
		}
		small := func(word string) bool {
			tasted = tasted || s.lex.known(word) && !s.lex.filler(word) && subjects[word] == 0 && !slices.Contains(smallWords(), word) && !slices.Contains(whichWords(), word)
			of, which := subjects[word], slices.Contains(whichWords(), word)
			if of != 0 {
				said = append(said, of)
			}
			asks = asks || which
			return of != 0 || which || slices.Contains(smallWords(), word) || s.lex.known(word) && !s.lex.filler(word)
		}
		before, after, two := strings.Cut(t.low, "'") // "what's", "l'ultimo"
		first, last := small(before), small(after)
		if !small(t.low) && (!two || !first || !last) {
			return nil, false, false
		}
	}
	if tasted && !slices.Contains(said, whyAsked) {
		return nil, false, false
	}
	short := s.shot.Coffee != 0 && len(s.tokens) <= 3 && s.numbers == 0 && slices.Contains(said, recipeAsked) // "ricetta tide"
	return said, asks, s.asks() || s.spokenTo() || short || asks && s.opens()
}

// spokenTo reports whether a message speaks to the bot by its name.
func (s *sheet) spokenTo() bool {
	return s.holds("shothand", "bot") || strings.Contains(strings.ToLower(s.text), "@shothand")
}

// opens reports whether a word that asks stands first, whatever small words are before it.
func (s *sheet) opens() bool {
	i := s.skip(0, "so", "ok", "okay", "and", "hey", "hi", "hello", "sorry", ",", "also", "please", "pls", "tell", "me", "us", "e", "und", "y", "et", "allora", "entonces", "alors", "então")
	return slices.Contains(whichWords(), s.at(i).low) || slices.Contains(whichWords(), strings.TrimSuffix(s.at(i).low, "'s"))
}

// subjectWords name what a question is about.
//
//nolint:gochecknoglobals // made once, never changed
var subjectWords = sync.OnceValue(func() map[string]subject {
	words := map[string]subject{}
	for of, list := range map[subject]string{
		recipeAsked:  "recipe recipes dose yield window ratio rezept dosis ausbeute zeitfenster fenster ricetta dose resa finestra recette rendement fenêtre receta rendimiento ventana receita rendimento janela",
		dialAsked:    "grind grinder dial setting mill number mahlung mahlgrad mahlen mühle zahl einstellung macinatura macinare macinino numero mouture moulin moudre réglage molienda molino moler ajuste número moagem moinho moer",
		dialledAsked: "dialled dialed dialled-in dialed-in eingestellt regolato regolata réglé réglée ajustado ajustada calibrado calibrada posto afinado afinada",
		lastAsked:    "last latest letzte letzter letzten ultimo ultima dernier dernière último última",
		countAsked:   "pull pulled gezogen tirato tirati tiré sacado tirei shot shots espresso espressos bezüge bezug shots estrazioni extractions extracciones extrações",
		nextAsked:    "next do finer coarser keep machen tun feiner gröber behalten lassen faccio fare facciamo fine tenere teniamo faire fais garde garder hago hacer hacemos fino mantener dejamos faço fazer fazemos manter",
		amountAsked:  "grams gram long gramm lange grammi grammes longtemps gramos gramas",
		bestAsked:    "better best besser beste meglio migliore mieux meilleur mejor melhor",
		whyAsked:     "because why weil warum wieso perché perche pourquoi porque porquê",
	} {
		for word := range strings.FieldsSeq(list) {
			words[word] = of
		}
	}
	return words
})

// keeps ask whether something is to stay.
func keeps() []string {
	return []string{"keep", "stay", "behalten", "lassen", "tenere", "teniamo", "garder", "garde", "mantener", "dejamos", "manter"}
}

// stands are the verbs of where something is.
func stands() []string {
	return []string{"on", "at", "stand", "stands", "sit", "sits", "steht", "stehen", "sta", "punto"}
}

// whichWords ask which, how or where.
func whichWords() []string {
	return []string{
		"what", "whats", "wats", "wat", "which", "where", "wheres", "how", "hows", "many", "much", "should", "shall", "was", "welche", "welcher", "welches", "welchem", "welchen", "wie", "wo", "viele", "soll", "sollen", "sollte", "sollten",
		"che", "cosa", "qual", "quale", "quanti", "quante", "quanto", "dove", "come", "devo", "dobbiamo", "quel", "quelle", "quoi", "combien", "où", "dois", "doit", "faut",
		"qué", "cuál", "cuántos", "cuántas", "cuánto", "dónde", "debo", "debemos", "quantos", "quantas", "onde", "devemos", "que",
	}
}

// smallWords are all others that a plain question may have.
func smallWords() []string {
	return []string{
		"the", "a", "an", "is", "it", "its", "are", "we", "i", "for", "of", "on", "rn", "run", "runs", "take", "takes", "in", "at", "to", "with", "now", "right", "again", "today", "so", "ok", "okay", "hey", "hi", "hello", "and", "or", "this", "that", "these", "one", "please", "pls", "could", "can", "would",
		"far", "yo", "all", "somebody", "someone", "anyone", "tell", "me", "us", "did", "does", "have", "has", "had", "been", "was", "were", "made", "make", "yet", "still", "time", "go", "be", "too", "low", "high", "coffee", "coffees", "current", "currently", "s", "re", "know", "my", "our",
		"stand", "stands", "sit", "sits", "using", "use", "set", "doing", "put", "here", "already", "there", "from",
		"der", "die", "das", "den", "dem", "des", "ein", "eine", "ist", "sind", "wir", "ich", "man", "es", "er", "für", "von", "vom", "auf", "bei", "mit", "zu", "im", "jetzt", "gerade", "nochmal", "noch", "heute", "schon", "denn", "mal", "bitte", "kann", "mir", "uns", "jemand", "sagen", "steht", "stehen", "haben", "hatten", "hat", "gemacht", "kaffee", "muss", "müssen", "viel", "läuft", "laufen", "als", "nächstes", "und", "oder", "was", "war", "so",
		"il", "lo", "la", "i", "gli", "le", "un", "uno", "una", "è", "e", "sono", "siamo", "ci", "si", "di", "del", "della", "dei", "per", "su", "sul", "sulla", "al", "a", "con", "ora", "adesso", "oggi", "già", "ancora", "scusa", "scusate", "dirmi", "sa", "qualcuno", "può", "sta", "punto", "ha", "abbiamo", "fatto", "fatti", "ho", "dopo", "poi", "caffè", "era", "stato", "stata", "o", "più", "mi",
		"le", "les", "est", "c'est", "ce", "ça", "on", "nous", "je", "pour", "du", "de", "des", "sur", "au", "à", "avec", "maintenant", "aujourd'hui", "aujourd", "hui", "encore", "déjà", "svp", "peut", "quelqu'un", "dire", "me", "sommes", "en", "avons", "fait", "a", "ai", "après", "café", "était", "été", "ou", "plus", "que", "qu", "est-ce", "d", "l", "c",
		"el", "los", "las", "es", "está", "estamos", "son", "se", "del", "para", "en", "con", "ahora", "hoy", "ya", "otra", "vez", "por", "favor", "alguien", "puede", "decirme", "hemos", "hecho", "llevamos", "he", "después", "fue", "sido", "o", "y", "más", "lo", "me", "tiene", "lleva", "tengo", "tenemos",
		"o", "os", "as", "é", "estão", "para", "do", "da", "dos", "no", "na", "com", "agora", "hoje", "já", "outra", "alguém", "pode", "dizer", "fizemos", "fiz", "temos", "depois", "foi", "ou", "mais", "tem", "um", "uma", "em",
	}
}
