package parse

import (
	"slices"
	"strings"
	"sync"
)

// undoes reports whether a message says that what was told of a dial was not done, or
// was undone: "no wait, didnt do it"; and whether it is back where it was.
func (s *sheet) undoes() (undone, back bool) {
	var words []string
	for i := s.pastWhy(); i < len(s.tokens); i++ {
		if t := s.tokens[i]; !s.used[i] && t.kind == wordToken && !t.is("i", "we", "ok", "then", "again", "now", "just", "after", "all", "wait", "no", "nah", "actually", "sorry", "ah", "oh", "ich", "io", "yo", "je", "eu", "doch") {
			words = append(words, t.low)
		}
	}
	if s.backToWhere(strings.Join(words, " ")) {
		return true, true
	}
	switch strings.Join(words, " ") {
	case "take it back", "take that back",
		"didn't do it", "didnt do it", "did not do it", "haven't done it", "didn't do that", "didnt do that", "never did it", "never did", "didn't move it", "didnt move it", "didn't touch it", "didnt touch it",
		"put it back", "turned it back", "undid it", "undid that", "moved it back", "it's back where it was", "its back where it was",
		"habs nicht gemacht", "hab's nicht gemacht", "hab es nicht gemacht", "nicht gemacht", "non l'ho fatto", "no lo hice", "no lo he hecho", "l'ai pas fait", "ne l'ai pas fait", "não fiz", "não o fiz",
		"wieder zurückgestellt", "hab's zurückgestellt", "rimesso com'era", "l'ho rimesso com'era", "lo volví a dejar como estaba", "remis comme avant", "j'ai remis comme avant", "pus como estava", "voltei a pôr como estava":
		return true, false
	}
	return false, false
}

// pastWhy returns where what was undone begins, behind why: "too slow, back up to where it was".
func (s *sheet) pastWhy() int {
	i := s.wrong()
	for j := i; j < min(i+mostWhy, len(s.tokens)) && s.numbers == 0 && !s.asks(); j++ {
		if s.at(j).is(",", ".", "-", "so") {
			return j + 1
		}
	}
	return i
}

// mostWhy is how many tokens say why a dial was put back. Assumed.
const mostWhy = 5

// backToWhere reports whether words say no more than that the dial is back where it was.
func (s *sheet) backToWhere(words string) bool {
	words = strings.TrimSuffix(words, " before")
	may := slices.Concat(setFillers(), setWords(), movingWords(), dialWords(), grinderWords())
	for _, end := range []string{"where it was", "how it was", "what it was", "wie vorher", "wo er war", "wo sie war", "com'era", "dov'era", "dove era", "come prima", "comme avant", "où il était", "donde estaba", "como estaba", "como estava", "onde estava"} {
		rest, ok := strings.CutSuffix(words, end)
		if !ok {
			continue
		}
		back := false
		for w := range strings.FieldsSeq(rest) {
			is := slices.Contains(backs(), w) || slices.Contains(restorings(), w) || w == "zurückgestellt" || w == "zurückgedreht"
			if back = back || is; !is && !slices.Contains(may, w) {
				return false
			}
		}
		return back
	}
	return false
}

// rightings stand before what puts right what was just said: "2 finer, no 3".
func rightings() []string {
	return append(sorries(), "no", "actually", "wait", "nope", "rather", "nein", "anzi", "non", "não", "eigentlich")
}

// clauseEnds stand between two things that were done.
func clauseEnds() []string {
	return []string{",", ".", ";", "!", "then", "and", "but", "so", "dann", "poi", "luego", "después", "ensuite", "puis", "depois"}
}

// turningWords say by themselves, with the grinder beside them, that its dial was moved.
func turningWords() []string {
	return []string{
		"moved", "touched", "wound", "fiddled", "messed", "played", "shifted", "knocked", "angestoßen", "gestoßen", "angerempelt", "urtato", "sbattuto", "golpeado", "golpeé", "golpeó", "cogné", "heurté", "bati", "bateu", "slipped", "drifted", "crept",
		"toccato", "spostato", "mosso", "ritoccato", "tocado", "toqué", "tocó", "movido", "moví", "movió", "verstellt", "verdreht", "angefasst", "touché", "bougé", "déréglé", "gedreht", "mexeram", "mexi", "mexeu", "mexido", "toquei",
	}
}

// tweaks say so of little else.
func tweaks() []string {
	return []string{"nudged", "tweaked", "adjusted", "ritoccato", "nachjustiert", "nachgestellt", "retoqué", "ajusté", "ajustei", "afinado", "afiné", "afinei"}
}

