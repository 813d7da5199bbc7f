package parse

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// names finds the coffees and grinders that a text names, before any rule
// reads it, so that a coffee called "Blend 2" keeps its number.
func (s *sheet) names() {
	coffees, grinders := keys(s.vocab.Coffees), keys(s.vocab.Grinders)
	gone := s.goneNames()
	for i := 0; i < len(s.tokens); {
		if n := s.coffee(coffees, i); n > 0 {
			i += n
		} else if n := s.gone(gone, i); n > 0 {
			i += n
		} else if n := s.grinder(grinders, i); n > 0 {
			i += n
		} else {
			if s.tokens[i].nearly("grinder") {
				s.tokens[i].low = "grinder"
			}
			i++
		}
	}
}

// A key is a name as it is compared: the words of it in lower case.
type key[T any] struct {
	Name[T]
	low string
}

func keys[T any](names []Name[T]) []key[T] {
	var out []key[T]
	for _, n := range names {
		if low := joined(lex(n.Name)); low != "" {
			out = append(out, key[T]{n, low})
		}
	}
	return out
}

// joined puts the words and numbers of a name in one line; a name without a
// word is none, since its numbers would be those of shots.
func joined(tokens []token) string {
	var out []string
	word := false
	for _, t := range tokens {
		word = word || t.kind == wordToken || t.isSpelled()
		if t.kind == wordToken || t.kind == numberToken {
			out = append(out, t.low)
		}
	}
	if !word {
		return ""
	}
	return strings.Join(out, " ")
}

// A match is which names a piece of text may mean.
type match[T any] struct {
	found []key[T]
	exact bool
	n     int // tokens
	text  string
}

// lookUp finds the names that the tokens from i on are the beginning of, or a
// whole word of. The longest piece of text that is any counts.
func lookUp[T any](names []key[T], s *sheet, i int) match[T] {
	tokens := s.tokens
	best := match[T]{}
	phrase := ""
	for n := 1; n <= 6 && i+n <= len(tokens); n++ {
		t := tokens[i+n-1]
		if t.kind != wordToken && (t.kind != numberToken || n == 1 && !t.isSpelled()) {
			break
		}
		phrase = strings.TrimSpace(phrase + " " + t.low)
		m := matching(names, phrase)
		if short := unelided(phrase); short != phrase && len(m.found) == 0 {
			if m = matching(names, short); !m.exact && (len(m.found) > 1 || len(short) < 3) {
				m = match[T]{}
			}
		}
		m.n, m.text = n, phrase
		if len(m.found) == 0 {
			break
		}
		if n > 1 && !m.exact && best.exact && (t.kind == numberToken || s.ordinary(i+n-1)) {
			break // "harbour nice" is no Harbour Nights
		}
		best = m
	}
	return best
}

// unelided is a name without what an apostrophe joins to it: "tide's running fast",
// "l'harbour era di jo".
func unelided(phrase string) string {
	phrase = strings.TrimSuffix(phrase, "'s")
	for _, head := range []string{"l'", "d'", "dell'", "all'", "dall'", "sull'", "nell'", "quell'"} {
		if short, ok := strings.CutPrefix(phrase, head); ok {
			return short
		}
	}
	return phrase
}

func matching[T any](names []key[T], phrase string) match[T] {
	var m match[T]
	for _, k := range names {
		switch {
		case k.low == phrase:
			return match[T]{found: []key[T]{k}, exact: true}
		case len([]rune(phrase)) < 2:
		case strings.HasPrefix(k.low, phrase), slices.Contains(strings.Fields(k.low), phrase):
			m.found = append(m.found, k)
		}
	}
	return m
}

// coffee takes a coffee's name at token i.
func (s *sheet) coffee(names []key[bar.CoffeeID], i int) int {
	m := lookUp(names, s, i)
	if m.n == 0 || m.n == 1 && s.ordinary(i) && (!m.exact || i > 0) {
		return 0
	}
	if i > 0 && s.tokens[i-1].is("like", "than", "als", "wie", "que", "comme", "come", "como") { // "better than tide"
		s.hold(i-1, m.n+1)
		return m.n
	}
	if len(m.found) > 1 {
		s.ambiguous(m)
		s.hold(i, m.n)
		return m.n
	}
	if s.shot.Coffee != 0 && s.shot.Coffee != m.found[0].ID {
		return 0 // the first one counts; a second is left to be unread
	}
	s.shot.Coffee = m.found[0].ID
	s.hold(i, m.n)
	return m.n
}

