package parse

import (
	"math"
	"slices"
	"strings"
	"sync"

	"shothand/advisor/bar"
)

// A message that nobody's rule knows may still be one with something polite around it:
// "Apologies, that was Harbour.", "bitter i mean", "the dial was on 5.2 for that one". The
// lists below are passed over here, once for all rules, and what is left is read again.

// leadIns stand before what is said and say nothing of their own.
func leadIns() []string {
	return []string{
		"and", "also", "oh", "yes", "yeah", "yep", "ja", "sì", "sí", "oui", "sim", "ps", "well", "so", "hey", "fyi", "just to say", "i should say that", "i should say", "i should add that", "i forgot to say", "just so you know", "for the record",
		"to be exact", "to be precise", "by the way", "btw", "turns out", "i just noticed", "just noticed", "und", "übrigens", "also", "nur zur info", "e", "comunque", "tra l'altro", "per la precisione", "et", "au fait", "d'ailleurs",
		"y", "por cierto", "ah", "já agora", "a propósito", "che", "that", "dass", "que",
		"i forgot", "forgot", "forgot to say", "forgot to mention", "forgot to tell you", "i forgot to mention", "i forgot to tell you", "should have said", "should've said", "ich hab vergessen", "ich habe vergessen", "hab vergessen", "vergessen", "vergessen zu sagen", "hab vergessen zu sagen",
		"ho dimenticato", "mi sono dimenticato", "mi sono dimenticata", "mi sono scordato", "mi sono scordata", "ho dimenticato di dire", "mi sono dimenticato di dire", "dimenticavo", "olvidé", "olvidé decir", "se me olvidó", "se me olvidó decir", "me olvidé de decir", "me olvidé", "olvidaba",
		"j'ai oublié", "j'ai oublié de dire", "oublié de dire", "oublié", "esqueci", "esqueci-me", "esqueci-me de dizer", "esqueci de dizer", "me esqueci", "me esqueci de dizer",
		"i think", "i believe", "i guess", "i reckon", "pretty sure", "ich glaube", "ich glaub", "glaube", "glaub", "credo", "credo che", "mi pare", "je crois", "je crois que", "je pense", "creo", "creo que", "me parece que", "acho", "acho que", "penso que",
	}
}

// takeBacks stand before what is put right.
func takeBacks() []string {
	return append(sorries(),
		"apologies", "my apologies", "all", "everyone", "wait", "no", "nope", "hang on", "hold on", "my mistake", "my fault", "i was wrong", "i got that wrong", "i got it wrong",
		"i made a mistake", "i mistyped", "mistyped", "scratch that", "small correction", "correction", "let me correct that", "let me correct myself", "actually", "oops", "i mean", "i meant",
		"aspetta", "aspettate", "ho sbagliato", "mi sono sbagliato", "mi sono sbagliata", "mi correggo", "chiedo scusa", "errore mio", "anzi", "ops", "mi sa che", "digo", "ne", "nö", "nan",
		"warte", "wartet", "moment", "halt", "nein", "nee", "doch", "ach", "mein fehler", "ich hab mich vertan", "ich habe mich vertan", "hab mich vertan", "vertippt", "verzeihung", "quatsch",
		"attends", "attendez", "non", "je me suis trompé", "je me suis trompée", "erreur de ma part", "mes excuses", "toutes mes excuses", "en fait", "oups", "mince",
		"espera", "esperad", "me equivoqué", "me he equivocado", "mis disculpas", "disculpas", "error mío", "ay",
		"enganei-me", "me enganei", "erro meu", "peço desculpa", "as minhas desculpas", "não", "ai")
}

// changedMinds stand before how a cup tastes after all.
func changedMinds() []string {
	return []string{
		"i take that back", "i take it back", "on second thoughts", "on second thought", "on reflection", "thinking about it", "second sip", "i was wrong", "i got that wrong", "i got it wrong", "changed my mind", "i changed my mind",
		"ich nehm das zurück", "ich nehme das zurück", "nehm ich zurück", "bei genauerem probieren", "beim zweiten schluck", "ich hab mich vertan", "hab mich vertan", "ripensandoci", "mi sbagliavo", "ci ho ripensato", "mi sono sbagliato", "mi sono sbagliata", "ho sbagliato",
		"pensándolo bien", "me equivoqué", "lo retiro", "à la réflexion", "finalement", "je me suis trompé", "je me suis trompée", "pensando bem", "enganei-me", "afinal",
	}
}

