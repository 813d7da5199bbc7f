package parse

import (
	"slices"

	"shothand/advisor/bar"
)

// A sheet is a message on its way to a meaning. Rules go over its tokens from
// the first to the last, and each takes what it knows; what none takes is
// read as taste.
type sheet struct {
	vocab  Vocab
	text   string
	tokens []token
	lex    lexicon

	numbers int    // how many there are in all
	turns   bool   // a word says which way a dial is moved
	used    []bool // token by token: taken by a rule
	shot    Shot
	items   []item // numbers that no label has given a place
	named   int    // the token behind the name of the grinder
	first   int    // the first token that is a number's, or len(tokens)
	labels  int    // numbers whose place was said
	strong  bool   // both "in" and "out" were said
	weights bool   // neither dose nor yield had a label
	clash   bool   // a thing was said twice, or is of no shot
	stray   []int  // tokens that are of no shot: a score, a time of day, a link
	unsure  Mistake
}

// An item is a number without a label, where it stands, and its text.
type item struct {
	quantity
	from, to int // tokens
}

// asTyped is understood for a text with all that stands around what it says.
func (s *sheet) asTyped() (Meaning, error) {
	for _, read := range []func(*sheet) (Meaning, bool){recipeTold, eventRight, ranOut, ofYesterday, ofShot, stood, amend, wasAndWhy, putAndSet, setting, movedBecause, correction, happened, roasted, callIt, tastedAndSet} {
		if m, ok := read(s); ok {
			return m, nil
		}
	}
	if s.tellsToTurn() {
		return nil, Mistake{Kind: TurnIt, What: cut(s.text)}
	}
	if set, ok := s.ordered(); ok {
		return set, nil
	}
	if set, ok := s.settings(); ok {
		return set, nil
	}
	s.ofSide()
	s.untouched()
	s.run()
	return s.finished(s.decide())
}

// finished adds to a shot what its whole message says of it.
func (s *sheet) finished(m Meaning, err error) (Meaning, error) {
	if shot, ok := m.(Shot); ok && err == nil {
		if s.numbers < 3 && s.holds("your", "yours", "dein", "deine", "deiner", "tuo", "tua", "ton", "tien", "tienne", "tuyo", "tuya", "teu") {
			return Chatter{}, nil // "your time was 27"
		}
		if c, ok := s.moreOfCorrection(shot); ok {
			return c, nil
		}
		shot.Weight, shot.Refers, shot.Two = s.fragment(shot), shot.Refers || s.refers(shot) || s.flowedJust(shot), s.another()
		if coffee, how := s.insteadOf(shot); how != 0 {
			shot.Coffee, shot.Refers, shot.Instead = coffee, true, how == surelyInstead
			shot.Unread = slices.DeleteFunc(shot.Unread, func(word string) bool {
				return hints()[fold(word)] != 0 || slices.ContainsFunc(s.tokens, func(t token) bool { return t.text == word && s.coffeeOf(t) != 0 })
			})
		}
		shot.Words = orFace(shot.Words, s.text)
		if i := s.dayBefore(); i >= 0 && len(shot.Doubt) == 0 {
			shot.Doubt = []string{s.tokens[i].text}
		}
		return shot, nil
	}
	return m, err
}

// flowedJust reports whether a message says no more than how the shot flowed that its writer
// has just pulled: "gusher, super sour".
func (s *sheet) flowedJust(shot Shot) bool {
	flowed := shot.Gushed || shot.Marks.Has(bar.Choked)
	return flowed && s.vocab.Untasted && s.vocab.Pulled.Time > 0 && s.numbers == 0 && shot.Coffee == 0 && !shot.Grind.Said && !shot.Same && len(shot.Doubt) == 0
}

