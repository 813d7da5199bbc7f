package parse

import (
	"slices"
	"strings"
	"sync"

	"shothand/advisor/bar"
	"shothand/bot/chat"
)

// happened reads what happened to the bar: "new bag", "re-zeroed left". An
// event inside a message about a shot is a rule's: see event.
func happened(s *sheet) (Meaning, bool) {
	for _, read := range []func(*sheet) (Meaning, bool){bagOpened, cleanedThem, putInto} {
		if m, ok := read(s); ok {
			return m, true
		}
	}
	s, roasted := s.roastedOn()
	rest, ok := s.rest(false, "a", "the", "of", "just", "we", "i", "have", "we've", "i've", "opened", "open", "on", "for", "in", "into",
		"started", "put", "grinder", "is", "was", "been", "has", "and", "today", "now", "it", "fresh", "bean", "beans", "some", "all", "to",
		"di", "del", "per", "un", "von", "für", "eine", "einen", "de", "du", "pour", "una", "para", "um", "uma", "hab", "habe", "ho", "aperto", "aufgemacht", "ouvert", "abierto", "aberto",
		"è", "la", "le", "il", "i", "lo", "los", "las", "el", "die", "der", "den", "ist", "est", "está", "é", "o", "os", "as", "les", "j'ai", "he", "abbiamo", "hemos", "haben", "wir",
		"abriram", "abri", "abrimos", "abriu", "um", "uma", "abierto", "abrieron", "abrió", "aperto", "aperta", "ouvert", "aufgemacht", "opened", "this", "morning", "earlier", "already", "btw", "fyi", "hey", "cracked", "over", "our", "im", "ins", "nella", "nel", "dans", "en", "na", "no", "em", "water", "machine's", "machine", "espresso", "with", "up", "done", "fitted")
	if !ok || s.unsure.Kind != 0 {
		return nil, false
	}
	for i, word := range rest {
		if slices.Contains([]string{"hoppers", "hopper's"}, word) {
			rest[i] = "hopper"
		}
	}
	phrase := strings.Join(rest, " ")
	e := eventOf(phrase)
	if bag := eventOf(strings.Join(slices.DeleteFunc(rest, func(word string) bool { return slices.Contains(hoppers(), word) }), " ")); e == 0 && bag == bar.NewBag && s.shot.Coffee != 0 {
		e = bag // "new bag of tide in the left hopper"
	}
	if phrase == "hopper" && s.shot.Coffee != 0 && s.holds("in", "into", "has") { // "tide is in the hopper"
		e = bar.Swapped
	}
	if (phrase == "switched" || phrase == "changed") && s.shot.Coffee != 0 && s.holds("to") && (phrase == "switched" || s.holds("over")) { // "changed over to tide"
		e = bar.Swapped
	}
	if (phrase == "new" || phrase == "another" || phrase == "next" || phrase == "" && s.holds("opened") && (roasted != "" || s.holds("today", "morning", "fresh"))) && s.shot.Coffee != 0 && s.holds("opened", "open", "started") { // "opened new tide"
		e = bar.NewBag
	}
	switch {
	case e == 0,
		phrase == "bag" && !s.holds("fresh", "open", "opened"),
		e == bar.Cleaned && (s.leaves() || phrase == "cleaned" && s.shot.Grinder == 0 && !s.holds("grinder")),
		e == bar.HopperFilled && s.shot.Coffee == 0 && !s.holds(append(hoppers(), "beans")...),
		e == bar.Swapped && s.shot.Coffee == 0 && !s.holds("hopper", "hoppers", "coffee", "coffees"):
		return nil, false
	}
	return Happened{Event: e, Coffee: s.shot.Coffee, Grinder: s.shot.Grinder, Roasted: roasted}, e == bar.NewBag || roasted == ""
}

// hoppers are what holds the beans.
func hoppers() []string {
	return []string{"hopper", "trichter", "bohnenbehälter", "trémie", "tramoggia", "campana", "tolva", "tremonha", "moega"}
}

// roasted reads when a coffee's beans were roasted, with no new bag: "harbour was roasted on 24
// February".
func roasted(s *sheet) (Meaning, bool) {
	if !s.holds(roastWords()...) {
		return nil, false
	}
	s, day := s.roastedOn()
	rest, ok := s.rest(false, "was", "is", "the", "were", "beans", "ist", "wurde", "è", "stato", "stata", "a", "été", "est", "fue", "está", "foi")
	i := slices.IndexFunc(s.vocab.Coffees, func(c Name[bar.CoffeeID]) bool { return c.ID == s.shot.Coffee })
	if day == "" || !ok || len(rest) > 0 || i < 0 || s.asked() {
		return nil, false
	}
	return Call{Command: chat.Command{Name: "coffee edit", Options: []chat.Option{{Name: "name", Value: s.vocab.Coffees[i].Name}, {Name: "roasted", Value: day}}}}, true
}

