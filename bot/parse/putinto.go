package parse

import (
	"slices"
	"strings"
	"sync"

	"shothand/advisor/bar"
)

// swapWords say that a coffee was put into a grinder.
//
//nolint:gochecknoglobals // made once, never changed
var swapWords = sync.OnceValue(func() []string {
	return []string{
		"swapped", "swapping", "swaps", "switched", "switching", "changed", "changing", "moved", "moving", "emptied", "emptying", "replaced", "replacing", "back", "over",
		"gewechselt", "wechsel", "wechsle", "wechseln", "getauscht", "tausche", "tauschen", "umgestellt", "umgefüllt", "umgezogen", "gefüllt", "fülle", "zurück", "wieder", "ersetzt", "tu", "packe", "gepackt", "getan",
		"cambio", "cambiato", "cambiamo", "passo", "passato", "passiamo", "spostato", "sposto", "spostiamo", "metto", "messo", "mettiamo", "rimesso", "rimetto", "torno", "torniamo", "tornati", "sostituito",
		"change", "changé", "changeons", "passe", "passé", "passons", "mets", "met", "mis", "mettons", "remets", "remet", "remis", "déplace", "déplacé", "repasse", "repassé", "revient", "remplacé",
		"cambiado", "cambié", "cambiamos", "paso", "pasado", "pasé", "pasamos", "pongo", "puesto", "puse", "ponemos", "muevo", "movido", "vuelvo", "volvemos", "vuelto",
		"troco", "troquei", "trocámos", "trocamos", "passei", "passámos", "passamos", "ponho", "pus", "pusemos", "mudo", "mudei", "mudámos", "volto", "voltamos", "voltei", "meti", "coloquei",
	}
})

// holdWords say of a coffee and a grinder what may be so for long: only with a word of now,
// or of a hopper, was anything done.
//
//nolint:gochecknoglobals // made once, never changed
var holdWords = sync.OnceValue(func() []string {
	return []string{"put", "putting", "popped", "running", "has", "have", "got", "is", "goes", "went", "goes", "ist", "läuft", "kommt", "hat", "è", "va", "sta", "ha", "est", "va", "tourne", "está", "esta", "va", "tiene", "é", "fica", "vai", "tem"}
})

//nolint:gochecknoglobals // made once, never changed
var nowWords = sync.OnceValue(func() []string {
	return []string{"now", "jetzt", "nun", "ab", "ora", "adesso", "maintenant", "désormais", "ahora", "agora"}
})

// putFillers may stand beside them.
//
//nolint:gochecknoglobals // made once, never changed
var putFillers = sync.OnceValue(func() []string {
	return []string{
		"a", "the", "to", "into", "in", "on", "onto", "for", "from", "with", "of", "i", "we", "i've", "we've", "i'm", "we're", "im", "it", "it's", "its", "just", "today", "this", "that", "morning", "afternoon", "evening", "rest", "day", "weekend", "beans", "bean", "coffee", "up", "and", "out", "one", "side", "other", "was", "been", "then", "going", "rush", "lunch", "next", "again", "ok", "so", "fyi", "btw", "hey",
		"auf", "in", "ins", "im", "den", "der", "die", "das", "dem", "zu", "von", "vom", "für", "ich", "wir", "hab", "habe", "haben", "wird", "heute", "um", "rüber", "und", "gerade", "nachmittag", "andere", "anderen", "bohnen", "statt", "seite",
		"il", "lo", "la", "l'", "al", "sul", "sulla", "nel", "nella", "di", "del", "della", "a", "da", "dal", "ho", "abbiamo", "oggi", "per", "con", "pomeriggio", "e", "altro", "si", "allo", "alla", "caffè", "su", "lato",
		"le", "les", "de", "du", "des", "sur", "dans", "à", "au", "par", "pour", "on", "j'ai", "je", "nous", "avons", "et", "autre", "l'autre", "côté", "après-midi", "aujourd'hui", "café", "en",
		"el", "los", "las", "al", "en", "hoy", "he", "hemos", "por", "para", "con", "tarde", "y", "otro", "otra", "se", "lado",
		"o", "os", "as", "no", "na", "ao", "à", "do", "da", "para", "pro", "pra", "hoje", "por", "com", "tarde", "eu", "outro", "outra", "um",
	}
})

