package parse

import (
	"slices"
	"strings"
	"sync"

	"shothand/advisor"
)

// happened reads what happened to the bar: "new bag", "re-zeroed left". An
// event inside a message about a shot is a rule's: see event.
func happened(s *sheet) (Meaning, bool) {
	rest, ok := s.rest(false, "a", "the", "of", "just", "we", "i", "have", "we've", "i've", "opened", "open", "on", "for", "in", "into",
		"started", "put", "grinder", "is", "was", "been", "has", "and", "today", "now", "it", "fresh", "bean", "beans", "some", "all", "to",
		"our", "water", "machine's", "machine", "espresso", "with", "up", "done", "fitted")
	if !ok || s.unsure.Kind != 0 {
		return nil, false
	}
	phrase := strings.Join(rest, " ")
	e := eventOf(phrase)
	if phrase == "hopper" && s.shot.Coffee != 0 && s.holds("in", "into") { // "tide is in the hopper"
		e = advisor.Swapped
	}
	switch {
	case e == 0,
		phrase == "bag" && !s.holds("fresh", "open", "opened"),
		e == advisor.Cleaned && s.shot.Grinder == 0 && !s.holds("grinder"),
		e == advisor.HopperFilled && !s.holds("hopper", "beans"),
		e == advisor.Swapped && s.shot.Coffee == 0 && !s.holds("hopper", "hoppers", "coffee", "coffees"):
		return nil, false
	}
	return Happened{Event: e, Coffee: s.shot.Coffee, Grinder: s.shot.Grinder}, true
}

// An eventWord is a way to tell an event, without the words that happened
// leaves out.
type eventWord struct {
	event   advisor.Event
	phrases []string
}

func eventWords() []eventWord {
	return []eventWord{
		{advisor.NewBag, []string{"new bag", "bag", "changed bag", "changed bags", "bag changed", "new bag new", "next bag", "another bag"}},
		{advisor.Cleaned, []string{"cleaned"}},
		{advisor.Rezeroed, []string{
			"re-zeroed", "rezeroed", "re zeroed", "zeroed", "re-zero", "rezero", "recalibrated", "dial zeroed",
			"zeroed dial", "rezeroed dial", "re-zeroed dial", "dial re-zeroed", "dial rezeroed",
		}},
		{advisor.NewBurrs, []string{
			"new burrs", "new burrs new", "changed burrs", "burrs changed", "replaced burrs", "burrs replaced",
		}},
		{advisor.HopperLow, []string{
			"hopper low", "low hopper", "hopper running low", "hopper nearly empty", "hopper almost empty", "hopper empty",
			"hopper half empty", "hopper getting low", "hopper very low", "hopper quite low", "hopper pretty low",
		}},
		{advisor.HopperFilled, []string{
			"hopper filled", "filled hopper", "topped hopper", "hopper topped", "topped", "refilled hopper", "hopper refilled", "refilled",
			"hopper full", "full hopper", "topped off hopper", "hopper topped off",
		}},
		{advisor.Swapped, []string{
			"swapped", "swapped coffee", "swapped coffees", "coffee swapped", "coffees swapped", "swapped hopper", "swapped hoppers",
			"hopper swapped", "hoppers swapped", "changed coffee", "changed hopper", "hopper changed", "switched coffee", "switched hopper",
			"coffee changed",
		}},
		{advisor.NewFilter, []string{
			"new filter", "changed filter", "filter changed", "replaced filter", "filter replaced", "new cartridge",
			"changed cartridge", "new filter cartridge", "changed filter cartridge", "filter cartridge changed",
		}},
		{advisor.Descaled, []string{"descaled", "de-scaled"}},
		{advisor.OtherBasket, []string{
			"new basket", "changed basket", "other basket", "different basket", "swapped basket", "basket changed", "basket swapped",
			"bigger basket", "smaller basket", "another basket",
		}},
		{advisor.OtherGroup, []string{
			"other group", "moved group", "changed group", "moved other group", "switched group", "moved different group", "changed other group",
		}},
	}
}

func eventOf(phrase string) advisor.Event { return eventPhrases()[phrase] }

// eventPhrases has the event of each phrase. It is asked for at every word.
//
//nolint:gochecknoglobals // made once, never changed
var eventPhrases = sync.OnceValue(func() map[string]advisor.Event {
	events := map[string]advisor.Event{}
	for _, e := range eventWords() {
		for _, phrase := range e.phrases {
			events[phrase] = e.event
		}
	}
	return events
})

// eventText prints an event, for Format.
func eventText(e advisor.Event) string {
	switch e {
	case advisor.NewBag:
		return "new bag"
	case advisor.Cleaned:
		return "grinder cleaned"
	case advisor.Rezeroed:
		return "re-zeroed"
	case advisor.NewBurrs:
		return "new burrs"
	case advisor.HopperLow:
		return "hopper low"
	case advisor.HopperFilled:
		return "hopper filled"
	case advisor.Swapped:
		return "swapped"
	case advisor.NewFilter:
		return "new filter"
	case advisor.Descaled:
		return "descaled"
	case advisor.OtherBasket:
		return "new basket"
	case advisor.Moved: // no shot tells it
	case advisor.OtherGroup:
		return "other group"
	}
	return ""
}

// event takes what is told beside a shot: "new bag, 18 36 24 sour". Only what
// stands between stops, or before the numbers, is an event.
func event(s *sheet, i int) int {
	if i > 0 && !s.used[i-1] && s.tokens[i-1].kind == wordToken {
		return 0
	}
	var words []string
	best := 0
	var found advisor.Event
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
	if found == advisor.Swapped { // "swapped to tide"
		best = s.skip(i+best, "to", "in", "into", "for") - i
	}
	return best
}

// toldBy reports whether tokens tell an event without a name beside them.
func toldBy(e advisor.Event, tokens []token) bool {
	has := func(words ...string) bool {
		return slices.ContainsFunc(tokens, func(t token) bool { return t.is(words...) })
	}
	switch e {
	case advisor.Cleaned:
		return has("grinder")
	case advisor.NewBag:
		return has("new", "fresh", "another", "next", "changed", "opened")
	case advisor.HopperFilled:
		return has("hopper", "topped")
	case advisor.Swapped:
		return has("swapped", "changed", "switched")
	case advisor.Rezeroed, advisor.NewBurrs, advisor.HopperLow, advisor.NewFilter, advisor.Descaled, advisor.OtherBasket, advisor.OtherGroup, advisor.Moved:
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