// moreOfCorrection reads another number that is put right behind the first, "and 37 out", and
// several at once: "my last: 27 s, 37 out".
func (s *sheet) moreOfCorrection(shot Shot) (Correction, bool) {
	placed := s.fragment(shot) || s.numbers == 1 && shot.Time.Said && slices.ContainsFunc(s.tokens, func(t token) bool { return unitOf(t.low) == second })
	more := placed && s.tokens[s.sighed()].is(ands()...)
	return Correction{Dose: shot.Dose, Yield: shot.Yield, Time: shot.Time, Of: shot.Coffee}, (more || s.ofMyLast()) && s.nearPulled(shot)
}

// goesOn reports whether where a dial stands is said behind what was put right: "and at 5.1".
func (s *sheet) goesOn(set Set) bool {
	and := s.sighed()
	at := s.tokens[and].is(ands()...) && s.at(and+1).is(onWords()...)
	return s.vocab.Righted && at && s.numbers == 1 && !set.Grind.Relative && !set.Grind.Odd && set.Coffee == 0 && set.Grinder == 0
}

// sighed returns where a message begins behind its sighs: "oh and 27s".
func (s *sheet) sighed() (i int) {
	for i+1 < len(s.tokens) && (s.tokens[i].is(sighs()...) || s.tokens[i].is(",")) {
		i++
	}
	return i
}

// ands join what is said to what was said before.
func ands() []string { return []string{"and", "und", "e", "y", "et", "also", "plus"} }

// ofMyLast reports whether a message begins as one about the writer's last shot.
func (s *sheet) ofMyLast() bool {
	mine := s.tokens[0].is("my", "mein", "meiner", "mio", "il", "mon", "mi", "o", "meu")
	return mine && len(s.tokens) > 2 && slices.ContainsFunc(s.tokens[1:3], func(t token) bool { return hints()[t.low]&lastHint != 0 })
}

// nearPulled reports whether a shot is no more than one or two figures that are near those of
// the writer's last.
func (s *sheet) nearPulled(shot Shot) bool {
	p, n := s.vocab.Pulled, 0
	for at, x := range map[place]Number{dosePlace: shot.Dose, yieldPlace: shot.Yield, timePlace: shot.Time} {
		if x.Said && !(apart(x.X, p.figure(at)) < farRighting) {
			return false
		}
		if x.Said {
			n++
		}
	}
	unread := slices.ContainsFunc(shot.Unread, func(word string) bool { return !s.saysNothing(word) && !slices.Contains(sighs(), fold(word)) })
	return 0 < n && n < 3 && s.numbers == n && len(shot.Words) == 0 && !unread && !shot.Grind.Said && shot.Marks == 0 && shot.Event == 0 && shot.Grinder == 0 && (shot.Coffee == 0 || shot.Coffee == p.Coffee)
}

func newSheet(text string, v Vocab) *sheet {
	tokens := inTheCup(mendedInLine(lex(text)))
	s := &sheet{vocab: v, text: text, tokens: tokens, lex: words(v.Words, v.Language), used: make([]bool, len(tokens)), first: len(tokens)}
	s.apologies()
	s.names()
	s.slipped().rated()
	for _, t := range s.tokens {
		s.numbers += len(t.num.vals)
		s.turns = s.turns || directionOf(t) != 0 || t.is("tighter", "looser")
	}
	return s
}

// nothing is the token where there is none.
//
//nolint:gochecknoglobals // never changed
var nothing = token{&piece{}}

// at returns token i, or nothing where there is none or a name took it.
func (s *sheet) at(i int) token {
	if i < 0 || i >= len(s.tokens) || s.used[i] {
		return nothing
	}
	return s.tokens[i]
}

// A rule takes tokens from i on and returns how many, 0 for none.
type rule func(s *sheet, i int) int

// rules are tried in this order at each token.
func rules() []rule {
	return []rule{
		ordinal, event, insteadOf, unclocked, onGroup, towards, initials, drip, soaked, drinksOf, solids, otherFigure, moveBeside, tasteOfGrind, sameGrind, grind, relative, stopped, choked, gushed, mineBefore,
		ratio, clock, outOf, inMinutes, thanBefore, weighed, labelled, numberOf, same, inMilk, notPurged, purging, notThat, calledDialled, mark, exclaimed, paced,
	}
}

