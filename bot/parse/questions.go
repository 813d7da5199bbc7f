package parse

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"shothand/advisor/bar"
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
	adviseAsked
	goodAsked
)

// question reads a plain question as the command that answers it.
func (s *sheet) question() (Meaning, bool) {
	if len(s.tokens) > mostAsked {
		return nil, false
	}
	if c, ok := s.askedOfBook(); ok {
		return c, true
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
	dials := s.dialsAsked()
	switch {
	case has(adviseAsked) && name == "" && len(dials) == 0: // "what do you recommend"
		return nil, false
	case has(whyAsked) && name != "":
		return of("why", "coffee")
	case (has(recipeAsked) || has(amountAsked) && asks) && name != "", has(bestAsked) && name != "" && s.numbers != 1: // which tells what tasted best
		return of("coffee show", "name")
	case has(recipeAsked) && (asks || s.asks() && len(s.tokens) == 2):
		return of("coffee list", "")
	case has(goodAsked): // "what setting was the last good harbour at"
		if name == "" || !asks {
			return nil, false
		}
		return of("coffee show", "name")
	case name == "" && len(dials) > 0 && asks && s.numbers == 0 && !has(dialledAsked) && !has(countAsked) && (has(dialAsked) || s.whereStands()):
		return Call{Stands: dials}, true
	case has(dialAsked) && !has(dialledAsked) && !s.holds(oughts()...) && (asks || has(lastAsked)):
		return Call{Stands: s.grindersAsked(coffee), Of: coffee}, true
	case has(dialledAsked), has(dialAsked) && (asks || s.asks() && len(s.tokens) < 4):
		return of("today", "")
	case has(lastAsked) && has(countAsked) && s.numbers == 0:
		return Call{Asked: Asked{Last: 1}, Of: coffee}, true
	case has(countAsked) && asks && !s.holds(oughts()...):
		return Call{Asked: Asked{Count: true, Last: 3}, Of: coffee}, true
	case has(countAsked) && asks:
		return of("today", "")
	case (has(adviseAsked) || s.whatNow()) && asks && s.numbers == 0, has(nextAsked) && asks && (s.numbers == 0 || s.numbers == 1 && s.holds(keeps()...)):
		return Call{Next: true, Of: coffee, Stands: dials}, true
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
		case t.is("you") && subjects[s.at(i+1).low] == adviseAsked, t.is("change", "adjust", "ändern") && s.shot.Coffee != 0: // "what should i change on harbour"
			continue
		case t.kind == mentionToken || t.is("shothand", "bot"), slices.Contains(s.vocab.People, t.low):
			continue
		case s.used[i] || t.kind != wordToken || s.coffeeOf(t) != 0 || s.shot.Grinder != 0 && s.joinedDial(i) != 0:
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
	good, standing := slices.Contains(said, goodAsked), slices.Contains(said, dialAsked) || slices.Contains(said, lastAsked)
	if (tasted || good && !standing) && !slices.Contains(said, whyAsked) {
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
		adviseAsked:  "advise advice reckon recommend suggest rätst raten empfiehlst empfehlen consigli consigliate conseilles conseilles-tu conseillez conseillez-vous aconsejas recomiendas aconselhas recomendas",
		goodAsked:    "good gute guten guter gutes buono buon buona bon bonne bueno buen buena bom boa",
		whyAsked:     "because why weil warum wieso perché perche pourquoi porque porquê",
	} {
		for word := range strings.FieldsSeq(list) {
			words[word] = of
		}
	}
	return words
})

// oughts ask what is to be, and not what is.
func oughts() []string {
	return []string{"should", "shall", "ought", "soll", "sollen", "sollte", "devo", "dobbiamo", "dois", "doit", "faut", "debo", "debemos", "devemos"}
}

// keeps ask whether something is to stay.
func keeps() []string {
	return []string{"keep", "stay", "behalten", "lassen", "tenere", "teniamo", "garder", "garde", "mantener", "dejamos", "manter"}
}

// stands are the verbs of where something is.
func stands() []string {
	return []string{"on", "at", "stand", "stands", "standing", "sit", "sits", "sitting", "set", "steht", "stehen", "sta", "punto", "quanto", "está", "combien", "cuánto"}
}

// whereStands reports whether a question asks where something stands.
func (s *sheet) whereStands() bool {
	where := slices.ContainsFunc(s.tokens, func(t token) bool {
		before, _, _ := strings.Cut(t.low, "'")
		return t.kind == wordToken && slices.Contains([]string{"where", "wheres", "wo", "dove", "dov", "où", "dónde", "onde"}, before)
	})
	return where || slices.ContainsFunc(s.tokens, func(t token) bool { return t.is(stands()...) && (!t.is("on") || !s.onGrinder(t)) })
}

// onGrinder reports whether an "on" stands before a grinder: "which coffee is on left" asks
// what is on it.
func (s *sheet) onGrinder(on token) bool {
	i := slices.IndexFunc(s.tokens, func(t token) bool { return t.start == on.start }) + 1
	for i < len(s.tokens) && s.tokens[i].is("the") {
		i++
	}
	return s.named > 0 && i == s.named-1
}

// whatNow reports whether a question asks "what now".
func (s *sheet) whatNow() bool {
	for i := range s.tokens {
		if slices.Contains([]string{"what now", "was jetzt", "was nun", "e adesso", "e ora", "et maintenant", "y ahora", "e agora"}, s.lows(i, 2)) {
			return true
		}
	}
	return false
}

// dialsAsked returns the grinders that a question names, and those that it joins to them,
// "where are left and right".
func (s *sheet) dialsAsked() (dials []bar.GrinderID) {
	if s.shot.Grinder != 0 && s.named > 0 && !s.tokens[max(0, s.named-2)].is("have", "has", "had", "was", "i", "we", "you", "he", "she", "they", "it", "who") { // "where have we left it"
		dials = append(dials, s.shot.Grinder)
	}
	for i := range s.tokens {
		if id := s.joinedDial(i); id != 0 && len(dials) > 0 && !slices.Contains(dials, id) {
			dials = append(dials, id)
		}
	}
	return dials
}

// joinedDial returns the grinder that token i names behind an "and", 0 for none.
func (s *sheet) joinedDial(i int) bar.GrinderID {
	if i == 0 || !s.tokens[i-1].is("and", "&", "or", "und", "oder", "e", "et", "y", "ou", "o") {
		return 0
	}
	for _, g := range s.vocab.Grinders {
		if low := fold(g.Name); low == s.tokens[i].low || low == sideOf(s.tokens[i]) {
			return g.ID
		}
	}
	return 0
}

// whichWords ask which, how or where.
func whichWords() []string {
	return []string{
		"what", "whats", "wats", "wat", "which", "where", "wheres", "how", "hows", "many", "much", "should", "shall", "ought", "was", "welche", "welcher", "welches", "welchem", "welchen", "wie", "wo", "viele", "soll", "sollen", "sollte", "sollten",
		"che", "cosa", "dov'è", "dov", "qual", "quale", "quanti", "quante", "quanto", "dove", "come", "devo", "dobbiamo", "quel", "quelle", "quoi", "combien", "où", "dois", "doit", "faut",
		"qué", "cuál", "cuántos", "cuántas", "cuánto", "dónde", "debo", "debemos", "quantos", "quantas", "onde", "devemos", "que",
	}
}

// smallWords are all others that a plain question may have.
func smallWords() []string {
	return []string{
		"the", "a", "an", "is", "it", "its", "are", "we", "i", "for", "of", "on", "rn", "run", "runs", "take", "takes", "in", "at", "to", "with", "now", "right", "again", "today", "so", "ok", "okay", "hey", "hi", "hello", "and", "or", "this", "that", "these", "one", "please", "pls", "could", "can", "would",
		"far", "yo", "all", "somebody", "someone", "anyone", "tell", "me", "us", "did", "does", "have", "has", "had", "been", "was", "were", "made", "make", "yet", "still", "time", "go", "be", "too", "low", "high", "coffee", "coffees", "current", "currently", "s", "re", "know", "my", "our",
		"stand", "stands", "sit", "sits", "using", "use", "set", "doing", "put", "here", "already", "there", "from", "standing", "sitting", "then", "ought",
		"der", "die", "das", "den", "dem", "des", "ein", "eine", "ist", "sind", "wir", "ich", "man", "es", "er", "für", "von", "vom", "auf", "bei", "mit", "zu", "im", "jetzt", "gerade", "nochmal", "noch", "heute", "schon", "denn", "mal", "bitte", "kann", "mir", "uns", "jemand", "sagen", "steht", "stehen", "haben", "hatten", "hat", "gemacht", "kaffee", "muss", "müssen", "viel", "läuft", "laufen", "würdest", "würden", "du", "beim", "als", "nächstes", "und", "oder", "was", "war", "so",
		"il", "lo", "la", "i", "gli", "le", "un", "uno", "una", "è", "e", "sono", "siamo", "ci", "si", "di", "del", "della", "dei", "per", "su", "sul", "sulla", "al", "a", "con", "ora", "adesso", "oggi", "già", "ancora", "scusa", "scusate", "dirmi", "sa", "qualcuno", "può", "sta", "punto", "ha", "abbiamo", "fatto", "fatti", "ho", "dopo", "poi", "caffè", "era", "stato", "stata", "o", "più", "mi",
		"le", "les", "est", "c'est", "ce", "ça", "on", "nous", "je", "pour", "du", "de", "des", "sur", "au", "à", "avec", "maintenant", "aujourd'hui", "aujourd", "hui", "encore", "déjà", "svp", "peut", "quelqu'un", "dire", "me", "sommes", "en", "avons", "fait", "a", "ai", "après", "café", "était", "été", "ou", "plus", "que", "qu", "est-ce", "d", "l", "c", "t",
		"el", "los", "las", "es", "está", "estamos", "son", "se", "del", "para", "en", "con", "ahora", "hoy", "ya", "otra", "vez", "por", "favor", "alguien", "puede", "decirme", "hemos", "hecho", "llevamos", "he", "después", "fue", "sido", "o", "y", "más", "lo", "me", "tiene", "lleva", "tengo", "tenemos",
		"o", "os", "as", "é", "estão", "para", "do", "da", "dos", "no", "na", "com", "agora", "hoje", "já", "outra", "alguém", "pode", "dizer", "fizemos", "fiz", "temos", "depois", "foi", "ou", "mais", "tem", "um", "uma", "em", "mesmo",
	}
}
