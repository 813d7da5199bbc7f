package parse

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// Asked is what a question asks of the book besides where a dial stands and what there is to
// do. Zero asks nothing.
type Asked struct {
	Count bool    // how many shots there were today
	Last  int     // so many of today's last shots
	Had   float64 // the shot of today that had that number: "the 22 one, was that owl?"
	Word  string  // what a word of taste says, as its term
	Typed string  // where Word: as it was typed

	First   bool   // the first shot of today
	Average bool   // what today's shots were on average
	Most    bool   // who pulled how many today
	Mine    bool   // where First or Last: of who asks
	By      string // where First or Last: of that person
	Before  bool   // where the dials stood at the end of the day before
	Bag     bool   // when the newest bag was opened
}

// mostListed is how many shots are told in one answer. Assumed.
const mostListed = 10

// askedOfBook reads a question that is about the shots of the day, or about what a word says.
func (s *sheet) askedOfBook() (Call, bool) {
	if word, typed, ok := s.wordAsked(); ok {
		return Call{Asked: Asked{Word: word, Typed: typed}}, true
	}
	if c, ok := s.dayAsked(); ok {
		return c, true
	}
	if s.whoPulled() {
		return Call{Asked: Asked{Last: 1}, Of: s.shot.Coffee}, true
	}
	if n, coffee, ok := s.lastAskedFor(); ok {
		return Call{Asked: Asked{Last: n}, Of: coffee}, true
	}
	if x, coffee, ok := s.oneAskedFor(); ok {
		return Call{Asked: Asked{Had: x}, Of: coffee}, true
	}
	if coffee, ok := s.dialAskedOf(); ok {
		return Call{Stands: s.grindersAsked(coffee), Of: coffee}, true
	}
	if coffee, ok := s.countAskedOf(); ok {
		return Call{Asked: Asked{Count: true}, Of: coffee}, true
	}
	if coffee, ok := s.wentAsked(); ok {
		return Call{Asked: Asked{Count: true, Last: 3}, Of: coffee}, true
	}
	if s.wayAsked() {
		return Call{Next: true, Of: s.shot.Coffee}, true
	}
	return Call{}, false
}

// coffeeNamed returns the coffee that a question names, also as "harbours" and "tide's".
func (s *sheet) coffeeNamed() (id bar.CoffeeID) {
	for _, t := range s.tokens {
		id = cmp.Or(id, s.coffeeOf(t), s.manyOf(t))
	}
	if id == 0 && slices.ContainsFunc(s.tokens, s.shortName) {
		return s.shot.Coffee
	}
	return id
}

// shortName reports whether a word may be a coffee's name that was cut short: "ha" is a word
// of its own.
func (s *sheet) shortName(t token) bool {
	i := slices.IndexFunc(s.tokens, func(other token) bool { return other.start == t.start })
	return s.used[i] && !slices.Contains(smallWords(), t.low)
}

// manyOf returns the coffee whose name is a word with an s: "how many harbours".
func (s *sheet) manyOf(t token) bar.CoffeeID {
	one, many := strings.CutSuffix(t.low, "s")
	if !many || t.kind != wordToken || len(one) < 3 {
		return 0
	}
	for _, n := range s.vocab.Coffees {
		if low := fold(n.Name); low == one || strings.HasSuffix(low, " "+one) {
			return n.ID
		}
	}
	return 0
}

// grindersAsked returns the grinder that a question names, else that of a coffee, else all.
func (s *sheet) grindersAsked(coffee bar.CoffeeID) (ids []bar.GrinderID) {
	if s.shot.Grinder != 0 {
		return s.dialsAsked()
	}
	for _, g := range s.vocab.Grinders {
		if coffee == 0 || s.vocab.Recipes[coffee].Grinder == g.ID {
			ids = append(ids, g.ID)
		}
	}
	return ids
}