// tails stand behind what is said.
func tails() []string {
	return []string{
		"fyi", "forgot to turn it", "forgot to move it", "forgot to change it", "forgot to touch it", "didn't turn it", "didnt turn it", "too", "as well", "also", "auch", "anche", "pure", "aussi", "también", "também", "by the way", "btw", "tho", "though", "my bad", "my mistake", "my fault", "sorry about that", "apologies", "tbh", "to be exact", "to be precise",
		"mein fehler", "errore mio", "error mío", "erro meu",
	}
}

// meants stand behind the word that was meant.
func meants() []string {
	return []string{
		"i mean", "i meant", "i meant to say", "meant to say", "volevo dire", "intendo", "intendevo", "meine ich", "meinte ich", "ich meine", "je veux dire", "je voulais dire",
		"quiero decir", "quise decir", "quería decir", "quero dizer", "queria dizer",
	}
}

// ofThatOne say, anywhere, that a message is of the last shot.
func ofThatOne() []string {
	var list []string
	for _, of := range []string{"on", "of", "for", "in", "from"} {
		for _, one := range []string{"my last shot", "my last one", "the last shot", "the last one", "that one", "that shot", "this one", "this shot"} {
			list = append(list, of+" "+one)
		}
	}
	return append(list, "del mio ultimo shot", "del mio ultimo", "per quello", "per l'ultimo", "dell'ultimo", "vom letzten shot", "vom letzten", "beim letzten shot", "beim letzten", "für den letzten", "bei dem letzten", "bei dem", "für den",
		"de mon dernier shot", "de mon dernier", "pour le dernier", "du dernier", "de mi último shot", "de mi último", "del último", "en ese", "do meu último", "do último", "nesse")
}

// unled reads a message without what stands around it. It is of a shot that was told: only
// what puts that right is taken.
func (s *sheet) unled() (Meaning, bool) {
	if len(s.tokens) < 2 || s.asks() || s.asked() {
		return nil, false
	}
	if m, ok := s.sameTaste(); ok {
		return m, true
	}
	from, takes := s.leadIn()
	to, meant := s.tail(from)
	left, told := s.without(from, to)
	if left == strings.TrimSpace(s.text) || left == "" {
		return nil, false
	}
	changed := s.longest(0, changedMinds()) > 0
	heads := []string{""}
	if takes || meant {
		heads = []string{"", "sorry, "}
	}
	for _, head := range heads {
		rest := newSheet(head+left, s.vocab)
		m, err := rest.copied().asTyped()
		if err != nil {
			continue
		}
		if _, chatter := m.(Chatter); chatter && to < len(s.tokens) {
			if c, ok := takenOut(rest); ok {
				return c, true
			}
		}
		switch w := m.(type) {
		case Correction:
			w.Yours = s.sawYou()
			if w.To = told; !takes && told == "" && (w.Ignore || w.By != "" || w.Mine) {
				return w, true
			}
			if !w.Ignore && w.By == "" && !w.Mine && (!w.Alone && !w.Weak || takes) {
				return w, true
			}
		case Words:
			if s.forgot() && !meant && !changed && w.By == "" { // it stands beside what was said
				w.Instead, w.Also = false, true
				return w, len(w.Words) > 0
			}
			w.Instead = true
			if told != "" && !meant && !changed {
				w.Instead = false
			}
			ok := slices.ContainsFunc(w.Words, func(w bar.Word) bool { return w.Term == "ok" }) // "on second thoughts it's fine" is of anything
			if (meant || changed && !ok || told != "") && w.By == "" {
				return w, true
			}
		case Set:
			if w.Grind.Said && !s.ofLast(from) && (!w.Weak || s.told(len(s.tokens))) {
				return w, true
			}
		case Shot, Call, Happened, CallIt, Chatter:
		}
	}
	return nil, false
}

// forgot reports whether a message says that something was left out before.
func (s *sheet) forgot() bool {
	return s.holds("forgot", "vergessen", "dimenticato", "dimenticata", "scordato", "scordata", "dimenticavo", "olvidé", "olvidó", "olvidaba", "oublié", "esqueci", "esqueci-me")
}

// ofLast reports whether a message says that it is of the last shot.
func (s *sheet) ofLast(from int) bool {
	of := ofThatOne()
	for i := from; i < len(s.tokens); i++ {
		if s.longest(i, of) > 0 {
			return true
		}
	}
	return false
}

