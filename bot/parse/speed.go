package parse

import (
	"math"
	"slices"
	"strings"

	"shothand/advisor/bar"
)

// How fast a shot ran says nothing that can be stored without its time; with a
// number beside it, it is most likely one: "too slow, 35", "that one ran away, 14
// secs". It is asked about.

// speeds are the ways to say so, as their words.
func speeds() []string {
	return []string{
		"too fast", "too slow", "too quick", "too quickly", "so fast", "so slow", "really fast", "really slow", "super fast", "super slow",
		"running fast", "running slow", "running quick", "ran fast", "ran slow", "ran away", "ran long", "ran short", "flew out",
		"zu schnell", "zu langsam", "trop vite", "trop rapide", "trop lent", "trop lente",
		"troppo veloce", "troppo rapido", "troppo rapida", "troppo lento", "troppo lenta",
		"muy rápido", "muy rapido", "muy lento", "demasiado rápido", "demasiado rapido", "demasiado lento",
		"muito rápido", "muito rapido", "muito lento", "rápido demais", "lento demais", "demasiado lenta",
		"too long", "too short", "zu lang", "zu kurz", "trop long", "trop court", "troppo lungo", "troppo corto", "demasiado largo", "demasiado corto", "muito longo", "muito curto",
		"ran slowly", "ran quick", "lief lang", "lief kurz", "lief schnell", "lief langsam", "andato lungo", "andato veloce", "andato lento", "uscito lento", "uscito veloce",
		"coulé long", "coulé court", "coulé vite", "coulé lentement", "salió largo", "salió corto", "salió rápido", "salió lento",
		"saiu longo", "saiu curto", "saiu rápido", "saiu lento",
	}
}

// degrees may stand between the two words of a speed: "ran a bit long".
func degrees() []string {
	return []string{
		"a", "bit", "little", "touch", "tad", "too", "very", "really", "quite", "so", "etwas", "bisschen", "ein", "zu", "sehr", "un", "po", "po'", "'", "poco", "troppo", "molto",
		"peu", "trop", "très", "demasiado", "muy", "um", "pouco", "muito",
	}
}

// pulls are the verbs by which a speed is told of a shot that was pulled.
func pulls() []string {
	return []string{"ran", "lief", "andato", "uscito", "coulé", "salió", "saiu"}
}

// speed finds how fast it is said to have run, and returns it as typed.
func (s *sheet) speed() (typed string, ok bool) {
	for i := range s.tokens {
		for _, words := range speeds() {
			first, second, _ := strings.Cut(words, " ")
			if end := s.skip(i+1, degrees()...); s.at(i).is(first) && s.at(end).is(second) {
				s.hold(i, end+1-i)
				return s.text[s.tokens[i].start:s.tokens[end].end()], true
			}
		}
	}
	return "", false
}

// paced takes how fast a shot ran beside all its numbers, whose time says it better:
// "18 36 20 läuft durch". What is quick may be something else of the cup, "quick finish".
func paced(s *sheet, i int) int {
	j := s.skip(i, "it", "was", "is", "ran", "runs", "running", "very", "bit", "läuft", "lief", "sehr", "va", "ça", "coule", "sale", "sai", "esce")
	through := j > i && s.at(j).is("through", "durch", "court")
	if !through && !s.at(j).is(paces()...) || s.numbers < 3 {
		return 0
	}
	if next := s.at(j + 1); next.kind == wordToken && (!s.lex.known(next.low) || s.lex.filler(next.low)) && !next.is("and", "but", "und", "aber", "e", "ma", "y", "pero", "et", "mais", "mas") {
		return 0
	}
	return j + 1 - i
}

// paces are the words for how fast a shot ran.
func paces() []string {
	return []string{
		"fast", "quick", "quickly", "slow", "slowly", "schnell", "langsam", "rast", "veloce", "corre", "rápido", "rapido", "rápida", "rapida", "depressa",
		"lento", "lenta", "vite", "rapide", "lent", "lente", "lentement", "lentamente",
	}
}

// lows returns n tokens from i on in lower case.
func (s *sheet) lows(i, n int) string {
	if i+n > len(s.tokens) {
		return ""
	}
	low := make([]string, 0, 4) // as most are
	for _, t := range s.tokens[i : i+n] {
		low = append(low, t.low)
	}
	return strings.Join(low, " ")
}