// hold notes that a name holds the tokens.
func (s *sheet) hold(i, n int) {
	for j := i; j < i+n; j++ {
		s.used[j] = true
	}
}

// goneNames are the names of coffees that are not on the bar, as they are compared.
func (s *sheet) goneNames() []key[bar.CoffeeID] {
	var names []Name[bar.CoffeeID]
	for _, name := range s.vocab.Gone {
		names = append(names, Name[bar.CoffeeID]{Name: name})
	}
	return keys(names)
}

// gone takes the whole name of a coffee that is not on the bar for a stranger.
func (s *sheet) gone(names []key[bar.CoffeeID], i int) int {
	m := lookUp(names, s, i)
	if !m.exact || s.shot.Coffee != 0 || s.shot.Stranger != "" || s.ordinary(i) && i > 0 {
		return 0
	}
	s.shot.Stranger = m.found[0].Name.Name
	s.hold(i, m.n)
	return m.n
}

func (s *sheet) ambiguous(m match[bar.CoffeeID]) {
	if s.unsure.Kind != 0 {
		return
	}
	var all []string
	for _, k := range m.found {
		all = append(all, k.Name.Name)
	}
	s.unsure = Mistake{Kind: Ambiguous, What: cut(m.text), More: strings.Join(all, ", ")}
}

// ordinary reports whether token i is a word that a shot or its taste may
// hold anyway, so that it is no short form of a name.
func (s *sheet) ordinary(i int) bool {
	t := s.tokens[i]
	return unitOf(t.low) != noUnit || label(t) != 0 || markOf(t) != 0 || structural(t) ||
		s.lex.known(t.low) || s.lex.filler(t.low)
}

// structural reports whether t is a word of the rules.
func structural(t token) bool {
	return t.is("at", "on", "same", "grind", "grinder", "setting", "dial", "drip", "tds", "ey", "not", "no", "choked", "choke",
		"gusher", "stopped", "cut", "finer", "coarser", "purge", "about", "around", "still", "was", "dialled", "dialed", "new",
		"bag", "half", "touch", "step", "steps", "ignore", "scrap", "that", "wrong", "go", "cleaned", "opened")
}

// grinder takes a grinder's name: whole, or any beginning of it after "on".
func (s *sheet) grinder(names []key[bar.GrinderID], i int) int {
	on := s.tokens[i].is("on")
	j := i
	if on {
		j++
	}
	if j >= len(s.tokens) {
		return 0
	}
	m := lookUp(names, s, j)
	if side := sideOf(s.tokens[j]); len(m.found) == 0 && side != "" { // "links" of a grinder called Left
		m.found = slices.DeleteFunc(slices.Clone(names), func(k key[bar.GrinderID]) bool { return k.low != side })
		m.n, m.exact = 1, true
	}
	if len(m.found) == 0 && s.numberNear(j) {
		slipped := slices.DeleteFunc(slices.Clone(names), func(k key[bar.GrinderID]) bool {
			return !s.tokens[j].nearly(k.low) && (k.low != "right" || !s.tokens[j].is("rite"))
		})
		if len(slipped) > 0 && !s.ordinary(j) { // "rihgt now on 21"
			m = match[bar.GrinderID]{found: slipped, n: 1, exact: true}
		}
	}
	if initial := s.initialOf(names, j); initial >= 0 {
		m = match[bar.GrinderID]{found: names[initial : initial+1], n: 1, exact: true}
	}
	if len(m.found) != 1 || !on && (!m.exact || s.counts(j, m.n) || s.judges(j) || s.remains(j)) || s.shot.Grinder != 0 && s.shot.Grinder != m.found[0].ID {
		return 0
	}
	s.shot.Grinder = m.found[0].ID
	n := j - i + m.n
	s.hold(i, n)
	s.named = i + n
	return n
}

// initialOf returns the only grinder that begins with the letter at i, where a number
// stands behind that, "L 5.1", "r → 22"; -1 for none. The letters of a shot's figures are none.
func (s *sheet) initialOf(names []key[bar.GrinderID], i int) int {
	letter := s.at(i).low
	number := s.skip(i+1, "→", ">", ":", "=", "at", "@", "to", "auf", "a", "à", "em", "en")
	if len(letter) != 1 || strings.Contains("dytgsaie", letter) || !s.isNumber(number) || slices.ContainsFunc(s.vocab.Coffees, func(c Name[bar.CoffeeID]) bool { return strings.HasPrefix(fold(c.Name), letter) }) {
		return -1
	}
	begins := func(k key[bar.GrinderID]) bool { return strings.HasPrefix(k.low, letter) }
	first := slices.IndexFunc(names, begins)
	if first < 0 || slices.ContainsFunc(names[first+1:], begins) {
		return -1
	}
	return first
}

