package parse

// turningWords say by themselves, with the grinder beside them, that its dial was moved.
func turningWords() []string {
	return []string{
		"moved", "touched", "wound", "fiddled", "messed", "played", "shifted", "knocked", "slipped", "drifted", "crept",
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
	return append(heightWords(), "took", "taken", "brought", "switched", "clicked", "gone", "currently", "reset", "returned", "gave", "made", "tried", "pushed", "eased", "twisted", "going", "dropping", "taking", "moving",
		"genommen", "probiert", "gegeben", "dato", "portato", "provato", "tolto", "riportato", "rimesso", "dado", "di", "llevado", "probado", "llevé", "volví", "vuelto", "donné", "essayé", "remis", "ramené", "dei", "levei", "experimentei", "voltei",
		"rauf", "gegangen", "andato", "sceso", "salito", "allé", "descendu", "monté", "ido", "fui", "puso", "pôs", "stellte", "verändert", "tornato", "tornata", "torno", "ritornato", "vuelvo", "vuelta", "revenu", "revenue", "retour", "reviens", "volta", "volto", "zurückgestellt", "zurückgedreht")
}

// heightWords say so of what goes up or down; which of them is finer nobody said.
func heightWords() []string {
	return []string{"dropped", "raised", "lowered", "upped", "bumped", "cranked", "abgesenkt", "erhöht"}
}

// climbs say of somebody who turned a dial that they went up or down it.
func climbs() []string {
	return []string{"sceso", "scesa", "salito", "salita", "descendu", "descendue", "monté", "montée", "bajé", "subí", "subido", "desci", "subi", "baixei", "abbassato", "alzato", "baissé", "bajado", "baixado"}
}

// moreSteps are steps of a dial where it is told that it was moved.
func moreSteps() []string {
	return []string{"tick", "ticks", "increment", "increments", "division", "divisions", "mark", "marks", "line", "lines", "dot", "dots", "clics", "graduation", "graduations", "raste", "rasten", "rayitas", "risco", "riscos", "tacchetta"}
}

// asideWords are small words beside it that setFillers does not have, and who did it.
func asideWords() []string {
	return []string{
		"too", "again", "already", "earlier", "also", "btw", "fyi", "lol", "about", "roughly", "ish", "with", "an", "sitting", "like", "hey", "guys", "oh", "in", "off", "am", "new", "overnight", "got", "juste", "proprio", "und", "no", "na", "all", "alla", "al",
		"someone", "somebody", "someone's", "somebody's", "he", "she", "they", "who", "boss", "jemand", "er", "qualcuno", "alguien", "quelqu'un", "alguém", "hat", "ha", "hanno", "im", "i'm", "today", "earlier", "wieder", "nochmal", "di", "nuovo", "otra", "vez", "encore", "outra",
		"noch", "ancora", "più", "plus", "más", "mais", "mal", "gerade", "eben", "appena", "acabo", "viens", "se", "ne", "ci", "al", "del", "dem", "den", "das", "au", "ao", "do", "da", "an", "dal",
	}
}
