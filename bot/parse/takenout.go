package parse

import "slices"

// takenOut reads that a shot is to be none, and why: "ignore that", "delete the second
// harbour", "scratch jo's tide, he forgot to tamp", "take that one out", "that was just a
// purge". What says so of the last one in another order, notCounted reads.
func takenOut(s *sheet) (Meaning, bool) {
	i := s.skip(0, append(sorries(), "no", "oops", "wait", "ah", "please", "can", "could", "you", "we", "just", ",", "nein", "non", "não", "bitte", "kannst", "du")...)
	if s.lows(i, 2) == "wrong shot" && s.skip(i+2, ".", "!", ",", "sorry") == len(s.tokens) {
		return Correction{Ignore: true}, true
	}
	if s.asks() && i == 0 || s.unsure.Kind != 0 {
		return nil, false
	}
	vague := s.at(i).is("undo", "bin") // "undo that" is of what was said last, and "ich bin das" of somebody
	verb := s.longest(i, takeOuts())
	if vague || s.at(i).is("take") && s.holds("out") { // "take that one out"
		verb = max(verb, 1)
	}
	c, n, named := s.shotMeant(i + verb)
	one := named || n > 1 || s.at(i+verb).is("l'ultimo", "l'ultima")
	end := s.skip(i+verb+n, "please", "sorry", "bitte", "per", "favore", "por", "favor", "wieder", "out")
	if n > 0 && s.none(end) {
		return c, true
	}
	if verb == 0 || n == 0 {
		return c, false
	}
	if s.skip(end, ".", "!", ",", "löschen", "streichen", "?") == len(s.tokens) {
		c.Vague = !named && n == 1 && s.at(i).is("scratch", "strike")
		return c, (!vague || one) && (named || c.Of == 0)
	}
	return c, s.because(end, named)
}

// shotMeant reads which shot is to be none: one that is named, or the last.
func (s *sheet) shotMeant(i int) (c Correction, n int, named bool) {
	c.Ignore = true
	if c.Which, n = s.which(i); n > 0 && s.shot.Coffee != 0 && slices.Contains(s.used[i:i+n], true) {
		c.Of = s.shot.Coffee
	}
	if named = c.Which != (Which{}) || c.Of != 0; named {
		return c, n, named
	}
	if j := s.skip(i, "the", "that", "den", "il", "le", "el", "o"); j < len(s.tokens) && s.used[j] && s.shot.Coffee != 0 && s.shot.Grinder == 0 { // "the harbour" may be the coffee
		end := j
		for c.Of = s.shot.Coffee; end < len(s.tokens) && s.used[end]; end++ {
		}
		return c, end - i, false
	}
	return c, max(n, s.thatOne(i)), false
}

// none reports whether a message says from token i on that what was pulled was no shot:
// "was just a purge".
func (s *sheet) none(i int) bool {
	j := s.skip(i, wasWords()...)
	of := s.skip(j, "just", "only", "a", "an", "nur", "ein", "eine", "solo", "un", "una", "uno", "juste", "une", "sólo", "só", "um", "uma")
	return j > i && of > j && s.at(of).is("purge", "flush", "dud", "spülung", "spülbezug", "fehlbezug", "spurgo", "purga") && s.skip(of+1, "shot", ".", "!") == len(s.tokens)
}

// takeOuts say that a shot is to be none.
func takeOuts() []string {
	return []string{
		"delete", "ignore", "scrap", "scratch", "forget", "remove", "disregard", "cancel", "strike", "chuck", "take out", "lascia perdere", "laisse tomber", "quita", "enlève", "retire", "don't count", "dont count", "don't log", "do not count", "discount",
		"lösch", "lösche", "löschen", "streich", "streiche", "ignorier", "ignoriere", "vergiss", "cancella", "ignora", "elimina", "togli", "annulla", "butta",
		"supprime", "efface", "annule", "oublie", "jette", "borra", "anula", "olvida", "tira", "apaga", "esquece", "ignore-o",
	}
}

// thatOne returns how many tokens from i on say no more than the shot that was pulled last.
func (s *sheet) thatOne(i int) int {
	n := s.longest(i, []string{
		"that", "that one", "that last one", "that shot", "this", "this one", "this shot", "it", "the shot", "my shot", "last one", "last shot", "the last", "the last one", "the last shot", "my last one", "my last shot",
		"das", "den", "den letzten", "die letzte", "das letzte", "den shot", "den bezug", "der letzte", "der shot", "der bezug", "quello", "quella", "questo", "questa", "l'ultimo", "l'ultima", "ça", "celui-là", "celui-ci", "le dernier", "la dernière", "le shot",
		"ese", "eso", "este", "el último", "la última", "isso", "esse", "o último", "a última",
	})
	return n
}

// because reports whether what follows from i on says why a shot is to be none. Of one that
// was named, that may be anything without a number; of "that one" it is of a shot.
func (s *sheet) because(i int, named bool) bool {
	why := s.skip(i, ",", ".", ";", "-", "it", "that", "was", "it's", "its", "because", "cos", "cause", "as", "i", "he", "she", "they", "we", "only", "just", "a",
		"era", "è", "perché", "ho", "ha", "war", "weil", "es", "ich", "hab", "habe", "er", "sie", "wir", "nur", "eine", "ein", "una", "uno", "un", "une", "c'était", "parce", "car", "j'ai", "il", "elle", "fue", "porque", "me", "se", "foi", "uma", "um")
	if why == i || why == len(s.tokens) || len(s.tokens)-i > mostReason || numbered(s.tokens[i:]) {
		return false
	}
	return named || s.spoiltIn(why, len(s.tokens)) || s.at(why).is("practice", "practise", "test", "mistake", "wrong", "accident", "training", "prova", "sbaglio", "errore", "versehen", "übung", "fehler", "sorry", "essai", "erreur", "prueba", "error", "teste", "erro", "treino")
}

// spoiltIn reports whether the tokens from from up to to hold what spoils a shot.
func (s *sheet) spoiltIn(from, to int) bool {
	return slices.ContainsFunc(s.tokens[from:to], func(t token) bool {
		return t.is("purge", "tamp", "tamped", "tamper", "puck", "channelled", "channeled", "channeling", "channelling", "basket", "portafilter", "pressare", "pressato", "cestello", "filtro", "cesta", "cesto", "panier", "filtre", "tampen", "getampt", "sieb", "siebträger", "puckscreen",
			"tasser", "tassé", "tassée", "tampear", "prensar", "compactar", "calcar", "prensei", "compactei")
	})
}

// mostReason is how many tokens say at the most why. Assumed.
const mostReason = 10
