package parse

import (
	"slices"
	"strings"
	"sync"

	"shothand/advisor/bar"
)

// grind takes a dial position with its label: "grind 5.2", "at 5.2", "@5.2",
// "still at 5.2".
func grind(s *sheet, i int) int {
	if t := s.at(i); t.num.form == plainForm && s.at(i+1).is("grind") && (i+2 == len(s.tokens) || s.at(i+2).is(",")) {
		s.setGrind(s.readDial(i, 1))
		return 2
	}
	if s.at(i).is("@", "at") && s.atTime(i+1) {
		return 0
	}
	if n := s.onTheDial(i); n > 0 {
		return n
	}
	start := i
	stuck := s.at(i).is("still") && !s.isNumber(i+1) || s.at(i).is("still") && s.dialLength(i+1, false) > 0
	if stuck {
		i++
	}
	plain := s.at(i).is("ground") || s.at(i).is("macina", "mahlt") && s.isNumber(i+1) || s.at(i).is(dialWords()...) || s.at(i).is(grinderWords()...) || s.at(i).is("burrs", "burr") || s.at(i).is("g") && (!s.isNumber(i-1) || s.at(i+1).glued && !s.at(i).glued)
	short := s.at(i).is("at", "@", "on", "between", "auf", "bei", "sur") || s.headed(i)
	j := i
	if to := s.skip(i+1, "it", "up", "down", "back", "over", "in", "out", "the", "grinder", "dial"); s.at(i).is("went", "moved", "turned", "bumped", "dialled", "dialed") && s.at(to).is("to") {
		i, plain = to, true
	}
	if plain || short && !s.at(i).is("between") {
		j = s.skip(i+1, "was", "is", "at", "on", ":", "=", "to", "set", "setting", "size", "@", "still")
		if k := s.skip(j, slices.Concat(beings(), wasWords(), ats(), []string{"steht", "stand", "zeigt", "ist", "è", "sta", "est", "está", "é"})...); s.isNumber(k) {
			j = k
		}
	} else if !stuck && !short {
		return 0
	}
	if n := s.step(j, plain); n > 0 {
		return j + n - start
	}
	n := s.dialLength(j, plain)
	if n == 0 {
		return 0
	}
	s.setGrind(s.readDial(j, n))
	if stuck {
		s.shot.Marks |= bar.Stuck
	}
	return j + n - start
}

// atTime reports whether the number at i, behind dose and yield, is a time and not where the
// dial stood: "18 > 36 @ 29".
func (s *sheet) atTime(i int) bool {
	q, n := s.one(i)
	if n == 0 || q.unit != noUnit || s.shot.Time.Said || s.numbers != 3 || s.count()+s.labels != 2 || strings.ContainsAny(s.at(i).text, ".,") {
		return false
	}
	x, r := q.vals[0], s.recipe()
	for _, stands := range s.vocab.Stands {
		if apart(x, stands) < farRighting {
			return false
		}
	}
	return len(s.vocab.Stands) > 0 && float64(r.Low)*0.7 <= x && x <= float64(r.High)*1.4
}

// ats stand before where a dial is, in other languages than English.
func ats() []string { return []string{"auf", "bei", "a", "à", "en", "em", "no", "na", "su", "sur"} }

// headed reports whether the dial of a shot stands before its numbers, with a stop between:
// "tide a 14: 18 38 30".
func (s *sheet) headed(i int) bool {
	if s.numbers < 4 || !s.at(i).is(ats()...) || !s.isNumber(i+1) {
		return false
	}
	behind := s.count()+s.said() >= 3 && strings.ContainsAny(s.at(i+1).text, ".,") // "18 36 27 en 5,1"
	return behind || !s.isNumber(i-1) && s.at(i+2).is(":", ",", ";") && s.isNumber(i+3)
}

