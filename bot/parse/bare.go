package parse

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"shothand/advisor/bar"
)

// bareCommand returns the command that words alone ask for, or nothing: "undo", "how's
// harbour?". A coffee or a grinder of that name, or an own word, goes first.
func bareCommand(text string, v Vocab) string {
	typed := strings.ToLower(strings.Trim(text, " .!\n\t"))
	typed = strings.TrimSuffix(strings.TrimSuffix(typed, " pls"), " please")
	if typed == "?" && strings.TrimSpace(text) == "?" {
		return "help"
	}
	asked := strings.HasSuffix(typed, "?")
	word := strings.ReplaceAll(strings.Trim(typed, " ¿?"), "’", "'")
	if isNamed(v.Coffees, word) || isNamed(v.Grinders, word) {
		return ""
	}
	command := wordsFor(word, asked)
	if command == "" {
		command = cmp.Or(askedOf(word, v), bareReview(text, v))
	}
	if command == "" || words(v.Words, v.Language).known(word) {
		return ""
	}
	return command
}

// wordsFor returns the command that words ask for whatever the bar is like.
func wordsFor(word string, asked bool) string {
	for _, c := range bareCommands() {
		if slices.Contains(c.asks, word) || !asked && slices.Contains(c.tells, word) {
			return c.command
		}
	}
	return ""
}

// isNamed reports whether something of the bar has that name.
func isNamed[T any](names []Name[T], low string) bool {
	return slices.ContainsFunc(names, func(n Name[T]) bool { return strings.EqualFold(n.Name, low) })
}

// A bareWord is a command and the words that alone ask for it: some with a question
// mark or without, others without alone.
type bareWord struct {
	command     string
	asks, tells []string
}

//
//nolint:gochecknoglobals // made once, never changed
var bareCommands = sync.OnceValue(func() []bareWord {
	return []bareWord{
		{"undo", nil, []string{
			"undo", "cancel", "undo that", "undo last", "undo it", "undo the last", "undo the last one",
			"annulla", "annullare", "annulla l'ultima", "annulla l'ultimo", "cancella", "togli", "togli l'ultima", "togli l'ultimo",
			"rückgängig", "rückgängig machen", "zurück", "zurücknehmen", "nimm zurück", "nimm das zurück", "löschen", "letzten löschen", "letzte löschen",
			"annuler", "annule", "annulez", "supprimer", "supprime", "effacer", "efface", "annule le dernier", "annule la dernière",
			"deshacer", "deshaz", "deshace", "deshazlo", "anular", "anula", "borrar", "borra",
			"desfazer", "desfaz", "anular", "apagar", "apaga",
		}},
		{"today", []string{
			"are we dialled in", "are we dialed in", "what did i miss",
			"how are we doing with the coffees", "where are we with the coffees", "where are we", "where do we stand",
			"a che punto siamo", "a che punto stiamo", "a che punto sono i caffè", "come siamo messi",
			"was steht an", "wo stehen wir", "wie stehen wir", "wie steht's", "wie stehts",
			"on en est où", "on en est ou", "où on en est", "où en est-on", "où en sommes-nous",
			"cómo vamos", "como vamos", "en qué punto estamos", "por dónde vamos",
			"como estamos", "em que ponto estamos", "ponto da situação", "onde estamos com os cafés",
		}, []string{
			"today", "status", "heute", "oggi", "aujourd'hui", "hoy", "hoje", "stato", "situazione", "stand", "état", "estado",
		}},
		{"why", []string{
			"why", "why finer", "why coarser", "why that", "why this",
			"warum", "wieso", "weshalb", "wieso das", "warum das", "perché", "perchè", "perche", "come mai", "pourquoi", "pourquoi ça", "por qué", "por que", "por quê", "porquê", "porquê isso",
		}, nil},
		{"help", []string{"how do i undo", "how does this work"}, []string{
			"help", "help me", "how to undo", "hilfe", "aide", "aiuto", "ayuda", "ajuda",
		}},
		{"review", []string{
			"review", "which changes worked", "what changes worked", "which change worked", "what worked",
			"what did mornings cost", "what do mornings cost", "what did the mornings cost", "what did our mornings cost", "what mornings cost",
			"what gives trouble", "what gives us trouble", "which coffee gives trouble", "which grinder gives trouble", "which hour gives trouble",
			"welche änderungen halfen", "welche änderungen haben geholfen", "was kostet das einstellen", "was macht ärger", "was macht probleme", "welcher kaffee macht ärger",
			"quali cambi hanno funzionato", "quanto costano le mattine", "quanto sono costate le mattine", "che cosa dà problemi", "cosa dà problemi", "quale caffè dà problemi",
			"quels changements ont marché", "combien coûtent les matins", "combien ont coûté les matins", "qu'est-ce qui pose problème", "quel café pose problème",
			"qué cambios funcionaron", "qué cuestan las mañanas", "cuánto cuestan las mañanas", "qué da problemas", "qué café da problemas",
			"que mudanças resultaram", "o que custam as manhãs", "quanto custam as manhãs", "o que dá problemas", "que café dá problemas",
		}, nil},
		{"help coffee", nil, []string{"add coffee", "add a coffee"}},
		{"help grinder", nil, []string{"add grinder", "add a grinder"}},
	}
})