// An eventWord is an event and the ways to tell it, without the words that
// happened leaves out. No shot tells that a dial was moved.
type eventWord struct {
	event   bar.Event
	phrases []string
}

func eventWords() []eventWord {
	return []eventWord{
		{bar.NewBag, []string{
			"new bag", "bag", "changed bag", "changed bags", "bag changed", "new bag new", "next bag", "another bag",
			"sacco nuovo", "nuovo sacco", "sacchetto nuovo", "nuovo sacchetto", "neue tüte", "neue packung", "neuer sack", "neuer beutel", "nouveau sac", "nouveau paquet",
			"nueva bolsa", "bolsa nueva", "saco nuevo", "saco novo", "novo saco", "pacote novo", "novo pacote",
			"neuer beutel", "nuova busta", "busta nuova", "nouveau sachet",
		}},
		{bar.Cleaned, []string{
			"cleaned out", "cleaned burrs", "burrs cleaned", "brushed burrs", "burrs brushed", "mahlscheiben gereinigt", "mahlscheiben geputzt", "scheiben gereinigt", "scheiben geputzt", "pulito macine", "macine pulite", "pulite macine",
			"meules nettoyées", "nettoyé meules", "limpié muelas", "muelas limpias", "limpiado muelas", "limpei mós", "mós limpas", "limpado mós",
			"cleaned", "mühle gereinigt", "gereinigt mühle", "mühle geputzt", "pulito macinino", "pulito il macinino", "macinino pulito", "nettoyé moulin", "nettoyé le moulin",
			"moulin nettoyé", "limpié molino", "limpié el molino", "molino limpio", "limpei moinho", "limpei o moinho", "moinho limpo",
		}},
		{bar.Rezeroed, []string{
			"re-zeroed", "rezeroed", "re zeroed", "zeroed", "re-zero", "rezero", "recalibrated", "dial zeroed",
			"zeroed dial", "rezeroed dial", "re-zeroed dial", "dial re-zeroed", "dial rezeroed",
		}},
		{bar.NewBurrs, []string{
			"new burrs", "new burrs new", "changed burrs", "burrs changed", "replaced burrs", "burrs replaced",
			"cambio macine", "cambiato macine", "macine cambiate", "cambiate macine", "nuove macine", "mahlscheiben gewechselt", "scheiben gewechselt", "meules changées", "changé meules",
			"muelas cambiadas", "cambiado muelas", "cambié muelas", "nuevas muelas", "mós trocadas", "troquei mós", "trocado mós", "novas mós",
			"macine nuove", "muelas nuevas", "neue mahlscheiben", "nouvelles meules", "meules neuves", "mós novas",
		}},
		{bar.HopperLow, []string{
			"hopper low", "low hopper", "hopper running low", "hopper nearly empty", "hopper almost empty", "hopper empty",
			"trichter leer", "trichter fast leer", "tramoggia vuota", "tramoggia quasi vuota", "trémie vide", "trémie presque vide",
			"tolva vacía", "tolva casi vacía", "moega vazia", "moega quase vazia",
			"finita campana", "campana finita", "finita tramoggia", "tramoggia finita", "bohnen fast leer", "bohnen leer", "trichter alle",
			"campana vuota", "campana quasi vuota", "tolva baja", "bohnenbehälter leer", "bohnenbehälter fast leer", "trémie basse", "tremonha vazia", "tremonha quase vazia", "tremonha baixa",
			"hopper half empty", "hopper getting low", "hopper very low", "hopper quite low", "hopper pretty low",
		}},
		{bar.HopperFilled, []string{
			"hopper filled", "filled hopper", "topped hopper", "hopper topped", "topped", "refilled hopper", "hopper refilled", "refilled", "filled", "aufgefüllt", "nachgefüllt", "trichter aufgefüllt", "trichter nachgefüllt", "riempito", "rabboccato", "riempito tramoggia", "riempito campana", "tramoggia riempita", "campana riempita", "riempita campana", "riempita tramoggia",
			"rempli", "rempli trémie", "trémie remplie", "rellenado", "rellené", "rellenado tolva", "rellené tolva", "llenado tolva", "llené tolva", "tolva rellenada", "reabastecido", "enchi", "enchi tremonha", "enchi moega", "reabasteci",
			"hopper full", "full hopper", "topped off hopper", "hopper topped off", "new hopper", "new hopper new",
			"neuer trichter", "neuer bohnenbehälter", "trichter voll", "nouvelle trémie", "trémie pleine", "nuova tramoggia", "tramoggia piena", "nueva tolva", "tolva llena",
			"nova tremonha", "nova moega", "tremonha cheia", "moega cheia",
		}},
		{bar.Swapped, []string{
			"swapped", "swapped coffee", "swapped coffees", "coffee swapped", "coffees swapped", "swapped hopper", "swapped hoppers",
			"hopper swapped", "hoppers swapped", "changed coffee", "changed hopper", "hopper changed", "switched coffee", "switched hopper",
			"coffee changed",
		}},
		{bar.NewFilter, []string{
			"nuovo filtro acqua", "filtro acqua nuovo", "nuovo filtro dell'acqua", "filtro dell'acqua nuovo", "filtro nuovo agua", "filtro agua nuevo", "filtro água novo", "filtro de agua nuevo", "neuer wasserfilter", "nouveau filtre à eau", "filtro de água novo",
			"cambiato filtro", "filtro cambiato", "cambio filtro", "nuovo filtro", "filtro nuovo", "filter gewechselt", "wasserfilter gewechselt", "neuer filter",
			"filtre changé", "changé filtre", "nouveau filtre", "filtre neuf", "filtro cambiado", "cambiado filtro", "cambié filtro", "nuevo filtro", "filtro nuevo",
			"filtro trocado", "troquei filtro", "trocado filtro", "novo filtro", "filtro novo",
			"new filter", "changed filter", "filter changed", "replaced filter", "filter replaced", "new cartridge",
			"changed cartridge", "new filter cartridge", "changed filter cartridge", "filter cartridge changed",
		}},
		{bar.Descaled, []string{
			"decalcificata", "macchina decalcificata", "descalcificada", "máquina descalcificada", "entkalkt", "maschine entkalkt", "détartré", "détartrée", "machine détartrée",
			"descaled", "de-scaled",
		}},
		{bar.OtherBasket, []string{
			"new basket", "changed basket", "other basket", "different basket", "swapped basket", "basket changed", "basket swapped",
			"bigger basket", "smaller basket", "another basket",
		}},
		{bar.OtherGroup, []string{
			"other group", "moved group", "changed group", "moved other group", "switched group", "moved different group", "changed other group",
		}},
	}
}