// mostPutTokens is how long a message is that tells it. Assumed.
const mostPutTokens = 20

// putInto reads that a coffee went into another grinder: "swapping the right over to tide",
// "back to owl on the right", "on change le tide sur le moulin de droite". Where a message
// only tells where it is, it may be no news, and is asked about.
func putInto(s *sheet) (Meaning, bool) {
	h, ok := s.putThere(false)
	return h, ok
}

// putThere does so; with where the dial was put beside it, any other grinder than the coffee's
// own is news.
func (s *sheet) putThere(dialled bool) (h Happened, ok bool) {
	if s.asks() || s.numbers > 0 || s.unsure.Kind != 0 || s.shot.Coffee == 0 || len(s.tokens) > mostPutTokens || s.tokens[0].is(verbsFirst()...) || s.leaves() {
		return h, false
	}
	s = s.copied()
	in, out := s.inAndOut()
	grinder := s.intoWhich(in, out)
	if grinder == 0 {
		return h, false
	}
	done, holds, now := out != 0 && s.holds("in", "out", "rein", "raus", "fuori", "fuera", "dehors", "fora"), false, false
	for i, t := range s.tokens {
		switch {
		case s.used[i]:
			done = done || t.is("back", "over")
		case t.is(".", ",", "!", ";", ":", "→", "(", ")"):
		case t.is(nowWords()...), t.is(hoppers()...), t.is("hoppers"):
			now, holds = true, holds || t.is(nowWords()...) && (!t.is("now") || s.holds("on", "in")) // "tide jetzt rechts"
		case t.is("change") && !s.at(i-1).is("on", "je"): // somebody is told to, in English
			return h, false
		case t.is(swapWords()...):
			done = true
		case t.is(holdWords()...), t.is("swap") && (dialled || s.at(i-1).is(hoppers()...)): // else somebody is told to
			holds = true
		case t.is(putFillers()...), t.is(grinderWords()...), t.is("instead", "statt", "anstatt", "invece", "lieu", "vez", "drin", "rein", "raus", "fuori", "fuera", "dehors", "fora"):
		default:
			return h, false
		}
	}
	holds = holds || slices.ContainsFunc(s.tokens, func(t token) bool { return len(t.low) > 2 && t.low[len(t.low)-2:] == "'s" })
	h = Happened{Event: bar.Swapped, Coffee: in, Grinder: grinder}
	home := s.vocab.Recipes[in].Grinder
	switch {
	case s.rightNow() && (done || holds):
		h.Doubt = true
	case done, holds && now, dialled && in != 0 && (home != grinder || s.shares(grinder) && s.holds("in", "into", "put", "drin", "rein", "dentro", "dans")):
	case holds, in != 0 && home == grinder && s.shares(grinder):
		h.Doubt = true
	default:
		return h, false
	}
	if in != 0 && h.Doubt && home == grinder && !s.shares(grinder) {
		return h, false // no news
	}
	return h, true
}

