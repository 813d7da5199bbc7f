package parse

import (
	"math"
	"slices"
	"unicode/utf8"

	"shothand/advisor/bar"
)

// mostUnread is how many words after its numbers a shot may hold that nobody
// knows. More than that is somebody talking.
const mostUnread = 3

// decide settles whether the sheet holds a shot, and places its numbers.
func (s *sheet) decide() (Meaning, error) {
	if s.asked() {
		return Chatter{}, nil
	}
	s.byWhom()
	s.dialBehind()
	s.dialBeside()
	if m, ok := s.copied().repeats(); ok {
		return m, nil
	}
	if m, ok := s.copied().regrouped(); ok {
		return m, nil
	}
	c, ok := s.core()
	if ok && s.unsure.Kind == Several {
		return nil, s.unsure
	}
	if ok {
		crowd := s.runOf(c) - (c.to - c.from)
		if s.telephone(c) {
			crowd = longestRun
		}
		return s.around(c, crowd)
	}
	if c, ok = s.labelledCore(); ok {
		return s.around(c, 0)
	}
	if s.allCounted() && len(s.strangers()) > 0 && !s.intends() {
		return s.around(core{0, len(s.items)}, 0)
	}
	if c, ok = s.timedPair(); ok && len(s.strangers()) > 0 {
		return s.around(c, 0)
	}
	if m, ok := s.copied().tooFast(); ok {
		return m, nil
	}
	if c, ok = s.halfCore(); ok {
		return s.half(c)
	}
	if s.clash || len(s.stray) > 0 || s.namesShot() {
		return Chatter{}, nil
	}
	if !s.anyShot() {
		if m, ok := s.wordsAlone(); ok {
			return m, nil
		}
		return Chatter{}, nil
	}
	s.misspelt()
	before := s.copied()
	evidence, fits := s.readAround()
	bare := s.bare()
	for _, talk := range []func() (Meaning, bool){func() (Meaning, bool) { return s.timeInTalk(fits) }, s.copied().doseInTalk} {
		if m, ok := talk(); ok {
			return m, nil
		}
	}
	if !fits || s.planned() || !s.together() || !s.placeable(bare, evidence) || !s.assign() {
		if m, ok := before.halfSaid(); ok {
			return m, nil
		}
		return Chatter{}, nil
	}
	return s.settle(bare)
}

// namesShot reports whether a message only says which shot is meant: "no, the 30 second one".
func (s *sheet) namesShot() bool {
	if len(s.items) != 1 || s.said() > 0 {
		return false
	}
	it := s.items[0]
	return it.from > 0 && s.tokens[it.from-1].is("the", "der", "das", "die", "quello", "celui", "el", "o") &&
		(s.at(it.to).is("one", "shot") || s.at(it.from-1).is("quello", "celui")) && it.unit != noUnit
}

// ranThrough is how much of the recipe's yield a cup holds at the least whose shot was
// slow and did not choke. Assumed.
const ranThrough = 0.8

// settle checks a shot whose numbers have their places.
func (s *sheet) settle(bare int) (Meaning, error) {
	if s.unsure.Kind != 0 {
		return nil, s.unsure
	}
	if r := s.recipe(); s.shot.Yield.Said && s.shot.Yield.X >= ranThrough*float64(r.Yield) && (!s.shot.Time.Said || s.shot.Time.X >= float64(r.Low)) {
		s.passOver(isChoke, s.shot.Marks.Has(bar.Choked) && s.shot.Time.Said)
		s.shot.Marks &^= bar.Choked // it ran through, if slowly
	}
	if s.shot.Gushed && s.shot.Yield.Said && s.shot.Time.Said && s.shot.Time.X >= float64(s.recipe().Low) {
		s.passOver(isGush, true)
		s.shot.Gushed = false
	}
	s.checkOrder(bare)
	if r := s.recipe(); bare == 2 && s.said() == 2 && !s.shot.Time.Said && s.shot.Marks == 0 && s.timeLike(r) {
		s.shot.Time, s.shot.Yield = s.shot.Yield, Number{}
		s.shot.Half, s.shot.Doubt = true, []string{cut(s.text)}
	}
	if err := Check(s.shot.inBetterOrder()); err != nil {
		return nil, err
	}
	return s.tastesSo(s.shot), nil
}

// passOver notes a word that the numbers beside it deny.
func (s *sheet) passOver(is func(token) bool, denied bool) {
	if i := slices.IndexFunc(s.tokens, is); denied && i >= 0 {
		s.shot.Over = s.tokens[i].text
	}
}

// anyShot reports whether anything but words was said.
func (s *sheet) anyShot() bool {
	return len(s.items) > 0 || s.labels > 0 || s.shot.Ratio.Said || s.shot.Gushed || s.shot.Marks.Has(bar.Choked)
}

