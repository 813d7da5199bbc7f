package parse

import (
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// A core is dose, yield and time without labels that stand together and are
// such as shots have: the items from from up to to. More numbers may stand
// beside them, but not as many as in a list. A message with a core is a
// shot, is asked about or is refused; it is left alone only where it says that
// its numbers are of something else.
type core struct{ from, to int }

// longestRun is how many numbers may stand together where three of them are a
// core. Assumed.
const longestRun = 5

// core finds the core, and whether there is one. A second one is noted as a
// mistake.
func (s *sheet) core() (c core, ok bool) {
	for from := 0; from < len(s.items); from++ {
		to, fits := s.coreAt(from)
		if _, another := s.coreAt(to); !fits || !ok && !another && s.runOf(core{from, to}) > longestRun {
			continue
		}
		if ok {
			s.unsure = Mistake{Kind: Several, What: cut(s.typed(c)), More: cut(s.typed(core{from, to}))}
			return c, ok
		}
		c, ok = core{from, to}, true
		from = to - 1
	}
	return c, ok
}

// coreAt returns where a core that begins with an item ends.
func (s *sheet) coreAt(from int) (to int, ok bool) {
	n := 0
	for to = from; to < len(s.items) && n < 3; to++ {
		n += len(s.items[to].vals)
		if to > from && !s.joined(to-1) {
			return to, false
		}
	}
	if n != 3 {
		return to, false
	}
	x, ok := s.placesOf(s.items[from:to])
	choke := s.shot.Marks.Has(bar.Choked) || s.shot.Gushed
	return to, ok && (typical(x[:]) && x[1] >= leastLengthening*x[0] || choke && sized(x))
}

// runOf counts the items that stand together with a core's, the core's included.
func (s *sheet) runOf(c core) int {
	for c.from > 0 && s.joined(c.from-1) {
		c.from--
	}
	for c.to < len(s.items) && s.joined(c.to-1) {
		c.to++
	}
	return c.to - c.from
}

// leastLengthening is how many times its dose a cup mostly weighs at the least.
// Common practice, no source. Prices and scores lie closer together.
const leastLengthening = 1.25

// placesOf returns dose, yield and time of three numbers: units first, then the
// bar's order.
func (s *sheet) placesOf(items []item) (x [3]float64, ok bool) {
	have := [3]bool{}
	put := func(v float64, slots ...int) {
		for _, slot := range slots {
			if !have[slot] {
				x[slot], have[slot] = v, true
				return
			}
		}
	}
	for _, it := range items {
		if it.unit == second {
			put(it.vals[0], 2)
		}
	}
	order := s.order()
	for _, it := range items {
		for _, v := range it.vals {
			switch it.unit {
			case noUnit:
				put(v, order[:]...)
			case gram, millilitre, ounce, fluidOunce:
				put(v, 0, 1)
			case second, celsius, fahrenheit, percent, pressure:
			}
		}
	}
	return x, have == [3]bool{true, true, true}
}

// labelledCore returns the core of a shot whose dose and yield were said with
// labels, where other numbers than its time stand beside them: the first that may
// be its time.
func (s *sheet) labelledCore() (c core, ok bool) {
	d, y := s.shot.Dose, s.shot.Yield
	if !s.strong || !typical([]float64{d.X, y.X, 30}) || len(s.stray) == 0 && len(s.items) < 2 && (len(s.items) == 0 || !s.unknown(s.items[0].from-1)) {
		return c, false
	}
	for i, it := range s.items {
		if x := it.vals[0]; !s.shot.Time.Said && len(it.vals) == 1 && (it.unit == second || it.unit == noUnit && 10 <= x && x <= 60 && !s.unknown(it.from-1)) {
			return core{i, i + 1}, true
		}
	}
	return c, true
}

// halfCore returns the yield of a shot whose dose was left out, "36 in 28 for
// jo": one near the recipe's, with a time of a shot behind it.
func (s *sheet) halfCore() (c core, ok bool) {
	if len(s.items) == 0 || s.said() != 1 || !s.shot.Time.Said || s.shot.Ratio.Said || s.clash {
		return c, false
	}
	it, x := s.items[0], s.shot.Time.X
	in := it.to < len(s.tokens) && s.tokens[it.to].is("in", "en", "em", "after", "→", ",", "/", "-")
	near := len(it.vals) == 1 && (it.unit == noUnit || it.unit == gram) && apart(it.vals[0], float64(s.recipe().Yield)) < farFromRecipe
	other := s.at(it.to+2).is("min", "mins", "minutes", "hours", "days", "weeks", "months", "years", "%", "euro")
	return core{0, 1}, in && near && aShot(x) && !other && !s.elsewhere()
}

// farFromRecipe is how far a yield may lie from the recipe's, as a logarithm, to
// be known as one beside a time alone. Assumed.
const farFromRecipe = 0.35

// half settles what a message with the yield and the time of a shot is: the dose
// is the recipe's.
func (s *sheet) half(c core) (Meaning, error) {
	strange := s.strangers()
	if len(strange) > mostTalk || s.planned() || s.waits() {
		return Chatter{}, nil
	}
	s.setAside(c)
	s.forWhom()
	words, unread := s.inCompany(s.readWords(len(s.tokens)))
	unread = slices.DeleteFunc(unread, s.saysNothing)
	s.shot.Words, s.shot.Unread = words, unread
	if s.shot.Doubt = slices.Concat(strange, unread); len(unread) > mostUnread || len(strange) > 0 && len(words) == 0 || !s.assign() {
		return Chatter{}, nil
	}
	return s.settle(0)
}

// forWhom passes over whom a shot was for: "for jo", "for the lady". Milk is none
// of them.
func (s *sheet) forWhom() {
	for i := range s.tokens {
		if i == s.first || !s.at(i).is("for", "für", "pour", "per", "para", "voor") {
			continue
		}
		j := s.skip(i+1, "the", "a", "my", "our", "that", "die", "den", "le", "la", "el", "il", "o")
		if s.unknown(j) && !s.readable(s.tokens[j].text) && !s.saysNothing(s.tokens[i].text+" "+s.tokens[j].text) { // "per niente" denies
			s.hold(i, j+1-i)
		}
	}
}

// around settles what a message with a core is: a shot, one to ask about, or
// talk of something else.
// Crowd is how many numbers stand together with the core's.
func (s *sheet) around(c core, crowd int) (Meaning, error) {
	s.setAside(c)
	s.forWhom()
	s.misspelt()
	s.greet()
	strange := s.strangers()
	s.foreign(strange)
	s.guessName()
	words, unread := s.inCompany(s.readWords(len(s.tokens)))
	s.shot.Words, s.shot.Unread = words, slices.DeleteFunc(slices.Clone(unread), s.saysNothing)
	shown := s.shown()
	s.shot.Unread = slices.DeleteFunc(s.shot.Unread, func(word string) bool { return slices.Contains(tradeWords(), word) })
	elsewhere := s.elsewhere()
	switch {
	case (elsewhere || crowd > 1) && !shown, s.planned():
		return Chatter{}, nil
	case s.shot.Stranger != "" && (shown || s.shot.Near != 0 || len(s.shot.Unread) == 0):
	case len(strange) == 0 && len(s.shot.Unread) <= mostUnread && !elsewhere && crowd == 0:
	case len(strange) > 0 && !shown:
		return Chatter{}, nil
	case !elsewhere && crowd == 0 && s.plainlyOne(strange):
		strange = slices.DeleteFunc(strange, func(word string) bool { return slices.Contains(tradeWords(), word) })
		for _, t := range s.tokens { // no word that could be taught
			switch {
			case !slices.Contains(strange, t.text):
			case t.kind == noiseToken:
				s.shot.Aside = append(s.shot.Aside, t.text)
			case t.kind == mentionToken:
				strange = slices.DeleteFunc(strange, func(word string) bool { return word == t.text })
			}
		}
		small := func(word string) bool { // "ho usato"
			return hints()[strings.ToLower(word)] != 0 || s.saysNothing(word) || slices.Contains(s.shot.Aside, word)
		}
		s.shot.Words, strange = s.inCompany(s.shot.Words, strange)
		if s.shot.Unread = slices.DeleteFunc(eachOnce(append(strange, s.shot.Unread...)), small); len(s.shot.Unread) > mostUnread {
			s.shot.Doubt = s.shot.Unread
		}
	default:
		strange = slices.DeleteFunc(strange, func(word string) bool { return slices.Contains(s.shot.Unread, word) })
		s.shot.Doubt = slices.Concat(strange, s.shot.Unread, s.shot.Aside)
	}
	bare := s.bare()
	s.shot.Count = s.counting() && !shown
	if s.said()+s.count() > 3 || s.clash || !s.assign() {
		return nil, Mistake{Kind: Unclear, What: cut(s.text)}
	}
	return s.settle(bare)
}

// plainlyOne reports whether a message is a shot whatever its strange words say: the numbers
// are about the recipe's. Where no coffee is named, none of these words may stand where its name would.
func (s *sheet) plainlyOne(strange []string) bool {
	placed, r := s.copied(), s.recipe()
	if !placed.assign() {
		return false
	}
	x := placed.shot
	near := apart(x.Dose.X, float64(r.Dose)) <= 4*doseStray && apart(x.Yield.X, float64(r.Yield)) <= 4*yieldStray
	if !near || x.Time.Said && !(float64(r.Low)/2 <= x.Time.X && x.Time.X <= 2*float64(r.High)) {
		return false
	}
	return s.shot.Coffee != 0 || !slices.ContainsFunc(strange, func(word string) bool {
		i := slices.IndexFunc(s.tokens, func(t token) bool { return t.text == word })
		r, _ := utf8.DecodeRuneInString(word)
		if i < 0 || s.tokens[i].kind != wordToken || i+1 < len(s.tokens) && s.tokens[i+1].kind == numberToken { // "los palos 18 36 28"
			return true
		}
		return i > 0 && s.tokens[i-1].is("on", "to", "of", "with", "auf", "mit", "von", "di", "del", "con", "de", "du", "sur", "avec", "do", "com", "em") || i > 0 && unicode.IsUpper(r)
	})
}

// tradeWords are of what a shot is pulled with.
func tradeWords() []string {
	return []string{
		"shot", "pulled", "pull", "taste", "tastes", "tasted", "tasting", "bag", "hopper", "grinder", "basket", "burrs", "puck", "crema", "portafilter", "pump", "siebträger", "sieb", "mühle", "portafiltro", "filtro", "macinino", "pompa", "pumpe",
		"pompe", "bomba", "molino", "moulin", "moinho", "cestello", "panier", "cesta",
	}
}

// counting reports whether three bare numbers go up like a count, from one that
// is not the recipe's dose.
func (s *sheet) counting() bool {
	x := s.inOrder()
	return s.bare() == 3 && x[0] < x[1] && x[1]-x[0] == x[2]-x[1] && apart(x[0], float64(s.recipe().Dose)) > 2*doseStray
}

// setAside keeps the core's numbers alone. What other numbers there are, with
// the word beside them, is none of the shot's: "for table 4".
func (s *sheet) setAside(c core) {
	for i, it := range s.items {
		if i < c.from || i >= c.to {
			s.aside(it.from, it.to)
		}
	}
	for _, i := range s.stray {
		if s.tokens[i].kind != noiseToken || i > s.first { // a link or code before the numbers is a stranger
			s.aside(i, i+1)
		}
	}
	s.stray = nil
	s.items = s.items[c.from:c.to]
	for _, it := range s.items {
		s.first = min(s.first, it.from)
	}
}

// aside takes the tokens from from up to to, and a word that belongs to them.
func (s *sheet) aside(from, to int) {
	switch {
	case s.unknown(from-1) && s.tokens[from-1].kind == wordToken:
		from--
	case s.unknown(to) && s.tokens[to].kind == wordToken:
		to++
	}
	s.hold(from, to-from)
	s.shot.Aside = append(s.shot.Aside, cut(s.text[s.tokens[from].start:s.tokens[to-1].end()]))
}

// unknown reports whether token i is a word that no rule and no lexicon knows.
func (s *sheet) unknown(i int) bool {
	if i < 0 || i >= len(s.tokens) || s.used[i] || s.tokens[i].kind != wordToken {
		return false
	}
	_, tastes := s.lex.inCompany(s.tokens[i].low) // "a 5 dolce"
	return !tastes && !s.ordinary(i) && !s.opening(s.tokens[i])
}

// typed returns the text of a core.
func (s *sheet) typed(c core) string {
	first, last := s.items[c.from], s.items[c.to-1]
	return s.text[s.tokens[first.from].start:s.tokens[last.to-1].end()]
}

// misspelt finds a word that is nearly a coffee's name, where none is named.
func (s *sheet) misspelt() {
	coffees := keys(s.vocab.Coffees)
	for i := range s.tokens {
		if s.shot.Coffee != 0 || s.shot.Stranger != "" || !s.unknown(i) && !s.guessed(i) || s.judges(i) {
			continue
		}
		if id := nearCoffee(coffees, s.tokens[i].low); id != 0 && (i < s.first || !s.readable(s.tokens[i].text)) {
			if s.used[i] = true; s.slipOf(coffees, s.tokens[i].low) == id {
				s.shot.Coffee = id
				continue
			}
			s.shot.Stranger, s.shot.Near = s.tokens[i].text, id
		}
	}
}

// slipOf returns the only coffee whose whole name is one letter from a word, 0 where there
// are none or two, or where a coffee that is gone was called so. The word is a long one.
func (s *sheet) slipOf(coffees []key[bar.CoffeeID], low string) (id bar.CoffeeID) {
	for _, k := range coffees {
		switch {
		case len(low) < 5 || taste.Edits(low, k.low) != 1:
		case id != 0:
			return 0
		default:
			id = k.ID
		}
	}
	if slices.ContainsFunc(s.vocab.Gone, func(gone string) bool { return taste.Edits(low, strings.ToLower(gone)) <= 1 }) {
		return 0
	}
	return id
}

// guessed reports whether a word before the numbers is one of taste only where
// it is misspelt.
func (s *sheet) guessed(i int) bool {
	t := s.tokens[i]
	if s.used[i] || i >= s.first || t.kind != wordToken || structural(t) || s.lex.filler(t.low) || !s.lex.known(t.low) {
		return false
	}
	return !slices.ContainsFunc(taste.Default().Entries(), func(e taste.Entry) bool {
		return e.Term == t.low || slices.Contains(e.Forms, t.low)
	})
}

// readable reports whether a word alone is read as taste, misspelt or not.
func (s *sheet) readable(word string) bool {
	words, _ := s.lex.read(word)
	return len(words) > 0
}

// nearCoffee returns the coffee with a word in its name that is one letter from
// this one, or two if it is long.
func nearCoffee(coffees []key[bar.CoffeeID], low string) bar.CoffeeID {
	best, id := 3, bar.CoffeeID(0)
	for _, k := range coffees {
		for _, word := range append(strings.Fields(k.low), k.low) {
			if d := taste.Edits(low, word); d < best && len(word) >= 4 && 3*d < len(word) {
				best, id = d, k.ID
			}
		}
	}
	return id
}

// foreign takes a strange word or two before the numbers for a coffee's name,
// where no coffee is named and nothing else is said there: "mocca 18 36 29 sour".
func (s *sheet) foreign(strange []string) {
	if s.shot.Coffee != 0 || s.shot.Stranger != "" || len(strange) == 0 || len(strange) > 2 {
		return
	}
	sentence := func(i int) bool {
		t := s.tokens[i]
		return !s.used[i] && t.kind != symbolToken && !t.is("on", "with", "the") && !t.is(dayWords()...) && !slices.Contains(strange, t.low)
	}
	from := -1
	for i := range s.tokens[:s.first] {
		if sentence(i) {
			return
		}
	}
	for i, t := range s.tokens[:s.first] {
		if s.unknown(i) && slices.Contains(strange, t.low) && !t.is(tradeWords()...) {
			if from < 0 {
				from = i
			}
			s.used[i] = true
			s.shot.Stranger = cut(s.text[s.tokens[from].start:t.end()])
		}
	}
}

// shown reports whether something besides three numbers shows that they are a
// shot's.
func (s *sheet) shown() bool {
	for _, it := range s.items {
		for _, v := range it.vals {
			if it.unit != noUnit || v != math.Trunc(v) {
				return true
			}
		}
	}
	return s.shot.Coffee != 0 || s.shot.Near != 0 || s.shot.Grinder != 0 || len(s.shot.Words) > 0 || s.shot.Grind.Said ||
		s.shot.Marks&^bar.First != 0 || s.shot.Gushed || s.shot.Dialled || s.shot.Event != 0 || s.labels > 0 ||
		s.holds(pours()...) || s.holds(tradeWords()...)
}

// elsewhere reports whether a message says that its numbers are of something
// else than a shot.
func (s *sheet) elsewhere() bool {
	return s.holds("cups", "lids", "spoons", "chairs", "people", "guests", "covers", "booked", "ordered", "orders", "bags", "boxes",
		"kg", "invoice", "lotto", "bingo", "draw", "size", "sizes", "stock", "numbers", "score", "scores", "hours", "euro", "euros", "tips",
		"price", "prices", "rota", "flight", "bus", "tram", "train", "party", "won", "room", "rooms", "phone", "page", "pages", "code",
		"pin", "bill", "order", "saturday", "seats", "tickets", "birthday", "age", "years", "litres", "liters", "eggs")
}

// planned reports whether what stands before the numbers says that they are
// meant to be, and not that they were.
func (s *sheet) planned() bool {
	for i, t := range s.tokens[:s.first] {
		if t.is("back") && (s.used[i] || s.at(i+1).is("on") || i+2 < len(s.tokens) && s.tokens[i+1].is("at", "to", "on") && s.tokens[i+2].kind == numberToken && strings.ContainsAny(s.tokens[i+2].text, ".,")) || t.is("try", "attempt") && i > 0 && s.tokens[i-1].is("first", "second", "third", "1st", "2nd", "3rd", "next", "another", "my", "last") { // "back on harbour", "my third try"
			continue
		}
		if t.is("try", "back", "recipe", "target", "aim", "aiming", "should", "let's", "lets", "use", "spec", "usually", "rezept", "ricetta", "recette", "receta", "receita") {
			return true
		}
	}
	return false
}