// leadIn returns where what is said begins, and whether what stands before takes something
// back.
func (s *sheet) leadIn() (from int, takes bool) {
	neutral, back := leadIns(), append(takeBacks(), changedMinds()...)
	for from < len(s.tokens) {
		n := s.longest(from, back)
		takes = takes || n > 0
		if n = max(n, s.longest(from, neutral)); n == 0 {
			break
		}
		from += n
	}
	return from, takes
}

// tail returns where it ends, and whether it is said to be what was meant.
func (s *sheet) tail(from int) (to int, meant bool) {
	to = len(s.tokens)
	if s.told(to) {
		to -= 2
	}
	for {
		end := to
		for to > from && s.at(to-1).is(",", ".", "!", ";") {
			to--
		}
		to = s.howKnown(from, to)
		for _, list := range [][]string{meants(), tails()} {
			for _, words := range list {
				if n := strings.Count(words, " ") + 1; to-n > from && s.phrase(to-n, words) == n {
					meant = meant || slices.Contains(meants(), words)
					to -= n
					break
				}
			}
		}
		if to == end {
			return to, meant
		}
	}
}

// howKnown returns where what is said ends, before how that is known: "i timed it", "she
// says", ", hab gestoppt".
func (s *sheet) howKnown(from, to int) int {
	i := to - 1
	for i > from && s.at(i).is("it", "that", "this", "you", "him", "her", "them", "u", "twice", "myself", "so", "es", "selbst", "dich") {
		i--
	}
	verb := i
	if !s.at(verb).is(knowing()...) {
		return to
	}
	for i > from && s.at(i-1).is("i", "he", "she", "they", "we", "i've", "just", "ich", "er", "sie", "wir", "hab", "hab's", "habe", "hat", "io", "l'ho", "ho", "je", "j'ai", "l'ai", "il", "elle", "yo", "lo", "la", "he", "eu", "ele", "ela") {
		i--
	}
	if i <= from || i == verb && verb == to-1 && !s.at(i-1).is(",", ".", ";", "-") {
		return to
	}
	return i
}

// onThat takes "on that" before what it was.
func (s *sheet) onThat(i int) int {
	if !s.at(i).is("on", "of", "for") || !s.at(i+1).is("that", "this") || !s.at(i+2).is(wasWords()...) {
		return 0
	}
	return 2
}

// sawYou reports whether a message says that its writer saw another pull the shot.
func (s *sheet) sawYou() bool {
	for i := range s.tokens {
		if s.at(i).is("watched", "saw", "seen") && s.at(i+1).is("you", "u") || s.at(i).is("dich", "t'ho", "t'ai", "te") && s.at(i+1).is("gesehen", "visto", "vu", "vi") {
			return true
		}
	}
	return false
}

// knowing say how something is known.
func knowing() []string {
	return append(saids(),
		"timed", "weighed", "checked", "watched", "saw", "counted", "measured", "looked", "reckon", "reckons", "swear", "think", "thinks",
		"gestoppt", "gewogen", "gesehen", "geschaut", "gemessen", "nachgemessen", "nachgeschaut", "cronometrato", "pesato", "misurato", "controllato", "visto",
		"chronométré", "pesé", "mesuré", "vérifié", "vu", "cronometrado", "pesado", "medido", "mirado", "cronometré", "medí", "miré", "cronometrei", "pesei", "medi", "vi")
}

// told reports whether "lena said" stands before token to, and something before that.
func (s *sheet) told(to int) bool {
	who, says := s.at(to-2), s.at(to-1)
	return to > 3 && says.is(saids()...) && slices.Contains(s.vocab.People, who.low)
}

// saids say that somebody said it.
func saids() []string {
	return []string{"said", "says", "sagt", "meint", "meinte", "dice", "dit", "diz", "disse", "dijo", "dixit"}
}

// longest returns how many tokens from i on the longest phrase of a list has that stands
// there.
func (s *sheet) longest(i int, list []string) (n int) {
	for _, words := range list {
		n = max(n, s.phrase(i, words))
	}
	return n
}

// without returns the text of the tokens from from up to to, without what says that it is
// of the last shot and to which of the bar's people it is said: "that was 19.5 in, jo".
func (s *sheet) without(from, to int) (left, told string) {
	var b strings.Builder
	end, of := -1, ofThatOne()
	for i := from; i < to; {
		if n := max(s.longest(i, of), s.onThat(i)); n > 0 && i+n <= to && i > from {
			i += n
			continue
		}
		if name := s.oneOf(i); name != "" && !s.genitive(i) && (s.at(i-1).is(",") || s.at(i+1).is(",", ":") || i == from && s.at(i+1).is(spokenOf()...)) && (i > from || i+1 < to) {
			told = name
			i++
			continue
		}
		t := s.tokens[i]
		if end >= 0 && t.start > end {
			b.WriteByte(' ')
		}
		b.WriteString(t.text)
		end = t.end()
		i++
	}
	return strings.Trim(b.String(), " ,:"), told
}