// bare counts the numbers that have neither unit nor label.
func (s *sheet) bare() int {
	n := 0
	for _, it := range s.items {
		if it.unit == noUnit {
			n += len(it.vals)
		}
	}
	return n
}

// together reports whether nothing but marks stands between the numbers
// without labels: "2 flat whites, 3 lattes" are not together.
func (s *sheet) together() bool {
	for i := range len(s.items) - 1 {
		if !s.joined(i) {
			return false
		}
	}
	return true
}

// joined reports whether nothing but marks stands between item i and the next.
func (s *sheet) joined(i int) bool {
	for j := s.items[i].to; j < s.items[i+1].from; j++ {
		if !s.used[j] && (s.tokens[j].kind != symbolToken || s.tokens[j].is("+", "=", "*")) {
			return false
		}
	}
	return true
}

// readAround reads the words before and after the first number, and reports
// whether they fit a shot. Before a bare triple every word must be known: a
// coffee, a word of taste, or how this person's shots begin. Evidence counts
// what speaks for a shot.
func (s *sheet) readAround() (evidence int, fits bool) {
	s.greet()
	strange := s.strangers()
	limit := 0
	if s.strong || s.labels >= 3 {
		limit = 2 // "that one was 18 in, 36 out"
		s.foreign(strange)
		s.guessName()
	}
	if len(strange) > limit {
		return 0, false
	}
	var unread []string
	s.shot.Words, unread = s.inCompany(s.readWords(len(s.tokens)))
	s.shot.Unread = slices.DeleteFunc(slices.Clone(unread), s.saysNothing)
	evidence = s.labels + s.count() + len(s.shot.Words)
	if s.shot.Marks != 0 || s.shot.Gushed {
		evidence++
	}
	if s.shot.Grind.Said {
		evidence++
	}
	if s.shot.Coffee != 0 {
		evidence++
	}
	return evidence, len(unread) <= mostUnread
}

// saysNothing reports whether a word that could not be read beside others is,
// alone, nothing that could be taught: "ta", or a single letter.
func (s *sheet) saysNothing(word string) bool {
	if utf8.RuneCountInString(word) == 1 {
		return true
	}
	words, unread := s.lex.read(word)
	return len(words) == 0 && len(unread) == 0
}

// strangers returns the words before the first number that may not stand
// there. Words of taste may, with the small words among them; small words
// alone may stand before a core, and not before other bare numbers.
func (s *sheet) strangers() []string {
	if s.first == len(s.tokens) {
		return nil
	}
	for i, t := range s.tokens {
		s.used[i] = s.used[i] || t.is(pours()...)
	}
	var strange []string
	for i, t := range s.tokens[:s.first] {
		switch {
		case s.used[i] || t.kind == symbolToken:
		case s.opening(t), i == 0 && t.is("ok", "okay"), t.is("new") && s.shot.Coffee != 0 && s.used[i+1]: // "new harbour 18:36 in 31"
			s.used[i] = true
		case t.kind != wordToken:
			strange = append(strange, t.text)
		}
	}
	_, unread := s.readWords(s.first)
	return append(strange, unread...)
}

// pours are what a shot is called by its length or its basket, which is no coffee's
// name and no taste.
func pours() []string {
	return []string{
		"espresso", "espressi", "espressos", "expresso", "ristretto", "ristretti", "ristrettos", "lungo", "lunghi", "lungos", "doppio", "doppi", "doppios", "double", "single",
		"doppelter", "doppelte", "einfacher", "verlängerter", "allongé", "allonge", "serré", "corto", "doble", "curto", "cheio", "duplo", "bica",
	}
}

// opening reports whether t is how shots begin here.
func (s *sheet) opening(t token) bool {
	if sigh(t) || s.tokens[0].is("pulled") && t.is("pulled", "long", "short") || t.is("shot", "espresso", "ran", "next", "again", "another", "opening", "opener", "trying", "testing",
		"tirato", "estratto", "gezogen", "bezogen", "tiré", "sacado", "saqué", "tirado", "tirei", "wieder", "nochmal", "encore", "ancora", "otra", "otro", "outro", "outra", "altro", "altra", "noch",
		"second", "third", "fourth", "2nd", "3rd", "4th", "try", "attempt", "versuch", "tentativo", "essai", "intento", "tentativa") || t.text[0] == '#' {
		return true
	}
	return slices.Contains(s.vocab.Usual, t.low)
}

// placeable reports whether the numbers are enough for a shot: three of them,
// or fewer with something that shows what they are and hardly a strange word.
func (s *sheet) placeable(bare, evidence int) bool {
	all := s.count() + s.said()
	switch {
	case all > 3:
		return false
	case bare == 3:
		return s.shotSized()
	case all == 3:
		return true
	case len(s.shot.Unread) > 0 && (2*len(s.shot.Unread) > evidence || 2*len(s.shot.Unread) == evidence && s.unitsSaid() < 2):
		return false
	case bare == 2:
		return evidence > 2 && s.pair()
	case bare == 1:
		return s.lone()
	}
	return s.telling(evidence)
}

