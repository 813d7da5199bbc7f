package parse

import (
	"cmp"
	"math"
	"slices"
)

// befores say, at the head of a message, that it is of the shot before the last; the
// longer stand before the shorter.
func befores() []string {
	return []string{
		"mine before", "mine b4", "my one before", "my shot before", "my one b4", "the one b4", "one b4", "the one before that", "the one before last", "the one before", "one before that", "one before", "the shot before last", "the shot before that", "the shot before",
		"the previous one", "the previous shot", "the previous", "previous one", "previous shot", "previous", "the last but one", "second last", "second to last",
		"der davor", "die davor", "das davor", "der shot davor", "der vorige", "die vorige", "der vorherige", "der vorletzte", "die vorletzte", "vorletzter",
		"celui d'avant", "le précédent", "l'avant-dernier", "l'avant dernier", "quello prima", "quello di prima", "il precedente", "il penultimo",
		"el anterior", "el de antes", "el penúltimo", "o anterior", "o de antes", "o penúltimo",
	}
}

// Which says which shot a message is of. Zero is the last of its person.
type Which struct {
	Before bool   // the one before the last
	Nth    int    // the first of the day, 1, or the second, 2
	Clock  int    // where not 0: the one of that minute of the day, 6:30 as 391
	Around int    // where not 0: the one of about that hour, or with the dial there
	Last   int    // where not 0: so many of the last, "the last two"
	Had    Number // where said: the one that has this number, "the 28 one"
	Timed  bool   // where Had: it is its time
	Whose  string // of which of the bar's people, "jo's"; empty: of who writes
}

// ofShot reads what is said of a shot that is named by its place, its time, its coffee or
// by who pulled it: "the one before was 26", "the first harbour was 5.3", "my 6:30 shot was
// 37 out", "the harbour i did at 6 was 37 out", "jo's last was sour", "delete the first
// harbour", "the harbour was pulled by jo".
func ofShot(s *sheet) (Meaning, bool) {
	from := s.skip(0, append(sorries(), "no", "oops", "wait", "ah", "and", "actually", "yes", "yeah", "ja", "sì", "sí", "oui", "sim", "und", "e", "y", "et", ",", "nein", "nee", "non", "não")...)
	head := from
	from += s.longest(from, []string{"i think", "i tasted", "i tried", "just tasted", "just tried", "tasted", "tried", "tasting", "trying", "just tasting", "just trying", "ich glaube", "credo che", "creo que", "je crois que", "acho que", "ho assaggiato", "j'ai goûté", "he probado", "provei"})
	tried := from > 0 && s.at(from-1).is("tasted", "tried", "tasting", "trying", "assaggiato", "goûté", "probado", "provei")
	which, n := s.which(from)
	if name := s.oneOf(from); n == 0 && tried && name != "" && s.genitive(from) { // "tried jo's, bit sour"
		which.Whose, n = name, 1
	}
	if n == 0 && s.at(s.lastOne(from)).is("i", "ich") && s.lastOne(from) > from {
		n = s.lastOne(from) - from
	}
	if n == 0 {
		from, which, n = s.ofLastOnes()
		head = from
	}
	if n == 0 || s.asked() || s.unsure.Kind != 0 {
		return nil, false
	}
	of, end := s.shot.Coffee, from+n
	if !slices.Contains(s.used[from:from+n], true) {
		of = 0
	}
	if c, ok := s.puller(end); ok {
		if which.Whose != "" && c.Than == "" { // "jo's first harbour was mine"
			c.Than, which.Whose = which.Whose, ""
		}
		c.Which, c.Of = which, of
		return c, which.Whose == "" && which.Last == 0 && (c.Mine || c.Than != c.By)
	}
	text := s.text[:s.tokens[head].start]
	switch {
	case s.at(end).is("with", "mit", "con", "avec", "com") && s.isNumber(end+1): // "the last one i made with 18.5"
		text, end = text+" was ", end+1
	case which.Whose != "":
		end = s.skip(end, "and", "it", "e", "y", "et", "und", ",")
	}
	if end < len(s.tokens) {
		text += " " + s.text[s.tokens[end].start:]
	}
	rest := newSheet(text, s.vocab)
	m, err := rest.understood()
	if _, chatter := m.(Chatter); chatter && err == nil {
		if other, ok := rest.otherCoffee(); ok { // "my first one was tide not harb"
			m = other
		}
	}
	switch w := m.(type) {
	case Correction:
		w.Which, w.Of = which, cmp.Or(of, w.Of)
		return w, err == nil && !w.Ignore && !w.Alone && !w.Weak && w.By == "" && !w.Mine && (which.Last == 0 || w.Grind.Said && !w.Grind.Relative && !w.Dose.Said && !w.Yield.Said && !w.Time.Said)
	case Words:
		w.Which, w.Coffee = which, cmp.Or(of, w.Coffee)
		if which.Whose != "" {
			w.Of, w.Instead, w.Was = which.Whose, false, false
		}
		plain := which.Whose == "" || len(w.Unread) == 0 && w.Marks == 0 && !w.At.Said && len(w.Words) > 0
		return w, err == nil && plain && w.By == "" && !w.Both && !w.Own && !w.Set.Grind.Said && which.Last == 0 && which != Which{}
	case Set: // "at 5.0", of a shot
		return Correction{Grind: w.Grind, Which: which, Of: of}, err == nil && (w.Weak || which.Last > 0) && !w.Grind.Relative && !w.Left
	case Shot: // "that last one i stopped at 34"
		if err == nil && which.Last == 0 && rest.numbers == 1 && w.Coffee == 0 && len(w.Words) == 0 && !w.Grind.Said {
			i := slices.IndexFunc(rest.tokens, func(t token) bool { return t.kind == numberToken })
			m, err := newSheet("was "+text[rest.tokens[i].start:], s.vocab).asTyped()
			c, ok := m.(Correction)
			c.Which, c.Of = which, of
			return c, ok && err == nil && !c.Ignore
		}
	case Call, Happened, CallIt, Chatter:
	}
	return nil, false
}