// run goes over the tokens once.
func (s *sheet) run() {
	all := rules()
	for i := 0; i < len(s.tokens); {
		i += max(1, s.apply(all, i))
	}
}

func (s *sheet) apply(all []rule, i int) int {
	t := s.tokens[i]
	if t.kind == noiseToken {
		s.stray = append(s.stray, i)
	}
	if s.used[i] || t.kind == noiseToken || t.kind == mentionToken {
		return 1
	}
	for _, r := range all {
		if n := r(s, i); n > 0 {
			s.take(i, n)
			return n
		}
	}
	if t.kind == numberToken {
		s.stray = append(s.stray, i)
	}
	return 1
}

// take marks n tokens from i on as placed.
func (s *sheet) take(i, n int) {
	for j := i; j < min(i+n, len(s.tokens)); j++ {
		s.used[j] = true
		if s.tokens[j].kind == numberToken {
			s.first = min(s.first, j)
		}
	}
}

// skip passes over any of the words from i on.
func (s *sheet) skip(i int, words ...string) int {
	for s.at(i).is(words...) {
		i++
	}
	return i
}

// set gives a number its place, once.
func (s *sheet) set(place *Number, n Number, ok bool) {
	if place.Said || !ok {
		s.clash = true
		return
	}
	*place = n
	s.labels++
}

// one reads a quantity that is a single number.
func (s *sheet) one(i int) (quantity, int) {
	q, n := s.quantity(i)
	if n == 0 || len(q.vals) != 1 {
		return quantity{}, 0
	}
	return q, n
}

// insteadOf takes what a number stands in place of: "17 instead of 18".
func insteadOf(s *sheet, i int) int {
	if i > 1 && s.at(i).is("not", "nicht", "pas") && (s.isNumber(i-1) || s.isNumber(i-2) || s.at(i-1).is(",")) { // "41 grams, not 40"
		if _, m := s.one(i + 1); m > 0 {
			return 1 + m
		}
	}
	for _, words := range []string{"instead of", "statt", "anstatt", "invece di", "au lieu de", "en vez de", "em vez de"} {
		if n := s.phrase(i, words); n > 0 {
			if _, m := s.one(i + n); m > 0 {
				return n + m
			}
		}
	}
	return 0
}

// unclocked takes that nobody took the time of a shot: "18 36 forgot time", "senza cronometro".
func unclocked(s *sheet, i int) int {
	j := i
	timer := []string{"time", "timer", "clock", "stopwatch", "uhr", "stoppuhr", "zeit", "cronometro", "chrono", "cronómetro", "cronômetro", "tiempo", "tempo", "temps"}
	switch t := s.at(i); {
	case t.is(timer...) && s.at(i+1).is("vergessen", "forgotten", "missed", "dimenticato", "oublié", "olvidado", "esquecido", "unknown"):
		return 2
	case t.is("forgot", "missed", "without", "didn't", "didnt", "vergessen", "ohne", "senza", "sans", "sin", "sem"), t.is("no", "keine") && s.count()+s.said() > 1:
		j = s.skip(i+1, "to", "the", "start", "my", "catch", "die", "il", "le", "el", "o")
	case !t.is("no", "não", "pas", "j'ai"):
	case s.lows(i, 2) == "no conté" || s.lows(i, 2) == "no conte" || s.lows(i, 2) == "não contei":
		j = s.skip(i+2, "el", "o")
	case s.lows(i, 2) == "pas de", s.lows(i, 2) == "j'ai oublié":
		j = s.skip(i+2, "le")
	}
	if j == i || !s.at(j).is(timer...) {
		return 0
	}
	return j + 1 - i
}