// ofSide takes the dial that stands behind the name of its grinder, before the numbers of
// the shot: "tide now, right 19, 18 38 28".
func (s *sheet) ofSide() {
	if s.shot.Grinder == 0 || s.numbers < 4 {
		return
	}
	j := s.skip(s.named, append(ats(), ":", "=", "@", "at", "on", "is", "to", "back", "now", "up", "down", "ist", "steht", "wieder", "è", "di", "nuovo", "est", "está", "de", "vuelta")...)
	if n := s.dialLength(j, false); n > 0 && (s.at(j+n).is(":", ",", ";") || s.numbers == 4 && s.shotAt(j+n)) {
		s.setGrind(s.readDial(j, n))
		s.hold(s.named, j+n-s.named)
	}
}

// shotAt reports whether three numbers stand at i such as shots mostly have: "owl right 15 18
// 38 28".
func (s *sheet) shotAt(i int) bool {
	var x []float64
	for s.at(i).num.form == plainForm {
		x = append(x, first(s.at(i).num))
		i++
	}
	if len(x) == 3 && s.vocab.Order == bar.DoseTimeYield {
		x[1], x[2] = x[2], x[1]
	}
	return len(x) == 3 && typical(x)
}

// onTheDial takes "5 on the dial".
func (s *sheet) onTheDial(i int) int {
	end := s.skip(i+2, "the", "der", "la", "l", "'", "el", "o")
	if s.at(i).num.form != plainForm || !s.at(i+1).is("on", "auf", "sulla", "sul", "sur", "au", "en", "na", "no") || !s.at(end).is("dial", "grinder", "collar", "cadran", "skala", "ghiera", "molette", "escala", "dial") {
		return 0
	}
	s.setGrind(s.readDial(i, 1))
	return end + 1 - i
}

// mostUnlabelled is more than a dial goes to where no label says that it is one.
const mostUnlabelled = 100

// dialBehind takes the last of four bare numbers for the dial where the first
// three are a shot's and no other word counts something with it: "18 36 28 5.2
// sour".
func (s *sheet) dialBehind() {
	n := len(s.items)
	if s.bare() != 4 || s.count()+s.said() != 4 || s.shot.Grind.Said {
		return
	}
	last := s.items[n-1]
	if s.telephone(core{0, n}) || s.warmth(last.to) {
		return
	}
	if len(last.vals) != 1 || last.to-last.from != 1 || last.vals[0] > mostUnlabelled || s.unexplained(last.to) || s.unknown(last.from-1) && !s.at(last.from-1).is("mit", "avec", "con", "com") {
		return
	}
	if s.dialFirst() {
		s.setGrind(s.readDial(s.items[0].from, s.items[0].to-s.items[0].from))
		s.items = s.items[1:]
		return
	}
	s.items = s.items[:n-1]
	if _, ok := s.core(); ok || s.shot.Marks.Has(bar.Choked) && s.shotSized() {
		s.setGrind(s.readDial(last.from, last.to-last.from))
		return
	}
	s.items = append(s.items, last)
}

// dialFirst reports whether the first of four bare numbers is the dial, where the grinder is
// known to stand near it and the other three are nearer to the recipe: "owl 14 18 38 28".
func (s *sheet) dialFirst() bool {
	at, known := s.stands()
	var x []float64
	for _, it := range s.items {
		if len(it.vals) != 1 || it.unit != noUnit {
			return false
		}
		x = append(x, it.vals[0])
	}
	if !known || len(x) != 4 || !(apart(x[0], at) < farRighting) || apart(x[3], at) < apart(x[0], at) {
		return false
	}
	off := func(dose, yield float64) float64 {
		r := s.recipe()
		return apart(dose, float64(r.Dose)) + apart(yield, float64(r.Yield))
	}
	return typical(x[1:]) && off(x[1], x[2]) < off(x[0], x[1])
}

// unexplained reports whether token i is a word that nothing explains, so that a number
// before it may count what it names: "18 36 28 5 lattes". Small words of another language
// are explained by the words of taste behind them: "18 36 28 5.2 schmeckt bitter".
func (s *sheet) unexplained(i int) bool {
	if !s.unknown(i) {
		return false
	}
	_, unread := s.lex.read(s.text[s.tokens[i].start:])
	return slices.ContainsFunc(unread, func(word string) bool { return strings.EqualFold(word, s.tokens[i].text) })
}

