package parse

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
)

// acknowledges reports whether a message is what people say to an answer, and
// not of a cup: "ok", "nice one", "feeling rough".
func (s *sheet) acknowledges(words []bar.Word, instead bool) bool {
	if s.at(0).is("feeling") || len(s.tokens) == 2 && s.tokens[0].is("my") || len(s.tokens) == 1 && s.tokens[0].is("fait", "fini", "listo", "pronto", "fertig") { // "my bad"; done
		return true
	}
	if s.nods(words, instead) {
		return true
	}
	for i := range s.tokens {
		if !sigh(s.tokens[i]) && !s.at(i).is("ok", "okay", "k", "cool", "nice", "good", "gd", "one", "then", "got", "it", ",", ".", "!") {
			return false
		}
	}
	if s.vocab.Untasted && s.at(len(s.tokens)-1).is("one") && s.at(len(s.tokens)-2).is("good", "gd") { // that was asked; "nice one" is said to people
		return false
	}
	return s.at(0).is("ok", "okay", "k", "cool") || s.at(len(s.tokens)-1).is("one")
}

// nods reports whether what was read of a message is what people nod with and nothing of it
// speaks of a cup: "ah ok", "ah va bene", "ok great" of who has no cup to speak of.
func (s *sheet) nods(words []bar.Word, instead bool) bool {
	of := s.shot.Coffee != 0 || slices.ContainsFunc(s.tokens, func(t token) bool {
		return t.is(tastingVerbs()...) || t.is("me", "mir", "moi", "mí", "mim", "taste", "that", "this", "shot", "cup")
	})
	ok := len(s.tokens) > 1 && s.holds("ok", "okay", "okey", "k", "right", "alright", "bene", "vale", "d'accord", "tá", "passt", "gut", "bien")
	if of || instead || !ok && !s.tokens[0].is("ah", "oh", "ahh", "ohh", "aha") {
		return false
	}
	return !slices.ContainsFunc(words, func(w bar.Word) bool {
		return (!ok || !isOK(w)) && (s.vocab.Untasted || w.Than || !slices.Contains([]string{"nice", "lovely", "perfect"}, w.Term))
	})
}

func isOK(w bar.Word) bool { return w.Term == "ok" && !w.Not && !w.Than && w.Degree == 1 }

// staying takes what says, behind a taste that was asked for, that nothing is changed:
// "balanced, keep it there". It returns where what is said of the cup ends.
func (s *sheet) staying() int {
	to := len(s.tokens)
	for to > 0 && s.tokens[to-1].is(".", "!") {
		to--
	}
	from, said := to, [4]bool{}
	for ; from > 0; from-- {
		n := slices.IndexFunc(stayings(), s.tokens[from-1].among)
		if n < 0 {
			break
		}
		said[n] = true
	}
	stays, untouched := said[0], said[1] && said[2]
	if !stays && !untouched || from == 0 || !s.vocab.Untasted {
		return len(s.tokens)
	}
	if words, unread := s.inCompany(s.lex.read(s.leftover(from))); len(words) > 0 && len(unread) == 0 {
		s.take(from, len(s.tokens)-from)
		return from
	}
	return len(s.tokens)
}

// among is is for a list in one string.
func (t token) among(words string) bool { return t.is(strings.Fields(words)...) }

// stayings are the words of leaving something as it is, of denying and of touching it, and what
// may stand around them.
func stayings() []string {
	return []string{
		`keep keeping leave leaving stay staying stays hold holding untouched lass lasse lassen lasst bleib bleibt bleibe bleiben behalte behalten lascia lascio lasciamo lasciala lascialo tengo tieni teniamo resta restiamo rimane rimaniamo
			laisse laisses laissons garde gardes gardons reste restons deja dejo dejamos déjalo dejalo dejadlo queda quedamos mantengo mantenemos deixa deixo deixamos fica ficamos mantém mantenho mantemos`,
		`not don't dont wouldn't wouldnt won't nothing nicht nix nichts non niente nulla pas plus rien no nada não`,
		`touch touching change changing move moving ändern ändere anfassen tocco tocchiamo toccare tocca cambio cambiamo touche touchons bouge bougeons toco tocamos tocar toques muevo cambies mexo mexe mexemos mexas mexer`,
		`it that there here this as is like alone at the dial grind grinder setting we we're we'll i i'm im i'd i'll let's lets now then for anything so es ihn wie dabei da hier wir ich das mehr würde würd jetzt so
			così lo la li lì qui qua com'è come è dov'è più on y le comme ça là ne je ainsi ahí así aquí como está más assim aí aqui mais o`,
	}
}