// ordinal takes "1)" and "shot 2:" before a shot.
func ordinal(s *sheet, i int) int {
	t := s.at(i)
	next := s.at(i + 1)
	named := s.at(i-1).is("shot") && (next.kind == wordToken && unitOf(next.low) == noUnit && label(next) == 0 || i+1 < len(s.tokens) && s.used[i+1]) // "shot 1 harbour 18 36 24"
	if len(s.items) > 0 || t.num.form != plainForm || t.num.vals[0] > 20 || !named && !next.is(")", ":", ".") || i > 0 && !s.at(i-1).is("shot") {
		return 0
	}
	n := 0
	for j := i + 2; j < len(s.tokens); j++ {
		if s.isNumber(j) {
			n++
		}
	}
	switch {
	case n < 3:
		return 0
	case named:
		return 1
	}
	return 2
}

// towards takes the "to" of "18 to 36" and the "at" of "18 36 at 28s".
func towards(s *sheet, i int) int {
	if n := len(s.items); n == 0 || s.items[n-1].to != i || !s.isNumber(i+1) {
		return 0
	}
	q, _ := s.one(i + 1)
	if s.at(i).is("like", "maybe") || s.at(i).is("and", "und", "e", "y", "et") && s.count() == 2 && (q.unit == second || q.rough) {
		return 1
	}
	if s.at(i).is("for", "per", "por", "pour", "für") && s.count() == 2 && len(q.vals) == 1 && aShot(q.vals[0]) && s.asRecipe(s.items[0].vals[0], s.items[len(s.items)-1].vals[0]) { // "19 40 for 26"
		return 1
	}
	if s.at(i).is("e", "y", "et", "und", "per", "por", "pour", "für") && s.count() == 1 && len(q.vals) == 1 && s.asRecipe(s.items[0].vals[0], q.vals[0]) { // "18 e 36"
		return 1
	}
	if s.at(i).is("to", "into") || s.at(i).is("auf", "pra", "pro", "para", "hasta") && s.count() == 1 {
		return 1
	}
	return 0
}

// drip takes "first drip 8", "drip at 8 s", "first drops at 8", "dropped at 7 s".
func drip(s *sheet, i int) int {
	j := s.skip(i, "first")
	if !s.at(j).is("drip", "drips", "drop", "drops") && !s.at(j).is("dropped", "dripped", "dropping") {
		return 0
	}
	j = s.skip(j+1, "at", "after", "in", ":", "=", "was", "came")
	q, n := s.one(j)
	if n == 0 {
		return 0
	}
	x, ok := q.time()
	s.set(&s.shot.Drip, x, ok)
	return j + n - i
}

// solids takes "tds 9.4", "9.4% tds" and "9.4 %".
func solids(s *sheet, i int) int {
	start := i
	if s.at(i).is("tds") {
		i = s.skip(i+1, ":", "=", "of", "was", "is", "at")
	}
	q, n := s.one(i)
	if n == 0 {
		return 0
	}
	end := i + n
	if start == i {
		behind := s.at(end).is("tds") && !s.isNumber(s.skip(end+1, ":", "="))
		if !behind && (q.unit != percent || s.count()+s.labels == 0) { // "100%" is talk
			return 0
		}
		if behind {
			end++
		}
	}
	s.set(&s.shot.TDS, q.number(), q.unit == noUnit || q.unit == percent)
	return end - start
}

// otherFigure takes what is measured and not kept, "ey 20 %", "9 bar", so that
// its number is not mistaken for one of the shot's.
func otherFigure(s *sheet, i int) int {
	j := i
	if s.at(i).is("ey", "pressure", "extraction") {
		j = s.skip(i+1, ":", "=", "of", "was", "is", "at")
	}
	q, n := s.one(j)
	if n == 0 || j == i && q.unit != pressure {
		return 0
	}
	return j + n - i
}

// stopped takes "stopped early", "cut at 20". A bare number is a time.
func stopped(s *sheet, i int) int {
	if !s.at(i).is("stopped", "cut", "ended") || s.negated(i) {
		return 0
	}
	j := s.skip(i+1, "it", "early", "short", "at", "after", "by", "off")
	early := s.holdsIn(i+1, min(j, len(s.tokens)), "early", "short")
	q, n := s.one(j)
	if n == 0 && !early && (!s.at(i).is("stopped") || s.count()+s.labels == 0) {
		return 0
	}
	s.shot.Marks |= bar.Stopped
	if n > 0 {
		s.stoppedAt(q)
	}
	return j + n - i
}