// unitsSaid counts the numbers with a unit of a shot behind them.
func (s *sheet) unitsSaid() int {
	n := 0
	for i, t := range s.tokens[1:] {
		switch unitOf(t.low) {
		case gram, second, millilitre, ounce, fluidOunce:
			if s.tokens[i].kind == numberToken {
				n++
			}
		case noUnit, celsius, fahrenheit, percent, pressure:
		}
	}
	return n
}

// telling reports whether a shot that says little, "28 s still sour", says
// enough. The water's temperature alone does not.
func (s *sheet) telling(evidence int) bool {
	switch {
	case s.shot.Gushed, s.shot.Marks.Has(bar.Choked), s.said() > 0, s.timed(), s.shot.TDS.Said, s.shot.Drip.Said, s.count() > 1:
		return true
	case s.count() > 0:
		return evidence > 1 && s.weighed()
	}
	return s.shot.Ratio.Said && evidence > 0
}

// timed reports whether a waiting number is in seconds.
func (s *sheet) timed() bool {
	for _, it := range s.items {
		if it.unit == second {
			return true
		}
	}
	return false
}

// count is how many numbers wait for a place.
func (s *sheet) count() int {
	n := 0
	for _, it := range s.items {
		n += len(it.vals)
	}
	return n
}

// said counts which of dose, yield and time have a place already.
func (s *sheet) said() int {
	n := 0
	for _, x := range []Number{s.shot.Dose, s.shot.Yield, s.shot.Time} {
		if x.Said {
			n++
		}
	}
	return n
}

// shotSized reports whether at least two of three bare numbers are such as
// shots have. The third may be a slip, and is then refused by name; "1 2 3"
// is counting. Common practice, no source.
func (s *sheet) shotSized() bool { return sized(s.inOrder()) }

func sized(x [3]float64) bool {
	n := 0
	for i, in := range [3]bool{6 <= x[0] && x[0] <= 60, 12 <= x[1] && x[1] <= 100, 10 <= x[2] && x[2] <= 100} {
		if in && (i > 0 || x[0] >= 6) {
			n++
		}
	}
	return n >= 2
}

// inOrder returns three bare numbers as the bar's order reads them.
func (s *sheet) inOrder() [3]float64 {
	x := [3]float64{math.NaN(), math.NaN(), math.NaN()}
	slots, i := s.order(), 0
	for _, it := range s.items {
		for _, v := range it.vals {
			if i < 3 {
				x[slots[i]] = v
				i++
			}
		}
	}
	return x
}

// order returns the places, 0 dose, 1 yield, 2 time, as the bar says them.
func (s *sheet) order() [3]int {
	if s.vocab.Order == bar.DoseTimeYield {
		return [3]int{0, 2, 1}
	}
	return [3]int{0, 1, 2}
}

// recipe is what numbers are compared with.
func (s *sheet) recipe() bar.Recipe {
	of := Recipes{Black: s.vocab.Recipe, Milk: s.vocab.Milk}
	if named, ok := s.vocab.Recipes[s.shot.Coffee]; ok {
		of = named
	}
	r := of.Black
	if s.shot.Marks.Has(bar.InMilk) && of.Milk.Dose > 0 {
		r = of.Milk
	}
	if !(r.Dose > 0 && r.Yield > 0 && r.High > 0) {
		return bar.House()
	}
	return r
}

// pair reports whether two bare numbers look like the bar's first two.
func (s *sheet) pair() bool {
	x := s.inOrder()
	if s.said() > 0 || s.shot.Same {
		return true
	}
	dose := float64(s.recipe().Dose)
	second := x[1]
	if math.IsNaN(second) {
		second = x[2]
	}
	return 0.65*dose <= x[0] && x[0] <= 1.35*dose && (second > x[0] || s.shot.Marks.Has(bar.Choked))
}

// lone reports whether a single bare number has its place shown by what else
// was said.
func (s *sheet) lone() bool {
	return s.shot.Same || s.again() || s.shot.Gushed || s.shot.Marks&(bar.Choked|bar.Stopped) != 0 ||
		s.said() > 0 || s.count() > 1 || s.shot.Ratio.Said
}

// again reports whether a message begins with a word for one more shot and its
// number is such as times are: "again, 26".
func (s *sheet) again() bool {
	if len(s.items) != 1 || len(s.shot.Unread) > 0 {
		return false
	}
	x := s.items[0].vals[0]
	return s.tokens[0].is("again", "another", "wieder", "nochmal", "encore", "ancora", "otra", "outra") && aShot(x)
}