// lastOne returns where the words for the last shot of who writes end that stand at i.
func (s *sheet) lastOne(i int) int {
	return i + s.longest(i, []string{"that last one", "the last one", "that one", "the last shot", "that shot", "den letzten", "den"})
}

// ofLastOnes takes "for the last three" from the end of a message.
func (s *sheet) ofLastOnes() (from int, w Which, n int) {
	for i := 2; i+2 < len(s.tokens); i++ {
		if !s.at(i).is("for", "on", "of", "in", "bei", "für", "per", "con", "pour", "para", "en", "nas", "nos", "negli") {
			continue
		}
		if w.Last, n = s.severalLast(i + 1); n > 0 && s.skip(i+1+n, ".", "!") == len(s.tokens) {
			return i, w, n + 1
		}
	}
	return 0, Which{}, 0
}

// which takes the words that name a shot from token i on, and returns how many they are.
func (s *sheet) which(i int) (w Which, n int) {
	for _, words := range befores() {
		if n = s.phrase(i, words); n > 0 {
			return Which{Before: true}, n
		}
	}
	if w.Last, n = s.severalLast(i); n > 0 {
		return w, n
	}
	if j := s.skip(i, "il", "el", "le", "o"); s.at(j).is("mine", "meiner", "meins", "mio", "mío", "mien", "meu") && s.at(j+1).is(wasWords()...) {
		return w, j + 1 - i
	}
	j := s.skip(i, "my", "mein", "meine", "meiner", "mio", "il", "mia", "mon", "ma", "mi", "meu", "o", "the", "that", "der", "den", "die", "das", "la", "le", "el", "los", "ese", "esse", "quel", "ce")
	article, own := j > i, s.at(i).is("my", "mein", "meine", "meiner", "mon", "ma", "mi") || s.at(i+1).is("mio", "mia", "meu")
	if name := s.oneOf(j); name != "" && s.genitive(j) {
		w.Whose = name
		if j++; s.at(j).is(wasWords()...) || s.at(j).is("is", "wasn't") { // "jo's was sour", and not "jo's lovely"
			return w, j - i
		}
	}
	last := s.at(j).is("last", "latest", "letzter", "letzte", "letzten", "letztes", "ultimo", "ultima", "l'ultimo", "l'ultima", "dernier", "dernière", "último", "última")
	if w.Nth = nthOf(s.at(j)); w.Nth > 0 || last {
		j++
	} else if w.Clock = s.minuteAt(j); w.Clock > 0 {
		j++
	}
	if had := s.having(j, &w); article && w.Had.Said && had < len(s.tokens) && s.used[had] { // "the 28 harbour"
		j = had
	} else {
		w.Had, w.Timed = Number{}, false
	}
	name := j
	for j < len(s.tokens) && s.used[j] && s.shot.Coffee != 0 && s.shot.Grinder == 0 {
		j++
	}
	named := j > name
	if had := s.having(j, &w); had > j && (article || w.Whose != "" || w.Had.Said && named && (s.at(had).is("shot", "one") || w.Timed && s.at(had).is(wasWords()...))) {
		j = had
	} else if had > j {
		w.Had, w.Timed = Number{}, false
	}
	if (own || article) && s.at(j).is("before", "davor", "vorher", "prima", "avant", "antes") && s.at(j+1).is(wasWords()...) { // "my harbour before was 26"
		return Which{Before: true, Whose: w.Whose}, j + 1 - i
	}
	end := s.skip(j, "shot", "one", "pull", "espresso", "bezug", "quello", "celui", "tiro")
	shot := end > j
	if article || shot {
		end = s.havingWith(end, &w)
	}
	end, mine := s.whoAndWhen(end, &w)
	own = own || mine
	pronoun := shot || article && end > j // "the one i made", "el de jo"
	timed, said := w.Clock > 0 || w.Around > 0, w.Nth > 0 || last
	switch {
	case w.Had.Said && (shot || own || named || w.Whose != "" || s.at(end).is(wasWords()...)),
		w.Nth > 0 && (article || named || shot || w.Whose != ""), w.Clock > 0 && (own || named || shot), w.Around > 0 && (named || pronoun),
		last && (own || named), named && shot, w.Whose != "" && (named || pronoun || said || timed), named && mine:
		return w, end - i
	}
	return w, 0
}