// putAndSet reads that, or a new bag, and behind a stop where the dial was put: "moved tide to
// the right, went to 15", "new harbour bag in, grind changed to 4.8 for it".
func putAndSet(s *sheet) (Meaning, bool) {
	if s.shot.Coffee == 0 || s.numbers == 0 || s.numbers > 4 || s.asks() || len(s.tokens) > mostPutTokens {
		return nil, false
	}
	for i, t := range s.tokens {
		if i == 0 || i+1 == len(s.tokens) || !t.is(",", ";", ".", "and", "und", "e", "et", "y", "so") {
			continue
		}
		head := newSheet(s.text[:t.start], s.vocab)
		m, ok := bagOpened(head)
		told, _ := m.(Happened)
		if !ok && s.numbers <= 2 {
			told, ok = head.putThere(true)
		}
		if !ok {
			continue
		}
		told.Set, ok = s.setForIt(i)
		if ok && (told.Event == bar.NewBag || told.Set.Grind.Said && (told.Set.Grinder == 0 || told.Set.Grinder == told.Grinder)) {
			if told.Event != bar.NewBag {
				told.Set.Grinder = told.Grinder
			}
			return told, true
		}
	}
	return s.putAt()
}

// shares reports whether more than one coffee is ground on a grinder, so that which is in it
// is news.
func (s *sheet) shares(g bar.GrinderID) bool {
	n := 0
	for _, r := range s.vocab.Recipes {
		if r.Grinder == g {
			n++
		}
	}
	return n > 1
}

// putAt reads that in one clause: "put tide in left dial 4.9", "tide going in left at 4.9".
func (s *sheet) putAt() (Meaning, bool) {
	i := slices.IndexFunc(s.tokens, func(t token) bool { return t.kind == numberToken })
	for j := 1; j < len(s.tokens); j++ {
		if s.used[j] && s.tokens[j-1].is("for", "für", "per", "pour", "para", "por") { // "put left back to 5.2 for tide"
			return nil, false
		}
	}
	if s.numbers != 1 || i < 1 || s.used[i] || s.tokens[i].num.form != plainForm || unitOf(s.at(i+1).low) != noUnit && s.at(i+1).text != "" {
		return nil, false
	}
	from := i
	for from > 0 && !s.used[from-1] && (s.tokens[from-1].is(onWords()...) || s.tokens[from-1].is(dialWords()...) || s.tokens[from-1].is("to", "set", ",", "-", ":", ".", "@")) {
		from--
	}
	part := newSheet(strings.TrimSpace(s.text[:s.tokens[from].start]+" "+s.text[s.tokens[i].end():]), s.vocab)
	if len(part.tokens) == 0 {
		return nil, false
	}
	told, ok := part.putThere(true)
	labelled := s.holdsIn(from, i, append(dialWords(), "set")...)
	whole := labelled || s.vocab.Steps[told.Grinder] >= 1
	if fraction := strings.ContainsAny(s.tokens[i].text, ".,"); fraction && !OneDecimal(s.tokens[i].text) || !fraction && !whole { // an hour
		return nil, false
	}
	if !ok || told.Coffee == 0 || told.Doubt || s.vocab.Recipes[told.Coffee].Grinder == told.Grinder && !s.shares(told.Grinder) {
		return nil, false
	}
	told.Set = Set{Grind: s.readDial(i, 1), Grinder: told.Grinder}
	told.Set.Grind.Said = true
	return told, true
}

// setForIt reads where the dial was put for what stands before token i: "at 15", "grind
// changed to 4.8 for it".
func (s *sheet) setForIt(i int) (Set, bool) {
	end := s.endForIt(i + 1)
	text := s.text[s.tokens[i].end():s.tokens[end-1].end()]
	if m, ok := setting(newSheet("now "+text, s.vocab)); ok { // "at 15"
		set, is := m.(Set)
		return set, is
	}
	return newSheet(s.text[:s.tokens[end-1].end()], s.vocab).setBehind(i, setting, movedInWords)
}

// setFor reads where the dial was put for a new bag: "changed it to 4.8 for the new bag".
func (s *sheet) setFor() (Meaning, bool) {
	end := s.endForIt(0)
	if end == len(s.tokens) || end < 2 || s.asks() || !s.tokens[end].is("for", "dafür", "für", "per", "pour", "para") {
		return nil, false
	}
	part := newSheet(s.text[:s.tokens[end-1].end()], s.vocab)
	if m, ok := setting(part); ok {
		return m, true
	}
	return movedInWords(part)
}