// spokenOf stand at the head of what is said of a shot, behind whom it is said to.
func spokenOf() []string {
	return []string{"the", "that", "it", "your", "der", "die", "das", "dein", "deiner", "il", "la", "quello", "quella", "le", "celui", "el", "ese", "o", "esse"}
}

// stood reads where the grinder was for the shot that was just pulled: "i'm at 14", "sono a
// 14" where that was asked, else what says that it was: "die mühle stand auf 5.1".
func stood(s *sheet) (Meaning, bool) {
	i, past, was, thing, dial := s.wrong(), false, false, s.shot.Grinder != 0, false
	for i < len(s.tokens) && s.tokens[i].is(standing()...) || s.ofGrinder(i) {
		t := s.tokens[i]
		past = past || t.is(stoodWords()...) || t.is("standing", "sitting") && s.at(i-1).is(wasWords()...)
		was = was || t.is(wasWords()...)
		dial = dial || t.is(grinderWords()...) || t.is(dialWords()...)
		i++
	}
	at := s.skip(i, append(ats(), "at", "on", "@")...)
	n := s.dialLength(at, true)
	if s.isNumber(at) {
		n = max(n, 1)
	}
	on := at > i || (past || !was || strings.ContainsAny(s.at(at).text, ".,")) && s.onlyPlace(at) || dial && s.isNumber(at) // "11", "eleven i think"; "was 11" may be another figure
	that := s.longest(at+n, []string{"for that one", "for that", "for it", "für den", "per quello", "pour celui-là", "para ese", "para esse"})
	past = past || that > 0 && dial
	end := s.skip(at+n+that, ".", "!", "now", "then", "i", "think", "guess", "reckon", "ich", "glaub", "glaube", "credo", "creo", "je", "crois", "acho")
	surely := past && s.shot.Coffee == 0 && (thing || dial || strings.ContainsAny(s.at(at).text, ".,"))
	if n == 0 || !on || end != len(s.tokens) || !surely && (!s.vocab.Unplaced || s.shot.Grinder != 0) {
		return nil, false
	}
	c := Correction{Grind: s.readDial(at, n), Grinder: s.shot.Grinder}
	c.Grind.Said = true
	return c, true
}

// leastAlone is the least whole number that alone is where a dial stood. Assumed.
const leastAlone = 5

// onlyPlace reports whether the number at i may be where the dial stood and no other figure
// of the shot whose dial was asked for.
func (s *sheet) onlyPlace(i int) bool {
	if !s.vocab.Unplaced || !s.isNumber(i) || unitOf(s.at(i+1).low) != noUnit {
		return false
	}
	if x := first(s.at(i).num); x < leastAlone && x == math.Trunc(x) { // the place of an answer
		return false
	}
	return !slices.ContainsFunc(placesRight(), func(at place) bool {
		is := s.vocab.Pulled.figure(at)
		return is != 0 && apart(first(s.at(i).num), is) < nearRighting
	})
}

// ofGrinder reports whether a grinder's name holds token i.
func (s *sheet) ofGrinder(i int) bool { return i < len(s.tokens) && s.used[i] && s.shot.Coffee == 0 }

// stoodWords say where something was.
func stoodWords() []string {
	return []string{"stood", "stand", "estaba", "estaban", "estava", "estavam", "stava", "ero", "eravamo", "étais", "j'étais", "étions", "hatte", "avevo", "tenía", "tinha", "avais", "j'avais"}
}

// standing may stand before where the dial is.
//
//nolint:gochecknoglobals // made once, never changed
var standing = sync.OnceValue(func() []string {
	return slices.Clip(slices.Concat(stoodWords(), wasWords(), beings(), grinderWords(), dialWords(), []string{
		"around", "about", "roughly", "circa", "etwa", "ungefähr", "environ", "standing", "sitting", "i'm", "im", "we're", "it's", "its", "it", "is", "i", "we", "the", "that", "one", "è", "ich", "wir", "er", "die", "der", "das", "den", "steht", "je", "on", "est", "le", "la", "está", "el", "lo", "o", "il", "nous", "quello", "quella", "questo", "ese", "esse", "celui-là", "ça",
	}))
})