func (s *sheet) stoppedAt(q quantity) {
	x, ok := q.time()
	if ok && s.count() >= 3 {
		return // said already, "18 36 28 stopped at 28"
	}
	if ok {
		s.set(&s.shot.Time, x, true)
		return
	}
	x, ok = q.yield()
	s.set(&s.shot.Yield, x, ok)
}

// negated reports whether a no stands before token i.
func (s *sheet) negated(i int) bool {
	return s.at(i-1).is("no", "not", "didn't", "didnt", "never", "nearly", "almost", "don't", "dont", "won't", "without")
}

// notThat takes what is said not to have happened: "not choked". What is a word
// about the cup as well is denied as such.
func notThat(s *sheet, i int) int {
	t := s.at(i + 1)
	if s.negated(i+1) && !s.lex.known(t.low) && (isChoke(t) || isGush(t) || t.is("stopped", "cut") || markOf(t) != 0) {
		return 2
	}
	return 0
}

// ratio takes "1:2", "1 : 2.2" and "ratio 1:2".
func ratio(s *sheet, i int) int {
	j := s.skip(i, "ratio", "=")
	x, n := s.ratioAt(j)
	if n == 0 || !(1 <= x && x <= 8) {
		return 0
	}
	if s.shot.Ratio.Said {
		s.clash = true
	}
	s.shot.Ratio = Number{X: x, Said: true}
	return s.skip(j+n, "ratio") - i
}

func (s *sheet) ratioAt(i int) (float64, int) {
	t := s.at(i)
	if t.kind != numberToken || t.num.form != colonForm && t.num.form != plainForm || !(0 < t.num.vals[0] && t.num.vals[0] <= 5) {
		return 0, 0
	}
	if t.num.form == colonForm && !minutes(t.num) {
		return t.num.vals[1] / t.num.vals[0], 1
	}
	if second := s.at(i + 2).num; t.num.form == plainForm && s.at(i+1).is(":") && second.form == plainForm {
		return second.vals[0] / t.num.vals[0], 3
	}
	return 0, 0
}

// minutes reports whether "a:b" is min:sec and no ratio: the seconds have two
// digits, and no espresso is a 1:15.
func minutes(n numeral) bool {
	return len(n.parts[1]) == 2 && digits(n.parts[1]) == 2 && len(n.parts[0]) <= 2
}

// clock takes "0:28" and "1:05 min" as a time. "18:30" is one of day.
func clock(s *sheet, i int) int {
	t := s.at(i)
	if t.kind != numberToken || t.num.form != colonForm || !minutes(t.num) || t.num.vals[0] > 2 || t.num.vals[1] > 59 {
		return 0
	}
	end := s.skip(i+1, "min", "mins", "minutes", "m")
	if t.num.vals[0] > 0 && end == i+1 && len(s.items) == 0 && s.labels == 0 {
		return 0
	}
	s.set(&s.shot.Time, Number{X: t.num.vals[0]*60 + t.num.vals[1], Said: true}, true)
	return end - i
}

// calledDialled takes "dialled in" behind a shot.
func calledDialled(s *sheet, i int) int {
	if s.at(i).is("call") && s.at(i+1).is("it", "that") && s.skip(i+2, ".", "!") == len(s.tokens) { // and not "call it a day"
		s.shot.Dialled = true
		return len(s.tokens) - i
	}
	if !s.at(i).is("dialled", "dialed", "dialled-in", "dialed-in") || s.negated(i) {
		return 0
	}
	s.shot.Dialled = true
	return s.skip(i+1, "in") - i
}

// readWords reads what no rule took of the tokens up to to, and what its words
// say of the shot itself, misspelt or not.
func (s *sheet) readWords(to int) ([]bar.Word, []string) {
	words, unread := s.lex.read(s.lex.revised(s.leftover(to)))
	s.shot.Marks |= told(words)
	return words, eachOnce(unread)
}
