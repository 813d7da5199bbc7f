// Package parse reads what people write to the bot: text in, meaning out. It
// knows no clock and no disk.
//
// A line that begins with a slash is a command and goes to [Command]. All
// else goes to [Shorthand]: the text is cut into tokens (tokens.go,
// numbers.go), the bar's names are found (names.go), rules take what they
// know (shorthand.go, labels.go, grind.go, marks.go), numbers without a
// label get their places (places.go, order.go), and what is left is read as
// taste (words.go). A message with dose, yield and time of a shot's size is
// recorded, asked about or refused (core.go). Whatever else is not surely meant
// for the bot is Chatter.
package parse

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"shothand/advisor/bar"
)

// MaxText is the longest message that is read, in characters.
const MaxText = 2000

// Message reads any message. The error is a Mistake.
func Message(text string, v Vocab) (Meaning, error) {
	text = clean(text)
	if name := bareCommand(text, v); name != "" {
		text = "/" + name
	}
	if !isCommand(text) {
		return Shorthand(text, v)
	}
	c, err := Command(text)
	if err != nil {
		return nil, err
	}
	return Call{Command: c}, nil
}

// bareCommand returns the command that one word alone asks for, or nothing.
// A coffee or a grinder of that name, or an own word, goes first.
func bareCommand(text string, v Vocab) string {
	word := strings.ToLower(strings.Trim(text, " .!\n\t"))
	word = strings.TrimSuffix(strings.TrimSuffix(word, " pls"), " please")
	named := slices.ContainsFunc(v.Coffees, func(n Name[bar.CoffeeID]) bool { return strings.EqualFold(n.Name, word) }) ||
		slices.ContainsFunc(v.Grinders, func(n Name[bar.GrinderID]) bool { return strings.EqualFold(n.Name, word) }) ||
		slices.ContainsFunc(v.Words, func(w bar.Own) bool { return strings.EqualFold(w.Word, word) })
	switch {
	case named:
		return ""
	case word == "?" && strings.TrimSpace(text) == "?":
		return "help"
	case slices.Contains([]string{"add coffee", "add a coffee", "add grinder", "add a grinder"}, word):
		return "help " + word[strings.LastIndex(word, " ")+1:]
	}
	word = strings.Trim(word, " ¿?")
	for _, n := range v.Coffees {
		if asked, ok := strings.CutSuffix(word, " "+strings.ToLower(n.Name)); ok && slices.Contains(whereOf(), asked) {
			return "today"
		}
	}
	for _, b := range bareWords() {
		if slices.Contains(b.said, word) {
			return b.command
		}
	}
	return bareReview(text, v)
}

// whereOf ask, before the name of a coffee, where it stands.
func whereOf() []string {
	return []string{
		"how is", "how's", "where is", "where's", "wie läuft", "wie steht's mit", "wie stehts mit", "wie steht es mit", "wo steht", "come va", "com'è messo", "a che punto è", "dove sta",
		"où en est", "ou en est", "comment va", "cómo va", "como va", "cómo está", "como vai", "como vai o", "como está o", "como está",
	}
}

// A bareWord is a command and how people say it without its slash.
type bareWord struct {
	command string
	said    []string
}

func bareWords() []bareWord {
	return []bareWord{
		{"help", []string{"help", "help me", "how do i undo", "how to undo", "how does this work", "hilfe", "aide", "aiuto", "ayuda", "ajuda"}},
		{"undo", []string{
			"undo", "cancel", "undo that", "undo last", "undo it", "undo the last", "undo the last one",
			"rückgängig", "rückgängig machen", "zurück", "zurücknehmen", "löschen", "letzten löschen",
			"annulla", "cancella", "cancella l'ultima", "cancella l'ultimo", "togli", "togli l'ultima", "togli l'ultimo",
			"annuler", "annule", "efface", "deshacer", "deshazlo", "deshaz", "anular", "borrar", "desfazer", "desfaz", "anula", "apagar",
		}},
		{"today", []string{
			"today", "status", "where are we", "where do we stand",
			"heute", "stand", "was steht an", "wo stehen wir", "wie steht's", "wie stehts",
			"oggi", "stato", "a che punto siamo", "come siamo messi", "come va",
			"aujourd'hui", "où en est-on", "on en est où", "on en est ou", "où on en est", "état",
			"hoy", "estado", "cómo vamos", "como vamos", "cómo va", "hoje", "como estamos", "ponto da situação",
		}},
		{"why", []string{
			"why", "why finer", "why coarser", "why that", "why this", "warum", "wieso", "weshalb", "perché", "perchè", "perche", "come mai",
			"pourquoi", "por qué", "por que", "por quê", "porquê", "porque",
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
		}},
	}
}

// isCommand reports whether a name follows a slash at the beginning.
func isCommand(text string) bool {
	rest, ok := strings.CutPrefix(strings.TrimSpace(text), "/")
	r, _ := utf8.DecodeRuneInString(rest)
	return ok && unicode.IsLetter(r)
}

// clean makes text whole characters.
func clean(text string) string { return strings.ToValidUTF8(text, "\uFFFD") }

func long(text string) bool {
	return len(text) > MaxText && utf8.RuneCountInString(text) > MaxText
}

// headWords is how many words of a message that is too long are read, to see
// whether it starts like a shot.
const headWords = 5

// tooLong tells a shot that goes on for too long from other long messages,
// which are left alone.
func tooLong(text string, v Vocab) (Meaning, error) {
	head := text[:400]
	words := strings.Fields(head)
	for n := min(headWords, len(words)); n > 0; n-- {
		m, err := Shorthand(strings.Join(words[:n], " "), v)
		if _, ok := m.(Shot); ok && err == nil {
			return nil, Mistake{Kind: TooLong, What: cut(strings.Join(words[:n], " ")), More: "2000 characters"}
		}
	}
	return Chatter{}, nil
}