// having takes a number that the shot alone has, "28s" in "the 28s one", and returns where it
// ends.
func (s *sheet) having(i int, w *Which) int {
	q, n := s.one(i)
	if n == 0 || w.Had.Said || q.unit != noUnit && q.unit != second && q.unit != gram || !(q.vals[0] > 0) {
		return i
	}
	end := i + n
	if _, m := s.one(end); m > 0 || s.at(end).is(",", ".", "-", "→") { // these are the numbers of a shot
		return i
	}
	w.Had, w.Timed = q.number(), q.unit == second
	return s.skip(end, "er", "ers")
}

// havingWith takes the same behind a "with": "the one with 36 out", "quello da 28".
func (s *sheet) havingWith(i int, w *Which) int {
	j := s.skip(i, "with", "mit", "da", "di", "de", "con", "à", "avec", "com", "at", "bei")
	if j != i+1 {
		return i
	}
	had := *w
	end := s.having(j, &had)
	if end == j {
		return i
	}
	if label(s.at(end)) != 0 || s.at(end).is("in") {
		end++
	}
	if hints()[s.at(end).low]&wasHint == 0 {
		return i
	}
	*w = had
	return end
}

// nthOf returns the place of a shot in its day that a word says, 0 where it says none.
func nthOf(t token) int {
	for n, words := range [][]string{
		{"first", "1st", "erste", "erster", "ersten", "primo", "prima", "premier", "première", "primero", "primer", "primera", "primeiro", "primeira"},
		{"second", "2nd", "zweite", "zweiter", "zweiten", "secondo", "seconda", "deuxième", "segundo", "segunda"},
		{"third", "3rd", "dritte", "dritter", "dritten", "terzo", "terza", "troisième", "tercero", "tercer", "terceiro", "terceira"},
	} {
		if slices.Contains(words, t.low) {
			return n + 1
		}
	}
	return 0
}

// whoAndWhen takes what says behind a shot who pulled it and when: "of jo", "jo just pulled",
// "i did at 6", "from 6:30", "this morning". It returns where that ends, and whether it was
// the writer.
func (s *sheet) whoAndWhen(i int, w *Which) (end int, mine bool) {
	for end = i; ; {
		from := end
		if j := s.skip(end, ofs()...); j == end+1 && w.Whose == "" && !mine {
			switch name := s.oneOf(j); {
			case name != "":
				w.Whose, end = name, j+1
			case s.at(j).is("me", "mine", "mir", "mí", "mim", "moi"):
				mine, end = true, j+1
			}
		}
		if n, name := s.didIt(end); n > 0 && w.Whose == "" && !mine {
			w.Whose, mine, end = name, name == "", end+n
		}
		end += s.whenPulled(end, w, mine || w.Whose != "")
		end += s.longest(end, []string{"this morning", "today", "earlier", "just now", "heute früh", "heute morgen", "heute", "vorhin", "stamattina", "oggi", "ce matin", "aujourd'hui", "esta mañana", "hoy", "esta manhã", "hoje"})
		if end == from {
			return end, mine
		}
	}
}