// tooFast returns a shot to ask about where a message says how fast it ran, one
// number that may be its time, and nothing of anything else.
func (s *sheet) tooFast() (Meaning, bool) {
	if len(s.items) != 1 || len(s.items[0].vals) != 1 || s.labels > 0 || len(s.stray) > 0 || s.elsewhere() || s.waits() {
		return nil, false
	}
	it := s.items[0]
	x := it.vals[0]
	typed, ok := s.speed()
	if it.unit != second && it.unit != noUnit || !(10 <= x && x <= 60) || s.unknown(it.to) || s.unknown(it.from-1) && !s.at(it.from-1).is("at", "in") {
		return nil, false
	}
	if !ok || len(s.strangers()) > 0 {
		return nil, false
	}
	words, unread := s.readWords(len(s.tokens))
	if len(unread) > 0 {
		return nil, false
	}
	s.shot.Words, s.shot.Doubt = words, []string{typed}
	verb, _, _ := strings.Cut(strings.ToLower(typed), " ")
	s.shot.Refers = slices.Contains(pulls(), verb) || s.tokens[0].is("that", "it", "this", "last")
	s.items = nil
	s.put(timePlace, it.quantity)
	return s.shot, !s.clash && Check(s.shot) == nil
}

// copied returns the sheet to read on trial.
func (s *sheet) copied() *sheet {
	c := *s
	c.used = slices.Clone(s.used)
	return &c
}

// waits reports whether a message asks for time, or says when somebody is back.
func (s *sheet) waits() bool {
	return s.holds("hang", "hold", "wait", "waiting", "gimme", "give", "moment", "brb", "warte", "attends", "aspetta", "espera")
}

// regrouped returns a shot to ask about where the digits of a message, however
// spaces cut them, are those of a shot of the recipe's dose: "18 36 2 7", "1836 28".
func (s *sheet) regrouped() (Meaning, bool) {
	var all strings.Builder
	first, last, n := -1, -1, 0
	for i, t := range s.tokens {
		if digits(t.text) == len(t.text) {
			all.WriteString(t.text)
			if first < 0 {
				first = i
			}
			last, n = i, n+1
		}
	}
	if all.Len() != 6 || n == 3 || last-first != n-1 || s.labels > 0 {
		return nil, false
	}
	text := all.String()
	x := []float64{decimal(text[:2]), decimal(text[2:4]), decimal(text[4:])}
	if !typical(x) || x[1] < leastLengthening*x[0] || apart(x[0], float64(s.recipe().Dose)) > 2*doseStray {
		return nil, false
	}
	s.hold(first, n)
	s.first = first
	words, unread := s.readWords(len(s.tokens))
	if len(unread) > 0 || len(s.strangers()) > 0 || s.elsewhere() || s.planned() {
		return nil, false
	}
	said := func(v float64) Number { return Number{X: v, Said: true} }
	s.shot.Dose, s.shot.Yield, s.shot.Time = said(x[0]), said(x[1]), said(x[2])
	s.shot.Words, s.shot.Half, s.shot.Doubt = words, true, []string{s.text[s.tokens[first].start:s.tokens[last].end()]}
	s.shot.Grind = Grind{}
	return s.shot, true
}

// timedPair returns the dose and the yield of a shot whose time follows them with
// its word: "mocca 18 36 in 27s".
func (s *sheet) timedPair() (c core, ok bool) {
	if !s.shot.Time.Said || s.said() != 1 || s.shot.Ratio.Said || s.clash {
		return c, false
	}
	for i := range len(s.items) - 1 {
		a, b := s.items[i], s.items[i+1]
		if len(a.vals) != 1 || len(b.vals) != 1 || !s.joined(i) || b.to >= len(s.tokens) || !s.tokens[b.to].is("in", "after", "→", ",", "/", "-") {
			continue
		}
		x := []float64{a.vals[0], b.vals[0], s.shot.Time.X}
		other := s.at(b.to+2).is("min", "mins", "minutes", "hours", "h", "days", "weeks", "months", "years", "%", "euro")
		if typical(x) && x[1] >= leastLengthening*x[0] && !other {
			return core{i, i + 2}, true
		}
	}
	return c, false
}

// telephone reports whether a number of a telephone or an order stands beside the
// items from from up to to: "0151 18 36 28".
func (s *sheet) telephone(c core) bool {
	for c.from > 0 && s.joined(c.from-1) {
		c.from--
	}
	for c.to < len(s.items) && s.joined(c.to-1) {
		c.to++
	}
	beside := func(i int) bool {
		return 0 <= i && i < len(s.tokens) && s.tokens[i].kind == noiseToken && digits(s.tokens[i].text) > 3
	}
	return beside(s.items[c.from].from-1) || beside(s.items[c.to-1].to)
}