// askedOf returns the command that asks about a coffee by name: where it stands, or its
// recipe.
func askedOf(word string, v Vocab) string {
	if name := placeAsked(word, v); name != "" {
		return name
	}
	word = withoutStanding(word)
	for _, head := range standings() {
		name, ok := strings.CutPrefix(word, head+" ")
		if !ok {
			name, ok = strings.CutSuffix(word, " "+head)
		}
		if ok && isCalled(v.Coffees, name) {
			return "today"
		}
	}
	return ""
}

// isCalled reports whether a name is one of the bar's, or a whole word of one alone: "owl".
func isCalled[T any](names []Name[T], low string) bool {
	n := 0
	for _, name := range names {
		if slices.Contains(strings.Fields(strings.ToLower(name.Name)), low) {
			n++
		}
	}
	return n == 1 || isNamed(names, low)
}

// withoutStanding cuts the end of a question where something stands.
func withoutStanding(word string) string {
	for _, end := range []string{" doing", " looking", " going", " on", " at", " now", " today", " right now"} {
		word = strings.TrimSuffix(word, end)
	}
	return word
}

// standAsked reads a question where a grinder stands, asked for by its name alone, "where is
// left", "what's right on", or by that of a coffee on it: "what's harbour on".
func standAsked(text string, v Vocab) (Call, bool) {
	word := strings.ReplaceAll(strings.Trim(strings.ToLower(text), " ¿?.!\n\t"), "’", "'")
	if isNamed(v.Coffees, word) || isNamed(v.Grinders, word) {
		return Call{}, false
	}
	for _, g := range v.Grinders {
		name := strings.ToLower(g.Name)
		head, ok := strings.CutSuffix(withoutStanding(word), " "+name)
		before, behind, _ := strings.Cut(word, name)
		if ok && (slices.Contains(standings(), head) || slices.Contains(onWhat(), head)) || slices.Contains(places(), [2]string{before, behind}) {
			return Call{Stands: []bar.GrinderID{g.ID}}, true
		}
	}
	for _, c := range v.Coffees {
		name := strings.ToLower(c.Name)
		head, ok := strings.CutSuffix(withoutStanding(word), " "+name)
		before, behind, _ := strings.Cut(word, name)
		if g := v.Recipes[c.ID].Grinder; g != 0 && (ok && slices.Contains(onWhat(), head) || slices.Contains(places(), [2]string{before, behind})) {
			return Call{Stands: []bar.GrinderID{g}, Of: c.ID}, true
		}
	}
	return Call{}, false
}

// places are what stands around a name in a question where it stands.
func places() [][2]string {
	return [][2]string{
		{"what is ", " on"},
		{"what's ", " on"},
		{"whats ", " on"},
		{"what is ", " at"},
		{"what's ", " at"},
		{"whats ", " at"},
		{"where does ", " stand"},
		{"where does ", " sit"},
	}
}

// placeAsked returns the command that answers what stands around a name: "is harbour dialled in", "what worked on harbour".
func placeAsked(word string, v Vocab) string {
	answers := []struct{ before, behind, command string }{
		{"is ", " dialled in", "today"},
		{"is ", " dialed in", "today"},
		{"is ", " dialled", "today"},
		{"is ", " in yet", "today"},
		{"what next for ", "", "today"},
		{"what's next for ", "", "today"},
		{"what now for ", "", "today"},
		{"what worked on ", "", "review"},
		{"what worked for ", "", "review"},
	}
	for _, a := range answers {
		name, ok := strings.CutPrefix(word, a.before)
		name, also := strings.CutSuffix(name, a.behind)
		if ok && also && a.command == "today" && (isNamed(v.Coffees, name) || isNamed(v.Grinders, name)) {
			return "today"
		}
		if ok && also && isNamed(v.Coffees, name) {
			return "review " + name
		}
	}
	return ""
}

// standings are what stands before a coffee's name where somebody asks how it does.
func standings() []string {
	return []string{
		"how's", "hows", "how is", "how's the", "hows the", "how is the", "where are we with", "where is", "where's", "how are we doing with", "where do we stand with",
		"come va", "come va il", "com'è messo", "com'è messa", "come è messo", "a che punto è", "a che punto siamo con", "come sta", "come siamo messi con",
		"wie läuft", "wie läuft der", "wie läuft's mit", "wie steht", "wie steht's mit", "wie stehts mit", "wie steht es mit", "wie steht es um", "wo steht", "wo stehen wir mit", "was ist mit",
		"où en est", "où en est le", "où on en est avec", "on en est où avec", "comment va", "comment va le",
		"cómo va", "como va", "cómo va el", "como va el", "cómo vamos con", "como vamos con", "cómo está", "cómo está el", "en qué punto está",
		"como vai", "como vai o", "como está", "como está o", "como estamos com", "como estamos com o", "em que ponto está", "em que ponto está o",
	}
}

// onWhat are what stands before a name where somebody asks what it is on.
func onWhat() []string {
	return []string{
		"what grind is", "what setting is", "what's the grind on", "what is the grind on", "what's the grind for", "what is the grind for", "what's the setting for", "what number is",
		"a quanto è", "a che macinatura è", "auf was steht", "auf welcher zahl steht", "à combien est", "a cuánto está", "a quanto está", "em quanto está",
	}
}