// onlyWords reports whether every word of a question is one of the lists, a small word or a
// name of the bar's.
func (s *sheet) onlyWords(lists ...[]string) bool {
	for i, t := range s.tokens {
		before, after, two := strings.Cut(t.low, "'")
		known := func(word string) bool {
			return slices.Contains(smallWords(), word) || slices.Contains(whichWords(), word) || slices.ContainsFunc(lists, func(list []string) bool { return slices.Contains(list, word) })
		}
		switch {
		case s.used[i] && (s.shot.Coffee != 0 || s.shot.Grinder != 0), t.kind != wordToken, s.coffeeOf(t) != 0, s.manyOf(t) != 0:
		case known(t.low), two && known(after) && (known(before) || s.isName(before)):
		default:
			return false
		}
	}
	return true
}

// isName reports whether a word is a name of a coffee or a grinder.
func (s *sheet) isName(low string) bool {
	return isNamed(s.vocab.Coffees, low) || isNamed(s.vocab.Grinders, low)
}

// countedWords name shots in a question.
func countedWords() []string {
	return strings.Fields("pull pulls pulled gezogen tirato tirati tiré tirés sacado sacados tirei shot shots espresso espressos espressi expressos bezüge bezug extractions estrazioni extracciones extrações do done made gemacht fatti fatte fait faits hecho feitos")
}

// howMany ask for a number.
func howMany() []string {
	return strings.Fields("many viele wieviel wieviele quanti quante combien cuántos cuántas cuantos cuantas quantos quantas")
}

// countAskedOf reads "how many shots today", "how many harbours did we do".
func (s *sheet) countAskedOf() (bar.CoffeeID, bool) {
	coffee := s.coffeeNamed()
	if !s.holds(howMany()...) || s.numbers > 0 || !s.asks() && !s.opens() || s.holds("many") && !s.holds("how") || s.joins() {
		return 0, false
	}
	if coffee == 0 && !s.holds("shot", "shots", "espresso", "espressos", "espressi", "bezüge", "estrazioni", "extractions", "extracciones", "extrações") {
		return 0, false
	}
	return coffee, s.onlyWords(countedWords(), howMany())
}

// joins reports whether a question names something else that is counted: "how many shots of
// vanilla".
func (s *sheet) joins() bool {
	return s.shot.Grinder != 0 && s.named > 0 && s.shot.Coffee == 0
}

// newest say that the last shots are meant.
func newest() []string {
	return strings.Fields("last latest letzte letzten letzter ultimi ultime ultimo ultima derniers dernières dernier dernière últimos últimas último última ultimos ultimas")
}

// lastAskedFor reads "last 3 shots?", "what were the last two harbours".
func (s *sheet) lastAskedFor() (n int, coffee bar.CoffeeID, ok bool) {
	coffee = s.coffeeNamed()
	i := slices.IndexFunc(s.tokens, func(t token) bool { return t.is(newest()...) })
	if i < 0 || s.numbers > 1 || s.shot.Grinder != 0 {
		return 0, 0, false
	}
	count := 0
	for _, at := range []int{i + 1, i - 1} {
		switch t := s.at(at); {
		case s.isNumber(at) && unitOf(s.at(at+1).low) == noUnit:
			count = int(first(t.num))
		case count == 0 && at > 0:
			count = int(countOf(t))
		}
	}
	shots := s.holds("shot", "shots", "bezug", "espressos", "espressi", "bezüge", "estrazioni", "extractions", "extracciones", "extrações", "ones") || coffee != 0
	if count == 0 && s.holds("shots", "bezüge", "estrazioni", "extracciones", "extrações") && coffee == 0 && s.numbers == 0 {
		count = 3
	}
	if count == 0 && s.holds("shot", "espresso", "bezug") && len(s.tokens) <= 4 && s.numbers == 0 {
		count = 1
	}
	if count == 0 && coffee != 0 && s.asks() && s.numbers == 0 { // "what was the last harbour?"
		count = 1
	}
	asks := s.asks() || s.opens() && len(s.tokens) > 2
	if count < 1 || count > mostListed || !shots || !asks && len(s.tokens) > 4 || s.numbers == 1 && first(s.at(s.number()).num) != float64(count) {
		return 0, 0, false
	}
	numbers := strings.Fields("two three four five zwei drei vier fünf due tre quattro cinque deux trois quatre cinq dos tres cuatro cinco dois três quatro ones show zeig mostra montre muestra")
	return count, coffee, s.onlyWords(countedWords(), newest(), numbers)
}