// warmth reports whether token i begins how warm the water was: "18 36 28 92 95 c".
func (s *sheet) warmth(i int) bool {
	if !s.shot.Water.Said || i+1 >= len(s.tokens) || s.tokens[i].kind != numberToken {
		return false
	}
	unit := unitOf(s.tokens[i+1].low)
	return unit == celsius || unit == fahrenheit
}

func (s *sheet) setGrind(g Grind) {
	if s.shot.Grind.Said {
		s.clash = true
	}
	g.Said = true
	s.shot.Grind = g
}

// dialLength returns how many tokens from j on are a position of a dial. A
// number with a unit is none, but a letter may be a dial's after a plain
// label: "grind 3G".
func (s *sheet) dialLength(j int, letters bool) int {
	if s.at(j).is("between") && s.isNumber(j+1) && s.at(j+2).is("and") && s.isNumber(j+3) {
		return 4
	}
	t := s.at(j)
	if t.is("-") && s.at(j+1).glued && s.at(j+1).num.form == plainForm { // no dial may go so far: that is asked about
		return 2
	}
	letters = letters || s.lettered(j)
	if letters && t.kind == wordToken && (digits(t.text) > 0 || len(t.text) <= mostDialText && digits(t.text[1:]) > 0) { // "3G", "B4"
		return 1
	}
	if t.kind != numberToken || t.num.form == colonForm {
		return 0
	}
	next := s.at(j + 1)
	if next.is("+") && next.glued {
		return 2
	}
	if letter := s.at(j + 2); next.is(".", ",") && next.glued && letter.glued && len(letter.text) == 1 {
		return 3 // "4.x"
	}
	if unitOf(next.low) == noUnit && !next.is("ish", "°", "fl", "min", "out") || next.text == "" {
		return 1
	}
	if letters && next.glued && next.kind == wordToken {
		return 2
	}
	return 0
}

// mostDialText is how long a position that begins with a letter is at most.
const mostDialText = 3

// mostLettered is more than a dial with letters goes to; water is hotter, and
// a cup heavier.
const mostLettered = 15

// dialBeside takes a lone number for the dial where the figures of a shot are whole
// without it: behind them, "18.5 > 37 in 29s 5.1", "18 in 36 out 26 secs 3.3", or with a
// decimal before them, "harbour 5.1 18 36 28".
func (s *sheet) dialBeside() {
	if s.shot.Grind.Said || s.clash || s.count()+s.said() != 4 || s.said() == 1 && !s.shot.Time.Said || s.telephone(core{0, len(s.items)}) {
		return
	}
	for _, i := range []int{len(s.items) - 1, 0} {
		it := s.items[i]
		typed := s.tokens[it.from].text
		before := it.from <= s.first && strings.IndexAny(typed, ".,") != len(typed)-2 // no count, no time of day
		if before || it.unit != noUnit || len(it.vals) != 1 || it.to-it.from != 1 || it.vals[0] > mostUnlabelled || s.unexplained(it.to) || s.unknown(it.from-1) || s.warmth(it.to) {
			continue
		}
		rest := s.copied()
		rest.items = slices.Delete(slices.Clone(s.items), i, i+1)
		whole := rest.copied()
		if !whole.assign() || !typical([]float64{whole.shot.Dose.X, whole.shot.Yield.X, whole.shot.Time.X}) {
			continue
		}
		s.items = rest.items
		s.setGrind(s.readDial(it.from, 1))
		if s.at(it.to).is("flat", "exactly", "dead", "even") && (it.to+1 == len(s.tokens) || s.at(it.to+1).kind == symbolToken) {
			s.take(it.to, 1) // "5 flat," is where it stands, and no taste
		}
		return
	}
}

