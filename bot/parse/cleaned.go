package parse

import (
	"slices"
	"sync"

	"shothand/advisor/bar"
)

// cleanWords say that something was cleaned.
//
//nolint:gochecknoglobals // made once, never changed
var cleanWords = sync.OnceValue(func() []string {
	return []string{
		"cleaned", "cleaning", "brushed", "brushing", "scrubbed", "vacuumed", "hoovered", "gereinigt", "geputzt", "reinige", "putze", "gesäubert", "sauber", "saubergemacht", "gebürstet", "ausgebürstet", "ausgesaugt", "geputzte",
		"pulito", "pulita", "puliti", "pulite", "pulisco", "puliamo", "lavato", "lavata", "lavati", "lavate", "spazzolato", "spazzolati", "spazzolate", "nettoyé", "nettoyée", "nettoyés", "nettoyées", "nettoie", "nettoyer", "brossé", "brossés", "brossées", "lavé", "lavés",
		"limpiado", "limpié", "limpiamos", "limpio", "limpia", "limpios", "limpias", "limpiando", "limpiar", "lavado", "lavé", "cepillado", "cepillé", "limpei", "limpámos", "limpo", "limpa", "limpos", "limpas", "lavei", "lavámos", "lavamos", "escovei", "limpar",
	}
})

// manyGrinders are all of them, burrWords what grinds in one.
//
//nolint:gochecknoglobals // made once, never changed
var manyGrinders = sync.OnceValue(func() []string {
	return []string{"grinders", "mills", "mühlen", "muehlen", "macinini", "moulins", "molinos", "moinhos"}
})

//nolint:gochecknoglobals // made once, never changed
var burrWords = sync.OnceValue(func() []string {
	return []string{"burrs", "burr", "mahlscheiben", "scheiben", "mahlwerk", "mahlwerke", "macine", "meules", "muelas", "mós"}
})

// cleanFillers may stand beside them.
//
//nolint:gochecknoglobals // made once, never changed
var cleanFillers = sync.OnceValue(func() []string {
	return []string{
		"a", "an", "the", "i", "we", "i've", "we've", "i'm", "we're", "im", "have", "has", "had", "is", "are", "was", "were", "been", "being", "just", "now", "today", "this", "morning", "earlier", "already", "properly", "deep", "quick", "good", "nice", "proper", "quickly",
		"out", "and", "all", "off", "for", "up", "on", "in", "of", "with", "done", "finished", "fully", "completely", "inside", "again", "both", "two", "our", "fyi", "btw", "hey", "ok", "it", "one", "clean", "taking", "took", "taken", "gave", "given", "giving", "got", "got", "my", "apart", "well", "everything", "chute", "thorough", "thoroughly", "side",
		"die", "der", "das", "den", "ich", "wir", "hab", "habe", "haben", "ist", "sind", "wurde", "wurden", "frisch", "gerade", "eben", "heute", "früh", "jetzt", "schon", "beide", "beiden", "alle", "komplett", "mal", "kurz", "gründlich", "und", "gemacht", "auch", "einmal", "von", "vom", "innen", "samt", "mit",
		"il", "lo", "la", "le", "i", "gli", "l'", "ho", "abbiamo", "è", "sono", "stato", "stata", "stati", "state", "appena", "oggi", "stamattina", "ora", "adesso", "già", "tutti", "tutte", "tutto", "due", "e", "entrambi", "bene", "del", "della", "delle", "dei", "di", "a", "fondo", "anche", "ha", "hanno",
		"les", "j'ai", "on", "nous", "avons", "est", "sont", "ont", "été", "viens", "de", "tout", "toutes", "tous", "deux", "ce", "matin", "aujourd'hui", "bien", "du", "des", "et", "je", "maintenant", "fond", "à", "aussi", "ça", "y",
		"el", "los", "las", "he", "hemos", "han", "está", "están", "acabo", "acabamos", "hoy", "esta", "mañana", "ya", "dos", "ambos", "todo", "al", "ahora", "también", "lado", "estan",
		"o", "os", "as", "hoje", "manhã", "agora", "acabei", "acabámos", "estão", "bem", "dois", "tudo", "do", "da", "dos", "das", "já", "foi", "foram", "também", "eu",
	}
})

// cleanedThem reads that grinders were cleaned, in any order of words: "cleaned the left,
// burrs out and all", "pulito tutti e due i macinini".
func cleanedThem(s *sheet) (Meaning, bool) {
	if s.asks() || s.numbers > 0 || s.unsure.Kind != 0 || s.shot.Coffee != 0 {
		return nil, false
	}
	gave := s.holds("gave", "given", "giving", "taking", "took", "taken") && s.holds("a", "for")
	now := s.holds("is", "are") && s.holds("now", "again") // "the left is clean" may be so for long
	cleaned := s.holds(cleanWords()...) || s.holds("clean") && (gave || now)
	if !cleaned || s.leaves() || s.tokens[0].is(verbsFirst()...) {
		return nil, false
	}
	all, thing := s.holds(manyGrinders()...), s.shot.Grinder != 0
	for i, t := range s.tokens {
		switch {
		case s.used[i], t.is(".", ",", "!", ";", "-", "&", "+", "(", ")"), t.is(cleanWords()...), t.is(cleanFillers()...):
		case t.is(manyGrinders()...), t.is(burrWords()...), t.is(grinderWords()...):
			thing = true
		case t.is(hoppers()...), t.is("hoppers"):
		case s.grinderOf(t) != 0 && s.grinderOf(t) != s.shot.Grinder: // a second one
			all = true
		default:
			return nil, false
		}
	}
	if !thing {
		return nil, false
	}
	h := Happened{Event: bar.Cleaned, Grinder: s.shot.Grinder, All: all}
	if all {
		h.Grinder = 0
	}
	return h, true
}

// verbsFirst begin a question that has no mark behind it.
func verbsFirst() []string {
	return []string{"is", "are", "was", "were", "has", "have", "did", "does", "do", "who", "why", "when", "what", "should", "shall", "can", "could", "ist", "sind", "wer", "chi", "qui", "quién", "quem"}
}

// grinderOf returns the grinder whose name is that one word, in English or in another
// language, or 0.
func (s *sheet) grinderOf(t token) bar.GrinderID {
	if t.kind != wordToken {
		return 0
	}
	for _, k := range keys(s.vocab.Grinders) {
		if k.low == t.low || k.low == sideOf(t) {
			return k.ID
		}
	}
	return 0
}

// leaves reports whether the name of a grinder may be a word of its own here: that somebody
// left, that something is right.
func (s *sheet) leaves() bool {
	for i, t := range s.tokens {
		if !s.used[i] || !t.is("left", "right") {
			continue
		}
		before := s.before(i)
		who := before.is("i", "he", "she", "they", "who", "then", "just", "has", "was") || slices.Contains(s.vocab.People, before.low)
		and := before.is("and", "&", "n") && t.is("left") && !slices.ContainsFunc(s.tokens[:i], func(t token) bool { return t.is("right") })
		aside := before.is(",") && i+1 == len(s.tokens) || t.is("right") && i == 0 && i+1 < len(s.tokens) && s.tokens[i+1].is(",")
		if who || and || aside {
			return true
		}
	}
	return false
}

// before returns the token before i, whoever has taken it, or none.
func (s *sheet) before(i int) token {
	if i == 0 {
		return s.at(-1)
	}
	return s.tokens[i-1]
}