// whoPulled reads who pulled the last shot.
func (s *sheet) whoPulled() bool {
	typed := strings.Trim(strings.ToLower(s.text), " ¿?.!")
	return slices.Contains([]string{
		"who pulled that", "who pulled that one", "who was last",
	}, typed)
}

// number returns the place of the first number.
func (s *sheet) number() int {
	return slices.IndexFunc(s.tokens, func(t token) bool { return t.kind == numberToken })
}

// oneAskedFor reads a question about a shot by its number: "the 22 one, was that owl?",
// "whose was the 22?", "welcher war der mit 22?".
func (s *sheet) oneAskedFor() (x float64, coffee bar.CoffeeID, ok bool) {
	i := s.number()
	if !s.asks() || s.numbers != 1 || i < 1 || s.shot.Grinder != 0 || !s.at(i-1).is("the", "that", "my", "der", "die", "den", "mit", "il", "da", "di", "le", "de", "à", "el", "la", "con", "o", "com", "the") {
		return 0, 0, false
	}
	one := s.at(i+1).is("one", "s", "sec", "second", "seconds", "secs", "shot", "er", "sekunden", "secondi", "secondes", "segundos", ",") || s.at(i-1).is("mit", "da", "di", "de", "à", "con", "com", "avec")
	asks := s.holds("whose", "who", "which", "what", "was", "were", "is", "wer", "welcher", "wessen", "war", "chi", "quale", "era", "qui", "quel", "était", "c'était", "quién", "cuál", "fue", "quem", "qual", "foi")
	coffee = s.coffeeNamed()
	x = first(s.at(i).num)
	who := strings.Fields("whose who wer wessen chi quale qui quién cuál quem qual mine sec secs second seconds shot s er sekunden secondi secondes segundos quello celui c'était avec mit com wars war's")
	return x, coffee, one && asks && 5 <= x && x <= 60 && (coffee != 0 || s.holds("whose", "who", "which", "wer", "wessen", "welcher", "chi", "quale", "qui", "quel", "quién", "cuál", "quem", "qual")) && s.onlyWords(who, countedWords())
}

// nows say that something is still so.
func nows() []string {
	return strings.Fields("still yeah yes yea right no noch immer sì ancora sempre toujours encore sigue todavía sí ainda sim continua steht ok correct correcto giusto richtig oder verdad certo")
}

// dialAskedOf reads whether a dial is where somebody takes it to be, "is the tide still 5.1?",
// "left's at 5 yeah?", and what a coffee is on: "whats owl on". It returns the coffee.
func (s *sheet) dialAskedOf() (bar.CoffeeID, bool) {
	coffee := s.coffeeNamed()
	ids := s.grindersAsked(coffee)
	named := coffee != 0 || s.shot.Grinder != 0
	if named && s.numbers == 0 && coffee != 0 {
		last := s.lastWord()
		on := last.is("on", "at") && s.holds("what", "whats", "what's", "where", "wheres", "where's") || s.whereOf()
		return coffee, on && (s.asks() || s.opens()) && s.onlyWords(nows(), []string{"whats", "what's", "where's", "wheres"})
	}
	if !named && s.numbers == 0 {
		dials := strings.Fields("dial dials grind grinds setting settings mahlgrad mühlen macinatura macinature macini mouture moutures réglage réglages molienda moliendas moagem moagens")
		return 0, s.asks() && s.holds(dials...) && s.onlyWords(dials, nows()) && len(s.tokens) <= 4 && !s.turns
	}
	i := s.number()
	if !named || s.numbers != 1 || !s.asks() || len(ids) == 0 || i < 0 || unitOf(s.at(i+1).low) != noUnit || s.holds("in", "high", "low", "far", "time", "out", "open") { // "is the tide high at 5.30?"
		return 0, false
	}
	fraction := coffee == 0 && strings.ContainsAny(s.at(i).text, ".,") && s.at(0).is("is", "ist", "è", "est", "está", "é") // "is left 5.1?"
	if !fraction && !s.holds(nows()...) && !s.at(i-1).is("at", "on", "to", "auf", "bei", "a", "à", "sur", "en", "em", "no", "su") {
		return 0, false
	}
	x, known := first(s.at(i).num), false
	for _, id := range ids {
		at, stands := s.vocab.Stands[id]
		known = known || !stands || math.Abs(at-x) <= max(3, at/3)
	}
	return coffee, known && s.onlyWords(nows())
}