// lettered reports whether token j begins a position that ends in a letter, as
// some dials have. A unit is such a letter only where the bar's own dials have
// it, but "at 3G" is no weight.
func (s *sheet) lettered(j int) bool {
	t, letter := s.at(j), ""
	number := digits(t.text)
	switch {
	case number == 0 || number > 2:
		return false
	case t.kind == wordToken:
		letter = t.low[number:]
	case s.at(j+1).glued && number == len(t.text):
		letter = s.at(j + 1).low
	}
	if len(letter) != 1 || letter[0] < 'a' || letter[0] > 'z' || decimal(t.text[:number]) >= mostLettered {
		return false
	}
	if int(letter[0]-'a') < s.vocab.Letters {
		return true
	}
	return unitOf(letter) == noUnit || letter == "g" && s.at(j+1).text == "G" && s.at(j-1).is("at", "@")
}

// readDial reads the n tokens from j on. What has no plain number is Odd.
func (s *sheet) readDial(j, n int) Grind {
	t := s.tokens[j]
	g := Grind{Text: s.text[t.start:s.tokens[j+n-1].end()]}
	switch {
	case n == 4:
		g.X, g.Rough = (first(s.tokens[j+1].num)+first(s.tokens[j+3].num))/2, true
	case n == 1 && t.num.form == plainForm:
		g.X = t.num.vals[0]
	case n == 2 && t.is("-"):
		if g.X = s.tokens[j+1].num.vals[0]; g.X > 0 { // it joins the number to its word
			g.Text = s.tokens[j+1].text
		}
	case n == 1 && t.num.form == dashForm:
		g.X, g.Rough = (t.num.vals[0]+t.num.vals[1])/2, true
	default:
		g.Odd = true
	}
	if g.X != 0 && letterOne.MatchString(g.Text) { // "l8"
		g.Text = digitsOf(g.X)
	}
	if g.X < 0 && !strings.HasPrefix(g.Text, "-") { // its sign is a token of its own
		g.Text = "-" + g.Text
	}
	return g
}

func first(n numeral) float64 {
	if len(n.vals) == 0 {
		return 0
	}
	return n.vals[0]
}

// sameGrind takes "same grind": it was left where it was.
func sameGrind(s *sheet, i int) int {
	settings := []string{"grind", "setting", "dial"}
	if s.at(i).is("same") && s.at(i+1).is(settings...) || s.at(i).is(settings...) && s.at(i+1).is("same", "unchanged") {
		s.shot.Marks |= bar.Stuck
		return 2
	}
	return 0
}

// relative takes "2 finer", "a touch coarser", "due scatti più fine".
func relative(s *sheet, i int) int {
	if n := s.step(i, s.at(i-1).is("went", "ground", "now")); n > 0 || s.shot.Grind.Said {
		return n
	}
	if n := s.moveAt(i, false); n > 0 {
		return n
	}
	j := s.skip(i, littles()...)
	end := s.skip(j, mores()...)
	sign := directionOf(s.at(end))
	if j == i || sign == 0 || s.at(i).is("a") { // "un po' più fine"
		return 0
	}
	s.setGrind(Grind{Relative: true, X: sign, Text: s.text[s.tokens[i].start:s.tokens[end].end()]})
	return end + 1 - i
}

// moveBeside takes what was done to the dial before a shot with its verb, and that it was
// before: "moved it one finer first, 18 36 27".
func moveBeside(s *sheet, i int) int {
	if s.shot.Grind.Said || s.numbers < 3 || !s.turns {
		return 0
	}
	j := s.skip(i, append(beforehand(), "after", "nach", "dopo", "après", "después", "depois")...)
	k := s.skip(j, append(setWords(), "going", "it", "the", "grinder", "dial", "by", "i", "we", "ich", "hab", "habe", "ho", "j'ai", "he")...)
	scratch := s.copied()
	n := scratch.moveAt(k, s.at(j).is(setWords()...))
	end := s.skip(k+n, append(setWords(), beforehand()...)...)
	if n == 0 || end == i+n {
		return 0
	}
	s.shot.Grind = scratch.shot.Grind
	return end - i
}

