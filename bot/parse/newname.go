package parse

import (
	"slices"
	"strings"
)

// greet passes over a greeting at the beginning, and over who says that they are there:
// "hey,", "morning all,", "mara here,".
func (s *sheet) greet() {
	i := 0
	for _, words := range greetings() {
		if n := strings.Count(words, " ") + 1; s.lows(0, n) == words {
			i = max(i, n)
		}
	}
	if i > 0 {
		i = s.skip(i, "all", "team", "everyone", "folks", "guys", "there", "people", "both", "a", "tutti", "tutte", "zusammen", "alle", "tous", "à", "todos", "todas", "ragazzi", "leute", "chicos", "equipo", "équipe", "pessoal")
	}
	i = s.skip(i, ",", ".", "!", "–", "-")
	if s.at(i).kind == wordToken && s.at(i+1).is("here", "hier", "qui", "aquí", "ici", "aqui") && s.first > i+2 {
		i = s.skip(i+2, ",", ".", "!", ":", "–", "-")
	}
	s.hold(0, i)
}

func greetings() []string {
	return []string{
		"hey", "hi", "hello", "hiya", "heya", "yo", "morning", "good morning", "afternoon", "good afternoon", "evening", "ciao", "buongiorno", "salve", "hallo", "moin", "servus", "guten morgen",
		"salut", "bonjour", "coucou", "guten tag", "bonsoir", "buonasera", "hola", "buenos días", "buenos dias", "buen día", "buen dia", "buenas tardes", "buenas noches", "buenas", "olá", "oi", "bom dia", "boa tarde", "boa noite",
	}
}

// dayWords may stand beside a coffee's name before the numbers: "harbour today, 18 36 24".
func dayWords() []string {
	return []string{
		"today", "today's", "now", "this", "morning", "oggi", "adesso", "stamattina", "heute", "jetzt", "morgen", "aujourd'hui", "ce", "matin", "maintenant", "hoy", "ahora", "esta", "mañana", "hoje", "agora", "manhã",
	}
}

// guessName takes the one strange word or two of a shot, wherever they stand, for the name of
// the first coffee of a bar that has none yet, "18 36 22 sour harbour", and in any bar what
// ends a message behind "on": "18 36 22 sour on harbour". The bot asks.
func (s *sheet) guessName() {
	first := len(s.vocab.Coffees) == 0
	if s.shot.Coffee != 0 || s.shot.Stranger != "" || s.unsure.Kind != 0 || s.shot.Two {
		return
	}
	if !s.maybeNamed() {
		return
	}
	words, unread := s.copied().readWords(len(s.tokens))
	if _, unread = s.inCompany(words, unread); len(unread) > mostUnread {
		return
	}
	left := strings.Fields(strings.ToLower(strings.Join(unread, " ")))
	from, to := -1, -1
	for i := 0; i < len(s.tokens); i++ {
		end := i
		for s.nameless(end) && len(s.tokens[end].low) > 2 && slices.Contains(left, s.tokens[end].low) && !s.at(end).is(remarks()...) {
			end++
		}
		on := s.at(i-1).is("on", "auf", "su", "sur", "mit", "con", "avec", "com")
		switch {
		case end == i:
			continue
		case end-i > 2, !first && (!on || end < len(s.tokens) || len(s.tokens[i].low) < 4 || s.tokens[i].is(sensedOn()...)):
		case from < 0, on, i < s.first && to <= s.first: // the nearest to the numbers, or what it was said to be on
			from, to = i, end
		}
		i = end
	}
	if from < 0 {
		return
	}
	s.shot.Stranger = cut(s.text[s.tokens[from].start:s.tokens[to-1].end()])
	s.shot.Guess = first
	s.hold(from, to-from)
}

// sensedOn are where in a mouth and when something is tasted, and what people are on.
func sensedOn() []string {
	return []string{
		"finish", "tongue", "palate", "sides", "side", "back", "front", "lips", "teeth", "gums", "nose", "opening", "arrival", "cooling", "repeat", "paper", "time", "purpose",
		"shift", "break", "duty", "tills", "camera", "average", "balance", "point", "schedule", "board", "hold", "screen", "spec", "timer", "scale", "scales",
	}
}

// maybeNamed reports whether a word may be a coffee's that nobody has named.
func (s *sheet) maybeNamed() bool {
	for i, t := range s.tokens {
		if len(t.low) > 2 && s.nameless(i) {
			return true
		}
	}
	return false
}

// Named returns the name in a message that says what the coffee is called and nothing
// else: "it was harbour", "harbour it is", "call it harbour". Surely is false for a
// name alone.
func Named(text string, v Vocab) (name string, surely, ok bool) {
	s := newSheet(text, v)
	for len(s.tokens) > 0 && s.tokens[len(s.tokens)-1].kind == symbolToken {
		s.tokens = s.tokens[:len(s.tokens)-1]
	}
	from := 0
	for _, words := range calledWords() {
		if n := strings.Count(words, " ") + 1; s.lows(0, n) == words {
			from = max(from, n)
		}
	}
	from = s.skip(from, "the", "our", "a", "new", "one", "coffee", "called", ",", ":", "il", "la", "der", "die", "das", "le", "el", "o")
	to := from
	for to < from+2 && s.nameless(to) && !s.at(to).is(remarks()...) && !s.at(to).is(greetings()...) && !s.at(to).is(weather()...) {
		to++
	}
	end := to
	for _, words := range []string{"it is", "it was", "then", "please", "blend", "i think", "that was", "era", "war das", "war es", "c'était", "fue"} {
		if n := strings.Count(words, " ") + 1; to > from && s.lows(to, n) == words {
			end = to + n
			if words == "blend" {
				to++
			}
		}
	}
	if to == from || end < len(s.tokens) {
		return "", false, false
	}
	return s.text[s.tokens[from].start:s.tokens[to-1].end()], from > 0 || end > to, true
}

// weather is what people say of a day: "it was raining".
func weather() []string {
	return []string{
		"busy", "raining", "rainy", "sunny", "hot", "cold", "packed", "closed", "open", "late", "early", "quiet", "mad", "mental", "fun", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday",
		"chiuso", "aperto", "tardi", "presto", "spät", "früh", "voll", "tard", "tarde", "cerrado", "fechado", "yesterday", "them", "mine", "yours", "broken", "empty", "full", "done", "over", "fast", "slow",
	}
}

// calledWords begin what says how a coffee is called.
func calledWords() []string {
	return []string{
		"it was", "that was", "it is", "this is", "that is", "its", "it's", "that's", "was", "call it", "it's called", "its called", "the coffee is", "coffee is", "the coffee was", "coffee was",
		"si chiama", "era", "è", "das war", "es war", "heißt", "er heißt", "c'est", "c'était", "il s'appelle", "es", "se llama", "chama-se", "é", "foi",
	}
}