// lastWord returns the last word of a question.
func (s *sheet) lastWord() token {
	for _, t := range slices.Backward(s.tokens) {
		if t.kind == wordToken && !t.is("now", "again", "please", "today") {
			return t
		}
	}
	return token{}
}

// whereOf reports whether a question asks what a coffee is on in another language.
func (s *sheet) whereOf() bool {
	for i := range s.tokens {
		if slices.Contains([]string{"auf was", "auf wie", "auf welcher", "auf wieviel", "a quanto", "a cuánto", "a cuanto", "à combien", "em quanto", "em que"}, s.lows(i, 2)) {
			return true
		}
	}
	return false
}

// wentAsked reads how a coffee has gone today: "how's tide been today".
func (s *sheet) wentAsked() (bar.CoffeeID, bool) {
	coffee := s.coffeeNamed()
	went := strings.Fields("been gone lief gelaufen war andato andata va été marché ido estado esteve correu foi fue è")
	ways := strings.Fields("how hows how's wie come com'è comment cómo como")
	day := s.holds("today", "so", "heute", "bisher", "oggi", "finora", "aujourd'hui", "hoy", "hoje")
	return coffee, coffee != 0 && s.holds(ways...) && day && s.numbers == 0 && s.holds(went...) && s.onlyWords(went, ways, []string{"far", "bisher", "finora"})
}

// wayAsked reads which way to turn, and how far, of the shot that was just pulled: "do i go
// coarser?", "a quanto lo metto?", "di quanto stringo?".
func (s *sheet) wayAsked() bool {
	if s.numbers > 0 || !s.asks() || s.shot.Grinder != 0 {
		return false
	}
	if slices.Contains([]string{"stringo", "allargo", "devo stringere", "devo allargare", "stringiamo", "je serre", "je resserre", "je desserre", "on serre", "cierro más", "abro más", "aprieto más", "fecho mais", "abro mais", "aperto mais"}, strings.Trim(strings.ToLower(s.text), " ¿?")) {
		return true
	}
	verbs := strings.Fields("go make put set turn move take change adjust stelle stell dreh drehe mach mache metto metti mettiamo stringo stringiamo allargo apro chiudo giro regolo faccio mets met serre resserre desserre règle tourne pongo ponemos cierro aprieto abro muevo ajusto giro ponho pomos fecho aperto abro rodo coloco deixo")
	ways := strings.Fields("finer coarser tighter looser feiner gröber enger fine grosso fin gros fino grueso grosso")
	we := s.holds("i", "we", "ich", "wir", "je", "on", "io")
	much := s.much()
	turn := s.holds(ways...) && we && s.holds("do", "should", "shall", "am", "can", "must", "mach", "mache", "stell", "stelle", "soll", "muss", "serre", "vais") || much
	return turn && s.onlyWords(verbs, ways, strings.Fields("do i we ich wir je on io am going stepped lo la il le les los las o a di um wie weit viel how much wohin um der die den ihn sie mir"))
}

