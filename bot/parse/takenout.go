package parse

// takenOut reads that a shot is to be none, and why: "ignore that", "delete the second
// harbour", "scratch jo's tide, he forgot to tamp", "bin that one, bad puck".
func takenOut(s *sheet) (Meaning, bool) {
	i := s.skip(0, append(sorries(), "no", "oops", "wait", "ah", "please", "can", "you", "just", ",", "nein", "non", "não", "bitte")...)
	if s.lows(i, 2) == "wrong shot" && s.skip(i+2, ".", "!", ",", "sorry") == len(s.tokens) {
		return Correction{Ignore: true}, true
	}
	undo := s.at(i).is("undo", "bin") // "undo that" is of what was said last, and "ich bin das" of somebody
	if s.asks() || s.unsure.Kind != 0 || !undo && !s.at(i).is(takeOuts()...) {
		return nil, false
	}
	c := Correction{Ignore: true}
	which, n := s.which(i + 1)
	if n > 0 && s.shot.Coffee != 0 && s.holdsName(i+1, n) {
		c.Of = s.shot.Coffee
	}
	named := which != Which{} || c.Of != 0
	if c.Which = which; !named {
		n = s.thatOne(i + 1)
	}
	end := s.skip(i+1+n, "please", "sorry", "bitte", "per", "favore", "por", "favor", "löschen", "streichen")
	if n > 0 && s.skip(end, ".", "!", ",") == len(s.tokens) {
		c.Vague = !named && n == 1 && s.at(i).is("scratch", "strike")
		return c, named || !undo || s.at(i+n).is("one", "shot")
	}
	return c, n > 0 && s.because(end, named)
}

// takeOuts say that a shot is to be none.
func takeOuts() []string {
	return []string{
		"delete", "ignore", "scrap", "scratch", "forget", "remove", "disregard", "cancel", "strike", "chuck",
		"lösch", "lösche", "löschen", "streich", "streiche", "ignorier", "ignoriere", "vergiss", "cancella", "ignora", "elimina", "togli", "annulla", "butta",
		"supprime", "efface", "annule", "oublie", "jette", "borra", "anula", "olvida", "tira", "apaga", "esquece", "ignore-o",
	}
}

// thatOne returns how many tokens from i on say no more than the shot that was pulled last.
func (s *sheet) thatOne(i int) int {
	n := s.longest(i, []string{
		"that", "that one", "that last one", "that shot", "this", "this one", "this shot", "it", "the shot", "my shot", "last one", "last shot", "the last", "the last one", "the last shot", "my last one", "my last shot",
		"das", "den", "den letzten", "die letzte", "das letzte", "den shot", "den bezug", "quello", "quella", "questo", "questa", "l'ultimo", "l'ultima", "ça", "celui-là", "celui-ci", "le dernier", "la dernière", "le shot",
		"ese", "eso", "este", "el último", "la última", "isso", "esse", "o último", "a última",
	})
	return n
}

// because reports whether what follows from i on says why a shot is to be none. Of one that
// was named, that may be anything without a number; of "that one" it is of a shot.
func (s *sheet) because(i int, named bool) bool {
	why := s.skip(i, ",", ".", ";", "-", "it", "that", "was", "it's", "its", "because", "cos", "cause", "as", "i", "he", "she", "they", "we", "only", "just", "a",
		"era", "è", "perché", "ho", "ha", "war", "weil", "es", "ich", "hab", "habe", "er", "sie", "wir", "nur", "eine", "ein", "c'était", "parce", "car", "j'ai", "il", "elle", "fue", "porque", "me", "se", "foi", "uma", "um")
	if why == i || why == len(s.tokens) || len(s.tokens)-i > mostReason || s.anyNumber(i) {
		return false
	}
	for j := why; j < len(s.tokens) && !named; j++ {
		if s.at(j).is("practice", "practise", "test", "mistake", "wrong", "accident", "training", "purge", "tamp", "tamped", "tamper", "puck", "channelled", "channeled", "channeling", "channelling", "basket", "portafilter", "spilled", "spilt",
			"prova", "sbaglio", "errore", "pressare", "pressato", "versehen", "übung", "fehler", "tampen", "getampt", "sieb", "sorry", "essai", "erreur", "tasser", "tassé", "tassée",
			"prueba", "error", "tampear", "prensar", "compactar", "teste", "erro", "treino", "calcar", "prensei") {
			return true
		}
	}
	return named
}

// mostReason is how many tokens say at the most why. Assumed.
const mostReason = 10

// anyNumber reports whether a number stands from token i on.
func (s *sheet) anyNumber(i int) bool {
	for ; i < len(s.tokens); i++ {
		if s.tokens[i].kind == numberToken {
			return true
		}
	}
	return false
}

// holdsName reports whether one of n tokens from i on is of a name.
func (s *sheet) holdsName(i, n int) bool {
	for _, used := range s.used[i : i+n] {
		if used {
			return true
		}
	}
	return false
}