// sideOf is the English word for a side that another language has a word for.
func sideOf(t token) string {
	switch {
	case t.is("links", "linke", "linken", "sinistra", "sinistro", "gauche", "izquierda", "izquierdo", "izq", "izda", "esquerda", "esquerdo", "esq", "sx"):
		return "left"
	case t.is("rechts", "rechte", "rechten", "destra", "destro", "droite", "droit", "derecha", "derecho", "dcha", "direita", "direito", "dx"):
		return "right"
	}
	return ""
}

// judges reports whether the word at i, which is a grinder's name as well, says that
// something is right: "just right", "not right yet", "right, harbour …".
func (s *sheet) judges(i int) bool {
	if !s.at(i).is("right") {
		return false
	}
	before := i > 0 && s.tokens[i-1].is("just", "tastes", "taste", "tasting", "tasted", "not", "quite", "about", "almost", "nearly", "all", "isn't", "isnt", "looks", "feels", "seems", "bang", "dead", "spot", "ur", "your", "you're", "youre", "u", "you", "r", "are", "he's", "hes", "she's", "shes", "they're", "that's", "thats")
	on := s.at(i+1).is("on") && !s.isNumber(i+2) && !s.at(i-1).is("leave")
	return before || on || i == 0 && s.at(i+1).is(",") && s.at(i+2).kind == wordToken
}

// remains reports whether the word at i, which is a grinder's name as well, says that
// somebody left something, or that it is left: "i left 4.50", "milk left: 4.5".
func (s *sheet) remains(i int) bool {
	if !s.at(i).is("left") || i == 0 {
		return false
	}
	who := s.at(i-1).is("i", "we", "he", "she", "they", "you", "u", "who", "somebody", "someone") || slices.Contains(s.vocab.People, s.at(i-1).low)
	return who && s.isNumber(i+1) && !s.isNumber(i+2) || s.at(i-1).is(household()...)
}

// numberNear reports whether a number stands a few tokens from i.
func (s *sheet) numberNear(i int) bool {
	return numbered(s.tokens[max(0, i-3):min(len(s.tokens), i+5)])
}

// nearly reports whether a word is a name that a thumb slipped on, or with its vowels left
// out. A short name must have all its letters.
func (t token) nearly(name string) bool {
	low := t.low
	if t.kind != wordToken || low == name || len(low) < 3 || len(name) < 4 || low[0] != name[0] || strings.HasSuffix(low, "s") {
		return false
	}
	bare := strings.Map(func(r rune) rune {
		if strings.ContainsRune("aeiou", r) {
			return -1
		}
		return r
	}, name)
	return low == bare || taste.Edits(low, name) == 1 && (len(name) > 4 || len(low) > 4 || sameLetters(low, name))
}

// sameLetters reports whether two words have the same letters in any order.
func sameLetters(a, b string) bool {
	x, y := []byte(a), []byte(b)
	slices.Sort(x)
	slices.Sort(y)
	return string(x) == string(y)
}

// counts reports whether the n tokens from i on, which are a grinder's name, are the
// number of a move: "due scatti più fine" beside a grinder called Due.
func (s *sheet) counts(i, n int) bool {
	number := n == 1 && (countOf(s.at(i)) > 0 || s.amount(i).n > 0)
	j := s.skip(i+n, stepWords()...)
	moves := j > i+n || directionOf(s.at(s.skip(j, mores()...))) != 0
	return number && (moves || s.at(i-1).is("di", "by", "um", "de", "d'un") || func() bool { sign, _ := s.turnOf(s.at(i - 1)); return sign != 0 }())
}

// Reserved reports whether a coffee's name means something else as a message:
// "sour", "undo", "same".
func Reserved(name string) bool {
	m, err := Message(name, Vocab{})
	if _, chatter := m.(Chatter); err != nil || !chatter {
		return true
	}
	s := newSheet(name, Vocab{})
	return len(s.tokens) == 1 && (s.ordinary(0) || s.drink(0) > 0)
}