// beforehand say that something was done before a shot.
func beforehand() []string {
	return []string{"first", "before", "beforehand", "zuerst", "vorher", "erst", "d'abord", "avant", "prima", "primero", "antes", "primeiro"}
}

// tasteOfGrind takes "needs to go finer", "try 2 finer": what somebody means
// to do next is no setting of this shot, and no number of it either.
func tasteOfGrind(s *sheet, i int) int {
	if !s.at(i).is("go", "going", "try", "needs", "need", "should", "will", "next", "maybe", "let's", "gonna") || s.at(i).is("try") && s.at(i-1).is("first", "second", "third", "another", "last") {
		return 0
	}
	j := s.skip(i+1, "to", "go", "try", "be", "a")
	amount := s.amount(j)
	if end := s.skip(j+amount.n, "step", "steps", "notch", "notches", "click", "clicks"); s.at(end).is("finer", "coarser") {
		return end + 1 - i
	}
	return 0
}

// step takes a move of the dial. A plain "finer" says no amount: it counts as
// one step only where it is certain that it was done.
func (s *sheet) step(i int, done bool) int {
	a := s.amount(i)
	j := i + a.n
	if a.n > 0 || done {
		j = s.skip(j, "step", "steps", "notch", "notches", "click", "clicks", "of", "a")
	}
	t := s.at(j)
	if !t.is("finer", "coarser") || a.n == 0 && !done {
		return 0
	}
	if a.n == 0 {
		a.x = 1
	}
	if t.is("coarser") {
		a.x = -a.x
	}
	g := Grind{Relative: true, X: a.x, Text: s.text[s.tokens[i].start:t.end()]}
	if a.vague {
		g.X, g.Odd = 0, true
	}
	s.setGrind(g)
	return j + 1 - i
}

// mostMoved is more steps than any dial has.
const mostMoved = 999

// An amount is how many steps, in how many tokens.
type amount struct {
	x     float64
	n     int
	vague bool // "much"
}

func (s *sheet) amount(i int) amount {
	if t := s.at(i); t.kind == numberToken && t.num.form == plainForm && t.num.vals[0] > 0 && t.num.vals[0] <= mostMoved {
		return amount{x: t.num.vals[0], n: 1}
	}
	if s.at(i).kind != wordToken {
		return amount{}
	}
	for _, known := range amounts()[s.at(i).low] {
		if n := s.phrase(i, known.words); n > 0 {
			return amount{x: known.x, n: n, vague: known.x == 0}
		}
	}
	return amount{}
}

// phrase returns how many tokens from i on say the words, 0 if they do not.
func (s *sheet) phrase(i int, words string) int {
	if i < 0 || i >= len(s.tokens) || !strings.HasPrefix(words, s.tokens[i].low) && (s.tokens[i].dots == "" || !strings.HasPrefix(words, s.tokens[i].dots)) {
		return 0 // as almost always
	}
	n := 0
	for w := range strings.FieldsSeq(words) {
		if !s.at(i + n).is(w) {
			return 0
		}
		n++
	}
	return n
}

// An amountWord is a way to say how many steps; 0 is no number.
type amountWord struct {
	words string
	x     float64
}

// amounts are the ways to say how far by their first word, the longer before the shorter.
//
//nolint:gochecknoglobals // made once, never changed
var amounts = sync.OnceValue(func() map[string][]amountWord {
	by := map[string][]amountWord{}
	for _, known := range []amountWord{
		{"half a", 0.5},
		{"a half", 0.5},
		{"a touch", 1},
		{"a bit", 1},
		{"a little", 1},
		{"a hair", 1},
		{"a tad", 1},
		{"a smidge", 1},
		{"a", 1},
		{"one", 1},
		{"two", 2},
		{"three", 3},
		{"four", 4},
		{"half", 0.5},
		{"touch", 1},
		{"bit", 1},
		{"tad", 1},
		{"slightly", 1},
		{"much", 0},
		{"way", 0},
		{"lots", 0},
		{"far", 0},
	} {
		first, _, _ := strings.Cut(known.words, " ")
		by[first] = append(by[first], known)
	}
	return by
})