// endForIt returns where what says for what a dial was moved begins, at token from at the
// soonest.
func (s *sheet) endForIt(from int) int {
	end := len(s.tokens)
	for end > from && !s.used[end-1] && s.tokens[end-1].is(forIt()...) {
		end--
	}
	return end
}

// forIt say for what a dial was moved.
func forIt() []string {
	return []string{
		".", "!", "for", "it", "that", "this", "the", "new", "bag", "one", "though", "dafür", "für", "die", "neue", "per", "questo", "quello", "il", "nuovo", "pour", "lui", "ça", "le", "nouveau", "para", "eso", "él", "ella", "la", "nueva", "ele", "isso", "isto", "o", "novo",
	}
}

// rightNow reports whether the right grinder may be the moment: "tide is on right now".
func (s *sheet) rightNow() bool {
	for i, t := range s.tokens {
		article := i > 0 && s.tokens[i-1].is("the", "our", "in")
		if t.is("right") && !article && i+1 < len(s.tokens) && s.tokens[i+1].is("now") {
			return true
		}
	}
	return false
}

// inAndOut returns the coffee that went into a grinder and the one that came out, where both
// are named; in is 0 where it is not clear which is which.
func (s *sheet) inAndOut() (in, out bar.CoffeeID) {
	first, second, b := -1, -1, bar.CoffeeID(0)
	coffees := keys(s.vocab.Coffees)
	for i := range s.tokens {
		m := lookUp(coffees, s, i)
		switch {
		case len(m.found) != 1 || !m.exact && (s.ordinary(i) || s.tokens[i].is(putFillers()...)):
		case m.found[0].ID == s.shot.Coffee && first < 0:
			first = i
		case m.found[0].ID != s.shot.Coffee && !s.used[i]:
			second, b = i, m.found[0].ID
			s.hold(i, m.n)
		}
	}
	a := s.shot.Coffee
	if second < 0 || first < 0 { // its name was found by another reader
		return a, 0
	}
	if first > second {
		first, second, a, b = second, first, b, a
	}
	end := func(i int) token { // what stands behind a name
		for i < len(s.tokens) && s.used[i] {
			i++
		}
		return s.at(i)
	}
	lead := second - 1
	for lead > first && s.tokens[lead].is("the", "den", "die", "das", "il", "le", "el", "la", "o", "l'") {
		lead--
	}
	switch t := s.at(lead); {
	case end(first).is("in"), end(second).is("out", "raus", "fuori", "fuera", "dehors", "fora"), t.is("statt", "anstatt"), t.is("of", "di", "de") && s.at(lead-1).is("instead", "invece", "vez", "lieu"):
		return a, b
	case end(first).is("out", "raus", "fuori", "fuera", "dehors", "fora"), end(second).is("in", "rein"), t.is("to", "with", "for", "→", "auf", "durch", "gegen", "zu", "per", "con", "par", "pour", "por", "com"):
		return b, a
	}
	return 0, 0
}

// intoWhich returns the grinder that a coffee went into: the one that is named, the other of
// two, or that of the coffee that came out.
func (s *sheet) intoWhich(in, out bar.CoffeeID) bar.GrinderID {
	home := s.vocab.Recipes[in].Grinder
	other := s.holds("other", "andere", "anderen", "altro", "autre", "l'autre", "otro", "outro") && s.holds(grinderWords()...)
	switch {
	case s.shot.Grinder != 0:
		return s.shot.Grinder
	case other && len(s.vocab.Grinders) == 2 && home != 0:
		for _, g := range s.vocab.Grinders {
			if g.ID != home {
				return g.ID
			}
		}
	case out != 0 && in != 0 && s.vocab.Recipes[out].Grinder != 0:
		return s.vocab.Recipes[out].Grinder
	}
	return 0
}