func eventOf(phrase string) bar.Event { return eventPhrases()[phrase] }

// eventPhrases has the event of each phrase. It is asked for at every word.
//
//nolint:gochecknoglobals // made once, never changed
var eventPhrases = sync.OnceValue(func() map[string]bar.Event {
	events := map[string]bar.Event{}
	for _, e := range eventWords() {
		for _, phrase := range e.phrases {
			events[phrase] = e.event
		}
	}
	return events
})

// event takes what is told beside a shot: "new bag, 18 36 24 sour". Only what
// stands between stops, or before the numbers, is an event.
func event(s *sheet, i int) int {
	before := i - 1 // "ok we swapped to tide, 18 40 26"
	for s.at(before).kind == wordToken && (s.lex.known(s.at(before).low) || s.at(before).is(ands()...) || s.at(before).is("we", "i", "he", "she", "they", "ok", "uh", "ich", "wir", "on", "je")) {
		before--
	}
	if s.at(before).kind == wordToken {
		return 0
	}
	var words []string
	best := 0
	var found bar.Event
	for j := i; j < i+7 && j < len(s.tokens) && s.at(j).kind == wordToken; j++ {
		if t := s.tokens[j]; !t.is("a", "the", "on", "is", "was", "just", "opened", "after", "grinder", "machine", "of", "water", "up", "has", "been", "to") {
			words = append(words, t.low)
		}
		if e := eventOf(strings.Join(words, " ")); e != 0 && toldBy(e, s.tokens[i:j+1]) {
			best, found = j+1-i, e
		}
	}
	if best == 0 || s.shot.Event != 0 || s.negated(i) {
		return 0
	}
	s.shot.Event = found
	if found == bar.NewBag {
		best = s.roastedBeside(i+best) - i
	}
	if found == bar.Swapped { // "swapped to tide"
		best = s.skip(i+best, "to", "in", "into", "for") - i
	}
	return best
}

// toldBy reports whether tokens tell an event without a name beside them.
func toldBy(e bar.Event, tokens []token) bool {
	has := func(words ...string) bool {
		return slices.ContainsFunc(tokens, func(t token) bool { return t.is(words...) })
	}
	switch e { //nolint:exhaustive // the others need no more than their phrases
	case bar.Cleaned:
		return has("grinder", "mühle", "macinino", "moulin", "molino", "moinho")
	case bar.NewBag:
		return has("new", "fresh", "another", "next", "changed", "opened", "nuovo", "neue", "neuer", "nouveau", "nueva", "nuevo", "novo")
	case bar.HopperFilled:
		return has(append(hoppers(), "topped")...)
	case bar.Swapped:
		return has("swapped", "changed") || has("switched") && has("coffee", "coffees", "hopper", "hoppers")
	}
	return true
}

// onGroup takes "on group 2", which group it was pulled on: nothing is known
// of groups, but its number is none of the shot's.
func onGroup(s *sheet, i int) int {
	j := s.skip(i, "on", "from", "the")
	if n := s.at(j + 1).num; s.at(j).is("group", "grouphead") && n.form == plainForm && n.vals[0] <= 6 && !isQuantity(s, j+1) {
		return j + 2 - i
	}
	return 0
}

// isQuantity reports whether a unit follows the number at i.
func isQuantity(s *sheet, i int) bool {
	q, _ := s.one(i)
	return q.unit != noUnit
}