// ofs stand before whose a shot is.
func ofs() []string {
	return []string{"of", "by", "from", "von", "vom", "di", "de", "do", "da", "d'"}
}

// didIt takes that somebody pulled a shot, and returns who; empty is who writes.
func (s *sheet) didIt(i int) (n int, name string) {
	j := s.skip(i, "that", "which", "che", "que", "den", "der", "die", "das")
	who := j
	if name = s.oneOf(j); name != "" {
		j++
	} else {
		j = s.skip(j, "i", "ich", "ho", "j'ai", "he")
	}
	told := j > who
	j = s.skip(j, "just", "gerade", "eben", "appena", "has", "have", "had", "ha", "hat", "hab", "habe", "a")
	if name == "" && told && s.at(j).is("um", "gegen") && j == who+1 { // the verb comes behind the time
		return j - i, ""
	}
	verb := s.at(j)
	if !told {
		told = verb.is("hice", "saqué", "fiz", "tirei")
	}
	if !verb.is("pulled", "made", "did", "fatto", "tirato", "gezogen", "gemacht", "tiré", "fait", "hecho", "hice", "hizo", "saqué", "sacó", "sacado", "tirou", "tirei", "fez", "fiz") {
		return 0, ""
	}
	if after := s.oneOf(j + 1); name == "" && after != "" && !told || after != "" && s.at(j-1).is("ha", "a") { // "che ha fatto jo"
		return j + 2 - i, after
	}
	if !told {
		return 0, ""
	}
	return s.skip(j+1, "hab", "habe", "hat") - i, name
}

// whenPulled takes when a shot was pulled: "at 6:30", "around 6", "at 6 o'clock"; where it was
// said who pulled it, "at 6" as well, which may be its dial.
func (s *sheet) whenPulled(i int, w *Which, pulled bool) (n int) {
	k := s.skip(i, "at", "around", "about", "from", "of", "um", "gegen", "von", "alle", "delle", "verso", "le", "a", "las", "sobre", "de", "à", "vers", "às", "das", "pelas")
	if k == i || w.Clock > 0 || w.Around > 0 {
		return 0
	}
	if w.Clock = s.minuteAt(k); w.Clock > 0 {
		return k + 1 - i
	}
	t := s.at(k)
	end := s.skip(k+1, "o'clock", "oclock", "am", "pm", "uhr", "h", "heures", "ore", "horas")
	hour := end > k+1 || s.at(k-1).is("around", "gegen", "alle", "delle", "verso", "vers", "às", "las")
	if t.kind != numberToken || t.num.form != plainForm || len(t.num.vals) != 1 || t.num.vals[0] != math.Trunc(t.num.vals[0]) ||
		!(1 <= t.num.vals[0] && t.num.vals[0] <= 24) || !hour && !pulled || unitOf(s.at(end).low) != noUnit || s.isNumber(end) {
		return 0
	}
	if w.Around = int(t.num.vals[0]); s.at(k+1).is("pm") && w.Around < 12 {
		w.Around += 12
	}
	return end - i
}

// minuteAt returns the minute of the day that token i is as a time on the clock, from 1;
// 0 is none.
func (s *sheet) minuteAt(i int) int {
	t := s.at(i)
	if t.kind != numberToken || t.num.form != colonForm || len(t.num.parts) != 2 || len(t.num.parts[1]) != 2 || !(t.num.vals[0] < 24 && t.num.vals[1] < 60) {
		return 0
	}
	return 60*int(t.num.vals[0]) + int(t.num.vals[1]) + 1
}

// severalLast takes the words for more than one shot of the last, "the last two", "die letzten
// drei shots", and returns how many they are of.
func (s *sheet) severalLast(i int) (count, n int) {
	j := s.skip(i, "the", "my", "die", "meine", "gli", "i", "le", "les", "mes", "los", "mis", "os", "meus")
	last := []string{"last", "letzten", "ultimi", "ultime", "dernières", "derniers", "últimos", "ultimos"}
	k := s.skip(j, last...)
	if s.at(k).is("both", "beiden", "couple") {
		count = 2
	} else if count = int(s.amount(k).x); count == 0 {
		count = int(countOf(s.at(k)))
	}
	end := s.skip(k+1, last...)
	if k == j && end == k+1 || count < 2 || count > mostLast {
		return 0, 0
	}
	return count, s.skip(end, "shots", "ones", "shot", "bezüge", "of", "mine", "them") - i
}

// mostLast is how many shots are put right at once at the most. Assumed.
const mostLast = 5