// much reports whether a question asks how far a dial is to go, or where to: it has a verb of
// turning behind "by how much".
func (s *sheet) much() bool {
	for i := range s.tokens {
		for _, words := range []string{
			"how much finer", "how much coarser", "how far do i go", "how far do i turn", "what do i set it to", "what do i put it at", "where do i set it",
			"auf was stell ich", "auf was stelle ich", "wohin stell ich", "wohin stelle ich", "wie weit dreh ich", "wie weit drehe ich", "um wie viel dreh ich", "wie viel feiner", "wie viel gröber", "wieviel feiner", "wieviel gröber",
			"a quanto lo metto", "a quanto la metto", "a quanto metto", "a quanto lo regolo", "di quanto stringo", "di quanto allargo", "di quanto apro", "di quanto chiudo", "di quanto giro", "di quanto lo stringo", "quanto stringo", "quanto allargo",
			"je mets à combien", "je le mets à combien", "à combien je mets", "à combien je le mets", "de combien je serre", "je serre de combien", "je resserre de combien", "je desserre de combien",
			"a cuánto lo pongo", "a cuánto la pongo", "a cuánto pongo", "cuánto cierro", "cuánto aprieto", "cuánto abro", "cuánto lo cierro", "cuánto lo muevo",
			"a quanto ponho", "a quanto o ponho", "em quanto ponho", "quanto fecho", "quanto aperto", "quanto abro", "em quanto deixo",
		} {
			if n := strings.Count(words, " ") + 1; s.lows(i, n) == words {
				return true
			}
		}
	}
	return false
}

// wordAsked reads a question of what a word of taste says: "is sharp sour or bitter?",
// "what does astringent mean?". It returns its term, and the word as typed.
func (s *sheet) wordAsked() (term, typed string, ok bool) {
	asks := strings.Fields("sour bitter acid acidic over under overextracted underextracted thin strong weak sauer acido amaro acide amer ácido agrio amargo azedo")
	between := s.asks() && s.holds("or", "oder", "o", "ou") && s.holds("is", "ist", "è", "est", "c'est", "es", "é", "means", "mean")
	means := s.meaningAsked()
	if !between && !means || s.numbers > 0 || s.shot.Coffee != 0 || s.shot.Grinder != 0 || len(s.tokens) > 9 {
		return "", "", false
	}
	var left []string
	sides := 0
	for _, t := range s.tokens {
		switch {
		case t.kind != wordToken, t.is("is", "ist", "è", "est", "c'est", "es", "é", "or", "oder", "o", "ou", "a", "an", "the", "word", "das", "il", "le", "el", "more", "like", "wort", "that's", "means"):
		case means && t.is(meaningWords()...):
		case between && t.is(asks...) && (len(left) > 0 || sides > 0):
			sides++
		default:
			left = append(left, t.text)
		}
	}
	if between && sides < 2 || len(left) == 0 || len(left) > 3 {
		return "", "", false
	}
	typed = strings.Join(left, " ")
	words, unread := s.inCompany(s.lex.read(typed))
	if len(words) != 1 || len(unread) > 0 || words[0].Not || words[0].Than {
		return "", "", false
	}
	e, found := taste.Default().Entry(words[0].Term)
	tells := found && (e.Kind == taste.Taste || e.Kind == taste.Body || e.Kind == taste.Finish)
	return e.Term, typed, tells
}

// meaningWords ask what a word means.
func meaningWords() []string {
	return strings.Fields("what whats what's does do mean means meaning by was heißt heisst bedeutet meint cosa che vuol dire significa vuole que veut signifie qué quiere decir o quer dizer significa qu'est-ce")
}

// meaningAsked reports whether a question asks what a word means.
func (s *sheet) meaningAsked() bool {
	what := s.at(0).is("what", "was", "cosa", "che", "que", "qué", "o", "¿") && !s.holds("you", "u", "he", "she", "they", "du", "sie", "tu")
	return what && s.holds("mean", "means", "heißt", "heisst", "bedeutet", "significa", "signifie") || what && (s.holds("vuol", "veut", "quiere", "quer") && s.holds("dire", "decir", "dizer"))
}