// exclaimed takes what people sigh beside a shot, which says nothing of it.
func exclaimed(s *sheet, i int) int {
	said := s.count()+s.labels > 0 || s.shot.Marks != 0 || s.shot.Gushed
	if said && sigh(s.at(i)) {
		return 1
	}
	return 0
}

// mostPurged is how much is let out at the most between shots, in g; a dose is more.
// Common practice, no source.
const mostPurged = 10

// purge takes how much was let out, which is not kept: "purged 3g".
func (s *sheet) purge(i int) int {
	q, n := s.one(i)
	if n > 0 && q.unit == gram && len(q.vals) == 1 && q.vals[0] <= mostPurged {
		return n
	}
	return 0
}

// weighed reports whether a mass that stands alone may be one of a shot: "3g of
// sugar" is none.
func (s *sheet) weighed() bool {
	for _, it := range s.items {
		if it.unit == gram && (it.vals[0] < leastDose || s.at(it.to).is("of", "de", "di", "von")) {
			return false
		}
	}
	return true
}

// refers reports whether a message that says little of a shot begins as one about
// the shot before: "it ran 24", "the first shot was 25 s", "was choking a bit".
func (s *sheet) refers(shot Shot) bool {
	if shot.Dose.Said || shot.Yield.Said || shot.Grind.Said || shot.Ratio.Said || shot.Same || len(shot.Doubt) > 0 || shot.Stranger != "" {
		return false
	}
	from := 0
	for s.tokens[from].is("ok", "okay", ",") && from+1 < len(s.tokens) {
		from++
	}
	first := s.tokens[from]
	if label(first) == timePlace && s.said() == 1 && len(shot.Words) == 0 { // "time 31"
		return true
	}
	head := first.is("it", "it's", "its", "that", "this", "the", "was") || first.is("first", "last") && (shot.Gushed || shot.Marks.Has(bar.Choked))
	return head && s.holds("ran", "was", "took", "choked", "choking", "choke", "gushed", "gushing", "stalled", "it's", "its")
}

// fragment reports whether a message says what went in or what came out of a shot, and no
// more: "weighed 17.6 in", "38 out".
func (s *sheet) fragment(shot Shot) bool {
	one := shot.Dose.Said != shot.Yield.Said && s.labels == 1 && len(s.items) == 0
	more := shot.Time.Said || shot.Grind.Said || shot.Ratio.Said || shot.Same || shot.Gushed || shot.Event != 0 || shot.Marks != 0 || len(shot.Words)+len(shot.Unread)+len(shot.Doubt) > 0
	return one && !more && shot.Stranger == ""
}

// another reports whether a second coffee is named.
func (s *sheet) another() bool { return s.second() >= 0 }

// second returns the token that names a second coffee, or -1.
func (s *sheet) second() int {
	for i, t := range s.tokens {
		if c := s.coffeeOf(t); s.shot.Coffee != 0 && !s.used[i] && c != 0 && c != s.shot.Coffee {
			return i
		}
	}
	return -1
}

// coffeeOf returns the coffee whose name is that one word, or whose name alone has it, or 0.
func (s *sheet) coffeeOf(t token) (of bar.CoffeeID) {
	if t.kind != wordToken {
		return 0
	}
	for _, n := range s.vocab.Coffees {
		switch part := len(t.low) > 2 && slices.Contains(strings.Fields(fold(n.Name)), t.low); {
		case strings.EqualFold(n.Name, t.text):
			return n.ID
		case part && of != 0:
			return 0
		case part:
			of = n.ID
		}
	}
	return of
}

// repeats returns a shot to ask about where a message says that it was the same
// again, and no number: "same again", "same but better".
func (s *sheet) repeats() (Meaning, bool) {
	if !s.shot.Same || s.shot.Ratio.Said || s.shot.Gushed || s.shot.Marks.Has(bar.Choked) || len(s.items) > 0 || s.labels > 0 || len(s.stray) > 0 || s.asked() || s.planned() || s.elsewhere() {
		return nil, false
	}
	words, unread := s.readWords(len(s.tokens))
	unread = slices.DeleteFunc(unread, s.saysNothing)
	more := len(words) > 0 || s.shot.Coffee != 0 || s.shot.Grind.Said || len(s.tokens) == 2 && slices.Contains(sameAgain(), s.lows(0, 2))
	if g := s.shot.Grind; g.Said && !g.Relative && g.X == math.Trunc(g.X) && !s.holds("but", "grind") { // "same again at 7"
		more = false
	}
	if len(unread) > 0 || !more || s.social() {
		return nil, false
	}
	s.shot.Words, s.shot.Doubt = words, []string{s.text}
	return s.shot, true
}