// movingWords say that it was moved where a way, a number of steps or a place stands
// beside them.
func movingWords() []string {
	return slices.Concat(heightWords(), []string{
		"took", "taken", "brought", "switched", "clicked", "gone", "currently", "reset", "returned", "gave", "made", "tried", "settled", "landed", "backed", "pushed", "eased", "twisted", "going", "dropping", "taking", "moving",
		"genommen", "probiert", "gegeben", "dato", "portato", "provato", "tolto", "riportato", "rimesso", "dado", "di", "llevado", "probado", "llevé", "volví", "vuelto", "donné", "essayé", "remis", "ramené", "dei", "levei", "experimentei", "voltei",
		"poner", "ponerlo", "pôr", "mettere", "metterlo", "mettre", "stellen", "drehen", "rauf", "gegangen", "andato", "sceso", "salito", "allé", "descendu", "monté", "ido", "fui", "puso", "pôs", "stellte", "verändert", "tornato", "tornata", "torno", "ritornato", "vuelvo", "vuelta", "revenu", "revenue", "retour", "reviens", "volta", "volto", "zurückgestellt", "zurückgedreht",
	})
}

// backs say that something is where it was before.
func backs() []string {
	return []string{"back", "zurück", "indietro", "atrás", "arrière", "trás", "terug"}
}

// restorings say by themselves that the dial was put back to where it was.
func restorings() []string {
	return []string{"riportato", "rimesso", "volví", "vuelto", "remis", "ramené", "voltei", "tornato", "tornata", "ritornato", "returned"}
}

// heightWords say so of what goes up or down; which of them is finer nobody said.
//
//nolint:gochecknoglobals // made once, never changed
var heightWords = sync.OnceValue(func() []string { return slices.Concat(raisings(), lowerings(), []string{"bumped", "cranked"}) })

// climbs say of somebody who turned a dial that they went up or down it.
//
//nolint:gochecknoglobals // made once, never changed
var climbs = sync.OnceValue(func() []string { return slices.Concat(climbsUp(), climbsDown()) })

// moreSteps are steps of a dial where it is told that it was moved.
func moreSteps() []string {
	return []string{"tick", "ticks", "increment", "increments", "division", "divisions", "mark", "marks", "line", "lines", "dot", "dots", "clics", "graduation", "graduations", "raste", "rasten", "rayitas", "risco", "riscos", "tacchetta"}
}

// asideWords are small words beside it that setFillers does not have, and who did it.
func asideWords() []string {
	return []string{
		"allora", "dann", "alors", "entonces", "então", "nw", "done", "voilà", "voila", "désormais", "listo", "pronto", "fertig", "fatto", "feito", "hecho", "too", "flat", "ta", "ive", "jai", "suis", "pra", "pro", "ya", "mtn", "jz", "so", "kurz", "jetzt", "over", "there", "again", "already", "earlier", "also", "btw", "fyi", "lol", "about", "roughly", "ish", "with", "an", "sitting", "like", "hey", "guys", "oh", "in", "off", "am", "new", "overnight", "got", "juste", "proprio", "und", "no", "na", "all", "alla", "al",
		"someone", "somebody", "someone's", "somebody's", "he", "she", "they", "who", "boss", "jemand", "er", "qualcuno", "alguien", "quelqu'un", "alguém", "hat", "ha", "hanno", "im", "i'm", "today", "earlier", "wieder", "nochmal", "di", "nuovo", "otra", "vez", "encore", "outra",
		"noch", "ancora", "più", "plus", "más", "mais", "mal", "gerade", "eben", "appena", "acabo", "viens", "se", "ne", "ci", "al", "del", "dem", "den", "das", "au", "ao", "do", "da", "an", "dal",
	}
}

// upsAndDowns say which way a dial went; which of them is finer nobody said.
//
//nolint:gochecknoglobals // made once, never changed
var upsAndDowns = sync.OnceValue(func() []string { return slices.Concat(ups(), downs()) })

func ups() []string   { return []string{"up", "hoch", "su", "arriba", "haut", "cima"} }
func downs() []string { return []string{"down", "runter", "giù", "abajo", "bas", "baixo"} }

func raisings() []string  { return []string{"raised", "upped", "erhöht"} }
func lowerings() []string { return []string{"dropped", "lowered", "abgesenkt"} }

func climbsUp() []string {
	return []string{"salito", "salita", "monté", "montée", "subí", "subido", "subi", "alzato"}
}

func climbsDown() []string {
	return []string{"sceso", "scesa", "descendu", "descendue", "bajé", "desci", "baixei", "abbassato", "baissé", "bajado", "baixado"}
}
